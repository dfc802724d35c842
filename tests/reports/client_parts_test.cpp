// The client's report as values: left and right, advice, departures from the method, room to load.
#include <boost/test/unit_test.hpp>

#include "assess/room.hpp"
#include "client_asked.hpp"

using namespace steelyard;
using namespace steelyard::test;

BOOST_AUTO_TEST_SUITE(client_report_parts)

BOOST_AUTO_TEST_CASE(left_and_right_stand_where_both_were_read) {
  test::Case one = test::whole_case();
  const auto above = [](const Report& report) {
    const auto pictures = blocks<Picture>(report.sheets.at(0));
    return std::any_of(pictures.begin(), pictures.end(), [](const Picture* picture) {
      return picture->title.find("from above") != std::string::npos;
    });
  };
  BOOST_TEST(!above(report_of(one)));  // one end alone is no pair
  auto right = *one.findings.find("wheel_load", "as driven", "tow.2.left");
  right.at = "tow.2.right";
  right.value = 925.1;  // 902.4 less 925.1 is the fixture's difference of −22.7
  one.findings.quantities.push_back(right);
  const Report report = report_of(one);
  BOOST_TEST(above(report));
  const auto tables = blocks<Table>(report.sheets.at(0));
  const Table& table = *tables.back();
  BOOST_TEST(table.title == "Left and right, as the rig travels");
  BOOST_REQUIRE_EQUAL(table.rows.size(), 1u);
  BOOST_TEST(words(table.rows[0].cells[0]) == "tow vehicle axle 2");
  BOOST_TEST(number(table.rows[0].cells[1]) == 902.4);
  BOOST_TEST(number(table.rows[0].cells[3]) == 925.1);
  BOOST_TEST(words(table.rows[0].cells[5]) == "right heavier by 22.7 kg ± 6.8 kg");
  const auto set = std::find_if(one.findings.quantities.begin(), one.findings.quantities.end(),
                                [](const auto& quantity) { return quantity.name == "side_difference"; });
  set->value = 6.7;  // less than U = 2 · 3.4
  BOOST_TEST(words(blocks<Table>(report_of(one).sheets.at(0)).back()->rows[0].cells[5]).starts_with("alike"));
}

BOOST_AUTO_TEST_CASE(opinion_is_given_on_what_is_outside_or_close_and_says_what_it_rests_on) {
  const Report report = report_of(test::over_case());
  const auto& opinions = *blocks<Table>(sheet(report, "Advice")).at(1);
  BOOST_REQUIRE(!opinions.rows.empty());
  const auto rear = std::find_if(opinions.rows.begin(), opinions.rows.end(),
                                 [](const TableRow& row) { return words(row.cells[0]) == "Rear axle load"; });
  BOOST_REQUIRE(rear != opinions.rows.end());
  BOOST_TEST((rear->cells[1].tone == Tone::over));
  for (const TableRow& row : opinions.rows) {
    const std::string said = words(row.cells[2]);
    BOOST_TEST((said.find("(statics)") != said.npos || said.find("(common practice)") != said.npos ||
                said.find("(guidance of") != said.npos),
               said);
  }
  BOOST_TEST(says(sheet(report, "Advice"),
                  "cures neither the trailer’s mass nor the combination’s nor the coupling’s"));
  const Report alone = report_of(test::alone_case());
  BOOST_TEST(blocks<Table>(sheet(alone, "Advice")).at(1)->rows.empty());
  BOOST_TEST(!says(sheet(alone, "Advice"), "Weight distribution"));
}

BOOST_AUTO_TEST_CASE(what_departs_from_the_method_is_said_and_a_doubtful_scale_on_the_front_page) {
  test::Case one = test::over_case();
  const Report over = report_of(one);
  BOOST_TEST(says(over.sheets.at(0), "out of date on the day of weighing"));
  BOOST_TEST(says(sheet(over, "Method"), "out of date on the day of weighing"));
  BOOST_TEST(!says(report_of(test::whole_case()).sheets.at(0), "out of date"));
  auto& states = one.session.states;
  auto& state = states.back();
  state.readings.resize(1);
  state.readings[0].struck = rig::Strike{"ramp touching", "R. Okoye", "2026-10-03T09:00:00+02:00"};
  state.readings[0].id = "r77";
  state.slope = rig::MeasuredSlope{8, {}};
  const Report report = report_of(one);
  BOOST_TEST(says(sheet(report, "Method"), "Set aside, on record with the reason on the sheet Readings: "));
  BOOST_TEST(says(sheet(report, "Method"), "r77 in “" + state.name + "”"));
  BOOST_TEST(says(sheet(report, "Method"),
                  "The ground was not level: “" + state.name + "”; the slope is allowed for."));
  std::erase_if(states, [](const rig::State& each) { return !each.hitched; });
  BOOST_TEST(says(sheet(report_of(one), "Method"), "The tow vehicle was not weighed alone."));
  BOOST_TEST(says(sheet(report_of(one), "Method"), "The trailer was not weighed alone."));
}

BOOST_AUTO_TEST_CASE(what_the_client_said_is_marked) {
  test::Case one = test::whole_case();
  one.session.client.reference = "WO-1182";
  one.session.rig.limits[0].source = "Owner's word";
  const Report report = report_of(one);
  BOOST_TEST(says(report.sheets.at(0), "WO-1182 †"));
  BOOST_TEST(says(sheet(report, "Limits"), "Owner's word †"));
  BOOST_TEST(!says(sheet(report, "Limits"), "compliance plate †"));
  BOOST_TEST(says(sheet(report, "Readings"), "Purpose †"));
}

BOOST_AUTO_TEST_CASE(room_is_rounded_down_and_says_which_rating_ends_it) {
  const test::Case one = test::whole_case();
  const Report report = report_of(one);
  const auto& table = *blocks<Table>(sheet(report, "Room")).at(0);
  const auto rooms = assess::room_to_load(one.session, one.findings, one.assessment,
                                          assess::places_to_load(one.session, one.findings));
  BOOST_REQUIRE_EQUAL(table.rows.size(), rooms.size());
  int told = 0;
  for (const auto& room : rooms) {
    if (!room.most) continue;
    const double shown = number(table.rows.at(static_cast<std::size_t>(told++)).cells.at(2));
    BOOST_TEST(shown <= room.most->kg + 1e-4);
    BOOST_TEST(shown > room.most->kg - 1);
  }
  BOOST_TEST(told > 0);
  BOOST_TEST(blocks<Columns>(sheet(report, "Room")).at(0)->rows == told);
  BOOST_TEST(says(sheet(report, "Room"), "weigh the rig again once it is loaded"));
}

BOOST_AUTO_TEST_SUITE_END()
