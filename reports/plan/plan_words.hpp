// The words of a plan: arrangements, suppositions, what governs and what to do about it. Internal to
// reports/plan. No units, no errors; texts of the sheet come out printable.
#pragma once

#include <string>

#include "plan/plan.hpp"
#include "reports/words/wording.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

std::string arrangement_in_words(const rig::State& state, const rig::Rig& rig, const Wording& wording);
std::string supposition_in_words(const plan::Supposition& supposition, const Wording& wording);
std::string origin_in_words(plan::Origin origin);
/// "coupling load, towbar plate, bars off".
std::string aim_in_words(const plan::Aim& aim, const rig::Session& sheet, const Wording& wording);
/// "the height of the coupling".
std::string governing_in_words(reconcile::ObservationKind kind, const Wording& wording);
/// "measuring the coupling height in every state"; empty for none.
std::string remedy_in_words(plan::Remedy remedy, const rig::Session& sheet, const Wording& wording);

}  // namespace steelyard::reports
