// Which observations may be off: suspect sets and the search for the next. Expected figures are hand
// calculations, or come from solving the session with a reading struck (a second way to the same answer).
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/reconcile.hpp"
#include "sheets.hpp"
#include "weighed_twice.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::reconcile;
using test::key_of;
using test::keys_of;
using test::likeliest;
using test::member;
using test::row_of;
using test::two_blunders;
using Keys = std::vector<std::string>;

/// w² anew from residual, u and redundancy; nothing where unchecked.
std::optional<double> squared(const Observation& o) {
  if (o.redundancy < 0.01) return std::nullopt;
  return o.residual * o.residual / (o.u * o.u * o.redundancy);
}

/// Those that the definition puts into a set: within 3.84 of the largest w².
Keys within(const Findings& findings) {
  double largest = 0;
  for (const Observation& o : findings.observations) largest = std::max(largest, squared(o).value_or(0));
  Keys out;
  for (const Observation& o : findings.observations)
    if (squared(o) && *squared(o) >= largest - 3.84) out.push_back(key_of(o));
  std::sort(out.begin(), out.end());
  return out;
}

bool readings_first(const Findings& findings, const SuspectSet& set) {
  return std::is_partitioned(set.members.begin(), set.members.end(), [&](const SuspectMember& one) {
    return findings.observations.at(one.observation).kind == ObservationKind::reading;
  });
}

std::size_t count_readings(const Findings& findings) {
  return static_cast<std::size_t>(
      std::count_if(findings.observations.begin(), findings.observations.end(),
                    [](const Observation& o) { return o.kind == ObservationKind::reading; }));
}

/// u of what an observation would be off by alone: u/√r.
double error_u(const Observation& o) {
  return o.u / std::sqrt(o.redundancy);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(suspects)

BOOST_AUTO_TEST_CASE(a_sound_session_has_no_suspects) {
  const Findings findings = reconcile::reconcile(test::weighed_twice().session);
  BOOST_TEST(findings.fit.consistent.value());
  BOOST_TEST(findings.suspects.empty());
}

BOOST_AUTO_TEST_CASE(two_blunders_give_two_sets_each_with_its_culprit) {
  const Findings findings = reconcile::reconcile(two_blunders());
  BOOST_REQUIRE_EQUAL(findings.suspects.size(), 2u);
  const std::pair<const char*, double> blunders[] = {{"r29", -120}, {"r3", 70}};
  for (std::size_t s = 0; s < 2; ++s) {
    const auto& [id, error] = blunders[s];
    BOOST_TEST_CONTEXT(id) {
      BOOST_TEST(likeliest(findings, findings.suspects[s]) == std::string("reading ") + id);
      const SuspectMember* culprit = member(findings, findings.suspects[s], std::string("reading ") + id);
      BOOST_REQUIRE(culprit);
      // The other blunder is another vehicle's and pulls little at this one.
      const Observation& o = findings.observations[row_of(findings, id)];
      BOOST_TEST(std::abs(culprit->estimated_error - error) < 4 * error_u(o));
    }
  }
}

BOOST_AUTO_TEST_CASE(every_set_but_the_first_is_that_of_the_session_with_the_likeliest_struck) {
  const rig::Session session = two_blunders();
  const Findings findings = reconcile::reconcile(session);
  const Findings then = reconcile::reconcile(test::strike(session, "r29"), Search::first_set);
  BOOST_REQUIRE_EQUAL(findings.suspects.size(), 2u);
  BOOST_REQUIRE_EQUAL(then.suspects.size(), 1u);
  BOOST_TEST(keys_of(findings, findings.suspects[1]) == keys_of(then, then.suspects[0]),
             boost::test_tools::per_element());
  for (const SuspectMember& one : then.suspects[0].members) {
    const SuspectMember* same =
        member(findings, findings.suspects[1], key_of(then.observations[one.observation]));
    BOOST_REQUIRE(same);
    BOOST_TEST(std::abs(same->estimated_error - one.estimated_error) < 1e-6 * std::abs(one.estimated_error));
  }
  const Findings sound = reconcile::reconcile(test::strike(test::strike(session, "r29"), "r3"));
  BOOST_TEST(sound.fit.consistent.value());
}

BOOST_AUTO_TEST_CASE(no_reading_is_altered) {
  const rig::Session session = two_blunders(), before = session;
  const Reconciliation reconciliation(session);
  BOOST_TEST((session == before));
  const Findings& findings = reconciliation.findings();
  std::size_t row = 0;
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings) {
      const Observation& o = findings.observations.at(row++);
      BOOST_TEST(o.id.value() == reading.id);
      BOOST_TEST(o.value == reading.load.figure);  // kg, on scales without a known gain error
      BOOST_TEST(std::abs(o.residual - (o.value - o.fitted)) < 1e-9);
    }
}

BOOST_AUTO_TEST_CASE(at_most_a_fifth_of_the_readings_is_set_aside) {
  // Every reading off by 30 to 90 kg: the search cannot come to an end before its bound, 34/5 = 6.
  rig::Session session = test::weighed_twice().session;
  simulator::Random random(7, 0);
  for (rig::State& state : session.states)
    for (rig::Reading& reading : state.readings)
      reading.load.figure += random.pick({-1.0, 1.0}) * random.uniform({30, 90});
  const Findings findings = reconcile::reconcile(session);
  BOOST_TEST(count_readings(findings) == 34u);
  BOOST_TEST(findings.suspects.size() == 6u);
  Keys aside;
  for (const SuspectSet& set : findings.suspects) aside.push_back(likeliest(findings, set));
  std::sort(aside.begin(), aside.end());
  BOOST_TEST((std::adjacent_find(aside.begin(), aside.end()) == aside.end()));
}

BOOST_AUTO_TEST_CASE(sets_keep_their_definition_whatever_is_off) {
  auto sessions = test::drawn("blundered");
  sessions.resize(std::min<std::size_t>(sessions.size(), 200));
  for (rig::Session& session : test::sample_fleet()) sessions.push_back(std::move(session));
  int sets = 0;
  for (const rig::Session& session : sessions) {
    const Findings findings = reconcile::reconcile(session);
    BOOST_TEST(findings.suspects.empty() == findings.fit.consistent.value_or(true));
    BOOST_TEST(findings.suspects.size() <= std::max<std::size_t>(1, count_readings(findings) / 5));
    for (const SuspectSet& set : findings.suspects) {
      ++sets;
      BOOST_TEST(readings_first(findings, set));
      BOOST_TEST(set.likeliest < set.members.size());
    }
    if (findings.suspects.empty()) continue;
    BOOST_TEST_CONTEXT(session.id)
    BOOST_TEST(keys_of(findings, findings.suspects.front()) == within(findings),
               boost::test_tools::per_element());
  }
  BOOST_TEST(sets > 100);
}

BOOST_AUTO_TEST_CASE(what_nothing_checks_has_no_statistic) {
  int checked = 0, unchecked = 0;
  for (const rig::Session& session : test::sample_fleet()) {
    const Findings findings = reconcile::reconcile(session);
    for (const Observation& o : findings.observations) {
      const bool checks = o.redundancy >= 0.01 && findings.fit.degrees_of_freedom > 0;
      ++(checks ? checked : unchecked);
      BOOST_TEST(o.normalised_residual.has_value() == checks);
      BOOST_TEST(o.smallest_detectable.has_value() == checks);
      if (!checks) continue;
      BOOST_TEST(std::abs(*o.normalised_residual - o.residual / error_u(o) / o.redundancy) < 1e-6);
    }
  }
  BOOST_TEST(checked > 100);
  BOOST_TEST(unchecked > 20);
}

BOOST_AUTO_TEST_CASE(redundancy_and_smallest_error_by_hand) {
  // One axle twice, the other once: the two share their single degree of freedom, the third has none. With
  // r = ½ and u² = 1/6 + 1 + (0.002·700)² = 3.1267: (2.4977 + 0.8416)·1.7682/√½ = 8.350 kg, where 2.4977 is
  // the normal quantile of 1 − 0.0125/2 for the two that are checked.
  const Findings findings = reconcile::reconcile(test::read_sheet(R"({"format": "steelyard-session/1",
    "scales": [{"id": "P1", "division": 1}],
    "rig": {"tow_vehicle": {"axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]}},
    "states": [{"name": "alone", "hitched": false, "readings": [
      {"id": "r1", "at": "tow.1", "load": 700, "scale": "P1"}, {"id": "r2", "at": "tow.1", "load": 700, "scale": "P1"},
      {"id": "r3", "at": "tow.2", "load": 640, "scale": "P1"}]}]})"));
  for (const char* id : {"r1", "r2"}) {
    const Observation& o = findings.observations[row_of(findings, id)];
    BOOST_TEST(std::abs(o.redundancy - 0.5) < 1e-9);
    BOOST_TEST(std::abs(o.smallest_detectable.value() - 8.350) < 2e-3);
  }
  const Observation& alone = findings.observations[row_of(findings, "r3")];
  BOOST_TEST(std::abs(alone.redundancy) < 1e-9);
  BOOST_TEST(!alone.normalised_residual);
  BOOST_TEST(!alone.smallest_detectable);
}

BOOST_AUTO_TEST_CASE(an_axle_and_the_total_that_cannot_be_told_apart_are_named_together) {
  // Axle 1 twice, axle 2 and the total once: the total less both axles is 60 kg too much, and axle 2 may be
  // as much too little. One degree of freedom sees them: w² = 60²/(u²total + u²axle2 + u²axle1/2) of both, by
  // hand.
  const Findings findings = reconcile::reconcile(test::read_sheet(R"({"format": "steelyard-session/1",
    "scales": [{"id": "P1", "division": 1}],
    "rig": {"tow_vehicle": {"axles": [{"at": 0, "group": "front"}, {"at": 3000, "group": "rear"}]}},
    "states": [{"name": "alone", "hitched": false, "readings": [
      {"id": "r1", "at": "tow.1", "load": 700, "scale": "P1"}, {"id": "r2", "at": "tow.1", "load": 700, "scale": "P1"},
      {"id": "r3", "at": "tow.2", "load": 640, "scale": "P1"}, {"id": "r4", "at": "tow", "load": 1400, "scale": "P1"}]}]})"));
  BOOST_REQUIRE_EQUAL(findings.suspects.size(), 1u);
  const Keys together{"reading r3", "reading r4"};
  BOOST_TEST(keys_of(findings, findings.suspects[0]) == together, boost::test_tools::per_element());
  const double own = 1.0 / 6 + 1, total = own + 2.8 * 2.8, axle2 = own + 1.28 * 1.28, axle1 = own + 1.4 * 1.4;
  for (const char* id : {"r3", "r4"}) {
    const Observation& o = findings.observations[row_of(findings, id)];
    BOOST_TEST(std::abs(squared(o).value() - 3600 / (total + axle2 + axle1 / 2)) < 1e-6);
    const double error = member(findings, findings.suspects[0], key_of(o))->estimated_error;
    BOOST_TEST(std::abs(error - (o.id == "r4" ? 60 : -60)) < 1e-6);
  }
}

namespace {

/// Scales and placing five times as fine, and what they show without any error: enough to see a tape.
rig::Session finely_weighed() {
  const auto weighed = test::weighed_twice();
  rig::Session out = weighed.session;
  out.placement_u = 0.0004;
  for (rig::Scale& scale : out.scales) scale.division = scale.repeatability = units::Load{0.2};
  for (std::size_t k = 0; k < out.states.size(); ++k)
    for (rig::Reading& reading : out.states[k].readings)
      reading.load = {simulator::load_at(weighed.loads[k], reading.at)};
  return out;
}

}  // namespace

BOOST_AUTO_TEST_CASE(a_wrong_tape_is_among_the_suspects) {
  rig::Session session = finely_weighed();
  BOOST_TEST(reconcile::reconcile(session).fit.consistent.value());
  session.rig.tow_vehicle.overhang->value.figure += 150;
  const Findings findings = reconcile::reconcile(session);
  BOOST_REQUIRE(!findings.suspects.empty());
  const SuspectMember* tape = member(findings, findings.suspects[0], "overhang");
  BOOST_REQUIRE(tape);
  BOOST_TEST(std::abs(tape->estimated_error - 150) < 3 * error_u(findings.observations[tape->observation]));
}

BOOST_AUTO_TEST_CASE(ground_that_is_not_level_is_among_the_suspects) {
  // The ground drops 30 mm per m where the sheet says level: the centre of gravity at 700 mm shifts by 21 mm.
  const auto weighed = test::weighed_twice();
  simulator::TrueState truly = weighed.states[1];
  truly.level = 21;
  const Findings findings = reconcile::reconcile(test::weighed_as(weighed, 1, truly));
  BOOST_REQUIRE(!findings.suspects.empty());
  const SuspectMember* ground = member(findings, findings.suspects[0], "level together");
  BOOST_REQUIRE(ground);
  // The sheet says 0, so the observation is off by −21.
  BOOST_TEST(std::abs(ground->estimated_error + 21) <
             3 * error_u(findings.observations[ground->observation]));
}

BOOST_AUTO_TEST_CASE(a_wrong_coupling_height_is_among_the_suspects) {
  // Weighed 100 mm higher than said, on springs that give the coupling 0.5 kg a mm.
  const auto weighed = test::weighed_twice();
  simulator::TrueState truly = weighed.states[0];
  truly.height_effect = 50;
  const Findings findings = reconcile::reconcile(test::weighed_as(weighed, 0, truly));
  BOOST_REQUIRE(!findings.suspects.empty());
  const SuspectMember* height = member(findings, findings.suspects[0], "coupling_height apart");
  BOOST_REQUIRE(height);
  BOOST_TEST(std::abs(height->estimated_error + 50) <
             3 * error_u(findings.observations[height->observation]));
}

BOOST_AUTO_TEST_SUITE_END()
