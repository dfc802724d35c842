// Words by region: what is turned, what is left alone, and that a report keeps to one region's words and
// units.
//
// Expected words are those of the trade's table of words by region; figures in pounds and inches are
// converted by the definitions 1 lb = 0.45359237 kg and 1 in = 25.4 mm.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>

#include "client_fixture.hpp"
#include "reports/client/client.hpp"
#include "reports/table/result_table.hpp"
#include "reports/words/glossary.hpp"
#include "reports/words/suspicion.hpp"
#include "reports/words/terms.hpp"

using namespace steelyard;
using namespace steelyard::reports;

namespace {

const ShownUnits pounds{units::LoadUnit::pound, units::LengthUnit::inch};
constexpr std::array regions{Region::australia, Region::europe, Region::north_america,
                             Region::southern_africa};

// Words that only the region named uses; GVM and GCM are two regions'.
const std::map<std::string, std::vector<Region>> own_words{
    {"GVM", {Region::australia, Region::southern_africa}},
    {"GCM", {Region::australia, Region::southern_africa}},
    {"ATM", {Region::australia}},
    {"GTM", {Region::australia}},
    {"tow-ball", {Region::australia}},
    {"axle rating", {Region::australia}},
    {"MAM", {Region::europe}},
    {"MTPLM", {Region::europe}},
    {"gross train weight", {Region::europe}},
    {"plated axle weight", {Region::europe}},
    {"noseweight", {Region::europe}},
    {"load levelling", {Region::europe}},
    {"GVWR", {Region::north_america}},
    {"GCWR", {Region::north_america}},
    {"GAWR", {Region::north_america}},
    {"tongue", {Region::north_america}},
    {"pin weight", {Region::north_america}},
    {"hitch receiver", {Region::north_america}},
    {"lb", {Region::north_america}},
    {"massload", {Region::southern_africa}},
    {"nose weight", {Region::southern_africa}},
    {"coupling load", {}},
};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c); });
  return text;
}

bool has_word(const std::string& text, const std::string& word) {
  const std::string all = lower(text), wanted = lower(word);
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  for (auto at = all.find(wanted); at != std::string::npos; at = all.find(wanted, at + 1)) {
    const auto end = at + wanted.size();
    if ((at == 0 || !letter(all[at - 1])) && (end == all.size() || !letter(all[end]))) return true;
  }
  return false;
}

Wording in(Region region, bool fifth_wheel = false) {
  Wording wording;
  wording.region = region;
  wording.fifth_wheel = fifth_wheel;
  wording.shown = units_of(region).value_or(ShownUnits{});
  return wording;
}

Report report_in(Region region, const test::Case& one) {
  ClientOptions how{.engine = "0.1.0", .issued = "2026-10-04", .units = {}};
  const Reader reader = reader_of(region);
  how.words = reader.words;
  how.units = reader.units;
  return client_report(one.session, one.findings, one.assessment, how);
}

/// Every text of a report but its glossary.
std::string all_text(const Report& report) {
  struct Texts {
    std::string all;
    void add(const std::string& text) { all += text + '\n'; }
    void operator()(const Heading& one) { add(one.text); }
    void operator()(const Paragraph& one) { add(one.text); }
    void operator()(const Facts& one) {
      for (const Fact& fact : one.facts) add(fact.label + ": " + fact.text);
    }
    void operator()(const Banner& one) {
      add(one.headline);
      for (const std::string& line : one.lines) add(line);
    }
    void operator()(const Table& one) {
      add(one.title);
      for (const Column& column : one.columns) add(column.title);
      for (const TableRow& row : one.rows)
        for (const Cell& cell : row.cells) {
          if (const auto* text = std::get_if<std::string>(&cell.value)) add(*text);
          if (const auto* number = std::get_if<Number>(&cell.value)) add(number->unit);
        }
    }
    void operator()(const LongTable& one) {
      for (const Column& column : one.columns) add(column.title);
    }
    void operator()(const Columns& one) { add(one.title + one.description); }
    void operator()(const Bars& one) { add(one.title + one.description); }
    void operator()(const Picture& one) {
      add(one.note + one.drawing.description);
      for (const Label& label : one.drawing.labels) add(label.text);
    }
    void operator()(const Signature& one) { add(one.name); }
  } texts;
  for (const SheetContent& sheet : report.sheets)
    if (sheet.name != "Glossary")
      for (const Block& block : sheet.blocks) std::visit(texts, block);
  return texts.all;
}

/// The session's names say nothing of another region; readings and limits were entered in kilograms.
void check_words_of_one_region(const std::string& text, Region region, const std::string& where) {
  for (const auto& [word, whose] : own_words) {
    // The note on units says both, with what they are worth.
    if (word == "lb") continue;
    const bool allowed = std::find(whose.begin(), whose.end(), region) != whose.end();
    BOOST_TEST((allowed || !has_word(text, word)), where << " in " << region_code(region) << ": " << word);
  }
}

rig::Limit limit_of(rig::LimitKind kind, const std::string& part = {}) {
  rig::Limit limit;
  limit.kind = kind;
  limit.axle = 1;
  limit.part = part;
  return limit;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(words_by_region)

BOOST_AUTO_TEST_CASE(codes_and_units) {
  for (const Region region : all_regions) BOOST_TEST((parse_region(region_code(region)) == region));
  for (const char* wrong : {"", "AU", "eu", "u", "united states"}) BOOST_TEST(!parse_region(wrong), wrong);
  BOOST_TEST(!units_of(Region::plain));
  BOOST_TEST((units_of(Region::north_america) == pounds));
  for (const Region region : {Region::australia, Region::europe, Region::southern_africa})
    BOOST_TEST((units_of(region) == ShownUnits{}));
}

BOOST_AUTO_TEST_CASE(whole_phrases_are_turned) {
  const std::string load = "Coupling load, net of weight distribution";
  BOOST_TEST(in(Region::plain)(load) == load);
  BOOST_TEST(in(Region::australia)(load) == "Tow-ball mass, net of the weight distribution hitch");
  BOOST_TEST(in(Region::europe)(load) == "Noseweight, net of load levelling");
  BOOST_TEST(in(Region::north_america)(load) == "Tongue weight, net of the weight-distributing hitch");
  BOOST_TEST(in(Region::southern_africa)(load) == "Nose weight, net of weight distribution");
  BOOST_TEST(in(Region::north_america)("the jockey wheel’s load") == "the tongue jack’s load");
  BOOST_TEST(in(Region::australia)("the jockey wheel’s load") == "the jockey wheel’s load");
  // A label has no article, a state's device neither.
  BOOST_TEST(in(Region::north_america)("Weight distribution") == "Weight-distributing hitch");
  BOOST_TEST(in(Region::north_america)("hitched, weight distribution on") ==
             "hitched, weight-distributing hitch on");
  BOOST_TEST(in(Region::europe)("Weight-distribution moment") == "Load-levelling moment");
  // Parts of words are no words.
  for (const char* other : {"coupling loads", "uncoupling load", "jockey wheels", "coupling"})
    BOOST_TEST(in(Region::north_america)(other) == other);
}

BOOST_AUTO_TEST_CASE(a_fifth_wheel_has_a_pin) {
  BOOST_TEST(in(Region::north_america, true)("Coupling load") == "Pin weight");
  BOOST_TEST(in(Region::australia, true)("Coupling load") == "Coupling load");  // there is no ball
  test::Case one = test::whole_case();
  BOOST_TEST(!is_fifth_wheel(one.session, &one.findings));
  one.session.rig.tow_vehicle.overhang->value.figure = -120;
  BOOST_TEST(is_fifth_wheel(one.session));
  one.session.rig.tow_vehicle.overhang->value.figure = 0;
  BOOST_TEST(is_fifth_wheel(one.session));
  // Without a tape it is as the weights have it.
  one.session.rig.tow_vehicle.overhang.reset();
  BOOST_TEST(!is_fifth_wheel(one.session));
  for (auto& quantity : one.findings.quantities)
    if (quantity.name == "overhang") quantity.value = -80;
  BOOST_TEST(is_fifth_wheel(one.session, &one.findings));
  one.session.rig.trailer->self_supporting = true;
  BOOST_TEST(!is_fifth_wheel(one.session, &one.findings));
}

BOOST_AUTO_TEST_CASE(lengths_for_a_reader_of_inches) {
  const Wording us = in(Region::north_america);
  // 10, 5, 2, 18 and 4000 mm are 0.394, 0.197, 0.0787, 0.709 and 157.5 in.
  BOOST_TEST(us("to 10 mm, 5 mm, 2 mm") == "to 0.39 in, 0.2 in, 0.079 in");
  BOOST_TEST(us("18 mm") == "0.71 in");
  BOOST_TEST(us("4000 mm, u = 1500 mm.") == "157 in, u = 59 in.");
  BOOST_TEST(us("at least 100 mm apart") == "at least 4 in apart");  // 3.94 in would be too little
  BOOST_TEST(us("within 2 mm per m") == "within 2 mm per m");        // a slope
  BOOST_TEST(us("0.5 mm") == "0.5 mm");
  BOOST_TEST(in(Region::europe)("10 mm") == "10 mm");
}

BOOST_AUTO_TEST_CASE(names_that_people_typed_stay) {
  rig::Session session;
  for (const char* name : {"coupling load", "a “jockey wheel” out", "tow"}) {
    rig::State state;
    state.name = name;
    session.states.push_back(state);
  }
  const Wording us = in(Region::north_america);
  BOOST_TEST(us.around_names("weigh the jockey wheel on a scale in state “coupling load”", session) ==
             "weigh the tongue jack on a scale in state “coupling load”");
  BOOST_TEST(us.around_names("the jockey wheel in “a “jockey wheel” out”; the jockey wheel", session) ==
             "the tongue jack in “a “jockey wheel” out”; the tongue jack");
  BOOST_TEST(us.around_names("in “unknown jockey wheel” the jockey wheel", session) ==
             "in “unknown jockey wheel” the tongue jack");
  BOOST_TEST(us.around_names("open “jockey wheel", session) == "open “jockey wheel");
  BOOST_TEST(us.around_names("", session).empty());
  // A part is a name too, and so is a reading's id.
  BOOST_TEST(limit_words(limit_of(rig::LimitKind::coupling, "jockey wheel"), {}, us) ==
             "Tongue weight: jockey wheel");
  reconcile::Observation observation;
  observation.kind = reconcile::ObservationKind::reading;
  observation.id = "jockey wheel";
  observation.at = "jockey";
  observation.state = "coupling load";
  BOOST_TEST(suspect_name(observation, us) == "reading jockey wheel, tongue jack, in “coupling load”");
  BOOST_TEST(place_words("no jockey wheel", us) == "no jockey wheel");
}

BOOST_AUTO_TEST_CASE(ratings_by_their_regions_words) {
  using rig::LimitKind;
  struct Expected {
    LimitKind kind;
    std::array<std::string, 4> words;
  };
  const std::vector<Expected> all{
      {LimitKind::tow_gross,
       {"Tow vehicle mass (GVM)", "Tow vehicle mass (MAM)", "Tow vehicle mass (GVWR)",
        "Tow vehicle mass (GVM)"}},
      {LimitKind::combination,
       {"Combination mass (GCM)", "Combination mass (gross train weight)", "Combination mass (GCWR)",
        "Combination mass (GCM)"}},
      {LimitKind::trailer_gross,
       {"Trailer mass (ATM)", "Trailer mass (MTPLM)", "Trailer mass (GVWR)", "Trailer mass (GVM)"}},
      {LimitKind::trailer_axles,
       {"Trailer axle load, hitched (GTM)", "Trailer axle load, hitched (axle mass)",
        "Trailer axle load, hitched (GAWR)", "Trailer axle load, hitched (axle massload)"}},
      {LimitKind::trailer_axle,
       {"Trailer axle 1 (axle rating)", "Trailer axle 1 (plated axle weight)", "Trailer axle 1 (GAWR)",
        "Trailer axle 1 (axle massload)"}},
      {LimitKind::coupling, {"Tow-ball mass", "Noseweight", "Tongue weight", "Nose weight"}},
      {LimitKind::coupling_share_minimum,
       {"Tow-ball mass share, least", "Noseweight share, least", "Tongue weight share, least",
        "Nose weight share, least"}}};
  for (const Expected& expected : all)
    for (std::size_t i = 0; i < regions.size(); ++i)
      BOOST_TEST(limit_words(limit_of(expected.kind), {}, in(regions[i])) == expected.words[i]);
  // The table's column has 35 places.
  BOOST_TEST(brief_limit_words(limit_of(LimitKind::trailer_axle), in(Region::europe)) ==
             "trailer axle 1 (plated axle weight)");
  BOOST_TEST(brief_limit_words(limit_of(LimitKind::trailer_axle), {}) == "trailer, axle 1");
}

BOOST_AUTO_TEST_CASE(a_report_keeps_to_one_regions_words) {
  for (const char* name : {"whole", "over", "incomplete", "alone", "pounds"})
    for (const Region region : regions) {
      const test::Case one = test::named_case(name);
      check_words_of_one_region(all_text(report_in(region, one)), region, std::string("workbook, ") + name);
      check_words_of_one_region(
          result_table(one.session, one.findings, one.assessment, nullptr, true, nullptr, reader_of(region)),
          region, std::string("table, ") + name);
      check_words_of_one_region(session_table(one.session, nullptr, reader_of(region)), region,
                                std::string("sheet, ") + name);
    }
  // And has them.
  const std::string us = all_text(report_in(Region::north_america, test::whole_case()));
  for (const char* word : {"GVWR", "GCWR", "GAWR", "tongue weight", "lb"})
    BOOST_TEST(has_word(us, word), word);
  BOOST_TEST(!has_word(
      result_table(test::whole_case().session, test::whole_case().findings, test::whole_case().assessment,
                   nullptr, true, nullptr, reader_of(Region::europe)),
      "lb"));
}

BOOST_AUTO_TEST_CASE(figures_are_converted_exactly) {
  const test::Case one = test::whole_case();
  const Report kilograms = report_in(Region::australia, one),
               in_pounds = report_in(Region::north_america, one);
  const auto results = [](const Report& report) -> const Table& {
    const auto sheet = std::find_if(report.sheets.begin(), report.sheets.end(),
                                    [](const SheetContent& content) { return content.name == "Results"; });
    return *std::get_if<Table>(&sheet->blocks.back());
  };
  const auto &kg = results(kilograms).rows, &lb = results(in_pounds).rows;
  BOOST_REQUIRE_EQUAL(kg.size(), lb.size());
  std::size_t loads = 0, lengths = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    const auto *metric = std::get_if<Number>(&kg[i].cells[3].value),
               *own = std::get_if<Number>(&lb[i].cells[3].value);
    if (!metric) continue;
    const std::string unit = std::get<std::string>(kg[i].cells[8].value);
    const double factor = unit == "kg" ? 0.45359237 : unit == "mm" ? 25.4 : 1;
    if (unit == "kg") ++loads;
    if (unit == "mm") ++lengths;
    BOOST_TEST(own->value * factor == metric->value, boost::test_tools::tolerance(1e-15));
  }
  BOOST_TEST(loads > 10u);
  BOOST_TEST(lengths == 1u);
}

BOOST_AUTO_TEST_CASE(a_glossary_before_the_signature) {
  const auto names = [](const Report& report) {
    std::string out;
    for (const SheetContent& sheet : report.sheets) out += sheet.name + ' ';
    return out;
  };
  const test::Case one = test::whole_case();
  BOOST_TEST(names(report_in(Region::europe, one)) == "Summary Readings Results Fit Limits Advice Room Glossary Method ");
  BOOST_TEST(names(report_in(Region::plain, one)) == "Summary Readings Results Fit Limits Advice Room Method ");
  for (const Region region : all_regions) {
    std::string all;
    for (const GlossaryEntry& entry : glossary(region)) {
      BOOST_TEST(!entry.term.empty());
      BOOST_TEST(entry.meaning.ends_with('.'), entry.meaning);
      all += entry.term + ' ' + entry.stands_for + ' ' + entry.meaning + '\n';
    }
    if (region != Region::plain) check_words_of_one_region(all, region, "glossary");
  }
  BOOST_TEST(glossary(Region::north_america).at(0).stands_for == "gross vehicle weight rating");
  BOOST_TEST(glossary(Region::europe).at(2).term == "MTPLM");
}

BOOST_AUTO_TEST_SUITE_END()
