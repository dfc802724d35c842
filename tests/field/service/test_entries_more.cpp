// What is added to a session under way, and what is filled in.
#include <boost/test/unit_test.hpp>

#include "field/entries.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;
using nlohmann::json;

namespace {

using Places = std::vector<std::string>;

rig::Session good(const Entry& entry) {
  for (const sheet::Fault& fault : entry.faults) BOOST_TEST_MESSAGE(sheet::to_text(fault));
  BOOST_REQUIRE(entry.session.has_value());
  return *entry.session;
}

Places bad(const Entry& entry) {
  BOOST_TEST(!entry.session.has_value());
  return places_of_faults(entry.faults);
}

const char* const more = R"({"scales": [{"id": "P2", "capacity": 800}],
                             "limits": [{"of": "wheel.tow.1", "value": 900, "source": "tyre sidewall"}]})";

}  // namespace

BOOST_AUTO_TEST_SUITE(entries_more)

BOOST_AUTO_TEST_CASE(additions_come_behind_what_is_there) {
  const rig::Session once = good(with_additions(session_of(small_sheet()), more));
  json sheet = small_sheet();
  sheet["scales"].push_back(json::parse(more)["scales"][0]);
  sheet["rig"]["limits"].push_back(json::parse(more)["limits"][0]);
  BOOST_TEST((once == session_of(sheet)));
}

BOOST_AUTO_TEST_CASE(additions_sent_twice_are_added_once) {
  const rig::Session once = good(with_additions(session_of(small_sheet()), more));
  BOOST_TEST((good(with_additions(once, more)) == once));
  // Its zero was read meanwhile: the scale is the same one.
  const rig::Session read = good(with_completions(once, R"({"zero_after": {"P2": 1}})"));
  BOOST_TEST((good(with_additions(read, more)) == read));
  // Another scale under the name stands in its place, for the store to refuse.
  const rig::Session other = good(with_additions(once, R"({"scales": [{"id": "P2", "capacity": 700}]})"));
  BOOST_TEST(other.scales.size() == 2u);
  BOOST_TEST((other.scales[1] != once.scales[1]));
  // The same figure from another source is another rating.
  const rig::Session two = good(with_additions(once, R"({"limits": [{"of": "wheel.tow.1", "value": 900, "source": "handbook"}]})"));
  BOOST_TEST(two.rig.limits.size() == 3u);
}

BOOST_AUTO_TEST_CASE(check_weights_and_modifications_come_behind_what_is_there) {
  json sheet = small_sheet();
  const json first = {{"mass", 500}, {"load", 500.5}, {"taken_at", "2026-10-03T08:20:00+02:00"}};
  json again = first;
  again["taken_at"] = "2026-10-03T11:20:00+02:00";
  sheet["scales"][0]["check_weights"] = {first};
  sheet["modifications"] = {{{"what", "long-range tank"}, {"mass", 38}, {"at", 2600}}};
  const json tools = {{"what", "tool boxes"}, {"mass", -14.5}};
  const json body = {{"check_weights", {{"P1", {again}}}}, {"modifications", {tools}}};
  const rig::Session before = session_of(sheet), once = good(with_additions(before, body.dump()));
  sheet["scales"][0]["check_weights"].push_back(again);
  sheet["modifications"].push_back(tools);
  BOOST_TEST((once == session_of(sheet)));
  BOOST_TEST((good(with_additions(once, body.dump())) == once));
  // The same weight once more at another time is another check; what is there is not touched by the scale sent again.
  const rig::Session scale = good(with_additions(once, json{{"scales", {small_sheet()["scales"][0]}}}.dump()));
  BOOST_TEST((scale == once));
  json third = again;
  third["taken_at"] = "2026-10-03T12:20:00+02:00";
  BOOST_TEST(good(with_additions(once, json{{"check_weights", {{"P1", {third}}}}}.dump())).scales[0].check_weights.size() == 3u);
}

BOOST_AUTO_TEST_CASE(where_a_session_has_no_list_one_is_made) {
  json sheet = small_sheet();
  sheet.erase("scales");
  sheet["rig"].erase("limits");
  const rig::Session once = good(with_additions(session_of(sheet), more));
  BOOST_TEST(once.scales.size() == 1u);
  BOOST_TEST(once.rig.limits.size() == 1u);
}

BOOST_AUTO_TEST_CASE(faults_of_additions_stand_where_they_stand_in_the_body) {
  const rig::Session session = session_of(small_sheet());
  BOOST_TEST(bad(with_additions(session, R"({"scales": [{"id": "P2"}, {"id": "P3", "capacity": -3}],
                                             "limits": [{"of": "tow_gross", "value": -1, "source": "x"}]})")) ==
             (Places{"limits[0].value", "scales[1].capacity"}));
  BOOST_TEST(bad(with_additions(session, R"({"scales": [{"id": "P2"}, {"id": "P2"}]})")) == Places{"scales[1].id"});
  BOOST_TEST(bad(with_additions(session, R"({"scales": [7]})")) == Places{"scales[0]"});
  BOOST_TEST(bad(with_additions(session, R"({"rig": {}})")) == Places{"rig"});
  BOOST_TEST(bad(with_additions(session, R"({"limits": {}})")) == Places{"limits"});
  BOOST_TEST(bad(with_additions(session, R"({"modifications": [{"what": "winch"}, {"mass": 9}]})")) ==
             Places{"modifications[1].what"});
  BOOST_TEST(bad(with_additions(session, R"({"check_weights": {"P1": [{"mass": 500, "load": 500}, {"mass": "x", "load": 1}]}})")) ==
             Places{"check_weights.P1[1].mass"});
  BOOST_TEST(bad(with_additions(session, R"({"check_weights": {"P1": [{"mass": 20}]}})")) == Places{"check_weights.P1[0].load"});
  BOOST_TEST(bad(with_additions(session, R"({"check_weights": {"P1": 20, "P9": []}})")) ==
             (Places{"check_weights.P1", "check_weights.P9"}));
  BOOST_TEST(bad(with_additions(session, R"({"check_weights": []})")) == Places{"check_weights"});
}

BOOST_AUTO_TEST_CASE(completions_fill_in_what_was_empty) {
  const rig::Session done = good(with_completions(session_of(small_sheet()), R"({
    "zero_after": {"P1": -1},
    "states": {"apart": {"coupling_height": {"value": 442, "u": 4}, "slope": {"value": 2, "u": 1.5}},
               "together": {"ride_heights": {"front_left": 512}}}})"));
  json sheet = small_sheet();
  sheet["scales"][0]["zero_after"] = -1;
  sheet["states"][0]["coupling_height"] = {{"value", 442}, {"u", 4}};
  sheet["states"][0]["slope"] = {{"value", 2}, {"u", 1.5}};
  sheet["states"][1]["ride_heights"] = {{"front_left", 512}};
  BOOST_TEST((done == session_of(sheet)));
}

BOOST_AUTO_TEST_CASE(faults_of_completions_stand_where_they_stand_in_the_body) {
  const rig::Session session = session_of(small_sheet());
  for (const auto& [body, place] :
       {std::pair{R"({"zero_after": {"P9": 1}})", "zero_after.P9"}, {R"({"zero_after": {"P1": "x"}})", "zero_after.P1"},
        {R"({"zero_after": 1})", "zero_after"}, {R"({"states": {"nowhere": {}}})", "states.nowhere"},
        {R"({"states": {"apart": 7}})", "states.apart"}, {R"({"states": {"apart": {"hitched": true}}})", "states.apart.hitched"},
        {R"({"states": {"together": {"coupling_height": {"value": -4}}}})", "states.together.coupling_height"},
        {R"({"states": {"together": {"coupling_height": {"value": "x"}}}})", "states.together.coupling_height.value"},
        {R"({"states": {"together": {"slope": {"value": 0, "u": -1}}}})", "states.together.slope.u"},
        {R"({"readings": []})", "readings"}})
    BOOST_TEST_CONTEXT(body) BOOST_TEST(bad(with_completions(session, body)) == Places{place});
}

BOOST_AUTO_TEST_SUITE_END()
