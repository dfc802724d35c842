// The id of a sheet without one, and the hash of a session's content.
#include <boost/test/unit_test.hpp>

#include "sheets.hpp"

using namespace steelyard;

namespace {

nlohmann::json without_id() {
  auto sheet = nlohmann::json::parse(tests::case_text("every_field.json"));
  sheet.erase("id");
  return sheet;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(identity)

BOOST_AUTO_TEST_CASE(a_derived_id_is_a_uuid_of_version_8) {  // layout: RFC 9562, section 5.8
  const std::string id = tests::sound(without_id().dump()).id;
  constexpr std::string_view pattern = "hhhhhhhh-hhhh-8hhh-vhhh-hhhhhhhhhhhh";  // h: any digit, v: variant 10
  BOOST_REQUIRE_EQUAL(id.size(), pattern.size());
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    const std::string_view allowed = pattern[i] == 'h'   ? "0123456789abcdef"
                                     : pattern[i] == 'v' ? "89ab"
                                                         : pattern.substr(i, 1);
    BOOST_CHECK_NE(allowed.find(id[i]), std::string_view::npos);
  }
}

BOOST_AUTO_TEST_CASE(the_same_sheet_has_the_same_id_however_it_is_spelt) {
  const std::string id = tests::sound(without_id().dump()).id;
  BOOST_CHECK_EQUAL(tests::sound(without_id().dump(3)).id, id);
  nlohmann::ordered_json turned;  // keys in the opposite order
  const auto sheet = without_id();
  for (auto member = sheet.rbegin(); member != sheet.rend(); ++member) turned[member.key()] = member.value();
  BOOST_CHECK_EQUAL(tests::sound(turned.dump()).id, id);
  std::string spelt = without_id().dump();
  const auto respell = [&](const std::string& one, const std::string& other) {
    BOOST_REQUIRE_NE(spelt.find(one), std::string::npos);
    spelt.replace(spelt.find(one), one.size(), other);
  };
  respell("\"load\":8120", "\"load\":8.12e3,\"unit\":\"lb\"");
  respell("\"division\":2", "\"division\":2.0");
  respell("Brackwater", "Br\\u0061ckwater");
  respell("480.0", "480");
  BOOST_CHECK_EQUAL(tests::sound(spelt).id, id);
}

BOOST_AUTO_TEST_CASE(other_content_has_another_id) {
  const std::string id = tests::sound(without_id().dump()).id;
  auto other = without_id();
  other["states"][0]["readings"][0]["load"] = 8121;
  BOOST_CHECK_NE(tests::sound(other.dump()).id, id);
  other = without_id();
  other["x-origin"] = "typed from another card";
  BOOST_CHECK_NE(tests::sound(other.dump()).id, id);
}

BOOST_AUTO_TEST_CASE(a_derived_id_given_back_stays) {
  const rig::Session session = tests::sound(without_id().dump());
  BOOST_CHECK(tests::sound(sheet::write(session)) == session);
}

BOOST_AUTO_TEST_CASE(the_hash_is_sha256_of_the_canonical_text) {
  const rig::Session session = tests::sound(tests::smallest(R"(,"id":"s")"));
  // sha256sum (coreutils) of the text that writing/only_what_was_given_is_written states.
  BOOST_CHECK_EQUAL(sheet::content_hash(session),
                    "b884e7e7e16f8ddb84caf6619858ae12f174ac2cf851c515240f78d610d27dcd");
}

BOOST_AUTO_TEST_SUITE_END()
