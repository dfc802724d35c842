#include "assess/scale_checks.hpp"

#include <algorithm>
#include <cmath>

#include "rig/scale_errors.hpp"

namespace steelyard::assess {
namespace {

double squared(double x) {
  return x * x;
}

HeldAgainst held(double value, double allowed) {
  // Figures that were converted from pounds miss by a rounding what they were in pounds.
  constexpr double rounding = 1e-9;
  return {value, allowed, std::abs(value) > allowed * (1 + rounding)};
}

/// How far a single empty reading (1), or the difference of two (√2), may lie from 0.
double allowed_of_zero(const rig::Scale& scale, double readings) {
  // A repeatability of 0 explains nothing and would allow nothing.
  if (!scale.division && scale.repeatability && scale.repeatability->figure > 0)
    return 2 * readings * scale.repeatability->kg().value();
  return rig::division_or_default(scale);
}

WeightCheck check_of(const rig::Scale& scale, const rig::CheckWeight& weight) {
  WeightCheck check{weight.mass.kg().value(), weight.load.kg().value()};
  const double difference = check.load - check.mass * (1 + scale.gain.value_or(0));
  if (scale.accuracy_class && scale.division) {
    check.rule = CheckRule::class_in_service;
    check.difference = held(difference, rig::largest_error_in_service(*scale.accuracy_class, check.mass,
                                                                      scale.division->kg().value()));
    return check;
  }
  const double gain_u = scale.gain_u.value_or(rig::default_gain_u);
  check.difference = held(
      difference, 2 * std::sqrt(squared(gain_u * check.mass) + squared(rig::division_or_default(scale)) / 12 +
                                squared(rig::repeatability_or_default(scale))));
  return check;
}

void add_flags(ScaleCheck& check, const rig::Scale& scale) {
  const auto add = [&](ScaleFlagKind kind, const HeldAgainst& figure, std::size_t weight = 0) {
    if (figure.beyond) check.flags.push_back({scale.id, kind, figure.value, figure.allowed, weight});
  };
  if (check.out_of_date.value_or(false)) check.flags.push_back({scale.id, ScaleFlagKind::out_of_date});
  if (scale.calibrated.empty()) check.flags.push_back({scale.id, ScaleFlagKind::not_calibrated});
  if (check.zero) add(ScaleFlagKind::zero_off, *check.zero);
  if (check.zero_drift) add(ScaleFlagKind::zero_drift, *check.zero_drift);
  for (std::size_t i = 0; i < check.check_weights.size(); ++i)
    add(ScaleFlagKind::check_weight, check.check_weights[i].difference, i);
}

bool is_used(const rig::Session& session, const std::string& id) {
  return std::any_of(session.states.begin(), session.states.end(), [&](const rig::State& state) {
    return std::any_of(state.readings.begin(), state.readings.end(), [&](const rig::Reading& reading) {
      return !reading.struck &&
             std::find(reading.scales.begin(), reading.scales.end(), id) != reading.scales.end();
    });
  });
}

}  // namespace

bool is_out_of_date(const rig::Scale& scale, const rig::Session& session) {
  // Times begin with the place's own day, written like the due date; text order is the order of days.
  return !scale.due.empty() && !session.weighed.at.empty() && scale.due < session.weighed.at.substr(0, 10);
}

std::vector<ScaleCheck> scale_checks(const rig::Session& session) {
  std::vector<ScaleCheck> checks;
  for (const rig::Scale& scale : session.scales) {
    ScaleCheck& check = checks.emplace_back();
    check.scale = checks.size() - 1;
    check.used = is_used(session, scale.id);
    if (!scale.due.empty() && !session.weighed.at.empty()) check.out_of_date = is_out_of_date(scale, session);
    if (scale.zero_before) check.zero = held(scale.zero_before->kg().value(), allowed_of_zero(scale, 1));
    if (scale.zero_before && scale.zero_after)
      check.zero_drift = held(scale.zero_after->kg().value() - scale.zero_before->kg().value(),
                              allowed_of_zero(scale, std::sqrt(2.0)));
    for (const rig::CheckWeight& weight : scale.check_weights)
      check.check_weights.push_back(check_of(scale, weight));
    add_flags(check, scale);
  }
  return checks;
}

}  // namespace steelyard::assess
