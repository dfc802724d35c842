// OIML R 76-1 as a scale's uncertainty, the tyre load index and UNECE R55's D-value, each through a sheet.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "assess/scale_checks.hpp"
#include "rig/words.hpp"
#include "tests/published/chain.hpp"

namespace {

using namespace steelyard;
namespace tt = boost::test_tools;
using nlohmann::json;

/// A vehicle alone whose axles were read on scale P1, with the scale as `scale` says. Invented loads.
json weighed_on(const json& scale) {
  json sheet = test::two_axle_sheet("kg", "mm", 3000);
  sheet["weighed"]["at"] = "2026-10-03T08:40:00+02:00";
  sheet["scales"] = json::array({scale});
  json state{{"name", "alone"}, {"hitched", false}};
  const double load = scale.value("capacity", 1000.0) / 2;
  state["readings"] = {{{"at", "tow.1"}, {"load", load}, {"scale", "P1"}},
                       {{"at", "tow.2"}, {"load", load}, {"scale", "P1"}}};
  sheet["states"].push_back(state);
  return sheet;
}

double gain_u(const json& sheet) {
  const test::Chain chain = test::run(sheet);
  const double* found = nullptr;
  for (const auto& row : chain.findings.observations)
    if (row.kind == reconcile::ObservationKind::gain) found = &row.u;
  BOOST_REQUIRE(found);
  return *found;
}

json scale_of(const std::string& of_class, double divisions, double division) {
  return {
      {"id", "P1"}, {"accuracy_class", of_class}, {"capacity", divisions * division}, {"division", division}};
}

/// Of one wheel limit by load index: the rating of the first row.
double rating(int index, int tyres) {
  json sheet = weighed_on({{"id", "P1"}});
  sheet["states"][0]["readings"] = {{{"at", "tow.1.left"}, {"load", 200}},
                                    {{"at", "tow.1.right"}, {"load", 210}},
                                    {{"at", "tow.2"}, {"load", 400}}};
  sheet["rig"]["limits"] = {{{"of", "wheel.tow.1"}, {"load_index", index}, {"tyres", tyres}}};
  const test::Chain chain = test::run(sheet);
  BOOST_REQUIRE_EQUAL(chain.assessment.rows.size(), 1u);
  BOOST_REQUIRE(chain.assessment.rows[0].rating);
  BOOST_TEST(chain.assessment.rows[0].at == "tow.1.right");
  return *chain.assessment.rows[0].rating;
}

json rated(double tow_gross, double trailer_gross, double trailer_axles) {
  json sheet = weighed_on({{"id", "P1"}});
  sheet["rig"]["trailer"] = {{"axles", 1}};
  sheet["rig"]["limits"] = {{{"of", "tow_gross"}, {"value", tow_gross}},
                            {{"of", "trailer_gross"}, {"value", trailer_gross}},
                            {{"of", "trailer_axles"}, {"value", trailer_axles}},
                            {{"of", "d_value"}, {"value", 17.2}},
                            {{"of", "dc_value"}, {"value", 17.2}}};
  return sheet;
}

const assess::Row& row(const test::Chain& chain, std::string_view of) {
  for (const assess::Row& candidate : chain.assessment.rows)
    if (candidate.of == of) return candidate;
  BOOST_FAIL("there is no row " << of);
  return chain.assessment.rows.front();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(scales)

/// OIML R 76-1:2006, Table 6 (compared with a copy), twice that in service (3.5.2, from memory), taken at
/// capacity as a rectangular distribution: mpe/√3, relative to the capacity. Every step at its last
/// division, and one division past it, where the next step begins.
BOOST_AUTO_TEST_CASE(every_step_of_table_6) {
  const json table = test::data("nawi_mpe").at("table6");
  constexpr double in_service = 2;
  int checked = 0;
  for (const auto& [of_class, steps] : table.items()) {
    const double division = of_class == "I" ? 0.01 : of_class == "II" ? 0.1 : 1;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const double error = steps[i][1];
      const auto expected = [&](double e, double divisions) {
        return in_service * e / (divisions * std::sqrt(3.0));
      };
      BOOST_TEST_CONTEXT("class " << of_class << ", step " << i + 1) {
        if (steps[i][0].is_null()) {  // class I has no last division
          BOOST_TEST(gain_u(weighed_on(scale_of(of_class, 400000, division))) == expected(error, 400000),
                     tt::tolerance(1e-12));
          ++checked;
          continue;
        }
        const double last = steps[i][0];
        BOOST_TEST(gain_u(weighed_on(scale_of(of_class, last, division))) == expected(error, last),
                   tt::tolerance(1e-12));
        ++checked;
        if (i + 1 == steps.size()) continue;
        const double next = steps[i + 1][1];
        BOOST_TEST(gain_u(weighed_on(scale_of(of_class, last + 1, division))) == expected(next, last + 1),
                   tt::tolerance(1e-12));
        ++checked;
      }
    }
  }
  BOOST_TEST(checked == 20);
}

/// The same table for a check weight: at the last division of a step, and at one division past it.
BOOST_AUTO_TEST_CASE(a_check_weight_at_every_step_of_table_6) {
  const json table = test::data("nawi_mpe").at("table6");
  int checked = 0;
  for (const auto& [of_class, steps] : table.items())
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const double error = steps[i][1], first = i == 0 ? 1 : steps[i - 1][0].get<double>() + 1;
      const double last = steps[i][0].is_null() ? 400000 : steps[i][0].get<double>();
      for (const double mass : {first, last}) {
        rig::Session session;
        rig::Scale& scale = session.scales.emplace_back();
        scale.accuracy_class = rig::parse_accuracy_class(of_class);
        scale.division = units::Load{1, units::LoadUnit::kilogram};
        const auto put_on = [&](double shown) {
          scale.check_weights.push_back({{mass, units::LoadUnit::kilogram}, {shown, units::LoadUnit::kilogram}, ""});
        };
        put_on(mass + 2 * error);
        put_on(mass - 2 * error - 1);
        const auto found = assess::scale_checks(session).at(0).check_weights;
        BOOST_TEST_CONTEXT("class " << of_class << ", " << mass << " divisions") {
          BOOST_TEST(found[0].difference.allowed == 2 * error);
          BOOST_TEST(!found[0].difference.beyond);
          BOOST_TEST(found[1].difference.beyond);
          ++checked;
        }
      }
    }
  BOOST_TEST(checked == 24);
}

/// Hand calculation: class III, 1500 kg by 1 kg is 1500 divisions, 1.0 e in Table 6, 2 kg in service:
/// 2/(1500·1.7320508) = 7.698004e-4. In pounds the same figures give the same ratio.
BOOST_AUTO_TEST_CASE(one_scale_by_hand_in_kilograms_and_pounds) {
  json sheet = weighed_on(scale_of("III", 1500, 1));
  BOOST_TEST(gain_u(sheet) == 7.698004e-4, tt::tolerance(1e-7));
  sheet["units"]["load"] = "lb";
  BOOST_TEST(gain_u(sheet) == 7.698004e-4, tt::tolerance(1e-7));
}

/// The boundary of a step is kept by every usual division, in both units, though 0.05 or a pound is no
/// binary number (OIML R 76-1:2006, Table 6, class III: 0.5 e up to 500 divisions, 1.0 e up to 2000).
BOOST_AUTO_TEST_CASE(boundaries_survive_conversion) {
  for (const char* unit : {"kg", "lb"})
    for (const double division : {0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0})
      for (const auto& [divisions, error] : {std::pair{500.0, 0.5}, std::pair{2000.0, 1.0}}) {
        json sheet = weighed_on(scale_of("III", divisions, division));
        sheet["units"]["load"] = unit;
        BOOST_TEST_CONTEXT(divisions << " divisions of " << division << ' ' << unit) {
          BOOST_TEST(gain_u(sheet) == 2 * error / (divisions * std::sqrt(3.0)), tt::tolerance(1e-12));
        }
      }
}

/// The class counts only while the calibration is in date on the day of weighing, in date where no date is
/// given, and only with a capacity; else 0.003, common practice, no source.
BOOST_AUTO_TEST_CASE(class_counts_while_in_date) {
  constexpr double by_class = 7.698004e-4, by_default = 0.003;
  const auto due = [](const char* date, const char* weighed) {
    json scale = scale_of("III", 1500, 1);
    if (*date) scale["due"] = date;
    json sheet = weighed_on(scale);
    sheet["weighed"] = json::object();
    if (*weighed) sheet["weighed"]["at"] = weighed;
    return gain_u(sheet);
  };
  const char* const day = "2026-10-03T08:40:00+02:00";
  BOOST_TEST(due("2027-02-11", day) == by_class, tt::tolerance(1e-7));
  BOOST_TEST(due("2026-10-03", day) == by_class, tt::tolerance(1e-7));
  BOOST_TEST(due("", day) == by_class, tt::tolerance(1e-7));
  BOOST_TEST(due("2026-10-02", "") == by_class, tt::tolerance(1e-7));
  BOOST_TEST(due("2026-10-02", day) == by_default, tt::tolerance(1e-12));
  BOOST_TEST(due("2025-12-31", day) == by_default, tt::tolerance(1e-12));
  // The place's own day counts: in Greenwich it is still the 2nd.
  BOOST_TEST(due("2026-10-02", "2026-10-03T00:30:00+02:00") == by_default, tt::tolerance(1e-12));

  json no_capacity = scale_of("III", 1500, 1);
  no_capacity.erase("capacity");
  BOOST_TEST(gain_u(weighed_on(no_capacity)) == by_default, tt::tolerance(1e-12));
  json certified = scale_of("III", 1500, 1);
  certified["gain_u"] = 0.0006;  // its certificate's figure comes first
  BOOST_TEST(gain_u(weighed_on(certified)) == 0.0006, tt::tolerance(1e-12));
}

BOOST_AUTO_TEST_SUITE_END()

BOOST_AUTO_TEST_SUITE(ratings)

/// Load-capacity index 60 to 150 (ISO 4000-1; UN R30, R54), data/tyre_load_index.json.
BOOST_AUTO_TEST_CASE(whole_tyre_load_index_table) {
  const json table = test::data("tyre_load_index").at("kg");
  BOOST_REQUIRE_EQUAL(table.size(), 91u);
  for (const auto& [index, kilograms] : table.items()) {
    const auto found = assess::load_index_kilograms(std::stoi(index));
    BOOST_TEST_CONTEXT("index " << index) {
      BOOST_REQUIRE(found);
      BOOST_TEST(*found == kilograms.get<int>());
    }
  }
  BOOST_TEST(!assess::load_index_kilograms(59));
  BOOST_TEST(!assess::load_index_kilograms(151));
}

/// The same table, where a wheel's limit names an index: 100 is 800 kg, two of 121 carry 2·1450 kg.
BOOST_AUTO_TEST_CASE(load_index_as_a_wheel_limit) {
  BOOST_TEST(rating(100, 1) == 800.0);
  BOOST_TEST(rating(121, 2) == 2900.0);
  BOOST_TEST(rating(60, 1) == 250.0);
  BOOST_TEST(rating(150, 2) == 6700.0);
}

/// UNECE R55: D = g·T·R/(T + R), g = 9.81 m/s² (formula from secondary texts): 3.5 t and 3.5 t give
/// 9.81·12.25/7 = 17.1675 kN; Dc with 2.8 t on the trailer's axles 9.81·9.8/6.3 = 15.26 kN.
BOOST_AUTO_TEST_CASE(d_value_of_un_r55) {
  const test::Chain chain = test::run(rated(3500, 3500, 2800));
  const assess::Row& d = row(chain, "d_value");
  BOOST_TEST(d.value.value() == 17.1675, tt::tolerance(1e-12));
  BOOST_TEST(d.margin.value() == 17.2 - 17.1675, tt::tolerance(1e-10));
  BOOST_TEST(std::string(symbol(d.measure)) == "kN");
  BOOST_TEST(to_text(d.outcome) == "pass");
  BOOST_TEST(row(chain, "dc_value").value.value() == 15.26, tt::tolerance(1e-12));
}

BOOST_AUTO_TEST_CASE(d_value_over_its_rating_fails) {
  // 9.81·3.5·3.6/7.1 = 17.40929… kN, hand calculation.
  const assess::Row d = row(test::run(rated(3500, 3600, 2800)), "d_value");
  BOOST_TEST(d.value.value() == 17.409296, tt::tolerance(1e-7));
  BOOST_TEST(to_text(d.outcome) == "fail");
}

BOOST_AUTO_TEST_SUITE_END()
