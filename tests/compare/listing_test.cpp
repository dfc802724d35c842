// What a comparison lists beside the differences: states, limits, what was fitted, what was not the same.
// Expected figures are read off the sheets or worked out by hand.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "pairs.hpp"

namespace {

using namespace steelyard;
using compare::Comparison;
using test::after_springs;
using test::before_springs;
using test::compared;

std::vector<compare::Unlike> of_kind(const Comparison& all, std::string_view kind) {
  std::vector<compare::Unlike> out;
  std::copy_if(all.unlike.begin(), all.unlike.end(), std::back_inserter(out),
               [&](const compare::Unlike& row) { return row.kind == kind; });
  return out;
}

const compare::Fitted::Check& check_of(const Comparison& all, std::string_view name) {
  const auto found = std::find_if(all.fitted.checks.begin(), all.fitted.checks.end(),
                                  [&](const compare::Fitted::Check& check) { return check.name == name; });
  BOOST_REQUIRE(found != all.fitted.checks.end());
  return *found;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(listing)

BOOST_AUTO_TEST_CASE(the_sample_pair) {
  const Comparison all = compared(before_springs(), after_springs());
  BOOST_TEST((all.tow_vehicle == compare::Same::yes && all.trailer == compare::Same::yes));
  BOOST_TEST(all.states.size() == 2);
  // Five scales, the wheelbase, coupling to axles, height sensitivity; the two overhangs are two lengths.
  BOOST_TEST(all.common.size() == 8);
  BOOST_TEST(all.unlike.size() == 1);
  BOOST_TEST(of_kind(all, "coupling_height").size() == 1);
  BOOST_TEST(*of_kind(all, "coupling_height")[0].before == "398 mm");
  BOOST_TEST(*all.find("coupling_load")->difference->significant());
  BOOST_TEST(!*all.find("trailer_mass")->difference->significant());
}

BOOST_AUTO_TEST_CASE(limits_that_changed) {
  rig::Session after = after_springs();
  auto& limits = after.rig.limits;
  limits.erase(limits.begin());  // tow_gross
  rig::Limit added;
  added.kind = rig::LimitKind::trailer_axles;
  added.load = units::Load{2100};
  added.source = "trailer plate";
  limits.push_back(added);
  const Comparison all = compared(before_springs(), after);
  for (const compare::LimitCompared& row : all.limits) {
    BOOST_TEST(row.removed() == (row.of == "tow_gross"));
    BOOST_TEST(row.added() == (row.of == "trailer_axles"));
    BOOST_TEST(row.rating_changed() == (row.of == "tow_rear"));  // 1680 by the plate, 1800 by the certificate
    BOOST_TEST(row.source_changed() == (row.of == "tow_rear"));
    if (row.of != "tow_rear" || row.state_after != "together") continue;
    BOOST_TEST(row.outcome_changed());
    BOOST_TEST((row.before->outcome == assess::Outcome::fail && row.after->outcome == assess::Outcome::pass));
    BOOST_TEST((*row.before->rating == 1680 && *row.after->rating == 1800));
  }
  const auto count = [&](std::string_view of) {
    return std::count_if(all.limits.begin(), all.limits.end(), [&](const auto& row) { return row.of == of; });
  };
  BOOST_TEST(count("tow_gross") == 2);
  BOOST_TEST(count("trailer_axles") >= 1);
  BOOST_TEST(count("trailer_gross") == 1);
}

// Hand calculation: 22 kg at 3130 mm stands wholly on the rear axle (wheelbase 3130 mm).
BOOST_AUTO_TEST_CASE(fitted_against_the_axles) {
  const Comparison all = compared(before_springs(), after_springs());
  BOOST_TEST(all.fitted.added.size() == 3);
  BOOST_TEST(all.fitted.removed.empty());
  BOOST_TEST(*all.fitted.mass == 22);
  BOOST_TEST(*all.fitted.moment == 22 * 3130);
  BOOST_TEST((all.fitted.without_mass == 1 && all.fitted.without_place == 0));
  BOOST_TEST(check_of(all, "tow_unhitched_rear").declared == 22, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(std::abs(check_of(all, "tow_unhitched_front").declared) < 1e-9);
  for (const compare::Fitted::Check& check : all.fitted.checks) {
    const compare::Compared& found = *all.find(check.name);
    BOOST_TEST(check.beyond.value == found.difference->value - check.declared);
    BOOST_TEST(*check.beyond.en == check.beyond.value / (2 * found.difference->u),
               boost::test_tools::tolerance(1e-12));
    BOOST_TEST(!*check.beyond.significant());
  }
}

BOOST_AUTO_TEST_CASE(what_is_still_fitted_is_neither_added_nor_removed) {
  rig::Session before = before_springs(), after = after_springs();
  rig::Modification tank;
  tank.what = "long-range tank";
  tank.mass = units::Load{38};
  tank.at = units::Length{2600};
  before.modifications = {tank};
  // As the page converts it for a weighing in pounds and inches, to 15 digits.
  tank.mass = units::Load{83.7756596302535, units::LoadUnit::pound};
  tank.at = units::Length{102.362204724409, units::LengthUnit::inch};
  after.modifications = {tank};
  BOOST_TEST(compared(before, after).fitted.nothing());
  after.modifications.push_back(tank);  // a second one
  BOOST_TEST(compared(before, after).fitted.added.size() == 1);
  BOOST_TEST(*compared(before, after).fitted.mass == 38, boost::test_tools::tolerance(1e-9));
  tank.mass = units::Load{84, units::LoadUnit::pound};
  after.modifications = {tank};
  BOOST_TEST((compared(before, after).fitted.added.size() == 1 && compared(before, after).fitted.removed.size() == 1));
  tank.mass.reset();
  after.modifications = {tank};
  BOOST_TEST(compared(before, after).fitted.removed.size() == 1);
}

// Hand calculation: 80 kg at 626 mm of 3130 mm put a fifth, 16 kg, on the rear axle; 30 kg taken off from
// 4695 mm take 1.5 times that, 45 kg, off the rear axle and put 15 kg on the front one.
BOOST_AUTO_TEST_CASE(split_between_the_axles) {
  rig::Session before = before_springs(), after = after_springs();
  rig::Modification one, other;
  one.what = "winch and bar";
  one.mass = units::Load{80};
  one.at = units::Length{626};
  other.what = "spare wheel carrier";
  other.mass = units::Load{30};
  other.at = units::Length{4695};
  after.modifications = {one};
  before.modifications = {other};
  const Comparison all = compared(before, after);
  BOOST_TEST((all.fitted.added.size() == 1 && all.fitted.removed.size() == 1));
  BOOST_TEST(check_of(all, "tow_unhitched_total").declared == 50);
  BOOST_TEST(check_of(all, "tow_unhitched_rear").declared == 16 - 45, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(check_of(all, "tow_unhitched_front").declared == 64 + 15, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(*check_of(all, "tow_unhitched_front").beyond.significant());  // 79 kg were never put there
  BOOST_TEST(check_of(all, "trailer_mass").declared == 0);

  after.modifications[0].at.reset();
  const Comparison placeless = compared(before, after);
  BOOST_TEST(placeless.fitted.without_place == 1);
  BOOST_TEST(!placeless.fitted.moment);
  BOOST_TEST(placeless.fitted.checks.size() == 3);
}

BOOST_AUTO_TEST_CASE(what_was_not_the_same) {
  rig::Session before = before_springs(), after = after_springs();
  before.carried.fuel_percent.reset();
  after.carried.occupants = 3;
  after.carried.note = "tanks full";
  after.weighed.place = "Depot 2";
  after.conditions.surface = "gravel";
  after.placement_u = 0.004;
  after.scales[0].calibrated = "2026-09-01";
  after.scales[1].uid = "scale-9999";
  after.states[1].coupling_height.reset();
  const Comparison all = compared(before, after);
  BOOST_REQUIRE(of_kind(all, "fuel").size() == 1);
  BOOST_TEST((!of_kind(all, "fuel")[0].before && *of_kind(all, "fuel")[0].after == "80 %"));
  BOOST_TEST(*of_kind(all, "occupants")[0].after == "3");
  for (const char* kind : {"load_note", "place", "surface", "placement", "coupling_height"})
    BOOST_TEST(of_kind(all, kind).size() == 1, kind);
  BOOST_TEST(of_kind(all, "scale").size() == 3);  // one calibrated, one gone, one new
  BOOST_TEST(all.common.size() == 6);
  before.carried.occupants.reset();
  after.carried.occupants.reset();
  BOOST_TEST(of_kind(compared(before, after), "occupants").size() == 1);  // nobody said
}

// Hand calculation: 100 mm apart by the usual ± 2·1.0 kg/mm of an independent suspension, or as found.
BOOST_AUTO_TEST_CASE(worth_of_a_height) {
  rig::Session before = before_springs(), after = after_springs();
  before.states.erase(before.states.begin() + 1);
  after.states.erase(after.states.begin() + 1);
  after.states[0].coupling_height->value.figure = before.states[0].coupling_height->value.figure + 100;
  const Comparison all = compared(before, after);
  const auto rows = of_kind(all, "coupling_height");
  BOOST_REQUIRE(rows.size() == 1);
  BOOST_REQUIRE(rows[0].size);
  BOOST_TEST(rows[0].size->value == 0);
  BOOST_TEST(rows[0].size->u == 100, boost::test_tools::tolerance(1e-9));
}

BOOST_AUTO_TEST_CASE(states_are_matched_by_arrangement) {
  rig::Session before = before_springs(), after = after_springs();
  after.states[0].name = "trailer off";
  after.states[1].name = "on the hitch";
  Comparison all = compared(before, after);
  BOOST_TEST(all.states.size() == 2);
  BOOST_TEST(of_kind(all, "state").size() == 2);
  BOOST_TEST(all.find("tow_hitched_front", "on the hitch"));

  after.states[1].weight_distribution = true;  // fitted with bars: the states it travels in, not alike
  all = compared(before, after);
  BOOST_REQUIRE(all.states.size() == 2);
  BOOST_TEST(!all.states[1].alike);
  BOOST_TEST(all.find("tow_hitched_front", "on the hitch")->arranged_otherwise);

  before.states.erase(before.states.begin() + 1);
  all = compared(before, after);
  BOOST_TEST(all.states.size() == 1);
  BOOST_TEST(!all.find("tow_hitched_front", "on the hitch"));
}

BOOST_AUTO_TEST_CASE(another_trailer) {
  rig::Session after = after_springs();
  after.rig.trailer->uid = "tcw-t11";
  const Comparison all = compared(before_springs(), after);
  BOOST_TEST((all.trailer == compare::Same::no));
  BOOST_TEST(of_kind(all, "trailer").size() == 1);
  for (const char* name : {"trailer_mass", "coupling_load", "combination_mass"})
    BOOST_TEST(all.find(name)->another_trailer, name);
  BOOST_TEST(all.find("tow_hitched_front", "together")->another_trailer);
  BOOST_TEST(all.find("axle_load", "apart", "trailer.1")->another_trailer);
  for (const char* name : {"tow_unhitched_total", "overhang"}) BOOST_TEST(!all.find(name)->another_trailer, name);
  BOOST_TEST(!all.find("axle_load", "apart", "tow.1")->another_trailer);
  BOOST_TEST(all.common.size() == 6);  // what is the trailer's is not common
  for (const compare::Fitted::Check& check : all.fitted.checks) BOOST_TEST(check.name.starts_with("tow_"));
}

BOOST_AUTO_TEST_CASE(another_tow_vehicle_is_refused) {
  rig::Session after = after_springs();
  after.rig.tow_vehicle.uid = "tcw-019";
  BOOST_CHECK_EXCEPTION(compared(before_springs(), after), compare::NotOneRig, [](const auto& error) {
    return std::string(error.what()).find("same uid") != std::string::npos;
  });
  after.rig.tow_vehicle.uid.clear();
  BOOST_TEST((compared(before_springs(), after).tow_vehicle == compare::Same::yes));  // by registration
  after.rig.tow_vehicle.registration.clear();
  const Comparison all = compared(before_springs(), after);
  BOOST_TEST((all.tow_vehicle == compare::Same::unknown));
  BOOST_TEST(of_kind(all, "tow_vehicle").size() == 1);
  BOOST_TEST(all.common.size() == 7);  // the wheelbase may be another vehicle's
}

BOOST_AUTO_TEST_CASE(known_on_one_side_only) {
  rig::Session after = after_springs();
  after.states.pop_back();  // hitched: without it no overhang from the weights
  const Comparison all = compared(before_springs(), after);
  const compare::Compared* row = all.find("inferred_overhang");
  BOOST_REQUIRE(row);
  BOOST_TEST((row->before && !row->after && !row->difference));
  BOOST_TEST(!row->reason_after->empty());
  BOOST_TEST(!row->reason_before);
  BOOST_TEST(of_kind(all, "state").size() == 1);
}

BOOST_AUTO_TEST_SUITE_END()
