// Sessions for these tests: the sample fleet, and rigs drawn at random by tests/reference/random_sheets.py.
#pragma once

#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

std::vector<rig::Session> sample_fleet();
/// `name` is rigs or blundered: a file that the build's tests draw first.
std::vector<rig::Session> drawn(const std::string& name);
/// Fails the test where a sheet has faults.
rig::Session read_sheet(const std::string& text);

}  // namespace steelyard::test
