#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "assess/assessment.hpp"
#include "assess/compared.hpp"

namespace steelyard::assess {
namespace {

using reconcile::Measure;
using reconcile::Quantity;
using rig::LimitKind;

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

class Assessor {
 public:
  Assessor(const rig::Session& session, const reconcile::Findings& findings)
      : session_(session),
        findings_(findings),
        comparer_(session, findings),
        travelling_(rig::travelling_state(session)) {}

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
      add_row(index, nullptr, comparer_.stateless(limit));
      return;
    }
    for (const rig::State& state : session_.states) {
      if (scope != Scope::every_state && !state.hitched) continue;
      if (scope == Scope::distributing && !state.weight_distribution) continue;
      if (limit.with_weight_distribution &&
          !(state.hitched && *limit.with_weight_distribution == state.weight_distribution))
        continue;
      if (&state != travelling_ && passed_over(limit, state)) continue;
      add_row(index, &state, comparer_.in_state(limit, state));
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
        row.compared = quantity;
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
  Comparer comparer_;
  const rig::State* travelling_;
  Assessment out_;
};

}  // namespace

Assessment assess(const rig::Session& session, const reconcile::Findings& findings) {
  return Assessor(session, findings).all();
}

}  // namespace steelyard::assess
