#include "sheet/json_text.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "units/number.hpp"

namespace steelyard::sheet {
namespace {

std::string_view remedy_for(std::string_view message) {
  const auto says = [&](std::string_view words) { return message.find(words) != std::string_view::npos; };
  if (says("UTF-8")) return "save the file as UTF-8";
  if (says("control character")) return "write a line break inside a text as \\n";
  if (says("surrogate")) return "write the character itself, not half of its \\u pair";
  if (says("end of input")) return "close every bracket and quote, and write nothing after the last bracket";
  return "texts and keys stand in double quotes, numbers are digits with a point, and no comment, NaN or "
         "comma "
         "before a closing bracket is allowed";
}

/// Builds the tree and remembers the way to where it is.
class TreeBuilder final : public nlohmann::json_sax<json> {
 public:
  TreeBuilder(std::string_view text, Faults& faults) : text_(text), faults_(faults) {}
  json root;

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }

  bool start_object(std::size_t) override { return open(json::object()); }
  bool start_array(std::size_t) override { return open(json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    auto& members = open_.back()->get_ref<json::object_t&>();
    const auto [member, added] = members.try_emplace(std::move(name));
    member_.back() = &*member;
    if (!added) faults_.add(path(), "is given twice; keep one of the two");
    return true;
  }

  bool parse_error(std::size_t byte, const std::string& last,
                   const nlohmann::detail::exception& error) override {
    if (error.id == 406) {  // a number that is no double
      faults_.add(path(), "must be a number that a double can hold, is " + shown(last) + position(byte));
      return false;
    }
    std::string_view message = error.what();
    if (const auto start = message.find("column "); start != std::string_view::npos)
      if (const auto colon = message.find(": ", start); colon != std::string_view::npos)
        message.remove_prefix(colon + 2);
    faults_.add("", "is not JSON" + position(byte) + ": " + shown(message, 200) + "; " +
                        std::string(remedy_for(message)));
    return false;
  }

 private:
  using Member = json::object_t::value_type;

  template <class Value>
  json* place(Value&& value) {
    if (open_.empty()) {
      root = std::forward<Value>(value);
      return &root;
    }
    if (member_.back()) {
      member_.back()->second = std::forward<Value>(value);
      return &member_.back()->second;
    }
    auto& list = open_.back()->get_ref<json::array_t&>();
    list.emplace_back(std::forward<Value>(value));
    return &list.back();
  }

  template <class Value>
  bool put(Value&& value) {
    place(std::forward<Value>(value));
    return true;
  }

  bool open(json container) {
    if (open_.size() == deepest_nesting) {
      faults_.add(path(), "is nested deeper than " + std::to_string(deepest_nesting) +
                              " brackets; no sheet needs that");
      return false;
    }
    json* const placed = place(std::move(container));
    open_.push_back(placed);
    member_.push_back(nullptr);
    return true;
  }

  bool close() {
    open_.pop_back();
    member_.pop_back();
    return true;
  }

  [[nodiscard]] std::string path() const {
    std::string text;
    for (std::size_t i = 0; i < open_.size(); ++i) {
      if (member_[i])
        append_key(text, member_[i]->first);
      else if (open_[i]->is_array())
        append_index(text, i + 1 < open_.size() ? open_[i]->size() - 1 : open_[i]->size());
    }
    return text;
  }

  [[nodiscard]] std::string position(std::size_t byte) const {
    const std::string_view before = text_.substr(0, std::min(byte > 0 ? byte - 1 : 0, text_.size()));
    const auto line = 1 + std::count(before.begin(), before.end(), '\n');
    const std::size_t start = before.rfind('\n') + 1;
    return " at line " + std::to_string(line) + ", column " + std::to_string(before.size() - start + 1) +
           " (byte " + std::to_string(byte) + ")";
  }

  std::string_view text_;
  Faults& faults_;
  std::vector<json*> open_;      // the containers that are not yet closed, outermost first
  std::vector<Member*> member_;  // for each of them the member being read; none in a list
};

void append_number(std::string& out, double value) {
  constexpr double exact = 9007199254740992;  // 2^53: below it every whole double is an exact integer
  if (std::abs(value) < exact && std::trunc(value) == value)
    out += std::to_string(static_cast<long long>(value));
  else
    out += units::shortest(value);
}

}  // namespace

std::optional<json> parse_json(std::string_view text, Faults& faults) {
  TreeBuilder builder(text, faults);
  if (!json::sax_parse(text.data(), text.data() + text.size(), &builder)) return std::nullopt;
  return std::move(builder.root);
}

void append_json_string(std::string& out, std::string_view text) {
  constexpr std::string_view digits = "0123456789abcdef";
  const auto needs_escape = [](char c) {
    return c == '"' || c == '\\' || static_cast<unsigned char>(c) < 0x20;
  };
  out += '"';
  while (!text.empty()) {
    const auto plain = std::find_if(text.begin(), text.end(), needs_escape);
    out.append(text.begin(), plain);
    text.remove_prefix(static_cast<std::size_t>(plain - text.begin()));
    if (text.empty()) break;
    const char c = text.front();
    text.remove_prefix(1);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else {
      out += "\\u00";
      out += digits[static_cast<unsigned char>(c) >> 4];
      out += digits[static_cast<unsigned char>(c) & 15];
    }
  }
  out += '"';
}

void append_json(std::string& out, const json& value) {
  char separator = '{';
  switch (value.type()) {
    case json::value_t::object:
      for (const auto& [key, member] : value.get_ref<const json::object_t&>()) {
        out += std::exchange(separator, ',');
        append_json_string(out, key);
        out += ':';
        append_json(out, member);
      }
      out += value.empty() ? "{}" : "}";
      break;
    case json::value_t::array:
      separator = '[';
      for (const json& element : value) {
        out += std::exchange(separator, ',');
        append_json(out, element);
      }
      out += value.empty() ? "[]" : "]";
      break;
    case json::value_t::string:
      append_json_string(out, value.get_ref<const std::string&>());
      break;
    case json::value_t::number_float:
      append_number(out, value.get<double>());
      break;
    default:
      out += value.dump();
      break;  // integers, true, false, null: one spelling each
  }
}

}  // namespace steelyard::sheet
