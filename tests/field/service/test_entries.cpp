// Readings and states as typed: the session they make is the one a sheet would make, and faults stand in the body.
#include <boost/test/unit_test.hpp>

#include "field/entries.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;
using nlohmann::json;

namespace {

using Places = std::vector<std::string>;

json body_of(const std::string& state, json reading) {
  reading["state"] = state;
  return reading;
}

Places faults_of(const Entry& entry) {
  BOOST_TEST(!entry.session.has_value());
  BOOST_TEST(!entry.faults.empty());
  for (const sheet::Fault& fault : entry.faults) BOOST_TEST(!fault.what.empty());
  return places_of_faults(entry.faults);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(entries)

BOOST_AUTO_TEST_CASE(a_reading_makes_the_session_that_a_sheet_would_make) {
  json sheet = empty_sheet();
  rig::Session session = session_of(sheet);
  // Every reading of the sample, one after the other, ends at the sample itself.
  const json sample = sample_sheet("tcw-012-pump-trailer");
  for (std::size_t i = 0; i < sample["states"].size(); ++i)
    for (const json& reading : sample["states"][i]["readings"]) {
      sheet["states"][i]["readings"].push_back(reading);
      const Entry entry = with_reading(session, body_of(sample["states"][i]["name"], reading).dump());
      BOOST_REQUIRE(entry.session.has_value());
      session = *entry.session;
      BOOST_TEST((session == session_of(sheet)));
    }
  BOOST_TEST((session == session_of(sample)));
}

BOOST_AUTO_TEST_CASE(units_pads_and_heights_are_taken_as_typed) {
  json reading = reading_of("k7m2q-9xd0f", "tow.2.left", 1415);
  reading["unit"] = "lb";
  reading["scale"] = {"P1", "P2"};
  reading["raised"] = 45;
  const Entry entry = with_reading(session_of(empty_sheet()), body_of("together", reading).dump());
  BOOST_REQUIRE(entry.session.has_value());
  const rig::Reading& read = entry.session->states[1].readings.at(0);
  BOOST_TEST(read.load.figure == 1415);
  BOOST_TEST((read.load.unit == units::LoadUnit::pound));
  BOOST_TEST((read.scales == std::vector<std::string>{"P1", "P2"}));
  BOOST_TEST(read.raised->figure == 45);
}

BOOST_AUTO_TEST_CASE(faults_stand_where_they_stand_in_the_body) {
  json sheet = small_sheet();
  sheet["states"][1]["readings"] = {reading_of("r1", "tow.1", 1000)};
  const rig::Session session = session_of(sheet);
  const json good = body_of("together", reading_of("k7m2q-9xd0f", "tow.2", 1200));
  BOOST_TEST(with_reading(session, good.dump()).session.has_value());
  for (const auto& [key, value, place] :
       {std::tuple{"load", json(-1), "load"}, {"load", json("1200"), "load"}, {"load", json(1501), "load"},
        {"at", json("tow.3"), "at"}, {"at", json(7), "at"}, {"at", json("coupling"), "at"}, {"unit", json("stone"), "unit"},
        {"taken_at", json("yesterday"), "taken_at"}, {"nonsense", json(1), "nonsense"}, {"state", json("nowhere"), "state"},
        {"state", json(1), "state"}, {"id", json(""), "id"}, {"id", json(5), "id"}, {"struck", json::object(), "struck"}}) {
    json body = good;
    body[key] = value;
    BOOST_TEST_CONTEXT(body.dump()) BOOST_TEST(faults_of(with_reading(session, body.dump())) == Places{place});
  }
  json lone = good;
  lone["scale"] = "P9";
  const Places places = faults_of(with_reading(session, lone.dump()));
  BOOST_TEST(places.size() == 1u);
  BOOST_TEST(places.at(0).starts_with("scale"));
}

BOOST_AUTO_TEST_CASE(what_is_no_object_is_a_fault_of_the_whole) {
  const rig::Session session = session_of(small_sheet());
  for (const char* body : {"", "{", "[]", "null", "7", R"({"id": "a", "id": "b"})", "\xff", "{} {}"})
    for (const auto read : {with_reading, with_state, with_additions, with_completions})
      BOOST_TEST_CONTEXT(body) BOOST_TEST(faults_of(read(session, body)).size() == 1u);
}

BOOST_AUTO_TEST_CASE(the_same_reading_twice_is_read_twice_alike) {
  const rig::Session empty = session_of(small_sheet());
  const std::string body = body_of("together", reading_of("k7m2q-9xd0f", "tow.2", 1200)).dump();
  const Entry once = with_reading(empty, body);
  BOOST_REQUIRE(once.session.has_value());
  const Entry twice = with_reading(*once.session, body);
  BOOST_REQUIRE(twice.session.has_value());
  BOOST_TEST((*twice.session == *once.session));
  // Under the same id elsewhere: what the store has under it is put aside here, and the store refuses.
  const Entry elsewhere = with_reading(*once.session, body_of("apart", reading_of("k7m2q-9xd0f", "tow.2", 1200)).dump());
  BOOST_REQUIRE(elsewhere.session.has_value());
  BOOST_TEST(elsewhere.session->states[0].readings.size() == 1u);
  BOOST_TEST(elsewhere.session->states[1].readings.empty());
}

BOOST_AUTO_TEST_CASE(a_state_is_added_behind_the_others) {
  const rig::Session session = session_of(small_sheet());
  const std::string body = R"({"name": "tank empty", "hitched": true, "coupling_height": {"value": 430, "u": 4}})";
  const Entry once = with_state(session, body);
  BOOST_REQUIRE(once.session.has_value());
  json sheet = small_sheet();
  sheet["states"].push_back(json::parse(body));
  sheet["states"][2]["readings"] = json::array();
  BOOST_TEST((*once.session == session_of(sheet)));
  const Entry twice = with_state(*once.session, body);
  BOOST_REQUIRE(twice.session.has_value());
  BOOST_TEST((*twice.session == *once.session));
  BOOST_TEST(faults_of(with_state(session, R"({"name": "x", "hitched": "yes"})")) == Places{"hitched"});
  BOOST_TEST(faults_of(with_state(session, R"({"hitched": true})")) == Places{"name"});
  BOOST_TEST(faults_of(with_state(session, R"({"name": "x", "hitched": true, "coupling_height": {"value": "x"}})")) ==
             Places{"coupling_height.value"});
}

BOOST_AUTO_TEST_CASE(texts_out_of_a_body) {
  BOOST_TEST(text_in_body(R"({"code": "7K3M"})", "code") == "7K3M");
  for (const char* body : {"{}", R"({"code": 7})", "[]", "", "{", R"({"code": "a", "code": "b"})"})
    BOOST_TEST(text_in_body(body, "code").empty());
}

BOOST_AUTO_TEST_SUITE_END()
