// What the sections of a plan's table share: the plan, the sheet and figures in its units. Internal to
// reports/plan.
#pragma once

#include <optional>
#include <string>

#include "plan/plan.hpp"
#include "reports/table/figures.hpp"
#include "reports/words/wording.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// A blank at which no line breaks; the table writes it as a blank.
inline constexpr std::string_view unbroken = "\u00a0";

struct PlanText {
  const rig::Session& sheet;
  const plan::Plan& plan;
  Figures figures;
  Wording wording;

  [[nodiscard]] std::string load_unit() const { return figures.unit(reconcile::Measure::kilogram); }
  [[nodiscard]] bool coupled() const { return sheet.rig.trailer && !sheet.rig.trailer->self_supporting; }
  /// U of a figure with that u: "6.8"; "?" where it is not determinable.
  [[nodiscard]] std::string expanded(const std::optional<double>& u, reconcile::Measure measure) const;
  /// "± 6.8 kg".
  [[nodiscard]] std::string with_sign(const std::optional<double>& u,
                                      reconcile::Measure measure = reconcile::Measure::kilogram) const;
  /// "25 kg".
  [[nodiscard]] std::string about(double kg) const;
};

/// "1 reading", "2 readings".
std::string counted(int count, std::string_view one, std::string_view more);

/// How well each aim will be known: wanted, by the plan, with everything once and twice.
std::string aims_section(const PlanText& text);
/// What even every position twice does not reach, what governs it and what helps; empty where all is reached.
std::string shortfalls_section(const PlanText& text);
/// What reading every position twice would buy, and which errors the plan itself lets through.
std::string errors_section(const PlanText& text);

}  // namespace steelyard::reports
