// The simulator against hand calculations: it must not be the engine's twin, so nothing here asks the engine.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>
#include <random>
#include <set>

#include "simulator/blunder.hpp"
#include "simulator/draw.hpp"
#include "simulator/exact.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::simulator;
namespace tt = boost::test_tools;
using rig::Position;
using rig::Vehicle;

constexpr double last_digit = 1e-12;  // relative

/// Beer & Johnston, Statics, 9th ed., problems 6.95 and 6.96, in lb and ft: truck 2900 lb, 5 ft ahead of its
/// rear axle, 9 ft wheelbase, hitch 3 ft behind it; trailer 2400 lb, 2 ft ahead of an axle 11 ft from the
/// hitch.
TrueRig textbook() {
  TrueRig out;
  out.tow.places = {0, 9};
  out.tow.groups = {rig::Group::front, rig::Group::rear};
  out.tow.wheelbase = 9;
  out.tow.front = 2900.0 * 5 / 9;
  out.tow.rear = 2900.0 * 4 / 9;
  TrueTrailer trailer;
  trailer.mass = 2400;
  trailer.to_axles = 11;
  trailer.coupling = 2400.0 * 2 / 11;
  trailer.overhang = 3;
  trailer.to_jockey = 1;
  out.trailer = trailer;
  return out;
}

double axle(const Loads& on_site, Vehicle vehicle, int number) {
  return load_at(on_site, Position::whole_axle(vehicle, number));
}

/// Moment of everything on the wheels about the front group's centre, of both vehicles, by the wheels alone.
double moment_of_wheels(const TrueRig& rig, const Loads& on_site) {
  double out = 0;
  for (std::size_t a = 0; a < rig.tow.places.size(); ++a)
    out += rig.tow.places[a] * (on_site.wheels[0][a][0] + on_site.wheels[0][a][1]);
  if (rig.trailer)
    out += (rig.tow.wheelbase + rig.trailer->overhang + rig.trailer->to_axles) *
           load_at(on_site, Position::whole(Vehicle::trailer));
  return out;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(simulated_statics)

BOOST_AUTO_TEST_CASE(textbook_truck_and_trailer) {
  const TrueRig rig = textbook();
  const Loads apart = loads(rig, plain_state(rig, false, rig::Support::coupling));
  BOOST_TEST(axle(apart, Vehicle::tow, 1) == 14500.0 / 9, tt::tolerance(last_digit));
  BOOST_TEST(apart.support == 4800.0 / 11, tt::tolerance(last_digit));
  const Loads together = loads(rig, plain_state(rig, true));
  // Printed, a wheel: 982, 935 and 733 lb.
  BOOST_TEST(std::abs(axle(together, Vehicle::trailer, 1) / 2 - 982) < 0.5);
  BOOST_TEST(std::abs(axle(together, Vehicle::tow, 2) / 2 - 935) < 0.5);
  BOOST_TEST(std::abs(axle(together, Vehicle::tow, 1) / 2 - 733) < 0.5);
  TrueState bars = plain_state(rig, true);
  bars.bars = 1945.945945945946;  // two chains of 572.337 lb at 1.7 ft
  const Loads distributed = loads(rig, bars);
  BOOST_TEST(axle(distributed, Vehicle::trailer, 1) == 2140.5405405405404, tt::tolerance(last_digit));
  BOOST_TEST(axle(distributed, Vehicle::tow, 2) == 1418.6186186186187, tt::tolerance(last_digit));
  BOOST_TEST(axle(distributed, Vehicle::tow, 1) == 1740.8408408408409, tt::tolerance(last_digit));
}

// The jockey wheel 1 ft behind the hitch: moments about the axle give 2400·2/10 on it.
BOOST_AUTO_TEST_CASE(jockey_wheel) {
  const TrueRig rig = textbook();
  const Loads apart = loads(rig, plain_state(rig, false, rig::Support::jockey));
  BOOST_TEST(apart.support == 480.0, tt::tolerance(last_digit));
  BOOST_TEST(axle(apart, Vehicle::trailer, 1) == 1920.0, tt::tolerance(last_digit));
  TrueState still = plain_state(rig, true);
  still.on_jockey = 110;
  const Loads together = loads(rig, still);
  // Of 110 lb on the jockey wheel the hitch is spared 110·10/11, the axle 110/11.
  BOOST_TEST(together.net_coupling == 4800.0 / 11 - 100, tt::tolerance(last_digit));
  BOOST_TEST(axle(together, Vehicle::trailer, 1) == 2400 - 4800.0 / 11 - 10, tt::tolerance(last_digit));
}

// Somebody of 180 lb 3 ft behind the front axle; another 5.5 ft behind the hitch, halfway to the axle.
BOOST_AUTO_TEST_CASE(people_aboard) {
  const TrueRig rig = textbook();
  TrueState driver = plain_state(rig, false, rig::Support::coupling);
  driver.person = Person{Vehicle::tow, 180, 3};
  const Loads seated = loads(rig, driver);
  BOOST_TEST(axle(seated, Vehicle::tow, 1) == 14500.0 / 9 + 120, tt::tolerance(last_digit));
  TrueState visitor = plain_state(rig, true);
  visitor.person = Person{Vehicle::trailer, 180, 5.5};
  const Loads visited = loads(rig, visitor);
  BOOST_TEST(visited.net_coupling == 4800.0 / 11 + 90, tt::tolerance(last_digit));
}

// Forces and moments of the whole rig: neither the coupling nor the bars appear in them.
BOOST_AUTO_TEST_CASE(drawn_rigs_are_in_equilibrium) {
  int hitched = 0;
  for (std::uint64_t n = 0; n < 2000; ++n) {
    const Simulation drawn = draw(11, n);
    const TrueRig& rig = drawn.rig;
    for (std::size_t k = 0; k < drawn.states.size(); ++k) {
      const TrueState& state = drawn.states[k];
      if (!state.hitched || rig.trailer->self_supporting) continue;
      ++hitched;
      const double tow = rig.tow.front + rig.tow.rear, mass = rig.trailer->mass;
      const double centre =
          rig.trailer->to_axles * (1 - (rig.trailer->coupling + state.height_effect) / mass);
      const double wheels = load_at(drawn.loads[k], Position::whole(Vehicle::tow)) +
                            load_at(drawn.loads[k], Position::whole(Vehicle::trailer));
      const double moment = rig.tow.rear * rig.tow.wheelbase +
                            mass * (rig.tow.wheelbase + rig.trailer->overhang + centre) +
                            state.level * load_at(drawn.loads[k], Position::whole(Vehicle::tow));
      BOOST_TEST(wheels == tow + mass, tt::tolerance(last_digit));
      BOOST_TEST(moment_of_wheels(rig, drawn.loads[k]) == moment, tt::tolerance(last_digit));
    }
  }
  BOOST_TEST(hitched > 1500);
}

// On level ground, with single axles, the loads that the model names are those of the wheels.
BOOST_AUTO_TEST_CASE(level_truth_is_what_the_wheels_carry) {
  int compared = 0;
  for (std::uint64_t n = 0; n < 500; ++n) {
    Simulation drawn = draw(12, n);
    if (drawn.rig.tow.places.size() != 2) continue;
    for (std::size_t k = 0; k < drawn.states.size(); ++k) {
      if (!drawn.states[k].hitched) continue;
      drawn.states[k].level = 0;
      drawn.loads[k] = loads(drawn.rig, drawn.states[k]);
      const std::string& name = drawn.session.states[k].name;
      const auto same = [&](const char* quantity, double carried) {
        BOOST_TEST(drawn.truth(quantity, name, "").value() == carried, tt::tolerance(last_digit));
      };
      same("tow_hitched_front", axle(drawn.loads[k], Vehicle::tow, 1));
      same("tow_hitched_rear", axle(drawn.loads[k], Vehicle::tow, 2));
      same("tow_hitched_total", load_at(drawn.loads[k], Position::whole(Vehicle::tow)));
      if (drawn.rig.trailer->self_supporting) continue;
      same("trailer_axles_hitched", load_at(drawn.loads[k], Position::whole(Vehicle::trailer)));
      ++compared;
    }
  }
  BOOST_TEST(compared > 300);
}

BOOST_AUTO_TEST_CASE(exact_readings) {
  const TrueRig rig = textbook();
  rig::State apart, together;
  apart.name = "apart";
  apart.support = rig::Support::jockey;
  together.name = "together";
  together.hitched = together.weight_distribution = true;
  const Position front = Position::whole_axle(Vehicle::tow, 1);
  const auto weighed = weigh_exactly(
      rig, {{apart, {front, Position::support_at_jockey()}, {{"P1"}, {}}}, {together, {front}, {}}}, 1.0);
  BOOST_TEST(weighed[0].readings[0].load.figure == 14500.0 / 9, tt::tolerance(last_digit));
  BOOST_TEST(weighed[0].readings[0].scales.at(0) == "P1");
  BOOST_TEST(weighed[0].readings[1].load.figure == 480.0, tt::tolerance(last_digit));
  // Bars that give all back leave the front axle as it was.
  BOOST_TEST(weighed[1].readings[0].load.figure == 14500.0 / 9, tt::tolerance(last_digit));
}

BOOST_AUTO_TEST_SUITE_END()

BOOST_AUTO_TEST_SUITE(simulated_chance)

// ISO/IEC 14882 [rand.predef]: the 10000th value of a default-constructed mt19937_64.
BOOST_AUTO_TEST_CASE(generator_is_the_standard_one) {
  std::mt19937_64 bits;
  bits.discard(9999);
  BOOST_TEST(bits() == 9981545732273789042ull);
}

// Moments and tails of a million normal deviates; bounds are five standard errors.
BOOST_AUTO_TEST_CASE(normal_deviates) {
  Random random(1, 2);
  constexpr int count = 1'000'000;
  double sum = 0, squares = 0, fourth = 0;
  int within = 0;
  for (int i = 0; i < count; ++i) {
    const double x = random.normal(0, 1);
    sum += x;
    squares += x * x;
    fourth += x * x * x * x;
    if (std::abs(x) < 1.959964) ++within;
  }
  const double n = count;
  BOOST_TEST(std::abs(sum / n) < 5 / std::sqrt(n));
  BOOST_TEST(std::abs(squares / n - 1) < 5 * std::sqrt(2 / n));
  BOOST_TEST(std::abs(fourth / n - 3) < 5 * std::sqrt(96 / n));
  BOOST_TEST(std::abs(within / n - 0.95) < 5 * std::sqrt(0.05 * 0.95 / n));
}

BOOST_AUTO_TEST_CASE(a_session_depends_on_seed_and_number_alone) {
  for (std::uint64_t n = 0; n < 50; ++n) {
    BOOST_TEST((draw(3, n).session == draw(3, n).session));
    BOOST_TEST(!(draw(3, n).session == draw(4, n).session));
  }
  // The same rig and the same readings whether errors go through the rig or not, but for those errors.
  BOOST_TEST((draw(3, 7).session.rig == draw(3, 7, {false, true}).session.rig));
}

// Readings stray from what rests there by about what the sheet declares: rounding, zero, repeatability,
// placement.
BOOST_AUTO_TEST_CASE(readings_err_as_declared) {
  double sum = 0;
  int count = 0;
  for (std::uint64_t n = 0; n < 3000; ++n) {
    const Simulation drawn = draw(13, n);
    for (std::size_t k = 0; k < drawn.states.size(); ++k)
      for (std::size_t i = 0; i < drawn.takings[k].size(); ++i) {
        const rig::Reading& reading = drawn.session.states[k].readings[i];
        const Taking& taking = drawn.takings[k][i];
        if (taking.parts.size() != 1 || reading.raised || reading.scales.empty()) continue;
        const rig::Scale& scale = *rig::find_scale(drawn.session, reading.scales[0]);
        const double load = load_at(drawn.loads[k], reading.at), division = scale.division->kg().value();
        const double repeated = scale.repeatability ? scale.repeatability->kg().value() : division;
        const bool wheels =
            reading.at.extent != rig::Extent::coupling && reading.at.extent != rig::Extent::jockey;
        const double placed = wheels ? 0.002 * load : 0;
        const double error =
            reading.load.kg().value() - load * (1 + taking.parts[0].gain) * (1 + taking.parts[0].known);
        sum += error * error / (division * division / 6 + repeated * repeated + placed * placed);
        ++count;
      }
  }
  // Mean square 1; its standard error is about √(2/n), the products of small errors are far below.
  BOOST_TEST(std::abs(sum / count - 1) < 5 * std::sqrt(2.0 / count));
}

BOOST_AUTO_TEST_CASE(every_kind_of_rig_and_weighing_turns_up) {
  std::map<std::string, int> seen;
  for (std::uint64_t n = 0; n < 2000; ++n) {
    const Simulation drawn = draw(14, n);
    const auto& trailer = drawn.rig.trailer;
    if (!trailer) ++seen["alone"];
    if (trailer && trailer->self_supporting) ++seen["self-supporting"];
    if (trailer && trailer->axles == 3) ++seen["three axles"];
    if (trailer && !trailer->self_supporting && trailer->overhang < 0) ++seen["fifth wheel"];
    if (trailer && !trailer->self_supporting && trailer->coupling < 20) ++seen["small coupling load"];
    if (drawn.rig.tow.places.size() > 2) ++seen["tandem tow vehicle"];
    if (drawn.session.units.load == units::LoadUnit::pound) ++seen["pounds"];
    if (!drawn.session.rig.tow_vehicle.overhang) ++seen["no tape"];
    for (const rig::State& state : drawn.session.states) {
      if (state.weight_distribution) ++seen["bars"];
      if (state.support == rig::Support::jockey) ++seen["jockey"];
      for (const rig::Reading& reading : state.readings) {
        ++seen[rig::to_text(reading.at)];
        BOOST_TEST(reading.load.figure > 0);
        if (reading.raised) ++seen["raised"];
        if (reading.scales.empty()) ++seen["scale not named"];
        if (reading.scales.size() == 2) ++seen["two scales"];
      }
    }
  }
  for (const char* kind :
       {"alone", "self-supporting", "three axles", "fifth wheel", "small coupling load", "tandem tow vehicle",
        "pounds", "no tape", "bars", "jockey", "raised", "scale not named", "two scales", "tow", "tow.1",
        "tow.2.left", "trailer", "trailer.3.right", "coupling"})
    BOOST_TEST(seen[kind] > 20, kind << ": " << seen[kind]);
}

BOOST_AUTO_TEST_SUITE_END()

BOOST_AUTO_TEST_SUITE(simulated_blunders)

BOOST_AUTO_TEST_CASE(each_kind_does_what_its_name_says) {
  std::map<BlunderKind, int> made;
  for (std::uint64_t n = 0; n < 400; ++n) {
    const Simulation drawn = draw(15, n, {n % 2 == 0, false});
    for (int kind = 0; kind < blunder_kinds; ++kind) {
      const auto done = blunder(drawn, static_cast<BlunderKind>(kind), Random(15, n, 100));
      if (!done) continue;
      ++made[done->kind];
      std::set<std::string> states;
      for (const Changed& changed : done->changed) states.insert(changed.state);
      BOOST_TEST(states.size() <= (done->kind == BlunderKind::states_swapped ? 2u : 1u));
      const Changed& first = done->changed.front();
      const double was = first.was.figure, is = first.is.figure;
      if (done->kind == BlunderKind::digits_swapped)  // in tenths of the unit
        BOOST_TEST(std::abs(std::remainder((was - is) * 10, 9)) < 1e-9);
      if (done->kind == BlunderKind::digit_doubled) BOOST_TEST(is > was);
      if (done->kind == BlunderKind::digit_dropped) BOOST_TEST(is < was);
      if (done->kind == BlunderKind::pounds_for_kilograms) BOOST_TEST(std::abs(is - was / 0.45359237) <= 0.5);
      if (done->kind == BlunderKind::tyre_off_scale) BOOST_TEST(is < was);
      if (done->kind <= BlunderKind::pounds_for_kilograms) BOOST_TEST(done->changed.size() == 1);
      if (done->kind >= BlunderKind::sides_swapped && done->kind <= BlunderKind::states_swapped) {
        BOOST_REQUIRE(done->changed.size() == 2);
        BOOST_TEST((first.is == done->changed[1].was && first.was == done->changed[1].is));
      }
    }
  }
  for (int kind = 0; kind < blunder_kinds; ++kind)
    BOOST_TEST(made[static_cast<BlunderKind>(kind)] > 20, to_text(static_cast<BlunderKind>(kind)));
}

// What the whole combination shows is less by what the jockey wheel carries, but for scale errors of that
// part.
BOOST_AUTO_TEST_CASE(jockey_wheel_takes_its_load_from_the_combination) {
  int compared = 0;
  for (std::uint64_t n = 0; n < 2000; ++n) {
    const Simulation drawn = draw(16, n);
    const auto done = blunder(drawn, BlunderKind::jockey_still_loaded, Random(16, n, 100));
    if (!done) continue;
    double less = 0;
    bool tow = false, trailer = false, plain = true;
    for (const Changed& changed : done->changed) less += (changed.was.kg() - changed.is.kg()).value();
    const rig::State& state = *rig::find_state(done->session, done->state);
    for (const rig::Reading& reading : state.readings) {
      tow = tow || reading.at == Position::whole(Vehicle::tow);
      trailer = trailer || reading.at == Position::whole(Vehicle::trailer);
      plain = plain && !reading.raised && reading.load.unit == units::LoadUnit::kilogram;
    }
    if (!tow || !trailer || !plain || state.readings.size() != 2) continue;
    ++compared;
    BOOST_TEST(std::abs(less - *done->size) < 5.0);  // two divisions of 2 kg, gains of 1 % of 150 kg
  }
  BOOST_TEST(compared > 5);
}

BOOST_AUTO_TEST_SUITE_END()
