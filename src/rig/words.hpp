// The contract's words for the enumerations: to_text gives the word, parse_… reads it or gives nothing.
#pragma once

#include <optional>
#include <string_view>

#include "rig/session.hpp"

namespace steelyard::rig {

std::string_view to_text(Vehicle value);        // tow, trailer
std::string_view to_text(Side value);           // left, right
std::string_view to_text(Group value);          // front, rear
std::string_view to_text(Suspension value);     // single, independent, load_sharing
std::string_view to_text(Support value);        // coupling, jockey
std::string_view to_text(AccuracyClass value);  // I, II, III, IIII
std::string_view to_text(Basis value);          // whole, axles

std::optional<Group> parse_group(std::string_view word);
std::optional<Suspension> parse_suspension(std::string_view word);
std::optional<Support> parse_support(std::string_view word);
std::optional<AccuracyClass> parse_accuracy_class(std::string_view word);
std::optional<Basis> parse_basis(std::string_view word);
std::optional<units::LoadUnit> parse_load_unit(std::string_view word);      // kg, lb
std::optional<units::LengthUnit> parse_length_unit(std::string_view word);  // mm, in

}  // namespace steelyard::rig
