#include "reconcile/cross_checks.hpp"

#include <cmath>

#include "adjust/distributions.hpp"
#include "reconcile/site_sums.hpp"

namespace steelyard::reconcile {
namespace {

using Kind = CrossCheck::Kind;
using Way = CrossCheck::Way;

struct Side {
  Way way;
  SiteFigure figure;
};

class Checker {
 public:
  Checker(const rig::Session& session, const Findings& findings)
      : session_(session), sums_(session, findings) {
    for (std::size_t k = 0; k < session.states.size(); ++k) {
      if (session.states[k].hitched) continue;
      if (!tow_alone_ && sums_.total(k, rig::Vehicle::tow)) tow_alone_ = k;
      if (!trailer_alone_ && trailer_mass(k)) trailer_alone_ = k;
    }
  }

  std::vector<CrossCheck> all() {
    const auto each_hitched = [this](auto&& check) {
      for (std::size_t k = 0; k < session_.states.size(); ++k)
        if (session_.states[k].hitched) check(k);
    };
    each_hitched([this](std::size_t k) { combination(k); });
    if (session_.rig.trailer->self_supporting) return std::move(out_);
    each_hitched([this](std::size_t k) { coupling_load(k); });
    each_hitched([this](std::size_t k) { overhang(k); });
    each_hitched([this](std::size_t k) { weight_distribution(k); });
    return std::move(out_);
  }

 private:
  std::optional<SiteFigure> trailer_mass(std::size_t k) const {
    const auto axles = sums_.total(k, rig::Vehicle::trailer);
    if (!axles || session_.rig.trailer->self_supporting) return axles;
    const auto support = sums_.support(k);
    return support ? std::optional(axles->plus(*support)) : std::nullopt;
  }

  bool bare(std::size_t k) const { return !session_.states[k].weight_distribution; }

  /// What the tow vehicle gains in hitched state k.
  std::optional<SiteFigure> gain(std::size_t k) const {
    const auto total = sums_.total(k, rig::Vehicle::tow);
    if (!total || !tow_alone_) return std::nullopt;
    return total->minus(*sums_.total(*tow_alone_, rig::Vehicle::tow));
  }

  bool significant(const SiteFigure& figure) const {
    return std::abs(figure.value) > adjust::z95 * figure.u(sums_.observations());
  }

  CrossCheck begin(Kind kind, Measure measure, std::vector<std::size_t> states,
                   const std::vector<Side>& sides) const {
    CrossCheck out;
    out.kind = kind;
    out.measure = measure;
    for (std::size_t i = 0; i < states.size(); ++i)
      if (i == 0 || states[i] != states[i - 1]) out.states.push_back(session_.states[states[i]].name);
    for (const Side& side : sides)
      out.values.push_back({side.way, side.figure.value, side.figure.u(sums_.observations())});
    return out;
  }

  void add(CrossCheck check, double difference, double u) {
    check.difference = difference;
    check.u = u;
    check.agrees = std::abs(difference) <= adjust::z95 * u;
    out_.push_back(std::move(check));
  }

  void combination(std::size_t k) {
    const auto tow = sums_.total(k, rig::Vehicle::tow), trailer = sums_.total(k, rig::Vehicle::trailer);
    if (!tow || !trailer || !tow_alone_ || !trailer_alone_) return;
    const SiteFigure hitched = tow->plus(*trailer),
                 apart = sums_.total(*tow_alone_, rig::Vehicle::tow)->plus(*trailer_mass(*trailer_alone_));
    const SiteFigure difference = hitched.minus(apart);
    add(begin(Kind::combination, Measure::kilogram, {k, *tow_alone_, *trailer_alone_},
              {{Way::hitched, hitched}, {Way::apart, apart}}),
        difference.value, difference.u(sums_.observations()));
  }

  /// Three ways to one load; without a reading under the nose the other two are the combination's check
  /// again.
  void coupling_load(std::size_t k) {
    if (!bare(k)) return;
    for (std::size_t at = 0; at < session_.states.size(); ++at) {
      const auto read = sums_.coupling(at);
      if (!read) continue;
      std::vector<Side> sides{
          {session_.states[at].support == rig::Support::jockey ? Way::jockey : Way::support,
           read->plus(sums_.height_effect(at, k))}};
      std::vector<std::size_t> states{k, at};
      if (const auto by_gain = gain(k)) {
        sides.insert(sides.begin(), {Way::tow_gain, *by_gain});
        states.push_back(*tow_alone_);
      }
      const auto mass = trailer_mass(at), axles = sums_.total(k, rig::Vehicle::trailer);
      if (mass && axles) sides.push_back({Way::trailer_loss, mass->minus(*axles)});
      if (sides.size() >= 2) furthest(begin(Kind::coupling_load, Measure::kilogram, states, sides), sides);
    }
  }

  void furthest(CrossCheck check, const std::vector<Side>& sides) {
    double difference = 0, u = 1, most = -1;
    for (std::size_t i = 0; i < sides.size(); ++i) {
      for (std::size_t j = i + 1; j < sides.size(); ++j) {
        const SiteFigure apart = sides[i].figure.minus(sides[j].figure);
        const double apart_u = apart.u(sums_.observations());
        if (!(std::abs(apart.value) / apart_u > most)) continue;
        most = std::abs(apart.value) / apart_u;
        check.one = i;
        check.other = j;
        difference = apart.value;
        u = apart_u;
      }
    }
    add(std::move(check), difference, u);
  }

  /// numerator/denominator against `expected`.
  void ratio(Kind kind, Measure measure, std::vector<std::size_t> states, const SiteFigure& numerator,
             const SiteFigure& denominator, const SiteFigure& expected) {
    const SiteFigure apart = numerator.minus(expected.times(denominator));
    add(begin(kind, measure, std::move(states),
              {{Way::loads, numerator.over(denominator)}, {Way::lengths, expected}}),
        apart.value / denominator.value, apart.u(sums_.observations()) / std::abs(denominator.value));
  }

  void overhang(std::size_t k) {
    const auto tape = sums_.observed(ObservationKind::overhang),
               length = sums_.observed(ObservationKind::wheelbase);
    if (!bare(k) || !tape || !length || !tow_alone_) return;
    const auto before = sums_.front(*tow_alone_), after = sums_.front(k);
    if (!before || !after) return;
    const SiteFigure load = *gain(k);
    if (!significant(load)) return;
    ratio(Kind::overhang, Measure::millimetre, {k, *tow_alone_}, before->minus(*after).times(*length), load,
          *tape);
  }

  void weight_distribution(std::size_t with) {
    const auto tape = sums_.observed(ObservationKind::overhang),
               length = sums_.observed(ObservationKind::wheelbase),
               reach = sums_.observed(ObservationKind::coupling_to_axles);
    if (bare(with) || !tape || !length || !reach || !session_.rig.trailer->coupling_to_axles) return;
    for (std::size_t without = 0; without < session_.states.size(); ++without) {
      if (!session_.states[without].hitched || !bare(without)) continue;
      const auto front = sums_.front(with), front_without = sums_.front(without);
      const auto axles = sums_.total(with, rig::Vehicle::trailer),
                 axles_without = sums_.total(without, rig::Vehicle::trailer);
      if (!front || !front_without || !axles || !axles_without) continue;
      // Another coupling height moves load by itself: off the trailer's axles, and off the front by o/L.
      const SiteFigure moved = sums_.height_effect(without, with);
      const SiteFigure gained = axles->minus(*axles_without).plus(moved);
      if (!significant(gained)) continue;
      ratio(Kind::weight_distribution, Measure::one, {with, without},
            front->minus(*front_without).plus(moved.times(tape->over(*length))), gained,
            reach->plus(*tape).over(*length));
      return;
    }
  }

  const rig::Session& session_;
  SiteSums sums_;
  std::optional<std::size_t> tow_alone_, trailer_alone_;  // the first state that tells
  std::vector<CrossCheck> out_;
};

}  // namespace

std::string_view to_text(Kind kind) {
  switch (kind) {
    case Kind::combination:
      return "combination";
    case Kind::coupling_load:
      return "coupling_load";
    case Kind::overhang:
      return "overhang";
    case Kind::weight_distribution:
      return "weight_distribution";
  }
  return {};
}

std::string_view to_text(Way way) {
  switch (way) {
    case Way::hitched:
      return "hitched";
    case Way::apart:
      return "apart";
    case Way::tow_gain:
      return "tow_gain";
    case Way::support:
      return "support";
    case Way::jockey:
      return "jockey";
    case Way::trailer_loss:
      return "trailer_loss";
    case Way::loads:
      return "loads";
    case Way::lengths:
      return "lengths";
  }
  return {};
}

std::vector<CrossCheck> cross_checks(const rig::Session& session, const Findings& findings) {
  if (!session.rig.trailer || findings.observations.empty()) return {};
  return Checker(session, findings).all();
}

}  // namespace steelyard::reconcile
