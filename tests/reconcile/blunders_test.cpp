// What users bring, not only what fits: sessions with one gross blunder each come back solved, or with the
// quantity said to be not determinable; never with an error, never with a figure that is not finite.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;

void check_whole(const reconcile::Findings& findings) {
  for (const reconcile::Quantity& quantity : findings.quantities) {
    BOOST_TEST_CONTEXT(quantity.name << ' ' << quantity.state.value_or("") << ' '
                                     << quantity.at.value_or("")) {
      if (quantity.determinable) {
        BOOST_TEST(std::isfinite(quantity.value));
        BOOST_TEST((std::isfinite(quantity.u) && quantity.u >= 0));
        BOOST_TEST(!quantity.needs);
      } else {
        BOOST_REQUIRE(quantity.needs);
        BOOST_TEST(!quantity.needs->text.empty());
      }
    }
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(blunders)

BOOST_AUTO_TEST_CASE(every_blundered_session_comes_back) {
  int solved = 0, found = 0, held = 0;
  for (const rig::Session& session : test::drawn("blundered")) {
    BOOST_TEST_CONTEXT("session " << session.id) {
      reconcile::Findings findings;
      BOOST_REQUIRE_NO_THROW(findings = reconcile::reconcile(session));
      check_whole(findings);
      ++solved;
      held += findings.fit.overhang_held;
      found += findings.fit.consistent == false;
    }
  }
  BOOST_TEST_MESSAGE(solved << " solved, " << found << " found inconsistent, " << held
                            << " with the overhang held");
  // A blunder can hide where nothing checks the reading; most cannot.
  BOOST_TEST(found * 2 > solved);
  BOOST_TEST(held * 20 < solved);
}

BOOST_AUTO_TEST_CASE(nothing_to_reconcile_is_an_error_that_names_the_session) {
  rig::Session session = test::sample_fleet().front();
  for (rig::State& state : session.states)
    for (rig::Reading& reading : state.readings) reading.struck = rig::Strike{"all of them", "R. Okoye", ""};
  BOOST_CHECK_EXCEPTION(reconcile::reconcile(session), reconcile::NotSolved,
                        [&](const std::exception& error) {
                          return std::string(error.what()).find(session.id) != std::string::npos;
                        });
}

BOOST_AUTO_TEST_CASE(nothing_on_the_coupling_and_no_tape_is_said) {
  // Vehicle alike before and after: C = 0, so no overhang follows from the weights (model, section 5).
  const auto findings = reconcile::reconcile(test::read_sheet(R"({"format": "steelyard-session/1",
    "rig": {"tow_vehicle": {"axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]},
            "trailer": {"axles": 1}},
    "states": [
      {"name": "apart", "hitched": false, "readings": [{"at": "tow.1", "load": 1200}, {"at": "tow.2", "load": 900}]},
      {"name": "together", "hitched": true, "readings": [{"at": "tow.1", "load": 1200}, {"at": "tow.2", "load": 900},
                                                         {"at": "trailer.1", "load": 400}]}]})"));
  BOOST_TEST(std::abs(findings.find("coupling_load")->value) < 1e-6);
  for (const char* name :
       {"overhang", "load_transfer_ratio", "inferred_overhang", "inferred_transfer_ratio"}) {
    const auto* quantity = findings.find(name);
    BOOST_REQUIRE(quantity);
    BOOST_TEST(!quantity->determinable);
    BOOST_TEST(!quantity->interval);
  }
  BOOST_TEST(findings.find("overhang")->needs->tape_overhang);
}

BOOST_AUTO_TEST_SUITE_END()
