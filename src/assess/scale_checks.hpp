// What a session says against its own scales: out of date, no day of calibration, a zero that is off or has moved, a
// check weight that shows wrong. Nothing here changes a result; a person reads it and decides.
//
// Units: kg. Rules, each with its source:
// - out of date: `due` lies before the place's own day of weighing (reconciliation model, section 4); nothing is said
//   where either is not given;
// - zeros: what the empty scale showed may lie one division from 0, and may move by one division. Without a division:
//   2·repeatability, and 2·√2·repeatability for the difference of two readings; without either: the default division of
//   1 kg. Common practice, no source;
// - check weights: the difference is load − mass·(1 + gain), gain being the known one of its certificate. Where class
//   and division are given it may be the maximum permissible error in service of OIML R 76-1:2006 (Table 6, doubled by
//   3.5.2); else 2·√((gain_u·mass)² + d²/12 + repeatability²), with the defaults of rig/scale_errors where the sheet is
//   silent.
// Errors: none. The same session gives the same checks, scales in the sheet's order.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::assess {

/// A figure held against the largest that is allowed; beyond: |value| > allowed.
struct HeldAgainst {
  double value = 0, allowed = 0;
  bool beyond = false;
  bool operator==(const HeldAgainst&) const = default;
};

enum class CheckRule { class_in_service, uncertainty };

struct WeightCheck {
  double mass = 0, load = 0;
  HeldAgainst difference = {};
  CheckRule rule = CheckRule::uncertainty;
};

enum class ScaleFlagKind { out_of_date, not_calibrated, zero_off, zero_drift, check_weight };

struct ScaleFlag {
  std::string scale;  // id in the session
  ScaleFlagKind kind = ScaleFlagKind::out_of_date;
  std::optional<double> figure = {}, allowed = {};  // nothing for dates
  std::size_t check_weight = 0;                     // which one, where the kind is that
};

struct ScaleCheck {
  std::size_t scale = 0;           // index into session.scales
  bool used = false;               // a reading that was not set aside names it
  std::optional<bool> out_of_date = {};
  std::optional<HeldAgainst> zero = {}, zero_drift = {};  // zero: before the weighing
  std::vector<WeightCheck> check_weights = {};
  std::vector<ScaleFlag> flags = {};
};

/// One for each scale of the session.
std::vector<ScaleCheck> scale_checks(const rig::Session& session);

/// True where the scale is given as due before the session's day of weighing.
bool is_out_of_date(const rig::Scale& scale, const rig::Session& session);

}  // namespace steelyard::assess
