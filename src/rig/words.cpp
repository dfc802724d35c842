#include "rig/words.hpp"

#include <array>
#include <utility>

namespace steelyard::rig {
namespace {

template <class Value, std::size_t N>
using Words = std::array<std::pair<Value, std::string_view>, N>;

constexpr Words<Group, 2> groups{{{Group::front, "front"}, {Group::rear, "rear"}}};
constexpr Words<Suspension, 3> suspensions{{{Suspension::single, "single"},
                                            {Suspension::independent, "independent"},
                                            {Suspension::load_sharing, "load_sharing"}}};
constexpr Words<Support, 2> supports{{{Support::coupling, "coupling"}, {Support::jockey, "jockey"}}};
constexpr Words<AccuracyClass, 4> classes{{{AccuracyClass::I, "I"},
                                           {AccuracyClass::II, "II"},
                                           {AccuracyClass::III, "III"},
                                           {AccuracyClass::IIII, "IIII"}}};
constexpr Words<Basis, 2> bases{{{Basis::whole, "whole"}, {Basis::axles, "axles"}}};
constexpr Words<units::LoadUnit, 2> load_units{
    {{units::LoadUnit::kilogram, "kg"}, {units::LoadUnit::pound, "lb"}}};
constexpr Words<units::LengthUnit, 2> length_units{
    {{units::LengthUnit::millimetre, "mm"}, {units::LengthUnit::inch, "in"}}};

template <class Value, std::size_t N>
std::string_view word_of(const Words<Value, N>& words, Value value) {
  for (const auto& [candidate, word] : words)
    if (candidate == value) return word;
  return {};
}

template <class Value, std::size_t N>
std::optional<Value> value_of(const Words<Value, N>& words, std::string_view word) {
  for (const auto& [value, candidate] : words)
    if (candidate == word) return value;
  return std::nullopt;
}

}  // namespace

std::string_view to_text(Vehicle value) {
  return value == Vehicle::tow ? "tow" : "trailer";
}
std::string_view to_text(Side value) {
  return value == Side::left ? "left" : "right";
}
std::string_view to_text(Group value) {
  return word_of(groups, value);
}
std::string_view to_text(Suspension value) {
  return word_of(suspensions, value);
}
std::string_view to_text(Support value) {
  return word_of(supports, value);
}
std::string_view to_text(AccuracyClass value) {
  return word_of(classes, value);
}
std::string_view to_text(Basis value) {
  return word_of(bases, value);
}

std::optional<Group> parse_group(std::string_view word) {
  return value_of(groups, word);
}
std::optional<Suspension> parse_suspension(std::string_view word) {
  return value_of(suspensions, word);
}
std::optional<Support> parse_support(std::string_view word) {
  return value_of(supports, word);
}
std::optional<AccuracyClass> parse_accuracy_class(std::string_view word) {
  return value_of(classes, word);
}
std::optional<Basis> parse_basis(std::string_view word) {
  return value_of(bases, word);
}
std::optional<units::LoadUnit> parse_load_unit(std::string_view word) {
  return value_of(load_units, word);
}
std::optional<units::LengthUnit> parse_length_unit(std::string_view word) {
  return value_of(length_units, word);
}

}  // namespace steelyard::rig
