#include <boost/test/unit_test.hpp>

#include "sheets.hpp"

using namespace steelyard;

BOOST_AUTO_TEST_SUITE(differences)

BOOST_AUTO_TEST_CASE(equal_sessions_have_none) {
  const rig::Session session = tests::sound(tests::case_text("every_field.json"));
  BOOST_CHECK(sheet::differences(session, session).empty());
}

BOOST_AUTO_TEST_CASE(each_place_is_said_with_both_values) {
  const rig::Session stored = tests::sound(tests::case_text("whole.json"));
  rig::Session other = stored;
  other.states[0].readings[1].load.figure = 656;
  other.scales[0].check_weights = {{{500, {}}, {501, {}}, ""}};
  other.revision = 2;
  other.revised = rig::Revised{"card misread", "", ""};
  other.states[0].readings.pop_back();
  other.client.name = "Hollow Road Council";
  other.rig.trailer->coupling_to_jockey.reset();
  other.states[2].weight_distribution = false;
  const std::vector<std::string> expected{
      R"(client.name: "Tallow Creek Water Board" in the store, "Hollow Road Council" in the sheet)",
      R"(revised: nothing in the store, {"why":"card misread"} in the sheet)",
      "revision: nothing in the store, 2 in the sheet",
      R"(rig.trailer.coupling_to_jockey: {"u":5,"value":450} in the store, nothing in the sheet)",
      R"(scales[0].check_weights: nothing in the store, [{"load":501,"mass":500}] in the sheet)",
      "states[0].readings[1].load: 655 in the store, 656 in the sheet",
      R"(states[0].readings[3]: {"at":"coupling","id":"r4","load":176.5,"scale":"N1"} in the store, nothing in the sheet)",
      "states[2].weight_distribution: true in the store, nothing in the sheet"};
  const auto found = sheet::differences(stored, other);
  BOOST_CHECK_EQUAL_COLLECTIONS(found.begin(), found.end(), expected.begin(), expected.end());
}

BOOST_AUTO_TEST_CASE(beyond_the_most_they_are_counted) {
  const rig::Session stored = tests::sound(tests::case_text("whole.json"));
  rig::Session other = stored;
  for (rig::Scale& scale : other.scales) scale.serial = "other";
  other.weighed = {};
  const auto found = sheet::differences(stored, other, 2);  // 3 serials and the whole of weighed
  BOOST_REQUIRE_EQUAL(found.size(), 3u);
  BOOST_CHECK_EQUAL(found[2], "and 2 more");
}

BOOST_AUTO_TEST_SUITE_END()
