// Two results held against each other. Expected answers follow from the definition in issued/issued.hpp: numbers agree
// within 1e-9 of the largest of 1, either number and either u beside them.
#include "issued/compare.hpp"

#include <boost/test/unit_test.hpp>

using steelyard::issued::compare;
using steelyard::issued::Differences;

namespace {

constexpr double tolerance = 1e-9;

void agree(const char* was, const char* is) {
  const Differences found = compare(was, is, tolerance);
  BOOST_TEST(found.count == 0, was << " and " << is << ": " << (found.first.empty() ? "" : found.first.front()));
}

std::string difference(const char* was, const char* is) {
  const Differences found = compare(was, is, tolerance);
  BOOST_TEST(found.count == 1, was << " and " << is << ": " << found.count);
  return found.first.empty() ? "" : found.first.front();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(comparing)

BOOST_AUTO_TEST_CASE(numbers_are_compared_as_numbers) {
  agree(R"({"value":1790})", R"({"value":1790.0})");
  agree(R"({"value":1.79e3})", R"({"value":1790})");
  BOOST_TEST(compare(R"({"value":1790})", R"({"value":1790.0000000000002})", 0).count == 1U);
}

BOOST_AUTO_TEST_CASE(within_a_milliardth_of_the_value) {
  agree(R"({"value":2000})", R"({"value":2000.0000019})");  // 2e-6 allowed
  BOOST_TEST(difference(R"({"value":2000})", R"({"value":2000.0000021})") == "value: was 2000, is 2000.0000021");
  agree(R"({"value":-2000})", R"({"value":-2000.0000019})");
  difference(R"({"value":-2000})", R"({"value":2000})");
}

BOOST_AUTO_TEST_CASE(near_zero_u_and_one_set_the_scale) {
  agree(R"({"value":0.0,"u":50})", R"({"value":4.9e-8,"u":50})");
  difference(R"({"value":0.0,"u":50})", R"({"value":5.1e-8,"u":50})");
  agree(R"({"p_value":0.0})", R"({"p_value":9e-10})");
  difference(R"({"p_value":0.0})", R"({"p_value":1.1e-9})");
  agree(R"({"interval":[0,1],"u":50})", R"({"interval":[4.9e-8,1],"u":50})");
}

BOOST_AUTO_TEST_CASE(all_else_is_compared_exactly) {
  BOOST_TEST(difference(R"({"outcome":"pass"})", R"({"outcome":"fail"})") == R"(outcome: was "pass", is "fail")");
  BOOST_TEST(difference(R"({"value":null})", R"({"value":0})") == "value: was null, is 0");
  difference(R"({"determinable":true})", R"({"determinable":false})");
  difference(R"({"iterations":"5"})", R"({"iterations":5})");
  agree(R"({"a":1,"b":2})", R"({"b":2,"a":1})");
}

BOOST_AUTO_TEST_CASE(what_is_missing_is_a_difference_and_what_is_new_is_told) {
  BOOST_TEST(difference(R"({"a":1,"b":2})", R"({"a":1})") == "b: was 2, is missing");
  const Differences found = compare(R"({"a":[{"x":1},{"x":2}]})", R"({"a":[{"x":1,"y":0},{"x":2,"y":0}],"z":3})", tolerance);
  BOOST_TEST(found.count == 0U);
  const std::vector<std::string> added{"a[].y", "z"};
  BOOST_TEST(found.added == added, boost::test_tools::per_element());
  // The same version and build adds nothing.
  BOOST_TEST(compare(R"({"a":1})", R"({"a":1,"z":3})", 0).count == 1U);
}

BOOST_AUTO_TEST_CASE(an_element_that_is_new_moves_no_other) {
  const char* was = R"({"quantities":[{"name":"a","value":1},{"name":"c","value":3}]})";
  const char* is = R"({"quantities":[{"name":"a","value":1},{"name":"b","value":2},{"name":"c","value":3}]})";
  const Differences found = compare(was, is, tolerance);
  BOOST_TEST(found.count == 0U);
  BOOST_TEST(found.added.size() == 1U);
  BOOST_TEST(difference(is, was) == "quantities (b): was there, is missing");
  BOOST_TEST(compare(was, is, 0).count == 1U);
  difference(R"({"scale":["P1"]})", R"({"scale":["P1","P2"]})");
}

BOOST_AUTO_TEST_CASE(a_difference_names_whose_figure_it_is) {
  BOOST_TEST(difference(R"({"quantities":[{"name":"coupling_load","state":"together","value":171}]})",
                        R"({"quantities":[{"name":"coupling_load","state":"together","value":172.5}]})") ==
             "quantities[0].value (coupling_load, together): was 171, is 172.5");
}

BOOST_AUTO_TEST_CASE(only_the_first_few_are_told_and_all_are_counted) {
  const Differences found = compare("[1,2,3,4,5,6,7,8]", "[2,3,4,5,6,7,8,9]", tolerance);
  BOOST_TEST(found.count == 8U);
  BOOST_TEST(found.first.size() == steelyard::issued::most_told);
}

BOOST_AUTO_TEST_CASE(one_member_may_be_passed_over) {
  BOOST_TEST(compare(R"({"engine":"1"})", R"({"engine":"2"})", tolerance, "engine").count == 0U);
  BOOST_TEST(compare(R"({"engine":"1"})", R"({"engine":"2"})", tolerance).count == 1U);
  BOOST_TEST(compare(R"({"a":{"engine":"1"}})", R"({"a":{"engine":"2"}})", tolerance, "engine").count == 1U);
}

BOOST_AUTO_TEST_CASE(what_is_no_json_is_told) {
  BOOST_TEST(compare("{", "{}", tolerance).count == 1U);
  BOOST_TEST(compare("", "", tolerance).count == 1U);
}

BOOST_AUTO_TEST_SUITE_END()
