#include "issued/compare.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

namespace steelyard::issued {
namespace {

using nlohmann::json;

constexpr std::size_t longest_value = 60;  // bytes of a value that are told

/// What tells an element of an array from the others, in the contract: its texts of these names.
std::string identity(const json& element) {
  std::string out;
  for (const char* name : {"name", "kind", "of", "part", "id", "state", "at"}) {
    const auto member = element.is_object() ? element.find(name) : element.end();
    if (!element.is_object() || member == element.end() || !member->is_string()) continue;
    if (!out.empty()) out += ", ";
    out += member->get<std::string>();
  }
  return out;
}

/// Elements by their identity; nothing where two share one or one has none.
std::optional<std::map<std::string, const json*>> by_identity(const json& array) {
  std::map<std::string, const json*> out;
  for (const json& element : array) {
    const std::string key = identity(element);
    if (key.empty() || !out.emplace(key, &element).second) return std::nullopt;
  }
  return out;
}

std::string shown(const json& value) {
  std::string text = value.dump(-1, ' ', true, json::error_handler_t::replace);  // ASCII: it may be cut anywhere
  if (text.size() > longest_value) text = text.substr(0, longest_value) + "...";
  return text;
}

double u_beside(const json& object) {
  const auto u = object.find("u");
  return u != object.end() && u->is_number() ? std::abs(u->get<double>()) : 0;
}

class Comparing {
 public:
  Comparing(double tolerance, std::string_view passed_over) : tolerance_(tolerance), passed_over_(passed_over) {}

  void values(const json& was, const json& is, const std::string& path, const std::string& who, double u) {
    if (was.is_number() && is.is_number()) {
      numbers(was, is, path, who, u);
    } else if (was.is_object() && is.is_object()) {
      objects(was, is, path, who);
    } else if (was.is_array() && is.is_array()) {
      arrays(was, is, path, who, u);
    } else if (was != is) {
      differ(path, who, shown(was), shown(is));
    }
  }

  void differ(const std::string& path, const std::string& who, const std::string& was, const std::string& is) {
    ++out.count;
    if (out.first.size() >= most_told) return;
    out.first.push_back((path.empty() ? "the result" : path) + (who.empty() ? "" : " (" + who + ")") + ": was " + was +
                        ", is " + is);
  }

  Differences out;

 private:
  void numbers(const json& was, const json& is, const std::string& path, const std::string& who, double u) {
    const double a = was.get<double>(), b = is.get<double>();
    const double size = std::max({1.0, std::abs(a), std::abs(b), u});
    if (!(std::abs(a - b) <= tolerance_ * size)) differ(path, who, shown(was), shown(is));
  }

  void objects(const json& was, const json& is, const std::string& path, const std::string& who) {
    const double u = std::max(u_beside(was), u_beside(is));
    for (const auto& [name, value] : was.items()) {
      if (path.empty() && name == passed_over_) continue;
      const std::string inner = path.empty() ? name : path + '.' + name;
      const auto other = is.find(name);
      if (other == is.end())
        differ(inner, who, shown(value), "missing");
      else
        values(value, *other, inner, who, u);
    }
    for (const auto& [name, value] : is.items())
      if (!was.contains(name)) added(path.empty() ? name : path + '.' + name, who, value);
  }

  void arrays(const json& was, const json& is, const std::string& path, const std::string& who, double u) {
    if (was.size() != is.size() && tolerance_ > 0) {
      const auto before = by_identity(was), after = by_identity(is);
      if (before && after) return elements(*before, *after, path);
    }
    if (was.size() != is.size())
      return differ(path, who, std::to_string(was.size()) + " of them", std::to_string(is.size()));
    for (std::size_t i = 0; i < was.size(); ++i) {
      const std::string self = identity(was[i]);
      values(was[i], is[i], path + '[' + std::to_string(i) + ']', self.empty() ? who : self, u);
    }
  }

  void elements(const std::map<std::string, const json*>& before, const std::map<std::string, const json*>& after,
                const std::string& path) {
    for (const auto& [self, value] : before) {
      const auto other = after.find(self);
      if (other == after.end())
        differ(path, self, "there", "missing");
      else
        values(*value, *other->second, path + "[]", self, 0);
    }
    for (const auto& [self, value] : after)
      if (!before.contains(self)) added(path, self, *value);
  }

  /// Every element of an array gains the same new member: it is told once, by its path without numbers.
  void added(const std::string& path, const std::string& who, const json& value) {
    if (tolerance_ == 0) return differ(path, who, "missing", shown(value));
    std::string kind;
    for (const char c : path)
      if (!(c >= '0' && c <= '9')) kind += c;
    if (std::find(out.added.begin(), out.added.end(), kind) == out.added.end()) out.added.push_back(kind);
  }

  double tolerance_;
  std::string_view passed_over_;
};

}  // namespace

Differences compare(std::string_view was, std::string_view is, double tolerance, std::string_view passed_over) {
  const json before = json::parse(was, nullptr, false), after = json::parse(is, nullptr, false);
  Comparing comparing(tolerance, passed_over);
  if (before.is_discarded() || after.is_discarded())
    comparing.differ("", "", before.is_discarded() ? "no JSON" : "JSON", after.is_discarded() ? "no JSON" : "JSON");
  else
    comparing.values(before, after, "", "", 0);
  return std::move(comparing.out);
}

}  // namespace steelyard::issued
