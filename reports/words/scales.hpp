// What a session says against its own scales, in the words of somebody who has to answer for them.
//
// Units: the reader's; what was entered stays as it was entered. Texts hold names from the sheet as they
// came; whoever shows them makes them harmless for the terminal or the workbook. Nothing is computed here.
#pragma once

#include <string>

#include "assess/scale_checks.hpp"
#include "reports/words/figures.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// "P1 (serial 0417)"; by its uid where there is no serial.
std::string scale_name(const rig::Scale& scale);

/// "was due 2026-02-11, before the weighing of 2026-10-03: …": what follows the scale's name.
std::string scale_flag_words(const rig::Session& session, const assess::ScaleCheck& check,
                             const assess::ScaleFlag& flag, const ShownUnits& shown);
/// The same for a scale that is_out_of_date().
std::string out_of_date_words(const rig::Scale& scale, const rig::Session& session);

/// "check weight 500 kg showed 500.5 kg: 0.5 kg too much, 2.17 kg allowed (2u of …)".
std::string check_weight_words(const rig::Scale& scale, const assess::ScaleCheck& check, std::size_t weight,
                               const ShownUnits& shown);

/// By what the allowed difference was found.
std::string check_rule_words(const rig::Scale& scale, assess::CheckRule rule);

/// Decimals that leave three digits that count: a division of 0.05 kg is told apart from one of 0.1 kg,
/// and 2.16641 kg is 2.17 kg. 0 to 9.
int three_digits(double figure);

}  // namespace steelyard::reports
