// What goes into a store comes out the same, to the last bit.
#include <algorithm>
#include <bit>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Store;

namespace {

rig::Session through_a_store(const rig::Session& session) {
  const Folder folder;
  const auto path = make_store(folder, {session});
  return Store::open(path, Access::read_only).load(session.id);
}

std::uint64_t bits(double value) {
  return std::bit_cast<std::uint64_t>(value);
}

/// A negative figure of the same digits, within the bounds of a length; +0 where nothing is left of it.
double below(double figure) {
  return -figure / 128 + 0.0;
}

rig::Session with_loads(const std::vector<double>& figures, units::LoadUnit unit) {
  rig::Session session = small_session("figures");
  std::vector<rig::Reading>& readings = session.states[0].readings;
  readings.clear();
  for (const double figure : figures) {
    const auto at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
    rig::Reading& added = readings.emplace_back(reading(std::to_string(readings.size() + 1), at, 0));
    added.load = {figure, unit};
    added.raised = units::Length{below(figure), units::LengthUnit::inch};
  }
  return session;
}

void check_figures(const std::vector<double>& figures) {
  for (const auto unit : {units::LoadUnit::kilogram, units::LoadUnit::pound}) {
    const rig::Session back = through_a_store(with_loads(figures, unit));
    BOOST_REQUIRE_EQUAL(back.states[0].readings.size(), figures.size());
    for (std::size_t i = 0; i < figures.size(); ++i) {
      BOOST_TEST(bits(back.states[0].readings[i].load.figure) == bits(figures[i]));
      BOOST_TEST(bits(back.states[0].readings[i].raised.value().figure) == bits(below(figures[i])));
    }
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(round_trip)

BOOST_AUTO_TEST_CASE(every_field_comes_back) {
  const rig::Session session = full_session("7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11");
  BOOST_TEST((through_a_store(session) == session));
}

BOOST_AUTO_TEST_CASE(a_vehicle_alone_comes_back) {
  const rig::Session session = small_session("alone");
  const rig::Session back = through_a_store(session);
  BOOST_TEST((back == session));
  BOOST_TEST(!back.rig.trailer);
  BOOST_TEST(!back.carried.occupants);
}

BOOST_AUTO_TEST_CASE(a_session_without_states_comes_back) {
  rig::Session session = small_session("nothing yet");
  session.states.clear();
  BOOST_TEST((through_a_store(session) == session));
}

// Figures that a detour through decimal text, a float or a rounded conversion would change.
BOOST_AUTO_TEST_CASE(awkward_figures_keep_every_bit) {
  check_figures({0.1, 0.1 + 0.2, 1.0 / 3, 641.0, 655.0000000000001, std::nextafter(812.0, 813.0), 1e-300,
                 std::numeric_limits<double>::denorm_min(), std::numeric_limits<double>::min(),
                 4503599627370497.0 / 8388608, 123456789.123456789, 999999999.9999999, 9007199.254740993});
}

BOOST_AUTO_TEST_CASE(random_figures_keep_every_bit) {
  std::mt19937_64 random(20261003);
  std::vector<double> figures;
  while (figures.size() < 2000) {
    const double figure = std::bit_cast<double>(random() >> 1);  // no sign: a load is not negative
    if (figure > 0 && figure < 1e8) figures.push_back(figure);
  }
  check_figures(figures);
}

BOOST_AUTO_TEST_CASE(minus_zero_is_zero) {
  rig::Session session = small_session("zero");
  session.states[0].readings[0].load.figure = -0.0;
  BOOST_TEST((through_a_store(session) == session));
}

BOOST_AUTO_TEST_CASE(kilograms_and_millimetres_stand_beside_the_figures) {
  const Folder folder;
  rig::Session session = with_loads({1234.5}, units::LoadUnit::pound);
  const auto path = make_store(folder, {session});
  const Raw raw(path);
  // 1234.5 lb x 0.45359237 kg/lb and -1234.5/128 in x 25.4 mm/in, by hand: 559.959780765 and -244.97109375
  BOOST_TEST(raw.number("SELECT load_kg FROM reading") == 559.959780765, boost::test_tools::tolerance(1e-15));
  BOOST_TEST(raw.number("SELECT raised_mm FROM reading") == -244.97109375,
             boost::test_tools::tolerance(1e-15));
  BOOST_TEST(raw.number("SELECT load_figure FROM reading") == 1234.5);
  BOOST_TEST(raw.text("SELECT load_unit || raised_unit FROM reading") == "lbin");
}

BOOST_AUTO_TEST_CASE(every_position_is_known_to_the_file) {
  using rig::Position;
  std::vector<Position> all{Position::support_at_coupling(), Position::support_at_jockey()};
  for (const auto vehicle : {rig::Vehicle::tow, rig::Vehicle::trailer}) {
    all.push_back(Position::whole(vehicle));
    for (int axle = 1; axle <= rig::most_axles; ++axle) {
      all.push_back(Position::whole_axle(vehicle, axle));
      all.push_back(Position::wheel(vehicle, axle, rig::Side::left));
      all.push_back(Position::wheel(vehicle, axle, rig::Side::right));
    }
  }
  rig::Session session = small_session("positions");
  session.states[0].readings.clear();
  for (const Position& at : all) session.states[0].readings.push_back(reading(rig::to_text(at), at, 1));
  BOOST_TEST((through_a_store(session) == session));

  const Folder folder;
  const auto path = make_store(folder, {});
  BOOST_TEST(Raw(path).integer("SELECT count(*) FROM position") == static_cast<long long>(all.size()));
  BOOST_TEST(Raw(path).text("SELECT * FROM position WHERE position = 'trailer.12.right'") ==
             "trailer.12.right|wheel|trailer|12|right");
}

BOOST_AUTO_TEST_CASE(every_limit_is_known_to_the_file) {
  rig::Session session = small_session("limits");
  std::vector<std::string> expected;
  for (const std::string_view name : rig::limit_names()) {
    const bool numbered = name.ends_with(".N");
    for (int axle = 1; axle <= (numbered ? rig::most_axles : 1); ++axle) {
      std::string full(name);
      if (numbered) full.replace(full.size() - 1, 1, std::to_string(axle));
      session.rig.limits.push_back(rig::parse_limit_name(full).value());
      const auto measure = rig::measure_of(session.rig.limits.back().kind);
      full += measure == rig::Measure::load ? "|load" : measure == rig::Measure::ratio ? "|ratio" : "|force";
      expected.push_back(full);
    }
  }
  BOOST_TEST((through_a_store(session) == session));

  const Folder folder;
  const auto path = make_store(folder, {});
  std::vector<std::string> stored = Raw(path).texts("SELECT name, measure FROM limit_name");
  std::sort(expected.begin(), expected.end());
  std::sort(stored.begin(), stored.end());
  BOOST_TEST(stored == expected, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(hostile_text_is_only_text) {
  rig::Session session = full_session("'); DROP TABLE reading; --");
  session.client.name = "O'Brien \"Bob\" ?1 :name @x $y \\ % _ ; /* */";
  session.weighed.place = "=1+1\t\r\n\x01\x7f";
  session.weighed.technician = "\xff\xfe not UTF-8";
  session.states[0].name = "''''";
  session.states[0].readings[0].id = "r1' OR '1'='1";
  session.scales[0].id = "NULL";
  session.states[0].readings[0].scales = {"NULL"};
  session.states[0].readings[1].scales = {"NULL", "P2"};
  session.states[1].readings[0].struck->why = std::string(20000, '\'');
  BOOST_TEST((through_a_store(session) == session));
}

BOOST_AUTO_TEST_SUITE_END()
