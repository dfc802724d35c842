#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include "assess/assessment.hpp"

namespace steelyard::assess {
namespace {

using reconcile::Measure;
using reconcile::Quantity;
using rig::LimitKind;

constexpr double standard_gravity_r55 = 9.81;  // m/s², UNECE R55

/// A value to compare, or why there is none.
struct Compared {
  const Quantity* quantity = nullptr;
  std::optional<double> value, u;  // where it is not a quantity's own
  std::string at;
  std::string reason;
};

enum class Scope { every_state, hitched, distributing, none };

Scope scope_of(LimitKind kind) {
  switch (kind) {
    case LimitKind::tow_gross:
    case LimitKind::tow_front:
    case LimitKind::tow_rear:
    case LimitKind::tow_axle:
    case LimitKind::wheel:
    case LimitKind::side_difference:
      return Scope::every_state;
    case LimitKind::tow_front_minimum_share:
    case LimitKind::trailer_axles:
    case LimitKind::trailer_axle:
    case LimitKind::coupling:
      return Scope::hitched;
    case LimitKind::front_axle_restoration_minimum:
    case LimitKind::front_axle_restoration_maximum:
      return Scope::distributing;
    default:
      return Scope::none;
  }
}

bool about_trailer(LimitKind kind) {
  switch (kind) {
    case LimitKind::tow_gross:
    case LimitKind::tow_front:
    case LimitKind::tow_rear:
    case LimitKind::tow_axle:
    case LimitKind::tow_front_minimum_share:
    case LimitKind::wheel:
    case LimitKind::side_difference:
      return false;
    default:
      return true;
  }
}

bool about_coupling(LimitKind kind) {
  return kind == LimitKind::coupling || kind == LimitKind::coupling_minimum ||
         kind == LimitKind::coupling_share_minimum || kind == LimitKind::coupling_share_maximum ||
         kind == LimitKind::front_axle_restoration_minimum ||
         kind == LimitKind::front_axle_restoration_maximum;
}

Measure measure_of(const rig::Limit& limit) {
  switch (rig::measure_of(limit.kind)) {
    case rig::Measure::load:
      return Measure::kilogram;
    case rig::Measure::ratio:
      return Measure::one;
    case rig::Measure::force_kn:
      return Measure::kilonewton;
  }
  return Measure::kilogram;
}

/// In the limit's measure.
std::optional<double> rating_of(const rig::Limit& limit) {
  if (limit.load) return limit.load->kg().value();
  if (limit.number) return *limit.number;
  if (limit.load_index)
    if (const auto one = load_index_kilograms(*limit.load_index)) return *one * limit.tyres;
  return std::nullopt;
}

class Assessor {
 public:
  Assessor(const rig::Session& session, const reconcile::Findings& findings)
      : session_(session), findings_(findings), travelling_(rig::travelling_state(session)) {}

  Assessment all() {
    if (travelling_) out_.travels_in = travelling_->name;
    for (std::size_t i = 0; i < session_.rig.limits.size(); ++i) limit(i);
    mark_governing();
    mark_suspect();
    conclude();
    return std::move(out_);
  }

 private:
  void limit(std::size_t index) {
    const rig::Limit& limit = session_.rig.limits[index];
    const Scope scope = scope_of(limit.kind);
    const std::size_t before = out_.rows.size();
    if (about_trailer(limit.kind) && !session_.rig.trailer)
      return missing(index, "the session has no trailer");
    if (about_coupling(limit.kind) && session_.rig.trailer->self_supporting)
      return missing(index, "the trailer stands on its own axles and puts no load on the coupling");
    if (scope == Scope::none) {
      add_row(index, nullptr, stateless(limit));
      return;
    }
    for (const rig::State& state : session_.states) {
      if (scope != Scope::every_state && !state.hitched) continue;
      if (scope == Scope::distributing && !state.weight_distribution) continue;
      if (limit.with_weight_distribution &&
          !(state.hitched && *limit.with_weight_distribution == state.weight_distribution))
        continue;
      if (&state != travelling_ && passed_over(limit, state)) continue;
      add_row(index, &state, in_state(limit, state));
    }
    if (out_.rows.size() == before) missing(index, no_state(limit, scope));
  }

  /// True where a limit on single axles or wheels has nothing to look at: that vehicle was not weighed in the
  /// state.
  bool passed_over(const rig::Limit& limit, const rig::State& state) const {
    const bool tow = findings_.find("group_load", state.name, "tow.front");
    const bool trailer = findings_.find("group_load", state.name, "trailer");
    switch (limit.kind) {
      case LimitKind::tow_axle:
        return !tow;
      case LimitKind::trailer_axle:
        return !trailer;
      case LimitKind::wheel:
        return limit.vehicle == rig::Vehicle::tow ? !tow : !trailer;
      case LimitKind::side_difference:
        return !tow && !trailer;
      default:
        return false;
    }
  }

  static std::string no_state(const rig::Limit& limit, Scope scope) {
    if (scope == Scope::distributing || limit.with_weight_distribution == true)
      return "no state was weighed with weight distribution on: weigh the rig hitched with it";
    if (limit.with_weight_distribution == false)
      return "no hitched state was weighed without weight distribution: weigh the rig hitched without it";
    return "the rig was not weighed hitched: weigh every axle hitched as it travels";
  }

  Row& start(std::size_t index) {
    const rig::Limit& limit = session_.rig.limits[index];
    Row& row = out_.rows.emplace_back();
    row.limit = index;
    row.of = rig::limit_name(limit);
    if (!limit.part.empty()) row.part = limit.part;
    row.rating = rating_of(limit);
    row.measure = measure_of(limit);
    row.minimum = rig::is_minimum(limit.kind);
    row.advice = limit.advice;
    row.source = limit.source;
    return row;
  }

  /// A limit that no state lets be compared. A rating for states the rig does not travel in is no gap.
  void missing(std::size_t index, std::string reason) {
    const rig::Limit& limit = session_.rig.limits[index];
    Row& row = start(index);
    row.reason = std::move(reason);
    const bool elsewhere = limit.with_weight_distribution && travelling_ && travelling_->hitched &&
                           *limit.with_weight_distribution != travelling_->weight_distribution;
    const bool idle =
        scope_of(limit.kind) == Scope::distributing && travelling_ && !travelling_->weight_distribution;
    row.travels = !elsewhere && !idle;
  }

  void add_row(std::size_t index, const rig::State* state, Compared compared) {
    Row& row = start(index);
    if (state) row.state = state->name;
    row.travels = !state || !travelling_ || state == travelling_;
    row.at = compared.at;
    if (compared.quantity) {
      const Quantity& quantity = *compared.quantity;
      if (quantity.determinable) {
        row.value = quantity.value;
        row.u = quantity.u;
      } else if (compared.reason.empty()) {
        compared.reason = quantity.needs ? quantity.needs->text : "not determinable from these readings";
      }
    } else if (compared.value) {
      row.value = compared.value;
      row.u = compared.u;
    }
    if (!row.rating) compared.reason = "the limit has no value";
    if (!row.value || !row.rating) {
      row.value.reset();
      row.u.reset();
      row.reason = compared.reason.empty() ? "not weighed" : compared.reason;
      return;
    }
    decide(row, session_.rig.limits[index]);
  }

  static void decide(Row& row, const rig::Limit& limit) {
    if (limit.against) {  // the value is the trailer's mass; against a declared mass it is a ratio
      *row.value /= limit.against->kg().value();
      *row.u /= limit.against->kg().value();
    }
    const double margin = row.minimum ? *row.value - *row.rating : *row.rating - *row.value;
    const double u = *row.u, expanded = 2 * u;
    row.margin = margin;
    row.p_breach = u > 0 ? std::erfc(margin / u / std::sqrt(2.0)) / 2 : margin >= 0 ? 0.0 : 1.0;
    row.outcome = margin >= expanded    ? Outcome::pass
                  : margin >= 0         ? Outcome::conditional_pass
                  : margin >= -expanded ? Outcome::conditional_fail
                                        : Outcome::fail;
  }

  Compared quantity(std::string_view name, const rig::State* state = nullptr,
                    std::string_view at = {}) const {
    Compared out;
    const std::string_view where = state ? std::string_view(state->name) : std::string_view();
    out.quantity = findings_.find(name, where, at);
    if (!out.quantity) out.quantity = findings_.find_for_limit(name, where, at);
    out.at = at;
    return out;
  }

  Compared stateless(const rig::Limit& limit) const {
    switch (limit.kind) {
      case LimitKind::combination:
        return quantity("combination_mass");
      case LimitKind::trailer_gross:
      case LimitKind::towed_mass:
      case LimitKind::towed_mass_unbraked:
        return quantity(limit.basis == rig::Basis::axles ? "trailer_axles_static" : "trailer_mass");
      case LimitKind::coupling_minimum:
        return quantity("coupling_load");
      case LimitKind::coupling_share_minimum:
      case LimitKind::coupling_share_maximum:
        return quantity("coupling_share");
      case LimitKind::mass_ratio:
        return quantity(limit.against ? "trailer_mass" : "mass_ratio");
      default:
        return coupling_force(limit.kind);
    }
  }

  Compared in_state(const rig::Limit& limit, const rig::State& state) const {
    switch (limit.kind) {
      case LimitKind::tow_gross:
        return quantity("tow_load", &state);
      case LimitKind::tow_front:
        return group(state, "tow_front_load");
      case LimitKind::tow_rear:
        return group(state, "tow_rear_load");
      case LimitKind::tow_front_minimum_share:
        return group(state, "tow_front_share");
      case LimitKind::tow_axle:
        return axle(state, rig::Vehicle::tow, limit.axle);
      case LimitKind::trailer_axle:
        return axle(state, rig::Vehicle::trailer, limit.axle);
      case LimitKind::trailer_axles: {
        if (session_.rig.trailer->self_supporting) return quantity("trailer_mass");
        return quantity("trailer_axles_hitched", &state);
      }
      case LimitKind::coupling:
        return quantity("coupling_load_at_height", &state);
      case LimitKind::wheel:
        return wheel(state, limit);
      case LimitKind::side_difference:
        return side_difference(state, limit);
      default:
        return quantity("front_axle_restoration", &state);
    }
  }

  Compared group(const rig::State& state, std::string_view name) const {
    Compared out = quantity(name, &state);
    if (out.quantity && !out.quantity->determinable)
      out.reason = out.quantity->needs ? out.quantity->needs->text
                                       : "weigh every axle of the tow vehicle in state “" + state.name + "”";
    return out;
  }

  Compared axle(const rig::State& state, rig::Vehicle vehicle, int n) const {
    const std::string at = to_text(rig::Position::whole_axle(vehicle, n));
    Compared out = quantity("axle_load", &state, at);
    if (!out.quantity) out.reason = "weigh axle " + at + " in state “" + state.name + "”";
    return out;
  }

  Compared wheel(const rig::State& state, const rig::Limit& limit) const {
    std::array<Compared, 2> ends;
    for (const rig::Side side : {rig::Side::left, rig::Side::right})
      ends[side == rig::Side::left ? 0 : 1] =
          quantity("wheel_load", &state, to_text(rig::Position::wheel(limit.vehicle, limit.axle, side)));
    const std::string place = to_text(rig::Position::whole_axle(limit.vehicle, limit.axle));
    if (!ends[0].quantity || !ends[1].quantity) {
      Compared out;
      out.reason = "weigh each wheel end of " + place + " in state “" + state.name + "”";
      return out;
    }
    for (std::size_t known : {0u, 1u}) {
      if (ends[1 - known].quantity->determinable) continue;
      // The heavier end is at least the one that is known; over with that one, it is over.
      const Quantity& end = *ends[known].quantity;
      const auto rating = rating_of(limit);
      return end.determinable && rating && end.value > *rating ? ends[known] : ends[1 - known];
    }
    return ends[0].quantity->value >= ends[1].quantity->value ? ends[0] : ends[1];
  }

  /// The axle that differs most. One read on one side only is not passed over: the limit is not assessed
  /// then, unless another axle is over it already.
  Compared side_difference(const rig::State& state, const rig::Limit& limit) const {
    Compared out;
    const Quantity* open = nullptr;
    for (const Quantity& candidate : findings_.limit_quantities) {
      if (candidate.name != "side_difference_share" || candidate.state != state.name) continue;
      if (!candidate.determinable) {
        open = &candidate;
        continue;
      }
      if (out.quantity && out.quantity->value >= candidate.value) continue;
      out.quantity = &candidate;
      out.at = *candidate.at;
    }
    const auto rating = rating_of(limit);
    if (open && !(out.quantity && rating && out.quantity->value > *rating)) {
      out.quantity = open;
      out.at = *open->at;
    }
    if (!out.quantity) out.reason = "weigh left and right of an axle apart in state “" + state.name + "”";
    return out;
  }

  /// The lowest rating of a kind: where two sources disagree the lower governs.
  std::optional<double> lowest(LimitKind kind) const {
    std::optional<double> out;
    for (const rig::Limit& limit : session_.rig.limits) {
      if (limit.kind != kind || limit.advice) continue;
      const auto rating = rating_of(limit);
      if (rating && (!out || *rating < *out)) out = rating;
    }
    return out;
  }

  /// D = g·Tv·Tt/(Tv + Tt) from the ratings in tonnes, in kN; Dc takes the trailer's axle load for Tt (UNECE
  /// R55).
  Compared coupling_force(LimitKind kind) const {
    const auto tow = lowest(LimitKind::tow_gross);
    auto towed = lowest(kind == LimitKind::d_value ? LimitKind::trailer_gross : LimitKind::trailer_axles);
    if (!towed && kind == LimitKind::d_value) towed = lowest(LimitKind::towed_mass);
    Compared out;
    if (!tow || !towed) {
      out.reason = std::string("it follows from ratings that the sheet does not give: add ") +
                   (tow ? "" : "tow_gross") + (tow || towed ? "" : " and ") +
                   (towed                        ? ""
                    : kind == LimitKind::d_value ? "trailer_gross"
                                                 : "trailer_axles");
      return out;
    }
    out.value = standard_gravity_r55 * *tow * *towed / (*tow + *towed) / 1000;
    out.u = 0;
    return out;
  }

  /// Of several ratings of one thing in one state the tightest governs: the coupling chain, sources that
  /// disagree.
  void mark_governing() {
    // Whole trailer or axles only, against what was weighed or a declared mass: these are different things.
    using Thing = std::tuple<std::string, std::string, rig::Basis, double>;
    std::map<Thing, Row*> tightest;
    for (Row& row : out_.rows) {
      if (row.advice || !row.rating) continue;
      const rig::Limit& limit = session_.rig.limits[row.limit];
      Row*& best = tightest[{row.of, row.state.value_or(""), limit.basis,
                             limit.against ? limit.against->kg().value() : 0}];
      const bool tighter = best && (row.minimum ? *row.rating > *best->rating : *row.rating < *best->rating);
      if (!best || tighter) best = &row;
    }
    for (const auto& [thing, row] : tightest) row->governs = true;
  }

  /// Loads at axles and wheels rest on the readings of their own state; everything else follows from what all
  /// states say together; coupling forces follow from ratings alone.
  static bool rests_on(const Row& row, LimitKind kind, const std::optional<std::string>& state) {
    switch (kind) {
      case LimitKind::d_value:
      case LimitKind::dc_value:
        return false;
      case LimitKind::tow_axle:
      case LimitKind::trailer_axle:
      case LimitKind::wheel:
      case LimitKind::side_difference:
        return row.state == state;
      default:
        return true;
    }
  }

  void mark_suspect() {
    for (const reconcile::SuspectSet& set : findings_.suspects)
      for (const reconcile::SuspectMember& member : set.members) {
        const reconcile::Observation& observation = findings_.observations[member.observation];
        if (observation.kind != reconcile::ObservationKind::reading) continue;
        for (Row& row : out_.rows)
          if (rests_on(row, session_.rig.limits[row.limit].kind, observation.state)) row.suspect = true;
      }
  }

  void conclude() {
    const auto& limits = session_.rig.limits;
    bool gap = false, any = false;
    Outcome worst = Outcome::pass;
    for (std::size_t i = 0; i < limits.size(); ++i) {
      bool travelling_row = false, travelling_assessed = true, other_assessed = false, unassessed = false;
      for (const Row& row : out_.rows) {
        if (row.limit != i) continue;
        const bool assessed = row.outcome != Outcome::not_assessed;
        if (!row.travels) {
          other_assessed = other_assessed || assessed;
          continue;
        }
        travelling_row = true;
        travelling_assessed = travelling_assessed && assessed;
        if (row.advice) continue;
        unassessed = unassessed || !assessed;
        any = true;
        if (assessed) worst = std::max(worst, row.outcome);
      }
      gap = gap || unassessed;
      const bool counted = travelling_row ? travelling_assessed : other_assessed;
      ++(counted ? out_.assessed : out_.not_assessed);
    }
    if (!any) return;
    out_.outcome = worst == Outcome::fail               ? RigOutcome::fail
                   : worst == Outcome::conditional_fail ? RigOutcome::conditional_fail
                   : gap                                ? RigOutcome::incomplete
                   : worst == Outcome::conditional_pass ? RigOutcome::conditional_pass
                                                        : RigOutcome::pass;
  }

  const rig::Session& session_;
  const reconcile::Findings& findings_;
  const rig::State* travelling_;
  Assessment out_;
};

}  // namespace

std::string_view to_text(Outcome outcome) {
  switch (outcome) {
    case Outcome::pass:
      return "pass";
    case Outcome::conditional_pass:
      return "conditional pass";
    case Outcome::conditional_fail:
      return "conditional fail";
    case Outcome::fail:
      return "fail";
    case Outcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view in_words(Outcome outcome, bool minimum) {
  switch (outcome) {
    case Outcome::pass:
      return "within";
    case Outcome::conditional_pass:
      return "within, but too close to be sure";
    case Outcome::conditional_fail:
      return minimum ? "below, but too close to be sure" : "over, but too close to be sure";
    case Outcome::fail:
      return minimum ? "below" : "over";
    case Outcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view to_text(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "pass";
    case RigOutcome::conditional_pass:
      return "conditional pass";
    case RigOutcome::incomplete:
      return "incomplete";
    case RigOutcome::conditional_fail:
      return "conditional fail";
    case RigOutcome::fail:
      return "fail";
    case RigOutcome::not_assessed:
      return "not assessed";
  }
  return {};
}

std::string_view in_words(RigOutcome outcome) {
  switch (outcome) {
    case RigOutcome::pass:
      return "within every rating given";
    case RigOutcome::conditional_pass:
      return "within every rating given, but too close to one to be sure";
    case RigOutcome::incomplete:
      return "incomplete: none found over, but not every rating could be assessed";
    case RigOutcome::conditional_fail:
      return "over a rating, but too close to be sure";
    case RigOutcome::fail:
      return "outside a rating";
    case RigOutcome::not_assessed:
      return "not assessed: no rating was given";
  }
  return {};
}

Assessment assess(const rig::Session& session, const reconcile::Findings& findings) {
  return Assessor(session, findings).all();
}

}  // namespace steelyard::assess
