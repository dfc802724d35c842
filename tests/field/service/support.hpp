// Sessions for the tests of the page's service: as sheets, so that they obey a sheet's rules.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "rig/session.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::test {

/// A session out of a sheet that has no faults.
rig::Session session_of(const nlohmann::json& sheet);
/// A file of sample_data, without ".json".
nlohmann::json sample_sheet(const std::string& name);
/// The rig of the samples with three states and nothing read yet.
nlohmann::json empty_sheet();

/// A vehicle of two axles with a trailer of one: states "apart" (its coupling on a support) and "together".
nlohmann::json small_sheet();
nlohmann::json reading_of(const std::string& id, const std::string& at, double load);

/// The places of faults, sorted.
std::vector<std::string> places_of_faults(const std::vector<sheet::Fault>& faults);

}  // namespace steelyard::test
