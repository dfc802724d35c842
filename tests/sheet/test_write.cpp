// The canonical form: it reads back to the same session, its keys are sorted, and it says only what was
// given.
#include <boost/test/unit_test.hpp>

#include "sheets.hpp"

using namespace steelyard;

BOOST_AUTO_TEST_SUITE(writing)

BOOST_AUTO_TEST_CASE(random_sessions_come_back_the_same) {
  std::mt19937_64 random(20261003);
  for (int i = 0; i < 3'000; ++i) {
    const rig::Session session = tests::random_session(random);
    const std::string text = sheet::write(session);
    const sheet::Read again = sheet::read(text);
    for (const sheet::Fault& fault : again.faults) BOOST_ERROR(sheet::to_text(fault));
    BOOST_REQUIRE(again.session.has_value());
    BOOST_REQUIRE_MESSAGE(*again.session == session, text);
    BOOST_REQUIRE_EQUAL(sheet::write(*again.session), text);
    BOOST_REQUIRE(sheet::check(session).empty());
  }
}

BOOST_AUTO_TEST_CASE(the_case_sheets_come_back_the_same) {
  for (const char* name : {"whole.json", "every_field.json"}) {
    const rig::Session session = tests::sound(tests::case_text(name));
    BOOST_CHECK(tests::sound(sheet::write(session)) == session);
  }
}

BOOST_AUTO_TEST_CASE(keys_stand_in_ascending_order) {
  // A second writer as the judge: its objects are sorted maps, so it gives the keys in ascending order.
  std::mt19937_64 random(7);
  for (int i = 0; i < 300; ++i) {
    const std::string text = sheet::write(tests::random_session(random));
    std::string keys_written, keys_sorted;
    const auto collect = [](std::string& out) {
      return [&out](int, nlohmann::json::parse_event_t event, nlohmann::json& value) {
        if (event == nlohmann::json::parse_event_t::key) out += value.get<std::string>() + '\n';
        return true;
      };
    };
    const auto tree = nlohmann::json::parse(text, collect(keys_written));
    BOOST_REQUIRE(nlohmann::json::parse(tree.dump(), collect(keys_sorted)) == tree);
    BOOST_REQUIRE_EQUAL(keys_written, keys_sorted);
  }
}

BOOST_AUTO_TEST_CASE(only_what_was_given_is_written) {
  BOOST_CHECK_EQUAL(
      sheet::write(tests::sound(
          tests::smallest(R"(,"id":"s","client":{},"units":{"load":"kg"},"carried":{"note":""})"))),
      R"({"format":"steelyard-session/1","id":"s","rig":{"tow_vehicle":{"axles":[{"at":0,"group":"front"},)"
      R"({"at":2800,"group":"rear"}]}},"states":[{"hitched":false,"name":"alone",)"
      R"("readings":[{"at":"tow.1","id":"r1","load":900}]}]})");
}

BOOST_AUTO_TEST_CASE(extras_stand_where_they_were_even_in_an_otherwise_empty_object) {
  const std::string text = sheet::write(tests::sound(tests::smallest(
      R"(,"id":"s","client":{"x-b":1.0,"x-a":{"z":1,"y":"\u0007"}},"scales":[{"id":"A","zero_after":1,"x-c":[]}])")));
  BOOST_CHECK_NE(text.find(R"("client":{"x-a":{"y":"\u0007","z":1},"x-b":1},)"), std::string::npos);
  BOOST_CHECK_NE(text.find(R"("scales":[{"id":"A","x-c":[],"zero_after":1}])"), std::string::npos);
}

BOOST_AUTO_TEST_CASE(a_measured_length_is_bare_unless_something_stands_beside_its_value) {
  auto sheet = nlohmann::json::parse(tests::smallest());
  auto& vehicle = sheet["rig"]["tow_vehicle"];
  vehicle["overhang"] = {{"value", 1190}};
  vehicle["cg_height"] = {{"value", 700}, {"x-a", 1}};
  const std::string written = sheet::write(tests::sound(sheet.dump()));
  BOOST_CHECK_NE(written.find(R"("cg_height":{"value":700,"x-a":1},"overhang":1190})"), std::string::npos);
}

BOOST_AUTO_TEST_SUITE_END()
