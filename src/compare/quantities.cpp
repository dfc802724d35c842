// Every quantity of the two findings, paired, with its difference.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "compare/parts.hpp"

namespace steelyard::compare {
namespace {

using reconcile::Quantity;

/// What says something of the trailer though it names neither a state nor a place.
constexpr std::array<std::string_view, 5> of_the_trailer{"coupling_load", "coupling_share", "trailer_mass",
                                                         "combination_mass", "height_sensitivity"};

std::optional<Figure> figure_of(const Quantity* quantity) {
  if (!quantity || !quantity->determinable) return std::nullopt;
  return Figure{quantity->value, quantity->u};
}

std::optional<std::string> reason_of(const Quantity* quantity) {
  if (!quantity) return "no reading says anything of it";
  if (quantity->determinable) return std::nullopt;
  return quantity->needs ? quantity->needs->text : "the readings leave it open";
}

class Pairing {
 public:
  Pairing(const Side& before, const Side& after, Comparison& out) : before_(before), after_(after), out_(out) {
    for (const MatchedState& match : out.states) {
      to_before_[after.session.states[match.after].name] = &match;
      to_after_[before.session.states[match.before].name] = &match;
    }
  }

  void all() {
    for (const Quantity& quantity : after_.findings().quantities) {
      const MatchedState* match = nullptr;
      if (!comparable(quantity, to_before_, match)) continue;
      const std::string state = match ? before_.session.states[match->before].name : std::string();
      add(before_.findings().find(quantity.name, state, quantity.at.value_or("")), &quantity, match);
    }
    for (const Quantity& quantity : before_.findings().quantities) {
      const MatchedState* match = nullptr;
      if (!comparable(quantity, to_after_, match)) continue;
      const std::string state = match ? after_.session.states[match->after].name : std::string();
      if (!after_.findings().find(quantity.name, state, quantity.at.value_or("")))
        add(&quantity, nullptr, match);
    }
  }

 private:
  using States = std::map<std::string, const MatchedState*, std::less<>>;

  /// Not in a state that stands alone, nor of a trailer that only one side has.
  bool comparable(const Quantity& quantity, const States& states, const MatchedState*& match) const {
    if (quantity.state) {
      const auto found = states.find(*quantity.state);
      if (found == states.end()) return false;
      match = found->second;
    }
    const bool both = before_.session.rig.trailer.has_value() == after_.session.rig.trailer.has_value();
    return both || quantity.name.starts_with("tow_") || (quantity.at && quantity.at->starts_with("tow"));
  }

  [[nodiscard]] bool with_trailer(const Quantity& quantity, const MatchedState* match) const {
    if (!match)
      return std::find(of_the_trailer.begin(), of_the_trailer.end(), quantity.name) != of_the_trailer.end();
    if (after_.session.states[match->after].hitched) return true;
    return !quantity.at || quantity.at->starts_with("trailer");
  }

  void add(const Quantity* before, const Quantity* after, const MatchedState* match) {
    const Quantity& either = after ? *after : *before;
    Compared& row = out_.quantities.emplace_back();
    row.name = either.name;
    row.at = either.at;
    row.measure = either.measure;
    if (match) {
      row.state_before = before_.session.states[match->before].name;
      row.state_after = after_.session.states[match->after].name;
      row.arranged_otherwise = !match->alike;
    }
    row.another_trailer = out_.trailer == Same::no && with_trailer(either, match);
    row.before = figure_of(before);
    row.after = figure_of(after);
    row.reason_before = reason_of(before);
    row.reason_after = reason_of(after);
    if (!row.before || !row.after) return;
    const double shared = covariance(before_, *before, after_, *after, out_.common);
    const double both = row.before->u * row.after->u;
    row.correlation = both > 0 ? std::clamp(shared / both, -1.0, 1.0) : 0;
    row.difference = difference(*row.before, *row.after, shared);
  }

  const Side &before_, &after_;
  Comparison& out_;
  States to_before_, to_after_;
};

}  // namespace

void compare_quantities(const Side& before, const Side& after, Comparison& out) {
  Pairing(before, after, out).all();
}

}  // namespace steelyard::compare
