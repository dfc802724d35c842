// What does not fit, in words: each sentence from findings made by hand, in kilograms and pounds; and the
// whole table of every sample sheet. Expected sentences were written by hand; converted figures by 1 lb =
// 0.45359237 kg and 1 in = 25.4 mm, with U = 2u to two significant figures.
#include "reports/words/suspicion.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "assess/assessment.hpp"
#include "reconcile/reconcile.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/terminal_text.hpp"
#include "sheet/sheet.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::reconcile;
using reports::ShownUnits;

const ShownUnits metric{}, pounds{units::LoadUnit::pound, units::LengthUnit::inch};

Observation of_reading(const std::string& id, const std::string& at, const std::string& state) {
  Observation out;
  out.id = id;
  out.at = at;
  out.state = state;
  return out;
}

Observation of_kind(ObservationKind kind, std::optional<std::string> state = {}) {
  Observation out;
  out.kind = kind;
  out.state = std::move(state);
  return out;
}

/// Readings r1 to r9: r1 the left rear wheel, the others whatever stands beside it.
Findings nine_readings() {
  Findings out;
  for (int i = 1; i <= 9; ++i)
    out.observations.push_back(
        of_reading("r" + std::to_string(i), i == 1 ? "tow.2.left" : "tow.2.right", "together"));
  return out;
}

Explanation edit(Blunder kind, const units::Load& read, const units::Load& meant) {
  Explanation out;
  out.kind = kind;
  out.state = "together";
  out.corrections = {{0, read, meant}};
  return out;
}

Explanation of_many(Blunder kind, std::size_t count) {
  Explanation out;
  out.kind = kind;
  out.state = "together";
  out.scale = "P3";
  for (std::size_t i = 0; i < count; ++i) out.corrections.push_back({i, {700}, {710}});
  return out;
}

Explanation sized(Blunder kind, double size, double u) {
  Explanation out;
  out.kind = kind;
  out.state = "together";
  out.scale = "P3";
  out.size = size;
  out.size_u = u;
  return out;
}

void says(const Explanation& explanation, const std::string& expected, const ShownUnits& shown = metric) {
  BOOST_TEST(reports::explanation_words(nine_readings(), explanation, shown) == expected);
}

constexpr auto lb = units::LoadUnit::pound;
const std::string r1 = "reading r1, tow vehicle axle 2, left, in “together”: ";

}  // namespace

BOOST_AUTO_TEST_SUITE(suspicion)

BOOST_AUTO_TEST_CASE(names_of_suspects) {
  const auto says_name = [](const Observation& observation, const char* expected) {
    BOOST_TEST(reports::suspect_name(observation) == expected);
  };
  using enum ObservationKind;
  says_name(of_reading("r21", "tow.2.left", "together"),
            "reading r21, tow vehicle axle 2, left, in “together”");
  says_name(of_reading("r9", "trailer", "together"), "reading r9, trailer, in “together”");
  says_name(of_reading("r17", "coupling", "apart"), "reading r17, coupling, in “apart”");
  says_name(of_kind(wheelbase), "the wheelbase as given");
  says_name(of_kind(overhang), "the tape on the overhang");
  says_name(of_kind(coupling_to_axles), "the length from coupling to trailer axles");
  says_name(of_kind(coupling_to_jockey), "the length from coupling to jockey wheel");
  says_name(of_kind(height_sensitivity), "how the coupling load follows its height");
  says_name(of_kind(coupling_height, "apart"), "the coupling height in “apart”");
  says_name(of_kind(level, "apart"), "the ground in “apart”, not as level as said");
  says_name(of_kind(cg_height), "the height of the tow vehicle's centre of gravity");
  says_name(of_kind(gain), "the scales that were not named, all together");
  Observation scale = of_kind(gain);
  scale.scales = {"P3"};
  says_name(scale, "scale P3, in all its readings");
}

BOOST_AUTO_TEST_CASE(sizes_of_suspects) {
  const Observation reading = of_reading("r1", "tow.1", "apart");
  BOOST_TEST(reports::suspect_size(reading, -63.4, metric) == ", about 63 kg too low");
  BOOST_TEST(reports::suspect_size(reading, 63.4, metric) == ", about 63 kg too high");
  BOOST_TEST(reports::suspect_size(reading, 63.4, pounds) == ", about 140 lb too high");  // 139.77
  for (const ObservationKind kind :
       {ObservationKind::wheelbase, ObservationKind::overhang, ObservationKind::coupling_to_axles,
        ObservationKind::coupling_to_jockey, ObservationKind::cg_height}) {
    BOOST_TEST(reports::suspect_size(of_kind(kind), -40.2, metric) == ", off by about 40 mm");
    BOOST_TEST(reports::suspect_size(of_kind(kind), 40.2, pounds) == ", off by about 2 in");  // 1.58
  }
  // What an error there amounts to is no length and no load that somebody could look for.
  for (const ObservationKind kind : {ObservationKind::gain, ObservationKind::level,
                                     ObservationKind::coupling_height, ObservationKind::height_sensitivity})
    BOOST_TEST(reports::suspect_size(of_kind(kind), 5, metric).empty());
}

BOOST_AUTO_TEST_CASE(slips_of_the_pen) {
  says(edit(Blunder::digits_swapped, {707}, {770}),
       "two digits swapped in " + r1 + "707 kg read, 770 kg meant");
  says(edit(Blunder::digit_dropped, {86}, {860}), "a digit left out of " + r1 + "86 kg read, 860 kg meant");
  says(edit(Blunder::digit_doubled, {1771.5}, {171.5}),
       "a digit written twice in " + r1 + "1771.5 kg read, 171.5 kg meant");
  // In the unit of the entry, whatever the report shows.
  says(edit(Blunder::digits_swapped, {1697, lb}, {1967, lb}),
       "two digits swapped in " + r1 + "1697 lb read, 1967 lb meant");
  says(edit(Blunder::tyre_off_scale, {536}, {765.4321}),
       "a tyre part off its scale at " + r1 + "536 kg read, 765.4 kg meant");
}

BOOST_AUTO_TEST_CASE(the_other_unit) {
  // 1697 lb are 769.746 kg; 770 kg are 1697.559 lb.
  says(edit(Blunder::pounds_for_kilograms, {1697}, {1697, lb}),
       "pounds written as kilograms in " + r1 + "1697 kg read, 1697 lb (769.7 kg) meant");
  says(edit(Blunder::pounds_for_kilograms, {770, lb}, {770}),
       "kilograms written as pounds in " + r1 + "770 lb read, 770 kg (1697.6 lb) meant", pounds);
  Explanation all = of_many(Blunder::pounds_for_kilograms, 4);
  says(all, "pounds written as kilograms in every reading of scale P3 in “together”");
  for (auto& correction : all.corrections) correction.read.unit = lb;
  says(all, "kilograms written as pounds in every reading of scale P3 in “together”");
}

BOOST_AUTO_TEST_CASE(places_exchanged) {
  says(of_many(Blunder::sides_swapped, 2),
       "left and right swapped in “together”: readings r1 and r2 exchanged");
  says(of_many(Blunder::axles_swapped, 4),
       "two axles swapped in “together”: readings r1, r2, r3 and r4 exchanged");
  says(of_many(Blunder::states_swapped, 2),
       "the same places of two states swapped: readings r1 and r2 exchanged");
  says(of_many(Blunder::states_swapped, 7),
       "the same places of two states swapped: readings r1, r2, r3, r4, r5, r6 and r7 exchanged");
  says(of_many(Blunder::states_swapped, 9),
       "the same places of two states swapped: readings r1, r2, r3, r4, r5, r6 and 3 more exchanged");
}

BOOST_AUTO_TEST_CASE(blunders_with_a_size) {
  says(sized(Blunder::scale_not_zeroed, 28, 1.2),
       "scale P3 not at zero in “together”: it showed 28.0 kg ± 2.4 kg too much");
  says(sized(Blunder::scale_not_zeroed, -28, 1.2),
       "scale P3 not at zero in “together”: it showed 61.7 lb ± 5.3 lb too little", pounds);  // 61.73, 5.291
  says(sized(Blunder::jockey_still_loaded, 90, 6),
       "the jockey wheel still carried 90 kg ± 12 kg in “together”");
  says(sized(Blunder::jockey_still_loaded, 90, 6),
       "the jockey wheel still carried 198 lb ± 26 lb in “together”",
       pounds);  // 198.4, 26.46
  Explanation person = sized(Blunder::person_aboard, 85, 7);
  person.vehicle = rig::Vehicle::tow;
  says(person, "somebody in the tow vehicle in “together”: 85 kg ± 14 kg");
  person.vehicle = rig::Vehicle::trailer;
  says(person, "somebody on the trailer in “together”: 187 lb ± 31 lb", pounds);  // 187.39, 30.86
}

BOOST_AUTO_TEST_CASE(states_arranged_otherwise) {
  Explanation jockey = of_many(Blunder::jockey_taken_for_coupling, 2);
  jockey.state = "apart";
  says(jockey, "the scale stood under the jockey wheel, not under the coupling, in “apart”");
  const Explanation bars = sized(Blunder::weight_distribution_mislabelled, 206000, 8000);
  says(bars,
       "weight distribution was on in “together”, which says off: a moment of 206000 kg·mm ± 16000 kg·mm");
  // 1 lb·in = 11.521246 kg·mm: 17880.01 and 1388.7.
  says(bars, "weight distribution was on in “together”, which says off: a moment of 17880 lb·in ± 1389 lb·in",
       pounds);
}

BOOST_AUTO_TEST_CASE(what_to_weigh_next) {
  NextReading next;
  next.state = "together";
  next.at = rig::Position::wheel(rig::Vehicle::tow, 2, rig::Side::left);
  BOOST_TEST(reports::next_reading_words(next) == "tow vehicle axle 2, left, in “together”");
  next.again = true;
  next.scales = {"P3"};
  BOOST_TEST(reports::next_reading_words(next) ==
             "tow vehicle axle 2, left, in “together”, set down again, on scale P3");
  next.at = rig::Position::whole_axle(rig::Vehicle::trailer, 1);
  next.scales = {"P3", "P4"};
  BOOST_TEST(reports::next_reading_words(next) ==
             "trailer axle 1, in “together”, set down again, on scale P3 + P4");
  NextReading nose;
  nose.at = rig::Position::support_at_coupling();
  nose.new_state = true;
  nose.scales = {"N1"};
  BOOST_TEST(reports::next_reading_words(nose) ==
             "coupling of the unhitched trailer, at the height at which it tows, on scale N1");
  NextReading tape;
  tape.kind = NextReading::Kind::overhang;
  BOOST_TEST(reports::next_reading_words(tape) ==
             "the overhang, by tape: rear axle group's centre to coupling");
  tape.again = true;
  BOOST_TEST(reports::next_reading_words(tape) == "the overhang, taped again");
}

BOOST_AUTO_TEST_CASE(hostile_names_pass_through_as_they_came) {
  const std::string id = "r\x1b[2J", state = "to\u202egether\r\n", scale = "P\x07", at = "tow\xff";
  Findings findings;
  findings.observations = {of_reading(id, at, state)};
  BOOST_TEST(reports::suspect_name(findings.observations[0]) ==
             "reading " + id + ", " + at + ", in “" + state + "”");
  Explanation zero = sized(Blunder::scale_not_zeroed, 28, 1.2);
  zero.state = state;
  zero.scale = scale;
  BOOST_TEST(reports::explanation_words(findings, zero, metric) ==
             "scale " + scale + " not at zero in “" + state + "”: it showed 28.0 kg ± 2.4 kg too much");
  BOOST_TEST(reports::explanation_words(findings, of_many(Blunder::sides_swapped, 1), metric).find(id) !=
             std::string::npos);
  NextReading next;
  next.state = state;
  next.scales = {scale};
  BOOST_TEST(reports::next_reading_words(next) == ", in “" + state + "”, on scale " + scale);
}

namespace {

rig::Session sample(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  const auto read = sheet::read(std::string(std::istreambuf_iterator<char>(in), {}));
  BOOST_REQUIRE_MESSAGE(read.session, path);
  return *read.session;
}

std::string table_of(const rig::Session& session, bool detail) {
  const Findings findings = reconcile::reconcile(session);
  return reports::result_table(session, findings, assess::assess(session, findings), nullptr, detail);
}

/// Blanks and line ends as one blank each: where a phrase breaks is not the point.
std::string unbroken(const std::string& text) {
  std::istringstream words(text);
  std::string joined;
  for (std::string word; words >> word;) joined += word + ' ';
  return joined;
}

const std::filesystem::path samples = STEELYARD_SOURCE_DIR "/sample_data";

}  // namespace

BOOST_AUTO_TEST_CASE(the_swapped_digits_of_the_sample_stand_in_the_table) {
  const rig::Session session = sample(samples / "tcw-012-digits-swapped.json");
  const std::string plain = table_of(session, false), detailed = table_of(session, true);
  for (const std::string& text : {plain, detailed})
    for (const char* said : {"reading r21, tow vehicle axle 2, left", "two digits swapped",
                             "707 kg read, 770 kg meant", "do NOT agree", "To be sure, weigh: "})
      BOOST_TEST(unbroken(text).find(said) != std::string::npos, said);
  BOOST_TEST(plain.find("chi-square") == std::string::npos);
  BOOST_TEST(detailed.find("chi-square") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(every_sample_stays_within_the_width) {
  int sheets = 0;
  for (const auto& entry : std::filesystem::directory_iterator(samples)) {
    if (entry.path().extension() != ".json") continue;
    const rig::Session session = sample(entry.path());
    ++sheets;
    for (const bool detail : {false, true}) {
      std::istringstream lines(table_of(session, detail));
      for (std::string line; std::getline(lines, line);)
        BOOST_TEST(reports::display_width(line) <= 80u, entry.path().filename() << ": " << line);
    }
  }
  BOOST_TEST(sheets >= 14);
}

BOOST_AUTO_TEST_SUITE_END()
