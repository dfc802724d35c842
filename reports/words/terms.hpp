// The trade's words: limits, outcomes, places and states of a rig, in one region's words at a time.
//
// Canonical names (rig/limit.hpp) stay inside; a report shows these. Source of the region's words: the
// trade's table of words by region; a region that has no word of its own for a thing is shown the plain one.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reports/words/wording.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// "Rear axle load", "Coupling load: towbar plate"; with a region's word for the rating "Tow vehicle mass
/// (GVM)", "Tow-ball mass: towbar plate".
std::string limit_words(const rig::Limit& limit, const rig::Rig& rig, const Wording& wording);
/// The same for a narrow column, without part and place: "tow vehicle, total", "rear axles (GAWR)".
std::string brief_limit_words(const rig::Limit& limit, const Wording& wording);

/// True where a plain ratio is a share and reads best in per cent (all of the contract's ratio limits are).
bool is_share(std::string_view quantity_name);

/// How an outcome is shown: never by colour alone, always a sign and words beside it.
enum class Tone { none, within, close_within, close_over, over, unknown };
Tone tone_of(assess::Outcome outcome);
Tone tone_of(assess::RigOutcome outcome);
std::string_view sign_of(Tone tone);  // ✓ △ ▲ ✕ ?
/// "✓ within", "▲ over, but too close to be sure"; for a minimum "✕ below".
std::string outcome_words(assess::Outcome outcome, bool minimum);

/// "tow vehicle axle 1, left" for tow.1.left, "tow vehicle, rear axles" for tow.rear; what is no position is
/// given back as it came.
std::string place_words(std::string_view at, const Wording& wording = {});
/// "hitched, weight distribution on", "apart, nose on a scale at the coupling".
std::string state_words(const rig::State& state, const Wording& wording = {});

/// "Coupling load", "Share of the coupling load put on the rear axle", …; the name itself where it has no
/// words.
std::string quantity_words(std::string_view name, const Wording& wording = {});
/// "reading", "wheelbase (tape)", "level of the ground", …
std::string observation_words(reconcile::ObservationKind kind, const Wording& wording = {});

}  // namespace steelyard::reports
