// The terminal's table: harmless text, widths in columns, figures in the reader's units and rounded to their
// uncertainty. Expected figures are hand calculations; the exact crossings are those of units/quantity.hpp.
#include <boost/test/unit_test.hpp>
#include <sstream>

#include "reports/table/figures.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/terminal_text.hpp"

using namespace steelyard;
using namespace steelyard::reports;
using reconcile::Measure;

BOOST_AUTO_TEST_SUITE(table)

BOOST_AUTO_TEST_CASE(what_a_terminal_acts_on_is_shown) {
  BOOST_TEST(printable("plain, Brunnhölzl ÷ 漢") == "plain, Brunnhölzl ÷ 漢");
  BOOST_TEST(printable("a\x1b[31mb\r\n\tc\x7f") == "a\\x1b[31mb\\x0d\\n\\tc\\x7f");
  BOOST_TEST(printable("\u202egnp\u2066\u200b\ufeff") == "\\u202egnp\\u2066\\u200b\\ufeff");
  BOOST_TEST(printable("\u009b31m") == "\\x9b31m");  // the one-byte form of ESC [
  BOOST_TEST(printable("\U000e0041") == "\\U000e0041");
}

BOOST_AUTO_TEST_CASE(broken_utf8_is_shown_byte_by_byte) {
  BOOST_TEST(printable("a\xff\xc3") == "a\\xff\\xc3");
  BOOST_TEST(printable("\xc0\xaf") == "\\xc0\\xaf");                    // overlong /
  BOOST_TEST(printable("\xed\xa0\x80") == "\\xed\\xa0\\x80");           // a surrogate
  BOOST_TEST(printable("\xf4\x90\x80\x80") == "\\xf4\\x90\\x80\\x80");  // above U+10FFFF
  BOOST_TEST(printable("\xe2\x82") == "\\xe2\\x82");                    // cut short
}

BOOST_AUTO_TEST_CASE(widths_are_columns) {
  BOOST_TEST(display_width("abc") == 3u);
  BOOST_TEST(display_width("± é") == 3u);
  BOOST_TEST(display_width("e\u0301") == 1u);
  BOOST_TEST(display_width("漢字") == 4u);
  BOOST_TEST(pad_left("漢", 4) == "  漢");
  BOOST_TEST(pad_right("é", 3) == "é  ");
  BOOST_TEST(cut("abcdef", 4) == "abc…");
  BOOST_TEST(cut("漢字漢字", 4) == "漢…");  // a half of a wide letter is not shown
}

BOOST_AUTO_TEST_CASE(wrapping) {
  const std::vector<std::string> three{"one", "two", "three"};
  BOOST_TEST(wrap("one two three", 5) == three, boost::test_tools::per_element());
  const std::vector<std::string> broken{"abcd", "efgh", "i j"};
  BOOST_TEST(wrap("abcdefghi j", 4) == broken, boost::test_tools::per_element());
  BOOST_TEST(paragraph("- ", "one two", 6) == "- one\n  two\n");
  BOOST_TEST(wrap("", 10).size() == 1u);
}

BOOST_AUTO_TEST_CASE(figures_in_kilograms_and_millimetres) {
  const Figures figures{ShownUnits{}};
  BOOST_TEST(figures.with_u(1829.61, 2.6, Measure::kilogram) == "1829.6 ± 5.2");
  BOOST_TEST(figures.with_u(1829.61, 12.0, Measure::kilogram) == "1830 ± 24");
  BOOST_TEST(figures.with_u(1190, std::nullopt, Measure::millimetre) == "1190.0");
  BOOST_TEST(figures.with_u(0.0961, 0.001, Measure::one, true) == "9.6 ± 0.2");
  BOOST_TEST(figures.unit(Measure::one, true) == "%");
  BOOST_TEST(figures.unit(Measure::kilogram_millimetre) == "kg·mm");
}

BOOST_AUTO_TEST_CASE(figures_in_pounds_and_inches) {
  const Figures figures{{units::LoadUnit::pound, units::LengthUnit::inch}};
  BOOST_TEST(figures.rating(7200 * 0.45359237, Measure::kilogram) == "7200");
  // 1000 kg / 0.45359237 = 2204.62 lb; u 5 kg = 11.02 lb, U = 22.05.
  BOOST_TEST(figures.with_u(1000, 5.0, Measure::kilogram) == "2205 ± 22");
  // 254 mm = 10 in; u 5.08 mm = 0.2 in.
  BOOST_TEST(figures.with_u(254, 5.08, Measure::millimetre) == "10.0 ± 0.4");
  // 1 kg/mm = 25.4/0.45359237 = 55.997 lb/in.
  BOOST_TEST(figures.alone(1, 0.1, Measure::kilogram_per_millimetre) == "56");
  BOOST_TEST(figures.unit(Measure::kilogram_per_millimetre) == "lb/in");
}

namespace {

rig::Session hostile() {
  rig::Session session;
  session.id = "s\x1b[2J";
  session.client.name = std::string(300, 'w') + "\u202e";
  session.weighed.place = "yard\r\n\x07";
  session.rig.tow_vehicle.label = "\u009b2J漢字" + std::string(100, 'x');
  session.rig.tow_vehicle.axles = {{{0}, rig::Group::front}, {{3000}, rig::Group::rear}};
  rig::Limit limit;
  limit.load = units::Load{2000};
  limit.source = "plate\x1b]0;x\x07";
  session.rig.limits = {limit};
  rig::State state;
  state.name = "as \u2066driven " + std::string(60, 'y');
  rig::Reading reading;
  reading.id = "r1";
  reading.at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
  reading.load = {901};
  reading.struck = rig::Strike{"why\x1b", "who\u202e", ""};
  state.readings = {reading};
  session.states = {state};
  return session;
}

/// Blanks and line ends as one blank each: where a phrase breaks is not the point.
std::string unbroken(const std::string& text) {
  std::istringstream words(text);
  std::string joined;
  for (std::string word; words >> word;) joined += (joined.empty() ? "" : " ") + word;
  return joined;
}

void check_harmless(const std::string& text) {
  BOOST_TEST(!text.empty());
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    BOOST_TEST(display_width(line) <= table_width, line);
    BOOST_TEST(printable(line) == line);
  }
}

}  // namespace

BOOST_AUTO_TEST_CASE(hostile_sheets_stay_text_within_the_width) {
  const rig::Session session = hostile();
  check_harmless(session_table(session));

  reconcile::Findings findings;
  reconcile::Quantity load{"axle_load", session.states[0].name, "tow.1", Measure::kilogram, true, 901, 2, {},
                           {}};
  reconcile::Quantity open{"trailer_mass", {}, {}, Measure::kilogram, false, 0, 0, {}, {}};
  open.needs.emplace().text = "weigh \x1b" + std::string(200, 'z');
  findings.quantities = {load, open};
  reconcile::Observation reading;
  reading.id = "r\x1b";
  reading.state = session.states[0].name;
  reading.at = "tow.1";
  reading.u = 2;
  findings.observations = {reading};
  findings.suspects.emplace_back().members = {{0, -40}};
  findings.fit = {5, 3, 2, 30.5, 0.00001, false, 3};
  assess::Assessment assessment;
  assess::Row over;
  over.state = session.states[0].name;
  over.rating = 2000;
  over.value = 2100;
  over.u = 3;
  over.margin = -100;
  over.outcome = assess::Outcome::fail;
  over.source = session.rig.limits[0].source;
  over.travels = true;
  assess::Row unknown = over;
  unknown.value = unknown.u = unknown.margin = std::nullopt;
  unknown.outcome = assess::Outcome::not_assessed;
  unknown.reason = "weigh\x07 it";
  assessment.rows = {over, unknown};
  assessment.outcome = assess::RigOutcome::fail;
  std::string text = result_table(session, findings, assessment);
  check_harmless(text);
  text = unbroken(text);
  for (const std::string_view said :
       {"901.0 ± 4.0", "-100.0", "40 kg too low", "do NOT agree", "No single blunder"})
    BOOST_TEST(text.find(said) != std::string::npos, said);
  BOOST_TEST(text.find("chi-square") == std::string::npos);
  const std::string detail = result_table(session, findings, assessment, nullptr, true);
  check_harmless(detail);
  for (const std::string_view said : {"chi-square 30.5", "p under 0.0001"})
    BOOST_TEST(unbroken(detail).find(said) != std::string::npos, said);
}

namespace {

rig::RecordNote sealed() {
  rig::RecordNote note;
  note.name = "s-1@2";
  note.revision = 2;
  note.replaces = "s-1@1";
  note.why = "a card was misread";
  note.by = "R. Okoye";
  note.at = "2026-10-05T09:10:00+02:00";
  note.sealed = true;
  note.content_hash = std::string(64, 'c');
  note.seal_head = std::string(64, 'a');
  note.sealed_by = "M. Adeyemi";
  note.sealed_at = "2026-10-05T07:30:00Z";
  note.seal_origin = note.chain_origin = "0f1e2d3c4b5a6978";
  note.seal_number = 3;
  note.chain_head = std::string(64, 'b');
  note.chain_seals = 12;
  note.attachments = {{"compliance plate", "limit 1", std::string(64, 'd'), "", ""}};
  return note;
}

}  // namespace

BOOST_AUTO_TEST_CASE(the_record_stands_with_the_session_every_digit_within_the_width) {
  rig::Session session;
  session.id = "s-1";
  session.revision = 2;
  const rig::RecordNote note = sealed();
  const std::string expected =
      "unnamed\n"
      "session  s-1, revision 2\n"
      "replaces s-1@1\n"
      "amended  a card was misread, by R. Okoye, 2026-10-05T09:10:00+02:00\n"
      "sealed   by M. Adeyemi, 2026-10-05T07:30:00Z; seal 3 of store 0f1e2d3c\n"
      "seal     aaaaaaaaaaaaaaaa aaaaaaaaaaaaaaaa aaaaaaaaaaaaaaaa aaaaaaaaaaaaaaaa\n"
      "content  cccccccccccccccc cccccccccccccccc cccccccccccccccc cccccccccccccccc\n"
      "chain    of store 0f1e2d3c, at seal 12\n"
      "head     bbbbbbbbbbbbbbbb bbbbbbbbbbbbbbbb bbbbbbbbbbbbbbbb bbbbbbbbbbbbbbbb\n"
      "file     compliance plate, to limit 1\n"
      "sha256   dddddddddddddddd dddddddddddddddd dddddddddddddddd dddddddddddddddd\n";
  BOOST_TEST(session_heading(session, &note) == expected);
  BOOST_TEST(session_table(session, &note).starts_with(expected));
  BOOST_TEST(result_table(session, {}, {}, nullptr, false, &note).starts_with(expected));
  BOOST_TEST(session_heading(session) == "unnamed\nsession  s-1, revision 2\n");
}

BOOST_AUTO_TEST_CASE(not_sealed_replaced_and_beside_another_copy) {
  rig::Session session;
  session.id = "s-1";
  rig::RecordNote note;
  note.name = "s-1@1.aaaa1111";
  note.stands = false;
  note.rivals = {"s-1@1.bbbb2222", "s-1@1.cccc3333"};
  note.redacted = true;
  const std::string text = session_heading(session, &note);
  check_harmless(text);
  for (const std::string_view said :
       {"name s-1@1.aaaa1111 ", "replaced a later revision of this session stands in its place ",
        "conflict another copy of this revision with other content is in the store: s-1@1.bbbb2222 conflict",
        "store: s-1@1.cccc3333 ", "record not sealed: can still change ", "redacted names and identities were erased"})
    BOOST_TEST(unbroken(text).find(said) != std::string::npos, said);
  for (const std::string_view unsaid : {"chain", "head", "seal ", "content "})
    BOOST_TEST(text.find(std::string("\n") + std::string(unsaid)) == std::string::npos, unsaid);
}

BOOST_AUTO_TEST_CASE(what_the_sheet_says_of_its_amendment_is_said_without_a_record) {
  rig::Session session;
  session.id = "s-1";
  session.revision = 2;
  session.revised = rig::Revised{"card\nmisread", "", ""};
  BOOST_TEST(session_heading(session) == "unnamed\nsession  s-1, revision 2\namended  card\\nmisread\n");
}

BOOST_AUTO_TEST_CASE(hostile_records_stay_text_within_the_width) {
  rig::RecordNote note = sealed();
  note.why = std::string(5000, 'w') + "\x1b[2J";
  note.sealed_by = "\u202eevil";
  note.seal_head = std::string(300, 'h');
  note.rivals = {"s\x07@1"};
  note.attachments[0].what = "\u009b31m\n";
  check_harmless(session_heading(hostile(), &note));
}

BOOST_AUTO_TEST_CASE(scales_that_something_is_said_against) {
  rig::Session session;
  session.id = "s-1";
  session.units.load = units::LoadUnit::pound;
  session.weighed.at = "2026-10-03T08:40:00+02:00";
  const auto pounds = [](double figure) { return units::Load{figure, units::LoadUnit::pound}; };
  rig::Scale scale;
  scale.id = "P1";
  scale.serial = "04\x1b";
  scale.division = pounds(2);
  scale.zero_before = pounds(10);
  scale.due = "2026-02-11";
  scale.calibrated = "2025-02-11";
  // Gain u 0.3 % of 1000 lb is 3 lb, 2²/12 lb², repeatability 2 lb: 2·√(9 + 0.3333 + 4) = 7.3030 lb.
  scale.check_weights = {{pounds(1000), pounds(990), ""}};
  rig::Scale silent;
  silent.id = "P2";
  session.scales = {scale, silent};
  const std::string text = result_table(session, {}, {});
  const std::string section = text.substr(text.find("\nScales\n"));
  check_harmless(section.substr(1));
  for (const std::string_view said :
       {"P1 (serial 04\\x1b), not used: was due 2026-02-11, before the weighing of 2026-10-03: its calibration",
        "showed 10 lb unloaded before the weighing, where 2 lb is usual: zero it and weigh again",
        "check weight 1000 lb showed 990 lb: 10 lb too little, 7.3 lb allowed (2u of its gain, division and "
        "repeatability)",
        "No day of calibration is given: P2"})
    BOOST_TEST(unbroken(section).find(said) != std::string::npos, said);
  BOOST_TEST(unbroken(session_table(session)).find("checked 1000 lb showed 990 lb") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(ratings_stand_nearest_first_by_their_share_of_the_rating) {
  rig::Session session = hostile();
  rig::Limit small = session.rig.limits[0], large = session.rig.limits[0];
  small.kind = rig::LimitKind::coupling;
  large.kind = rig::LimitKind::combination;
  session.rig.limits = {large, small};
  assess::Assessment assessment;
  for (std::size_t i = 0; i < 2; ++i) {
    assess::Row row;
    row.limit = i;
    row.rating = i == 0 ? 5000 : 100;
    row.margin = 50;  // 1 % of the one, half of the other
    row.value = *row.rating - 50;
    row.u = 1;
    row.outcome = assess::Outcome::pass;
    row.travels = true;
    assessment.rows.push_back(row);
  }
  const std::string text = result_table(session, {}, assessment);
  BOOST_TEST(text.find("  combination ") < text.find("  coupling load "));
}

BOOST_AUTO_TEST_SUITE_END()
