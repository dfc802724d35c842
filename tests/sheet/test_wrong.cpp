// Every wrong sheet of cases/wrong.json: the whole sheet of the contract with a change (RFC 6902), and
// exactly the faults that it then has, each by its place and the beginning of what it says.
#include <boost/test/unit_test.hpp>

#include "sheets.hpp"

using namespace steelyard;
using nlohmann::json;

BOOST_AUTO_TEST_SUITE(wrong_sheets)

BOOST_AUTO_TEST_CASE(each_change_gives_exactly_its_faults) {
  const json whole = json::parse(tests::case_text("whole.json"));
  const json cases = json::parse(tests::case_text("wrong.json"));
  BOOST_CHECK_GT(cases.size(), 100u);
  for (const json& wrong : cases) {
    BOOST_TEST_CONTEXT(wrong["what"].get<std::string>()) {
      const auto found = tests::faults_of(whole.patch(wrong["change"]).dump());
      const auto expected = wrong["faults"].get<std::vector<std::string>>();
      BOOST_CHECK_EQUAL(found.size(), expected.size());
      for (std::size_t i = 0; i < std::max(found.size(), expected.size()); ++i) {
        const std::string said = i < found.size() ? found[i] : "nothing",
                          wanted = i < expected.size() ? expected[i] : "nothing";
        BOOST_CHECK_MESSAGE(said.starts_with(wanted), "\n  said:   " + said + "\n  wanted: " + wanted);
      }
    }
  }
}

BOOST_AUTO_TEST_CASE(a_repeated_key_is_named_with_its_place) {
  std::string text = tests::case_text("whole.json");
  const std::string travels = R"("travels": true)";
  text.replace(text.find(travels), travels.size(), R"("travels": true, "travels": false)");
  const auto faults = tests::faults_of(text);
  BOOST_REQUIRE_EQUAL(faults.size(), 1u);
  BOOST_CHECK_EQUAL(faults[0], "states[2].travels: is given twice; keep one of the two");
}

BOOST_AUTO_TEST_CASE(a_repeated_key_does_not_hide_the_other_faults) {
  const auto faults = tests::faults_of(R"({"format":"steelyard-session/1","rig":{"tow_vehicle":{"axles":[
      {"at":0,"at":0,"group":"front"},{"at":2800,"group":"rear"}]}},
      "states":[{"name":"alone","hitched":false,"readings":[{"at":"tow.3","load":-1}]}]})");
  BOOST_REQUIRE_EQUAL(faults.size(), 2u);
  BOOST_CHECK_EQUAL(faults[0], "rig.tow_vehicle.axles[0].at: is given twice; keep one of the two");
  BOOST_CHECK(faults[1].starts_with("states[0].readings[0].load: must be 0 or more"));
}

BOOST_AUTO_TEST_CASE(a_list_of_something_else_is_said_to_be_no_sheet) {
  for (const char* text : {"[]", "12", "\"steelyard-session/1\"", "null"})
    BOOST_CHECK_EQUAL(tests::faults_of(text).size(), 1u);
}

BOOST_AUTO_TEST_CASE(hostile_numbers_of_faults_are_counted_not_kept) {
  std::string more = R"(,"x-many":0,"scales":[)";
  for (int i = 0; i < 5'000; ++i) more += "1,";
  const auto faults = tests::faults_of(tests::smallest(more + "1]"));
  BOOST_REQUIRE_EQUAL(faults.size(), 1'001u);
  BOOST_CHECK_EQUAL(faults.back(), "and 4001 faults more; mend these first");
}

BOOST_AUTO_TEST_SUITE_END()
