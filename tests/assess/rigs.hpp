// A rig of Tallow Creek Water Board's, invented, whose figures are whole numbers worked out by hand, and ways
// to assess it.
//
// Wheelbase 3000, overhang 1200, coupling to trailer axles 4000 mm; F 1400, R 1300, C 150, M 1500 kg.
// Hitched: front 1400 − 150·0.4 = 1340, rear 1300 + 150·1.4 = 1510, trailer axles 1350.
// Bars on, W = 120000 kg·mm: the coupling carries W/4000 = 30 less, net 120; front 1400 − 48 + 40 = 1392,
// rear 1300 + 168 − 40 = 1428, trailer axles 1380. Of the 60 kg that the front lost 52 come back.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

using nlohmann::json;

struct Assessed {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;

  /// The only row of that limit in that state (empty: without a state); the test fails on none or several.
  [[nodiscard]] const assess::Row& row(std::string_view of, std::string_view state = {}) const;
  /// Rows of the limit with that index, in order.
  [[nodiscard]] std::vector<const assess::Row*> rows_of(std::size_t limit) const;
  [[nodiscard]] std::string outcome() const { return std::string(to_text(assessment.outcome)); }
};

/// Read, reconciled and assessed; the test fails where the sheet has faults.
Assessed run(const json& sheet);

/// States "apart", "together" and "bars", the last the travelling one. Every axle by its wheels, save the
/// trailer's second, of which only the whole axle was read.
json whole_rig(const json& limits);
/// The tow vehicle by itself: state "alone", front 1400, rear 1300.
json vehicle_alone(const json& limits);
/// A drawbar trailer of two axles, 900 + 1100 kg, behind the same vehicle: states "apart", "together".
json drawbar_rig(const json& limits);

/// The state of that name in a sheet.
json& state_of(json& sheet, std::string_view name);
json reading(const std::string& at, double load);
/// Takes away the readings that begin so.
void forget(json& state, std::string_view beginning);

std::string text(assess::Outcome outcome);

}  // namespace steelyard::test
