// The whole chain for these tests: a sheet is read, reconciled and assessed; published data files are read.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

struct Chain {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;

  /// The value of a quantity; the test fails where it is not there or not determinable.
  [[nodiscard]] double value(std::string_view name, std::string_view state = {},
                             std::string_view at = {}) const;
  /// The same load in pounds, the same length in inches.
  [[nodiscard]] double pounds(std::string_view name, std::string_view state = {},
                              std::string_view at = {}) const;
  [[nodiscard]] double inches(std::string_view name) const;
};

/// Fails the test where the sheet has faults.
Chain run(const nlohmann::json& sheet);
Chain run_case(const std::string& name);       // tests/published/cases/NAME.json
nlohmann::json data(const std::string& name);  // tests/published/data/NAME.json

/// A sheet's frame: one vehicle of two axles `wheelbase` apart, with no trailer and no states yet.
nlohmann::json two_axle_sheet(std::string_view load, std::string_view length, double wheelbase);

}  // namespace steelyard::test
