// What the page is shown: each figure is the found one, looked up here in the lists themselves and put into words by the
// functions that all reports use.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "assess/deciding.hpp"
#include "field/boards.hpp"
#include "field/view.hpp"
#include "reports/words/figures.hpp"
#include "reports/words/rows.hpp"
#include "reports/words/terms.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;
using nlohmann::json;

namespace {

json view_of(const Seen& seen, reports::Region words = reports::Region::plain) {
  return json::parse(view_json(seen, reader_in(words)));
}

struct Weighed {
  explicit Weighed(const json& sheet) : solved(issued::solve(session_of(sheet))) {}
  [[nodiscard]] json view(reports::Region words = reports::Region::plain) const {
    return view_of({solved.session, &solved, {}, {}, 7}, words);
  }
  /// In the list, by name, state and position.
  [[nodiscard]] const reconcile::Quantity* quantity(const std::string& name, const std::optional<std::string>& state,
                                                    const std::optional<std::string>& at) const {
    const auto& all = solved.findings.quantities;
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& one) {
      return one.name == name && one.state == state && one.at == at;
    });
    return found == all.end() ? nullptr : &*found;
  }
  issued::Solved solved;
};

json text_of(const reconcile::Quantity* quantity, const reports::ShownUnits& shown) {
  if (!quantity || !quantity->determinable) return nullptr;
  return reports::in_figures(quantity->value, quantity->u, quantity->measure, shown);
}

reports::ShownUnits shown_in(const json& view) {
  return {view["units"]["load"] == "lb" ? units::LoadUnit::pound : units::LoadUnit::kilogram,
          view["units"]["length"] == "in" ? units::LengthUnit::inch : units::LengthUnit::millimetre};
}

void check_places(const Weighed& weighed, const json& view) {
  const auto shown = shown_in(view);
  std::size_t figures = 0;
  for (const json& state : view["states"]) {
    const std::string name = state["name"];
    for (const json& place : state["places"]) {
      const std::string at = place["at"], extent = place["extent"];
      if (extent == "vehicle") continue;  // below
      const auto* found = extent == "wheel"   ? weighed.quantity("wheel_load", name, at)
                          : extent == "axle" ? weighed.quantity("axle_load", name, at)
                          : extent == "coupling" ? weighed.quantity("coupling_load_at_height", name, std::nullopt)
                                                 : nullptr;
      BOOST_TEST_CONTEXT(name << ' ' << at) BOOST_TEST(place["figure"] == text_of(found, shown));
      figures += place["figure"].is_null() ? 0 : 1;
    }
    for (const json& axle : state["axles"]) {
      const std::string at = axle["vehicle"].get<std::string>() + '.' + std::to_string(axle["axle"].get<int>());
      BOOST_TEST(axle["text"] == text_of(weighed.quantity("axle_load", name, at), shown));
    }
  }
  BOOST_TEST(figures > 0u);
}

void check_loads(const Weighed& weighed, const json& view) {
  const auto shown = shown_in(view);
  BOOST_TEST(!view["found"]["loads"].empty());
  for (const json& load : view["found"]["loads"]) {
    const std::string name = load["name"];
    const auto state = load["state"].is_null() ? std::nullopt : std::optional(load["state"].get<std::string>());
    const auto* found = weighed.quantity(name, state, std::nullopt);
    BOOST_REQUIRE(found != nullptr);
    const bool share = name == "coupling_share" || name == "front_axle_restoration";
    BOOST_TEST_CONTEXT(name)
    BOOST_TEST(load["text"] == (share ? json(reports::in_percent(found->value, found->u)) : text_of(found, shown)));
  }
}

void check_margins(const Weighed& weighed, const json& view) {
  const auto shown = shown_in(view);
  const auto& rows = weighed.solved.assessment.rows;
  for (const json& margin : view["found"]["margins"]) {
    // Two ratings of one kind differ by what they say: source, and rated figure.
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const assess::Row& one) {
      return one.of == margin["of"] && json(one.state ? json(*one.state) : json()) == margin["state"] &&
             one.source == margin["source"] && reports::row_rating(one, shown) == margin["rated"];
    });
    BOOST_REQUIRE(row != rows.end());
    BOOST_TEST_CONTEXT(margin.dump()) {
      BOOST_TEST(margin["value"] == (row->value ? json(reports::row_value(*row, shown)) : json()));
      BOOST_TEST(margin["margin"] == (row->margin ? json(reports::row_margin(*row, shown)) : json()));
      BOOST_TEST(margin["outcome"] == assess::in_words(row->outcome, row->minimum));
      BOOST_TEST(margin["suspect"] == row->suspect);
      if (!margin["used"].is_null()) BOOST_TEST(margin["used"].get<double>() == *row->value / *row->rating, boost::test_tools::tolerance(1e-9));
    }
  }
}

json reading_in(const json& view, const std::string& id) {
  for (const json& state : view["states"])
    for (const json& place : state["places"])
      for (const json& reading : place["readings"])
        if (reading["id"] == id) return reading;
  return nullptr;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(view)

BOOST_AUTO_TEST_CASE(every_figure_is_the_found_one) {
  for (const char* name : {"tcw-012-pump-trailer", "tcw-012-digits-swapped", "tcw-015-excavator-trailer-over",
                           "bfs-204-generator-trailer-pounds", "kr-103-fifth-wheel-stock-trailer", "tcw-007-site-office-jockey",
                           "tcw-009-axles-only-incomplete", "tcw-041-tanker-truck-alone"}) {
    const Weighed weighed(sample_sheet(name));
    for (const auto words : {reports::Region::plain, reports::Region::north_america}) BOOST_TEST_CONTEXT(name) {
      const json view = weighed.view(words);
      BOOST_TEST(view["version"] == 7);
      BOOST_TEST(view["found"]["solved"] == true);
      BOOST_TEST(view["found"]["why_not"].is_null());
      check_places(weighed, view);
      check_loads(weighed, view);
      check_margins(weighed, view);
    }
  }
}

BOOST_AUTO_TEST_CASE(every_rating_of_the_road_has_a_margin_and_the_worst_comes_first) {
  const Weighed weighed(sample_sheet("tcw-015-excavator-trailer-over"));
  const json view = weighed.view();
  const json& margins = view["found"]["margins"];
  for (const assess::Row& row : weighed.solved.assessment.rows)
    if (row.travels && row.outcome == assess::Outcome::fail)
      BOOST_TEST(std::any_of(margins.begin(), margins.end(), [&](const json& one) { return one["of"] == row.of; }));
  BOOST_REQUIRE(!margins.empty());
  BOOST_TEST(margins[0]["tone"] == "over");
  BOOST_TEST(view["found"]["verdict"]["words"] == reports::verdict_headline(weighed.solved.assessment.outcome));
}

BOOST_AUTO_TEST_CASE(readings_are_shown_as_they_were_entered) {
  const json sheet = sample_sheet("tcw-036-known-gain-struck-reading");
  const Weighed weighed(sheet);
  const json view = weighed.view();
  std::size_t struck = 0, count = 0;
  for (const json& state : sheet["states"])
    for (const json& entered : state["readings"]) {
      const json shown = reading_in(view, entered["id"]);
      BOOST_TEST(shown["load"] == entered["load"]);
      BOOST_TEST(shown["unit"] == entered.value("unit", "kg"));
      BOOST_TEST(shown["struck"].is_null() == !entered.contains("struck"));
      struck += entered.contains("struck") ? 1 : 0;
      ++count;
    }
  BOOST_TEST(count > 0u);
  BOOST_TEST(struck > 0u);
}

BOOST_AUTO_TEST_CASE(suspects_are_marked_wherever_they_stand) {
  const Weighed weighed(sample_sheet("tcw-012-digits-swapped"));
  const json view = weighed.view();
  const auto& sets = weighed.solved.findings.suspects;
  BOOST_REQUIRE(!sets.empty());
  BOOST_REQUIRE(view["found"]["suspects"].size() == sets.size());
  std::size_t marked = 0;
  for (std::size_t i = 0; i < sets.size(); ++i)
    for (std::size_t k = 0; k < sets[i].members.size(); ++k) {
      const auto& observation = weighed.solved.findings.observations.at(sets[i].members[k].observation);
      const json& member = view["found"]["suspects"][i]["members"][k];
      BOOST_TEST(member["reading"] == (observation.id ? json(*observation.id) : json()));
      if (!observation.id) continue;
      BOOST_TEST(reading_in(view, *observation.id)["suspect"] == true);
      ++marked;
    }
  BOOST_TEST(marked > 0u);
  BOOST_TEST(view["found"]["trust"]["words"] == "Something does not fit");
  BOOST_TEST(!view["found"]["suspects"][0]["explanations"].empty());
}

BOOST_AUTO_TEST_CASE(before_the_first_reading_nothing_is_found) {
  const rig::Session session = session_of(empty_sheet());
  const json view = view_of({session, nullptr, {}, {}, 1});
  BOOST_TEST(view["found"].is_null());
  BOOST_TEST(view["states"].size() == 3u);
  BOOST_TEST(view["next"]["at"] == "tow.1.left");
  for (const json& state : view["states"])
    for (const json& place : state["places"]) {
      BOOST_TEST(place["figure"].is_null());
      BOOST_TEST(place["readings"].empty());
    }
}

BOOST_AUTO_TEST_CASE(where_it_is_not_solved_the_reason_is_said) {
  const rig::Session session = session_of(empty_sheet());
  const json found = view_of({session, nullptr, "nothing can be told yet", {}, 1})["found"];
  BOOST_TEST(found["solved"] == false);
  BOOST_TEST(found["why_not"] == "nothing can be told yet");
}

BOOST_AUTO_TEST_CASE(a_seal_is_shown_and_nothing_is_asked_for) {
  const Weighed weighed(sample_sheet("tcw-009-axles-only-incomplete"));
  rig::RecordNote note;
  note.seal_head = std::string(64, 'a');
  note.seal_number = 3;
  note.sealed_by = "R. Okoye";
  note.sealed_at = "2026-10-03T08:00:00Z";
  const json view = view_of({weighed.solved.session, &weighed.solved, {}, note, 1});
  BOOST_TEST(view["session"]["sealed"] ==
             (json{{"head", note.seal_head}, {"number", 3}, {"by", "R. Okoye"}, {"at", "2026-10-03T08:00:00Z"}}));
  BOOST_TEST(view["session"]["changeable"] == false);
  BOOST_TEST(view["next"].is_null());
}

BOOST_AUTO_TEST_CASE(names_survive_as_they_were_typed) {
  const std::string name = "</script><img src=x onerror=alert(1)> \"\\' \u2028\u202e “coupling load”";
  json sheet = small_sheet();
  sheet["client"] = {{"name", name}};
  sheet["weighed"] = {{"place", name}, {"technician", name}};
  sheet["rig"]["tow_vehicle"]["label"] = sheet["rig"]["trailer"]["label"] = sheet["rig"]["limits"][0]["source"] = name;
  sheet["states"][1]["name"] = name;
  sheet["states"][1]["readings"] = {reading_of("r1", "tow.1", 1000), reading_of("r2", "tow.2", 1200), reading_of("r3", "trailer.1", 900)};
  sheet["states"][1]["readings"][0]["struck"] = {{"why", name}, {"by", name}, {"at", "2026-10-03T09:10:00+02:00"}};
  sheet["states"][1]["readings"].push_back(reading_of("r4", "tow.1", 1001));
  const Weighed weighed(sheet);
  for (const auto words : reports::all_regions) {
    const std::string text = view_json({weighed.solved.session, &weighed.solved, {}, {}, 1}, reader_in(words));
    BOOST_TEST(text.find('\n') == text.npos);  // it goes out as one line of an event
    const json view = json::parse(text);
    BOOST_TEST(view["session"]["client"] == name);
    BOOST_TEST(view["session"]["place"] == name);
    BOOST_TEST(view["session"]["technician"] == name);
    BOOST_TEST(view["rig"]["tow"]["label"] == name);
    BOOST_TEST(view["rig"]["trailer"]["label"] == name);
    BOOST_TEST(view["states"][1]["name"] == name);
    BOOST_TEST(reading_in(view, "r1")["struck"]["why"] == name);
    BOOST_TEST(view["found"]["margins"][0]["source"] == name);
    BOOST_TEST(view["next"]["words"].get<std::string>().find("“" + std::string(view["next"]["state"]) + "”") != std::string::npos);
  }
}

BOOST_AUTO_TEST_CASE(titles) {
  BOOST_TEST(rig_title("survey utility 12", std::optional<std::string>("pump trailer 3")) == "survey utility 12 with pump trailer 3");
  BOOST_TEST(rig_title("", std::optional<std::string>("")) == "unnamed vehicle with unnamed trailer");
  BOOST_TEST(rig_title("tanker", std::nullopt) == "tanker");
}

BOOST_AUTO_TEST_SUITE_END()
