// Case files and sessions that the tests of this folder share.
#pragma once

#include <nlohmann/json.hpp>
#include <random>
#include <string>

#include "sheet/sheet.hpp"

namespace steelyard::tests {

/// Text of a file in tests/sheet/cases.
std::string case_text(const std::string& name);

/// The session of a sound sheet; fails the test, listing the faults, where it is not sound.
rig::Session sound(std::string_view text);

/// The faults of a sheet that must have some, as texts.
std::vector<std::string> faults_of(std::string_view text);

/// The smallest sheet the contract allows, with `more` added before its last bracket.
std::string smallest(const std::string& more = "");

/// A sound session of random shape and content: every field is there in some and absent in others.
rig::Session random_session(std::mt19937_64& random);

}  // namespace steelyard::tests
