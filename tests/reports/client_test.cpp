// The client's report as values: what it says of hand-made findings, before any layout.
#include <unistd.h>

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>

#include "client_asked.hpp"
#include "reports/document/text_size.hpp"
#include "reports/words/figures.hpp"

namespace fs = std::filesystem;
using namespace steelyard;
using namespace steelyard::test;

namespace {

std::string bytes(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(client_report_values)

BOOST_AUTO_TEST_CASE(figures_are_rounded_to_their_uncertainty) {
  const ShownUnits kg, lb{units::LoadUnit::pound, units::LengthUnit::inch};
  using reconcile::Measure;
  // JCGM 100, 7.2.6: U with two significant figures, the value to the same decimals.
  BOOST_TEST(in_figures(1829.6, 5.2, Measure::kilogram, kg) == "1830 kg ± 10 kg");
  BOOST_TEST(in_figures(171.42, 2.31, Measure::kilogram, kg) == "171.4 kg ± 4.6 kg");
  BOOST_TEST(in_figures(-22.74, 3.4, Measure::kilogram, kg) == "−22.7 kg ± 6.8 kg");
  BOOST_TEST(in_figures(1850, std::nullopt, Measure::kilogram, kg) == "1850 kg");
  // 100 kg = 220.462… lb, 2 lb = 0.90718474 kg; 25.4 mm = 1 in.
  BOOST_TEST(in_figures(100, 0.45359237, Measure::kilogram, lb) == "220.5 lb ± 2.0 lb");
  BOOST_TEST(convert(25.4 * 0.45359237, Measure::kilogram_millimetre, lb) == 1.0,
             boost::test_tools::tolerance(1e-15));
  BOOST_TEST(convert(0.45359237 / 25.4, Measure::kilogram_per_millimetre, lb) == 1.0,
             boost::test_tools::tolerance(1e-15));
  BOOST_TEST(in_percent(0.09175, 0.00122) == "9.18 % ± 0.24 %");
  // A D-value is computed from ratings and has no uncertainty.
  BOOST_TEST(in_figures(29.234, 0.0, Measure::kilonewton, kg) == "29.23 kN");
}

BOOST_AUTO_TEST_CASE(the_sheets_and_the_number) {
  const Report report = report_of(test::whole_case());
  std::string names;
  for (const auto& one : report.sheets) names += one.name + ' ';
  BOOST_TEST(names == "Summary Readings Results Fit Limits Advice Room Method ");
  BOOST_TEST(report.number == "7c1a52f0-1");
  test::Case named = test::whole_case();
  named.session.id = "depot 4, third rig";
  BOOST_TEST(report_of(named).number == "depot 4, third rig-1");
  BOOST_TEST(report_of(test::over_case()).number == "7c1a52f0-2");
  BOOST_TEST(says(sheet(report_of(test::over_case()), "Method"),
                  "Replaces: 7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11 revision 1"));
}

BOOST_AUTO_TEST_CASE(who_weighs_stands_at_the_head_and_nothing_stands_for_nobody) {
  ClientOptions how = options();
  how.provider = test::sealed_case().provider;
  const Report named = report_of(test::whole_case(), how);
  BOOST_TEST(named.sheets.at(0).subtitle ==
             "Tallow Creek Weighing · 4 Depot Road, Tallow Creek · 555 0117 · licence 88-204");
  BOOST_TEST(says(sheet(named, "Method"), "Who weighed: R. Okoye; Tallow Creek Weighing · 4 Depot Road"));
  how.provider = {.name = {}, .address = {}, .contact = "555 0117", .identity = {}};
  BOOST_TEST(report_of(test::whole_case(), how).sheets.at(0).subtitle == "555 0117");
  const Report nobody = report_of(test::whole_case());
  BOOST_TEST(nobody.sheets.at(0).subtitle.empty());
  BOOST_TEST(says(sheet(nobody, "Method"), "Who weighed: R. Okoye; provider not given"));
  BOOST_TEST(!says(nobody.sheets.at(0), "provider"));
}

BOOST_AUTO_TEST_CASE(the_banner_says_the_outcome_in_words_and_with_a_sign) {
  const auto banner = [](const test::Case& one) -> Banner {
    const Report report = report_of(one);
    return *blocks<Banner>(report.sheets.at(0)).at(0);
  };
  BOOST_TEST(banner(test::whole_case()).headline == "WITHIN, BUT TOO CLOSE TO BE SURE");
  BOOST_TEST((banner(test::whole_case()).tone == Tone::close_within));
  BOOST_TEST(banner(test::over_case()).headline == "OUTSIDE A RATING: DO NOT TOW");
  BOOST_TEST(banner(test::incomplete_case()).headline == "NOT EVERY RATING COULD BE CHECKED");
  BOOST_TEST(banner(test::alone_case()).headline == "WITHIN EVERY RATING");
  // R + C(1 + o/L) = 1590 + 171.42 · 1.38574 = 1827.5 kg against 1790 kg: 37.5 kg over.
  BOOST_TEST(banner(test::over_case()).lines.at(1) ==
             "What decides it: Rear axle load is 1828 kg ± 10 kg against 1790 kg: 38 kg over.");
  for (const Tone tone : {Tone::within, Tone::close_within, Tone::close_over, Tone::over, Tone::unknown})
    BOOST_TEST(!sign_of(tone).empty());
}

BOOST_AUTO_TEST_CASE(what_decides_comes_first_and_the_bars_are_its_rows) {
  const Report report = report_of(test::over_case());
  const auto* table = blocks<Table>(report.sheets[0]).at(0);
  BOOST_TEST(words(table->rows.at(0).cells.at(0)) == "Rear axle load");
  BOOST_TEST(number(table->rows[0].cells.at(5)) == (1590 + 171.42 * (1 + 1190.0 / 3085)) / 1790);
  BOOST_TEST(words(table->rows[0].cells.at(6)) == "✕ over");
  // Two coupling ratings, the lower governs: 250 kg is there, 300 kg is not.
  BOOST_TEST(table->rows.size() == 6u);
  const auto* bars = blocks<Bars>(report.sheets[0]).at(0);
  BOOST_TEST(bars->rows == 6);
  BOOST_TEST(bars->tones.size() == 6u);
  BOOST_TEST(bars->maximum > number(table->rows[0].cells[5]));
}

BOOST_AUTO_TEST_CASE(a_rating_not_assessed_is_never_crowded_out_by_those_within) {
  test::Case one = test::incomplete_case();
  const assess::Row within = one.assessment.rows.at(0);
  for (int i = 0; i < 20; ++i) one.assessment.rows.insert(one.assessment.rows.begin(), within);
  const Report report = report_of(one);
  const auto* table = blocks<Table>(report.sheets[0]).at(0);
  const auto unknown = std::count_if(table->rows.begin(), table->rows.end(),
                                     [](const TableRow& row) { return row.cells[6].tone == Tone::unknown; });
  BOOST_TEST(unknown == 2);
  BOOST_TEST(table->rows.size() == 8u);
  BOOST_TEST(says(report.sheets[0], "more are on the sheet Limits"));
  BOOST_TEST(says(report.sheets[0],
                  "Trailer mass: the trailer’s mass is not known: weigh every trailer axle in one state"));
}

BOOST_AUTO_TEST_CASE(doubts_are_said_beside_the_outcome) {
  BOOST_TEST(says(report_of(test::over_case()).sheets[0],
                  "A reading behind this outcome does not fit the others: tow vehicle axle 2, left, state "
                  "“as driven”, or one of 1 "
                  "more. Weigh it again first; see the sheet Fit."));
  BOOST_TEST(says(report_of(test::alone_case()).sheets[0], "No reading is more than needed"));
  BOOST_TEST(!says(report_of(test::whole_case()).sheets[0], "does not fit"));
}

BOOST_AUTO_TEST_CASE(the_lever_in_words_and_the_coupling_load) {
  const Report report = report_of(test::whole_case());
  // o/L = 1190/3085 = 0.3857; C/M = 171.42/1868.3 = 9.175 %.
  BOOST_TEST(
      says(report.sheets[0],
           "Each 100 kg on the coupling puts 139 kg on the rear axle and takes 39 kg off the front axle."));
  BOOST_TEST(says(report.sheets[0], "171.4 kg ± 4.6 kg, which is 9.18 % ± 0.24 % of the trailer’s mass"));
  test::Case light = test::whole_case();
  for (auto& quantity : light.findings.quantities)
    if (quantity.name == "coupling_load") quantity.value = -12;
  BOOST_TEST(says(report_of(light).sheets[0], "negative or near nothing: the trailer can sway"));
  // A coupling ahead of the rear axle loads both: o/L = −0.05.
  test::Case ahead = test::whole_case();
  for (auto& quantity : ahead.findings.quantities) {
    if (quantity.name == "load_transfer_ratio") quantity.value = 0.95;
    if (quantity.name == "front_relief_ratio") quantity.value = -0.05;
  }
  BOOST_TEST(says(report_of(ahead).sheets[0], "puts 95 kg on the rear axle and 5 kg on the front axle"));
}

BOOST_AUTO_TEST_CASE(every_caution_is_there) {
  const Report report = report_of(test::whole_case());
  for (const char* caution :
       {"Change any of these and they change", "no weighing for trade or for enforcement",
        "not certified here", "licensed engineer", "not to be towed until",
        "level ground, on the height of the coupling and on the wind", "can let a trailer sway",
        "rated pressure and speed", "cures neither of those limits"})
    BOOST_TEST(says(report.sheets[0], caution), caution);
  for (const char* said : {"of the items weighed only", "ILAC-G8:09/2019", "common practice of the trade",
                           "No accreditation", "supplied by the client"})
    BOOST_TEST(says(sheet(report, "Method"), said), said);
}

BOOST_AUTO_TEST_CASE(readings_stay_as_entered_and_set_aside_ones_say_why) {
  const Report report = report_of(test::whole_case());
  const auto& readings = sheet(report, "Readings");
  const auto* table = blocks<Table>(readings).back();
  BOOST_TEST(table->rows.size() == 12u);
  BOOST_TEST(number(table->rows.at(7).cells.at(2)) == 1790);
  BOOST_TEST(table->rows[7].cells[2].struck);
  BOOST_TEST(words(table->rows[7].cells.at(8)) ==
             "door open, man on the step (R. Okoye, 3 October 2026, 09:02 (UTC+02:00))");
  BOOST_TEST(!table->rows[8].cells[2].struck);
  BOOST_TEST(!says(readings, "OUT OF DATE"));
  // Due on 31 January, weighed on 3 October 2026.
  BOOST_TEST(says(sheet(report_of(test::over_case()), "Readings"),
                  "✕ due 2026-01-31: OUT OF DATE on the day of weighing"));
}

BOOST_AUTO_TEST_CASE(a_due_date_counts_to_the_end_of_its_day_and_an_unreadable_one_not_at_all) {
  test::Case one = test::whole_case();
  one.session.scales[0].due = "2026-10-03";
  BOOST_TEST(!says(sheet(report_of(one), "Readings"), "OUT OF DATE"));
  one.session.scales[0].due = "2026-10-02";
  BOOST_TEST(says(sheet(report_of(one), "Readings"), "OUT OF DATE"));
  one.session.scales[0].due = "next spring";
  BOOST_TEST(says(sheet(report_of(one), "Readings"), "OUT OF DATE"));
}

namespace {

Report with_record(const test::Case& one) {
  ClientOptions how = options();
  how.record = one.record;
  return report_of(one, how);
}

}  // namespace

BOOST_AUTO_TEST_CASE(what_is_sealed_says_by_whom_when_and_with_every_digit) {
  const Report report = with_record(test::sealed_case());
  BOOST_TEST(report.standing == "sealed, seal 3");
  BOOST_TEST(report.number == "7c1a52f0-2");
  for (const std::string_view said :
       {"7c1a52f0-2, an amendment: see Method", "Record: sealed, seal 3; digits on the sheet Method",
        "Sealed: by M. Adeyemi, 5 October 2026, 07:30 (UTC)"})
    BOOST_TEST(says(sheet(report, "Summary"), said), said);
  for (const std::string_view said :
       {"Replaces: 7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11@1; what was replaced stays on record",
        "Amended: jockey reading was on the other card, by R. Okoye, 5 October 2026, 09:10 (UTC+02:00)",
        "Sealed: by M. Adeyemi, 5 October 2026, 07:30 (UTC); seal 3 of store 0f1e2d3c",
        "Seal: aaaaaaaaaaaaaaaa aaaaaaaaaaaaaaaa 1111111111111111 1111111111111111",
        "Content: cccccccccccccccc cccccccccccccccc 0000000000000000 0000000000000000",
        "Chain: of store 0f1e2d3c, at seal 12",
        "Head: bbbbbbbbbbbbbbbb bbbbbbbbbbbbbbbb 2222222222222222 2222222222222222",
        "File: compliance plate, to limit 1, by R. Okoye, 3 October 2026, 07:00 (UTC)",
        "File: scale display, to reading r4; the file was erased", "SHA-256: dddddddddddddddd dddddddddddddddd"})
    BOOST_TEST(says(sheet(report, "Method"), said), said);
}

BOOST_AUTO_TEST_CASE(the_head_is_not_said_twice_where_the_chain_ends_with_this_seal) {
  test::Case one = test::sealed_case();
  one.record->chain_head = one.record->seal_head;
  BOOST_TEST(!says(sheet(with_record(one), "Method"), "Chain:"));
  BOOST_TEST(says(sheet(with_record(one), "Method"), "Seal: aaaa"));
}

BOOST_AUTO_TEST_CASE(what_is_not_sealed_can_still_change_and_two_copies_do_not_share_a_number) {
  const Report report = with_record(test::conflict_case());
  BOOST_TEST(report.standing == "not sealed");
  BOOST_TEST(report.number == "7c1a52f0-1.aaaa1111");
  const auto& summary = sheet(report, "Summary");
  BOOST_TEST(says(summary, "Record: not sealed: can still change"));
  const auto warnings = blocks<Paragraph>(summary);
  BOOST_TEST(std::any_of(warnings.begin(), warnings.end(), [](const Paragraph* one) {
    return one->kind == Paragraph::Kind::warning &&
           one->text == "Another copy of this revision with other content is in the store: "
                        "7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11@1.bbbb2222.";
  }));
  BOOST_TEST(says(sheet(report, "Method"), "Redacted: names and identities were erased"));
}

BOOST_AUTO_TEST_CASE(without_a_store_nothing_is_said_of_a_record) {
  const Report report = report_of(test::sealed_case());
  BOOST_TEST(report.standing.empty());
  for (const SheetContent& one : report.sheets)
    for (const std::string_view word : {"Record:", "The record", "Sealed", "not sealed", "SHA-256"})
      BOOST_TEST(!says(one, word), one.name + " says " + std::string(word));
  BOOST_TEST(says(sheet(report, "Method"), "Amended: jockey reading was on the other card"));  // the sheet's own
}

BOOST_AUTO_TEST_CASE(check_weights_and_what_is_off_stand_with_the_scales) {
  const Report report = report_of(test::sealed_case());
  const auto& readings = sheet(report, "Readings");
  BOOST_TEST(says(readings, "✕ showed 0 kg unloaded before the weighing and 4 kg after: its zero moved by 4 kg"));
  const auto tables = blocks<Table>(readings);
  const auto found = std::find_if(tables.begin(), tables.end(),
                                  [](const Table* one) { return one->title == "Check weights"; });
  BOOST_REQUIRE(found != tables.end());
  const auto& rows = (*found)->rows;
  BOOST_REQUIRE_EQUAL(rows.size(), 2u);
  BOOST_TEST(words(rows[0].cells[1]) == "500 kg");
  BOOST_TEST(number(rows[0].cells[3]) == 0.5);
  BOOST_TEST(words(rows[0].cells[6]) == "within");
  BOOST_TEST(number(rows[1].cells[3]) == 9);
  BOOST_TEST(words(rows[1].cells[6]) == "✕ beyond");
  BOOST_TEST((rows[1].cells[6].tone == Tone::over));
  BOOST_TEST(!says(sheet(report_of(test::whole_case()), "Readings"), "Check weights"));
}

BOOST_AUTO_TEST_CASE(results_hold_every_digit_in_either_unit) {
  const test::Case one = test::whole_case();
  for (const bool pounds : {false, true}) {
    ClientOptions how = options();
    if (pounds) how.units = ShownUnits{units::LoadUnit::pound, units::LengthUnit::inch};
    const Report report = report_of(one, how);
    const auto* table = blocks<Table>(sheet(report, "Results")).at(0);
    BOOST_TEST(table->rows.size() == one.findings.quantities.size());
    const double factor = pounds ? 0.45359237 : 1;
    BOOST_TEST(number(table->rows.at(3).cells.at(3)) == 171.42 / factor);
    BOOST_TEST(number(table->rows[3].cells.at(4)) == 2.31 / factor);
    BOOST_TEST(words(table->rows[3].cells.at(8)) == (pounds ? "lb" : "kg"));
    BOOST_TEST(number(table->rows.at(7).cells.at(6)) == 1.3627);  // the interval of a ratio, in no unit
    BOOST_TEST(says(sheet(report, "Results"), "converted exactly") == pounds);
  }
  const Report report = report_of(one);
  const auto* table = blocks<Table>(sheet(report, "Results")).at(0);
  BOOST_TEST(words(table->rows.back().cells.at(3)) == "unknown");
  BOOST_TEST(words(table->rows.back().cells.at(9)) ==
             "weigh the coupling at a second height, 100 mm higher or lower");
}

BOOST_AUTO_TEST_CASE(what_nothing_checks_is_said_to_be_unchecked) {
  const Report report = report_of(test::over_case());
  const auto* table = blocks<Table>(sheet(report, "Fit")).at(0);
  BOOST_TEST(words(table->rows.at(0).cells.at(11)).starts_with("unchecked"));
  BOOST_TEST((table->rows[0].cells.at(9).value.index() == 0));  // no statistic for it
  BOOST_TEST(words(table->rows.at(2).cells.at(11)) == "✕ does not fit");
  BOOST_TEST(says(sheet(report, "Fit"),
                  "One of these is off; the readings cannot tell which: reading r10, tow vehicle axle 2, left, "
             "in “as driven”, about 90 kg too low; reading r9, tow vehicle axle 2, in “together”, about 88 kg "
             "too high."));
}

BOOST_AUTO_TEST_CASE(limits_name_their_sources_and_advice_stands_apart) {
  const Report report = report_of(test::whole_case());
  const auto tables = blocks<Table>(sheet(report, "Limits"));
  BOOST_REQUIRE(tables.size() == 1u);
  BOOST_TEST(tables[0]->rows.size() == 7u);
  const auto guidance = blocks<Table>(sheet(report, "Advice"));
  BOOST_REQUIRE(guidance.size() == 2u);
  BOOST_TEST(guidance[0]->rows.size() == 2u);
  BOOST_TEST(words(tables[0]->rows.at(2).cells.at(9)) == "compliance plate, 2024; read by R. Okoye");
  BOOST_TEST(words(tables[0]->rows[2].cells.at(1)) == "as driven →");  // the rig travels so
  BOOST_TEST(words(tables[0]->rows.at(3).cells.at(8)).starts_with("governs"));
  BOOST_TEST(words(tables[0]->rows.at(4).cells.at(8)).starts_with("a lower one governs"));
  BOOST_TEST(words(guidance[0]->rows.at(0).cells.at(7)) == "✓ within");
}

BOOST_AUTO_TEST_CASE(one_regions_words_at_a_time) {
  const test::Case one = test::whole_case();
  ClientOptions how = options();
  how.words = Region::north_america;
  const Report report = report_of(one, how);
  BOOST_TEST(says(sheet(report, "Limits"), "Tow vehicle mass (GVWR)"));
  BOOST_TEST(says(sheet(report, "Limits"), "Tongue weight: towbar plate"));
  for (const char* other : {"GVM", "noseweight", "tow-ball"})
    BOOST_TEST(!says(sheet(report, "Limits"), other), other);
}

BOOST_AUTO_TEST_CASE(widths_of_texts_are_those_of_the_font) {
  // Helvetica's metrics: H 722, e 556, l 222, o 556 thousandths.
  BOOST_TEST(document::text_width("Hello", 10, false) == 22.78, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(document::wrapped_lines("Hello Hello", 10, false, 50) == 1);  // 48.34 points
  BOOST_TEST(document::wrapped_lines("Hello Hello", 10, false, 48) == 2);
  BOOST_TEST(document::wrapped_lines(std::string(100, 'e'), 10, false, 55.6) == 10);
  BOOST_TEST(document::wrapped_lines("a\nb", 10, false, 50) == 2);
}

BOOST_AUTO_TEST_CASE(the_same_findings_give_the_same_bytes) {
  std::string name = (fs::temp_directory_path() / "steelyard-client-").string() + std::string(6, 'X');
  const fs::path folder = ::mkdtemp(name.data());
  for (const char* which : {"whole", "hostile", "alone"}) {
    const test::Case one = test::named_case(which);
    write_client_workbook(one.session, one.findings, one.assessment, options(), folder / "one.xlsx");
    write_client_workbook(one.session, one.findings, one.assessment, options(), folder / "two.xlsx");
    BOOST_TEST((bytes(folder / "one.xlsx") == bytes(folder / "two.xlsx")));
  }
  BOOST_CHECK_THROW(
      write_client_workbook(test::whole_case().session, {}, {}, options(), folder / "none" / "a.xlsx"),
      WorkbookRefused);
  fs::remove_all(folder);
}

BOOST_AUTO_TEST_SUITE_END()
