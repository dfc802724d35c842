// The result's JSON: field order, exact numbers, null for what is not there. Expected texts are written by
// hand from the contract (steelyard-result/1), not taken from the program.
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <limits>

#include "reports/result/json_text.hpp"
#include "reports/result/result_json.hpp"

using namespace steelyard;
using reports::JsonText;

BOOST_AUTO_TEST_SUITE(result)

BOOST_AUTO_TEST_CASE(numbers_read_back_exactly_and_absent_is_null) {
  JsonText out;
  out.begin_array().value(1790.0).value(0.1).value(-0.0).value(0.00004).value(3);
  out.value(std::optional<double>()).value(std::optional<double>(2.5)).value(true);
  out.value(std::numeric_limits<double>::quiet_NaN()).value(std::numeric_limits<double>::infinity());
  BOOST_TEST(out.end_array().text() == "[1790,0.1,0,4e-05,3,null,2.5,true,null,null]");
}

BOOST_AUTO_TEST_CASE(texts_are_escaped_and_always_utf8) {
  BOOST_TEST(reports::json_string("a\"b\\c\n\x1b") == R"("a\"b\\c\n\u001b")");
  BOOST_TEST(reports::json_string("kg·mm") == "\"kg·mm\"");
  BOOST_TEST(reports::json_string("\xff") == "\"\xEF\xBF\xBD\"");
}

BOOST_AUTO_TEST_CASE(objects_and_arrays_nest) {
  JsonText out;
  out.begin_object().key("a").begin_array().end_array().key("b").begin_object().field("c", "x").end_object();
  out.field("d", 1.5);
  BOOST_TEST(out.end_object().text() == R"({"a":[],"b":{"c":"x"},"d":1.5})");
}

namespace {

struct Made {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;
};

Made made() {
  Made all;
  all.session.id = "s-1";
  all.findings.fit = {2, 2, 0, 0.0, std::nullopt, std::nullopt, 3};
  reconcile::Quantity load{"coupling_load", {}, {}, reconcile::Measure::kilogram, true, 171.42, 2.31, {}, {}};
  reconcile::Quantity ratio{
      "inferred_transfer_ratio", {}, {}, reconcile::Measure::one, true, 1.5, 0.25, {}, {}};
  ratio.interval = {1.0, 2.25};
  reconcile::Quantity mass{"trailer_mass", {}, {}, reconcile::Measure::kilogram, false, 7, 7, {}, {}};
  mass.needs.emplace().text = "weigh every trailer axle in one state";
  all.findings.quantities = {load, ratio, mass};
  reconcile::Observation reading;
  reading.id = "r9";
  reading.state = "together";
  reading.at = "tow.2.left";
  reading.scales = {"P1"};
  reading.value = 902;
  reading.u = 2.5;
  reading.fitted = 900;
  reading.residual = 2;
  all.findings.observations = {reading};
  reconcile::SuspectSet& set = all.findings.suspects.emplace_back();
  set.members = {{0, -90.5, std::pair{160.5, 2.5}}};
  reconcile::Explanation swapped;
  swapped.kind = reconcile::Blunder::digits_swapped;
  swapped.state = "together";
  swapped.corrections = {{0, {819, units::LoadUnit::kilogram}, {918, units::LoadUnit::kilogram}}};
  swapped.exact = swapped.tied = true;
  swapped.chi_square = 3.5;
  swapped.degrees_of_freedom = 2;
  swapped.p_value = 0.25;
  reconcile::Explanation person;
  person.kind = reconcile::Blunder::person_aboard;
  person.state = "together";
  person.vehicle = rig::Vehicle::tow;
  person.size = 80.5;
  person.size_u = 4.5;
  person.chi_square = 4.5;
  person.p_value = 0.125;
  set.explanations = {swapped, person};
  reconcile::NextReading next;
  next.state = "together";
  next.at = rig::Position::wheel(rig::Vehicle::tow, 2, rig::Side::right);
  next.scales = {"P1"};
  next.again = true;
  next.after = 1.5;
  set.next_reading = next;
  return all;
}

assess::Row row() {
  assess::Row one;
  one.of = "tow_rear";
  one.state = "as driven";
  one.rating = 1850;
  one.value = 1829.5;
  one.u = 5.25;
  one.margin = 20.5;
  one.p_breach = 0.00005;
  one.outcome = assess::Outcome::pass;
  one.source = "compliance plate";
  return one;
}

}  // namespace

BOOST_AUTO_TEST_CASE(whole_result_is_the_contracts_text) {
  Made all = made();
  all.assessment.rows = {row()};
  all.assessment.outcome = assess::RigOutcome::incomplete;
  all.assessment.assessed = 1;
  all.assessment.travels_in = "as driven";
  rig::Scale scale;
  scale.id = "P1";
  scale.due = "2027-02-11";
  all.session.scales = {scale};
  rig::State state;
  state.name = "together";
  rig::Reading read;
  read.scales = {"P1"};
  state.readings = {read};
  all.session.states = {state};
  const std::string expected =
      R"({"format":"steelyard-result/1","session":"s-1","revision":1,"engine":"9.9.9",)"
      R"("fit":{"observations":2,"unknowns":2,"degrees_of_freedom":0,"chi_square":0,"p_value":null,)"
      R"("consistent":null,"iterations":3},"quantities":[)"
      R"({"name":"coupling_load","state":null,"at":null,"unit":"kg","determinable":true,"value":171.42,"u":2.31,)"
      R"("interval":null,"needs":null},)"
      R"({"name":"inferred_transfer_ratio","state":null,"at":null,"unit":"1","determinable":true,"value":1.5,)"
      R"("u":0.25,"interval":[1,2.25],"needs":null},)"
      R"({"name":"trailer_mass","state":null,"at":null,"unit":"kg","determinable":false,"value":null,"u":null,)"
      R"("interval":null,"needs":"weigh every trailer axle in one state"}],)"
      R"("observations":[{"kind":"reading","id":"r9","state":"together","at":"tow.2.left","scale":["P1"],)"
      R"("value":902,"u":2.5,"fitted":900,"residual":2,"redundancy":0,"normalised_residual":null,)"
      R"("smallest_detectable":null}],)"
      R"("suspects":[{"set":[{"kind":"reading","id":"r9","state":"together","at":"tow.2.left",)"
      R"("estimated_error":-90.5,"likeliest":true,"without":{"value":160.5,"u":2.5}}],"explanations":[)"
      R"({"kind":"digits_swapped","id":"r9","state":"together","at":"tow.2.left","read":819,"meant":918,)"
      R"("p_value":0.25,"chi_square":3.5,"size":null,"size_u":null,"size_unit":null,"scale":null,"exact":true,)"
      R"("tied":true,"with":[]},)"
      R"({"kind":"person_aboard","id":null,"state":"together","at":"tow","read":null,"meant":null,)"
      R"("p_value":0.125,"chi_square":4.5,"size":80.5,"size_u":4.5,"size_unit":"kg","scale":null,"exact":false,)"
      R"("tied":false,"with":[]}],)"
      R"("next_reading":{"kind":"reading","state":"together","at":"tow.2.right","scale":["P1"],"again":true,)"
      R"("new_state":false,"suspects_after":1.5}}],)"
      R"("limits":[{"of":"tow_rear","part":null,"state":"as driven","limit":1850,"value":1829.5,"u":5.25,)"
      R"("unit":"kg","margin":20.5,"p_breach":5e-05,"outcome":"pass","advice":false,"source":"compliance plate",)"
      R"("reason":null,"next_reading":null}],"outcome":"incomplete","assessed":1,"not_assessed":0,"travels_in":"as driven",)"
      R"("cross_checks":[],"monte_carlo":null,)"
      R"("scales":[{"id":"P1","uid":null,"used":true,"calibrated":null,"due":"2027-02-11","out_of_date":null,"zero":null,)"
      R"("zero_drift":null,"check_weights":[]}]})";
  BOOST_TEST(reports::result_json(all.session, all.findings, all.assessment, "9.9.9") == expected);
}

BOOST_AUTO_TEST_CASE(suspect_outside_the_observations_is_a_broken_invariant) {
  Made all = made();
  all.findings.suspects.emplace_back().members = {{7, 1.0}};
  BOOST_CHECK_THROW(reports::result_json(all.session, all.findings, all.assessment, "9.9.9"),
                    std::out_of_range);
}

BOOST_AUTO_TEST_SUITE_END()
