// Blunders of the pen, put into a sheet whose every position was read twice: each is among those that fit
// best, and its chi-square is that of the sheet put right, by another reconciliation.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "explained.hpp"
#include "reconcile/reconcile.hpp"
#include "units/number.hpp"
#include "weighed_twice.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::reconcile;
using test::corrected;
using test::exchanged;
using test::Ids;
using test::reading;
using test::readings_on;
using test::rear_wheel;
using test::same_as;
using test::tied;

/// One reading or more changed by the pen: the kind, the sheet as it was and as it came to be.
void check_edit(Blunder kind, const rig::Session& was, const rig::Session& is, const Ids& changed) {
  BOOST_TEST_CONTEXT(to_text(kind)) {
    const Findings findings = reconcile::reconcile(is);
    const Explanation& one = tied(findings, kind, changed);
    BOOST_TEST(one.exact);
    BOOST_TEST(!one.size);
    same_as(one, corrected(is, findings, one));
    BOOST_TEST((corrected(is, findings, one) == was));
  }
}

std::string figure(const rig::Session& session, const std::string& id) {
  rig::Session copy = session;
  return units::shortest(reading(copy, id).load.figure);
}

rig::Session written(rig::Session session, const std::string& id, const std::string& text) {
  reading(session, id).load.figure = units::parse_number(text).value();
  return session;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(pen_explanations)

BOOST_AUTO_TEST_CASE(slips_of_the_pen_in_one_figure) {
  const rig::Session sound = test::weighed_twice().session;
  const std::string text = figure(sound, rear_wheel);
  BOOST_REQUIRE(text.size() == 3 && text[0] != text[1]);
  check_edit(Blunder::digits_swapped, sound, written(sound, rear_wheel, {text[1], text[0], text[2]}),
             {rear_wheel});
  check_edit(Blunder::digit_dropped, sound, written(sound, rear_wheel, text.substr(0, 2)), {rear_wheel});
  check_edit(Blunder::digit_doubled, sound, written(sound, rear_wheel, text[0] + text), {rear_wheel});
}

BOOST_AUTO_TEST_CASE(places_exchanged) {
  const rig::Session sound = test::weighed_twice().session;
  check_edit(Blunder::sides_swapped, sound, exchanged(sound, "r21", "r22"), {"r21", "r22"});
  check_edit(Blunder::axles_swapped, sound, exchanged(sound, "r19", "r21"), {"r19", "r21"});
  check_edit(Blunder::states_swapped, sound, exchanged(sound, "r3", "r21"), {"r3", "r21"});
}

BOOST_AUTO_TEST_CASE(sides_exchanged_in_either_pass_cannot_be_told_apart) {
  // Left and right of an axle are bound by nothing but their repeats: the first pass exchanged or the second.
  const rig::Session sound = test::weighed_twice().session;
  const Findings findings = reconcile::reconcile(exchanged(sound, "r21", "r22"));
  const Explanation& first = tied(findings, Blunder::sides_swapped, {"r21", "r22"});
  const Explanation& second = tied(findings, Blunder::sides_swapped, {"r25", "r26"});
  BOOST_TEST(std::abs(first.chi_square - second.chi_square) < 3.84);
}

namespace {

/// What the scale showed in one unit, rounded to its division and written under the other's name.
units::Load in_wrong_unit(const units::Load& load) {
  if (load.unit == units::LoadUnit::kilogram) return {std::round(units::to_pounds(load.kg()).value())};
  return {std::round(load.kg().value()), units::LoadUnit::pound};
}

/// The sheet with such readings meant in the other unit, kept as the rig's sheet has it everywhere else.
void check_unit(const rig::Session& sound, const Ids& ids) {
  rig::Session wrong = sound, meant = sound;
  for (const std::string& id : ids) {
    units::Load& load = reading(wrong, id).load;
    const units::LoadUnit other =
        load.unit == units::LoadUnit::kilogram ? units::LoadUnit::pound : units::LoadUnit::kilogram;
    load = in_wrong_unit(load);
    reading(meant, id).load = {load.figure, other};
  }
  check_edit(Blunder::pounds_for_kilograms, meant, wrong, ids);
}

/// A sheet in pounds as somebody would have written it.
rig::Session in_pounds() {
  rig::Session out = test::in_pounds_and_inches(test::weighed_twice().session);
  for (rig::State& state : out.states)
    for (rig::Reading& one : state.readings) one.load.figure = std::round(one.load.figure);
  return out;
}

}  // namespace

BOOST_AUTO_TEST_CASE(the_other_unit) {
  const rig::Session kilograms = test::weighed_twice().session, pounds = in_pounds();
  for (const rig::Session& sound : {kilograms, pounds}) {
    BOOST_TEST(reconcile::reconcile(sound).fit.consistent.value());
    check_unit(sound, {rear_wheel});
    check_unit(sound, {"r17"});  // on the nose scale
    check_unit(sound, readings_on(sound, "together", "P3"));
  }
}

namespace {

/// The heaviest load that an explanation says was meant, of those on P3.
double most_meant(const rig::Session& session) {
  const Findings findings = reconcile::reconcile(session);
  BOOST_TEST(!findings.suspects.empty());
  double out = 0;
  for (const SuspectSet& set : findings.suspects)
    for (const Explanation& one : set.explanations)
      for (const auto& correction : one.corrections)
        if (findings.observations.at(correction.observation).scales == std::vector<std::string>{"P3"})
          out = std::max(out, correction.meant.kg().value());
  return out;
}

/// Proposed while the scale bears it, not proposed when it does not.
void check_capacity(rig::Session session, const char* what) {
  BOOST_TEST_CONTEXT(what) {
    BOOST_TEST(most_meant(session) > 700);
    for (rig::Scale& scale : session.scales)
      if (scale.id == "P3") scale.capacity = units::Load{700};
    BOOST_TEST(most_meant(session) <= 700);
  }
}

}  // namespace

BOOST_AUTO_TEST_CASE(no_scale_is_said_to_have_shown_more_than_its_capacity) {
  const rig::Session sound = test::weighed_twice().session, pounds = in_pounds();
  check_capacity(written(sound, rear_wheel, figure(sound, rear_wheel).substr(0, 2)), "a digit left out");
  rig::Session part = sound;
  reading(part, rear_wheel).load.figure = std::round(0.75 * reading(part, rear_wheel).load.figure);
  check_capacity(part, "a tyre part off");
  rig::Session unit = pounds;
  reading(unit, rear_wheel).load = in_wrong_unit(reading(unit, rear_wheel).load);
  check_capacity(unit, "kilograms in pounds");
  check_capacity(exchanged(sound, "r19", "r21"), "axles exchanged");
}

BOOST_AUTO_TEST_SUITE_END()
