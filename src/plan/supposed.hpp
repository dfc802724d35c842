// The rig as it is supposed to be before anybody weighed it: one set of loads that obeys statics. Internal to
// src/plan.
//
// Each figure comes from the sheet's readings where these tell it, else from the ratings, else from a usual
// size; lengths as given, else the engine's defaults. Shares and usual sizes are common practice, no source.
// Units: kg, mm, kg·mm. Source: reconciliation model, sections 2 and 3.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::plan {

/// The tightest rating of a kind that is no advice, in kg; nothing where there is none.
std::optional<double> tightest(const rig::Session& session, rig::LimitKind kind, int axle = 0);

/// Half the front axle's loss comes back where nobody measured it.
inline constexpr double usual_restoration = 0.5;
/// Not quite half, so that it is settled which end of an axle is the heavier.
inline constexpr double left_share = 0.505;

class SupposedRig {
 public:
  /// `found`: what the sheet's own readings told, or null.
  SupposedRig(const rig::Session& sheet, const reconcile::Findings* found);

  /// What rests on a wheel end, an axle or a support in that state.
  [[nodiscard]] double load(const rig::State& state, const rig::Position& at) const;
  /// What rests there when every load of these states is above 0, as scales need it.
  [[nodiscard]] bool possible(const std::vector<rig::State>& states) const;
  /// Every figure that was supposed, with where it comes from.
  [[nodiscard]] std::vector<Supposition> told(const std::vector<rig::State>& states) const;
  [[nodiscard]] double overhang() const { return overhang_.value; }

 private:
  struct Figure {
    double value = 0;
    Origin origin = Origin::usual;
  };
  [[nodiscard]] std::optional<double> read(const char* name, const std::string& state = {},
                                           const std::string& at = {}) const;
  void lengths();
  void from_readings();
  void complete_from_hitched();
  void trailer_by_ratings();
  void coupling_by_ratings();
  void vehicle_by_ratings();
  [[nodiscard]] double moment(const rig::State& state) const;
  [[nodiscard]] double net(const rig::State& state) const;
  [[nodiscard]] double support(const rig::State& state) const;
  [[nodiscard]] double tow_axle(const rig::State& state, int axle) const;
  [[nodiscard]] double trailer_axle(const rig::State& state) const;

  const rig::Session& sheet_;
  const reconcile::Findings* found_;
  bool coupled_;
  double wheelbase_ = 0, count_[2] = {0, 0};  // axles in the front and in the rear group
  Figure front_, rear_, coupling_, trailer_, overhang_, to_axles_, to_jockey_;
  std::map<std::string, double> read_moment_;  // per state
};

}  // namespace steelyard::plan
