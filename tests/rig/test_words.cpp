// Each word of the contract belongs to one value, and back.
#include "rig/words.hpp"

#include <boost/test/unit_test.hpp>
#include <string>
#include <vector>

using namespace steelyard;

namespace {

template <class Value, class Parse>
void check_words(const std::vector<std::pair<Value, std::string>>& words, Parse parse) {
  for (const auto& [value, word] : words) {
    BOOST_CHECK(parse(word) == value);
    BOOST_CHECK(!parse(word + " "));
    BOOST_CHECK(!parse(""));
    if constexpr (requires { rig::to_text(value); }) BOOST_CHECK_EQUAL(rig::to_text(value), word);
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(words)

BOOST_AUTO_TEST_CASE(read_and_written_alike) {
  check_words<rig::Group>({{rig::Group::front, "front"}, {rig::Group::rear, "rear"}}, rig::parse_group);
  check_words<rig::Suspension>({{rig::Suspension::single, "single"},
                                {rig::Suspension::independent, "independent"},
                                {rig::Suspension::load_sharing, "load_sharing"}},
                               rig::parse_suspension);
  check_words<rig::Support>({{rig::Support::coupling, "coupling"}, {rig::Support::jockey, "jockey"}},
                            rig::parse_support);
  check_words<rig::AccuracyClass>({{rig::AccuracyClass::I, "I"},
                                   {rig::AccuracyClass::II, "II"},
                                   {rig::AccuracyClass::III, "III"},
                                   {rig::AccuracyClass::IIII, "IIII"}},
                                  rig::parse_accuracy_class);
  check_words<rig::Basis>({{rig::Basis::whole, "whole"}, {rig::Basis::axles, "axles"}}, rig::parse_basis);
  check_words<units::LoadUnit>({{units::LoadUnit::kilogram, "kg"}, {units::LoadUnit::pound, "lb"}},
                               rig::parse_load_unit);
  check_words<units::LengthUnit>({{units::LengthUnit::millimetre, "mm"}, {units::LengthUnit::inch, "in"}},
                                 rig::parse_length_unit);
}

BOOST_AUTO_TEST_CASE(vehicles_and_sides) {
  BOOST_CHECK_EQUAL(rig::to_text(rig::Vehicle::tow), "tow");
  BOOST_CHECK_EQUAL(rig::to_text(rig::Vehicle::trailer), "trailer");
  BOOST_CHECK_EQUAL(rig::to_text(rig::Side::left), "left");
  BOOST_CHECK_EQUAL(rig::to_text(rig::Side::right), "right");
}

BOOST_AUTO_TEST_SUITE_END()
