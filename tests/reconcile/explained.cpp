#include "explained.hpp"

#include <boost/test/unit_test.hpp>
#include <cmath>
#include <stdexcept>

#include "reconcile/reconcile.hpp"
#include "weighed_twice.hpp"

namespace steelyard::test {

using namespace steelyard::reconcile;

Ids ids_of(const Findings& findings, const Explanation& explanation) {
  Ids out;
  for (const auto& correction : explanation.corrections)
    out.insert(findings.observations.at(correction.observation).id.value_or("?"));
  return out;
}

Ids readings_on(const rig::Session& session, const std::string& state, const std::string& scale) {
  Ids out;
  for (const rig::Reading& one : rig::find_state(session, state)->readings)
    if (one.scales.at(0) == scale) out.insert(one.id);
  return out;
}

const Explanation& tied(const Findings& findings, Blunder kind, const Ids& where) {
  BOOST_REQUIRE(!findings.suspects.empty());
  for (const Explanation& one : findings.suspects[0].explanations)
    if (one.tied && one.kind == kind &&
        (ids_of(findings, one) == where || Ids{one.state.value_or("")} == where))
      return one;
  for (const Explanation& one : findings.suspects[0].explanations)
    BOOST_TEST_MESSAGE("proposed: " << to_text(one.kind) << " in " << one.state.value_or("-")
                                    << ", chi-square " << one.chi_square << " on " << one.degrees_of_freedom
                                    << ", size " << one.size.value_or(0) << (one.tied ? ", tied" : ""));
  BOOST_FAIL("not among the first: " << to_text(kind));
  throw std::logic_error("not reached");
}

void check_p(const Explanation& one) {
  BOOST_TEST(one.p_value >= 0.025);
  BOOST_TEST(std::abs(one.p_value - upper_tail(one.chi_square, one.degrees_of_freedom)) < 1e-9);
}

void same_as(const Explanation& one, const rig::Session& put_right) {
  const Findings then = reconcile::reconcile(put_right, Search::first_set);
  BOOST_TEST(std::abs(one.chi_square - then.fit.chi_square) <= 1e-6 * (1 + then.fit.chi_square));
  BOOST_TEST(one.degrees_of_freedom == then.fit.degrees_of_freedom);
  BOOST_TEST(std::abs(one.p_value - then.fit.p_value.value()) <= 1e-6);
  check_p(one);
}

rig::Session corrected(rig::Session session, const Findings& findings, const Explanation& one) {
  for (const auto& correction : one.corrections) {
    units::Load& load = reading(session, *findings.observations.at(correction.observation).id).load;
    BOOST_TEST((load == correction.read));
    load = correction.meant;
  }
  return session;
}

rig::Session exchanged(rig::Session session, const std::string& one, const std::string& other) {
  std::swap(reading(session, one).load, reading(session, other).load);
  return session;
}

}  // namespace steelyard::test
