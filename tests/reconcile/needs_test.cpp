// Doing what is said makes it determinable: on the sample fleet and on random rigs, the readings that a need
// names are taken on a rig of first principles, and the quantity has to be determinable then.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/reconcile.hpp"
#include "sheets.hpp"

namespace {

using namespace steelyard;
using reconcile::Findings;
using reconcile::Need;
using reconcile::Quantity;

/// A rig by moments about its axles; nothing of the engine. What a session left open gets a usual size.
class Bench {
 public:
  Bench(const rig::Session& session, const Findings& found) : session_(session) {
    const auto value = [&](const char* name, double usual) {
      const Quantity* quantity = found.find(name);
      return quantity && quantity->determinable && quantity->value > 0 ? quantity->value : usual;
    };
    double places[2] = {0, 0};
    for (const rig::Axle& axle : session.rig.tow_vehicle.axles) {
      const int group = axle.group == rig::Group::rear;
      places[group] += axle.at.mm().value();
      ++count_[group];
    }
    wheelbase_ = places[1] / count_[1] - places[0] / count_[0];
    coupling_ = value("coupling_load", 120);
    overhang_ = value("overhang", 1100);
    trailer_ = value("trailer_mass", 1300);
    front_ = value("tow_unhitched_front", 1250);
    rear_ = value("tow_unhitched_rear", 1150);
  }

  double load(const rig::State& state, const rig::Position& at) const {
    if (at.extent == rig::Extent::coupling || at.extent == rig::Extent::jockey) return coupling_;
    double load = 0;
    if (at.vehicle == rig::Vehicle::trailer) {
      load = (trailer_ - coupling_) / session_.rig.trailer->axles;
    } else {
      const bool rear =
          session_.rig.tow_vehicle.axles[static_cast<std::size_t>(at.axle - 1)].group == rig::Group::rear;
      const double on =
          state.hitched && session_.rig.trailer && !session_.rig.trailer->self_supporting ? coupling_ : 0;
      // Moments about the front group for the rear, about the rear group for the front.
      load = rear ? (rear_ * wheelbase_ + on * (wheelbase_ + overhang_)) / wheelbase_
                  : (front_ * wheelbase_ - on * overhang_) / wheelbase_;
      load /= count_[rear];
    }
    return at.extent == rig::Extent::wheel ? load / 2 : load;
  }

 private:
  const rig::Session& session_;
  double count_[2] = {0, 0};
  double wheelbase_ = 0, coupling_ = 0, overhang_ = 0, trailer_ = 0, front_ = 0, rear_ = 0;
};

rig::Session with(const rig::Session& session, const Need& need, const Bench& bench) {
  rig::Session out = session;
  if (need.tape_overhang)
    out.rig.tow_vehicle.overhang = rig::MeasuredLength{{1100, units::LengthUnit::millimetre}, {}};
  if (need.measure_height_in)
    for (rig::State& state : out.states)
      if (state.name == *need.measure_height_in)
        state.coupling_height = rig::MeasuredLength{{410, units::LengthUnit::millimetre}, {}};
  int n = 0;
  for (const Need::Step& step : need.weigh) {
    if (step.new_state) out.states.push_back(*step.new_state);
    for (rig::State& state : out.states) {
      if (state.name != step.state) continue;
      for (const rig::Position& at : step.positions) {
        rig::Reading reading;
        reading.id = "further " + std::to_string(++n);
        reading.at = at;
        reading.load = {std::round(bench.load(state, at)), units::LoadUnit::kilogram};
        state.readings.push_back(reading);
      }
    }
  }
  return out;
}

/// Follows every need of a session that names something to weigh or measure; gives how many.
int follow(const rig::Session& session, int& numbers_in_the_way) {
  const Findings before = reconcile::reconcile(session);
  const Bench bench(session, before);
  int followed = 0;
  for (const bool for_limits : {false, true}) {
    for (const Quantity& quantity : for_limits ? before.limit_quantities : before.quantities) {
      if (quantity.determinable) continue;
      BOOST_REQUIRE(quantity.needs);
      const Need& need = *quantity.needs;
      if (need.weigh.empty() && !need.tape_overhang) continue;
      const Findings after = reconcile::reconcile(with(session, need, bench));
      ++followed;
      const auto state = quantity.state.value_or(""), at = quantity.at.value_or("");
      const Quantity* now =
          for_limits ? after.find_for_limit(quantity.name, state, at) : after.find(quantity.name, state, at);
      BOOST_TEST_CONTEXT(session.id << ": " << quantity.name << ' ' << state << ' ' << at << ": " << need.text
                                    << "; then: " << (now && now->needs ? now->needs->text : "-")) {
        BOOST_REQUIRE(now);
        // The bench's loads need not agree with what else was read; where they do not, no overhang may fit.
        if (now->needs && now->needs->weigh.empty() && !now->needs->tape_overhang)
          ++numbers_in_the_way;
        else
          BOOST_TEST(now->determinable);
      }
    }
  }
  return followed;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(needs)

BOOST_AUTO_TEST_CASE(what_is_said_makes_it_determinable_in_the_sample_fleet) {
  int followed = 0;
  int numbers_in_the_way = 0;
  for (const rig::Session& session : test::sample_fleet()) followed += follow(session, numbers_in_the_way);
  BOOST_TEST(followed >= 20);
  BOOST_TEST(numbers_in_the_way == 0);
}

BOOST_AUTO_TEST_CASE(what_is_said_makes_it_determinable_on_random_rigs) {
#ifdef __SANITIZE_ADDRESS__
  constexpr std::size_t most = 15;  // solving anew after every reading is slow there
#else
  constexpr std::size_t most = 40;
#endif
  int followed = 0;
  auto rigs = test::drawn("rigs");
  rigs.resize(std::min(rigs.size(), most));
  int numbers_in_the_way = 0;
  for (const rig::Session& session : rigs) followed += follow(session, numbers_in_the_way);
  BOOST_TEST(followed >= static_cast<int>(5 * most / 2));
  BOOST_TEST(numbers_in_the_way * 20 < followed);
}

BOOST_AUTO_TEST_CASE(every_gap_of_the_fleet_names_something_to_do) {
  for (const rig::Session& session : test::sample_fleet())
    for (const Quantity& quantity : reconcile::reconcile(session).quantities)
      if (!quantity.determinable) {
        BOOST_REQUIRE(quantity.needs);
        BOOST_TEST((!quantity.needs->weigh.empty() || quantity.needs->tape_overhang));
      }
}

BOOST_AUTO_TEST_SUITE_END()
