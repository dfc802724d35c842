#include "compare/comparison.hpp"

#include <algorithm>
#include <cmath>

namespace steelyard::compare {
namespace {

/// Of the two variances' sum: below this a difference's variance is what rounding left.
constexpr double rounding = 1e-12;

constexpr double same_rating = 1e-9;

bool same_text(const std::optional<std::string>& given, std::string_view wanted) {
  return given ? *given == wanted : wanted.empty();
}

}  // namespace

std::optional<bool> Difference::significant() const {
  return en ? std::optional(std::abs(*en) >= 1) : std::nullopt;
}

Difference difference(const Figure& before, const Figure& after, double covariance) {
  Difference out;
  out.value = after.value - before.value;
  const double apart = before.u * before.u + after.u * after.u, variance = apart - 2 * covariance;
  if (!(variance > rounding * apart)) return out;
  out.u = std::sqrt(variance);
  out.en = out.value / (2 * out.u);
  return out;
}

bool LimitCompared::rating_changed() const {
  if (!before || !after) return false;
  const std::optional<double>&one = before->rating, &other = after->rating;
  if (!one || !other) return one.has_value() != other.has_value();
  return std::abs(*one - *other) > same_rating * std::abs(*one);  // 3500 lb by way of kilograms is 3500 lb
}

bool LimitCompared::source_changed() const {
  return before && after && before->source != after->source;
}

bool LimitCompared::outcome_changed() const {
  return before && after && before->outcome != after->outcome;
}

std::string_view to_text(Same same) {
  switch (same) {
    case Same::yes:
      return "yes";
    case Same::no:
      return "no";
    default:
      return "unknown";
  }
}

const Unlike* Comparison::in_doubt() const {
  const auto found = std::find_if(unlike.begin(), unlike.end(), [](const Unlike& one) { return one.kind == "readings"; });
  return found == unlike.end() ? nullptr : &*found;
}

const Compared* Comparison::find(std::string_view name, std::string_view state_after,
                                 std::string_view at) const {
  const auto found = std::find_if(quantities.begin(), quantities.end(), [&](const Compared& one) {
    return one.name == name && same_text(one.state_after, state_after) && same_text(one.at, at);
  });
  return found == quantities.end() ? nullptr : &*found;
}

}  // namespace steelyard::compare
