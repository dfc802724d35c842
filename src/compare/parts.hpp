// The steps of a comparison. Internal to src/compare; units and invariants as comparison.hpp.
#pragma once

#include <vector>

#include "compare/compare.hpp"

namespace steelyard::compare {

/// By uid where both have one, else by registration where both have one.
Same same_vehicle(const std::string& uid_a, const std::string& registration_a, const std::string& uid_b,
                  const std::string& registration_b);
Same same_tow_vehicle(const rig::Session& a, const rig::Session& b);
/// Two sessions without a trailer have the same one; a trailer and none are not the same.
Same same_trailer(const rig::Session& a, const rig::Session& b);

/// States that can be held against each other: arranged alike, those of equal name first, and of what is left
/// one alone on each side; then hitched states of equal name or those that the rigs travel in, arranged
/// otherwise.
std::vector<MatchedState> match_states(const rig::Session& before, const rig::Session& after);

std::vector<CommonError> common_errors(const Side& before, const Side& after, Same tow_vehicle, Same trailer);

/// Σ Kᵇ·Kᵃ·u² of two quantities; 0 where either has no sensitivities.
double covariance(const Side& before, const reconcile::Quantity& a, const Side& after,
                  const reconcile::Quantity& b, const std::vector<CommonError>& common);

/// Fills `quantities`; needs states, common and trailer.
void compare_quantities(const Side& before, const Side& after, Comparison& out);
/// Fills `limits`; needs states.
void compare_limits(const Side& before, const Side& after, Comparison& out);
/// Fills `unlike`; needs states and quantities.
void list_unlike(const Side& before, const Side& after, Comparison& out);
/// Fills `fitted`; needs quantities.
void check_fitted(const Side& before, const Side& after, Comparison& out);

/// What tells a scale apart from the same scale calibrated anew.
bool same_calibration(const rig::Scale& a, const rig::Scale& b);

}  // namespace steelyard::compare
