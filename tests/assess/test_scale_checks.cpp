// What a session says against its own scales. Allowed figures are hand calculations; the steps of OIML R 76-1
// are held against its table in tests/published.
#include <boost/test/unit_test.hpp>

#include "assess/scale_checks.hpp"

using namespace steelyard;
using assess::CheckRule;
using assess::ScaleCheck;
using assess::ScaleFlagKind;
namespace tt = boost::test_tools;

namespace {

rig::Scale named(const std::string& id) {
  rig::Scale scale;
  scale.id = id;
  scale.calibrated = "2026-02-11";
  return scale;
}

ScaleCheck checked(const rig::Scale& scale, const std::string& weighed_at = "2026-10-03T08:40:00+02:00") {
  rig::Session session;
  session.weighed.at = weighed_at;
  session.scales = {scale};
  return assess::scale_checks(session).at(0);
}

std::vector<ScaleFlagKind> kinds(const ScaleCheck& check) {
  std::vector<ScaleFlagKind> all;
  for (const auto& flag : check.flags) all.push_back(flag.kind);
  return all;
}

using Kinds = std::vector<ScaleFlagKind>;

rig::CheckWeight weight(double mass, double load, units::LoadUnit unit = units::LoadUnit::kilogram) {
  return {{mass, unit}, {load, unit}, ""};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(scale_checks)

BOOST_AUTO_TEST_CASE(out_of_date_on_the_day_of_weighing_at_the_place) {
  rig::Scale scale = named("P1");
  BOOST_TEST(!checked(scale).out_of_date.has_value());
  scale.due = "2026-10-03";  // to the end of that day
  BOOST_TEST(!checked(scale).out_of_date.value());
  // In UTC this is the 3rd already; at the place it is still the 2nd, and the other way round.
  BOOST_TEST(!checked(scale, "2026-10-02T23:00:00-06:00").out_of_date.value());
  BOOST_TEST(checked(scale, "2026-10-04T00:30:00+13:00").out_of_date.value());
  BOOST_TEST((kinds(checked(scale, "2026-10-04T00:30:00+13:00")) == Kinds{ScaleFlagKind::out_of_date}));
  BOOST_TEST(!checked(scale, "").out_of_date.has_value());
}

BOOST_AUTO_TEST_CASE(no_day_of_calibration) {
  rig::Scale scale = named("P1");
  BOOST_TEST(checked(scale).flags.empty());
  scale.calibrated.clear();
  BOOST_TEST((kinds(checked(scale)) == Kinds{ScaleFlagKind::not_calibrated}));
  BOOST_TEST(checked(scale).flags[0].scale == "P1");
}

BOOST_AUTO_TEST_CASE(zeros_may_lie_and_move_by_one_division) {
  rig::Scale scale = named("P1");
  scale.division = units::Load{0.5, {}};
  scale.zero_before = units::Load{0.5, {}};
  scale.zero_after = units::Load{1, {}};
  BOOST_TEST(checked(scale).flags.empty());
  scale.zero_after = units::Load{-0.5, {}};
  const ScaleCheck drifted = checked(scale);
  BOOST_TEST((kinds(drifted) == Kinds{ScaleFlagKind::zero_drift}));
  BOOST_TEST(drifted.flags[0].figure.value() == -1);
  BOOST_TEST(drifted.flags[0].allowed.value() == 0.5);
  scale.zero_before = scale.zero_after = units::Load{12, {}};
  BOOST_TEST((kinds(checked(scale)) == Kinds{ScaleFlagKind::zero_off}));
  scale.zero_before.reset();
  BOOST_TEST((!checked(scale).zero && !checked(scale).zero_drift));
}

BOOST_AUTO_TEST_CASE(without_a_division_what_repeatability_explains) {
  rig::Scale scale = named("P1");
  scale.repeatability = units::Load{1, {}};
  scale.zero_before = units::Load{2, {}};
  scale.zero_after = units::Load{-0.8, {}};
  const ScaleCheck within = checked(scale);
  BOOST_TEST(within.zero->allowed == 2);
  BOOST_TEST(within.zero_drift->allowed == 2.8284271247461903, tt::tolerance(1e-14));  // 2√2
  BOOST_TEST(within.flags.empty());
  scale.zero_after = units::Load{-0.9, {}};
  BOOST_TEST((kinds(checked(scale)) == Kinds{ScaleFlagKind::zero_drift}));
  // A repeatability of 0 explains nothing, silence neither: the default division of 1 kg.
  scale.repeatability = units::Load{0, {}};
  BOOST_TEST(checked(scale).zero->allowed == 1);
  scale.repeatability.reset();
  BOOST_TEST(checked(scale).zero_drift->allowed == 1);
}

BOOST_AUTO_TEST_CASE(a_check_weight_against_the_uncertainty) {
  rig::Scale scale = named("P1");
  scale.division = units::Load{1, {}};
  scale.repeatability = units::Load{1, {}};
  scale.gain_u = 0.0006;
  scale.check_weights = {weight(500, 500.5), weight(500, 503), weight(500, 497.9)};
  const ScaleCheck check = checked(scale);
  // 2·√(0.3² + 1/12 + 1) = 2·√1.1733333 = 2.1664102.
  for (const auto& one : check.check_weights) {
    BOOST_TEST(one.difference.allowed == 2.1664102, tt::tolerance(1e-7));
    BOOST_TEST((one.rule == CheckRule::uncertainty));
  }
  BOOST_TEST((kinds(check) == Kinds{ScaleFlagKind::check_weight}));
  BOOST_TEST(check.flags[0].check_weight == 1u);
  BOOST_TEST(check.flags[0].figure.value() == 3);
}

BOOST_AUTO_TEST_CASE(silence_means_the_defaults_and_a_class_without_a_division_says_nothing) {
  rig::Scale scale = named("P1");
  scale.accuracy_class = rig::AccuracyClass::III;
  scale.check_weights = {weight(100, 102)};
  const ScaleCheck check = checked(scale);
  // Gain u 0.003, division 1 kg, repeatability 1 kg: 2·√(0.3² + 1/12 + 1) again.
  BOOST_TEST(check.check_weights[0].difference.allowed == 2.1664102, tt::tolerance(1e-7));
  BOOST_TEST((check.check_weights[0].rule == CheckRule::uncertainty));
}

BOOST_AUTO_TEST_CASE(a_known_gain_is_taken_off_first) {
  rig::Scale scale = named("P1");
  scale.gain = 0.01;
  scale.gain_u = 0.001;
  scale.check_weights = {weight(500, 505), weight(500, 500)};
  const ScaleCheck check = checked(scale);
  BOOST_TEST(check.check_weights[0].difference.value == 0);
  BOOST_TEST(check.check_weights[1].difference.value == -5);
  // 2·√(0.5² + 1/12 + 1) = 2.3094011.
  BOOST_TEST(check.check_weights[1].difference.allowed == 2.3094011, tt::tolerance(1e-7));
  BOOST_TEST(check.flags.size() == 1u);
}

BOOST_AUTO_TEST_CASE(in_pounds_a_difference_that_is_just_allowed_stays_so) {
  rig::Scale scale = named("P1");
  scale.division = units::Load{2, units::LoadUnit::pound};
  scale.accuracy_class = rig::AccuracyClass::III;
  // 1000 lb are 500 divisions: 2 · 0.5 · 2 lb = 2 lb allowed; at 1002 lb 4 lb. 1 lb = 0.45359237 kg.
  const auto pound = units::LoadUnit::pound;
  scale.check_weights = {weight(1000, 1002, pound), weight(1000, 998, pound), weight(1000, 1004, pound),
                         weight(1002, 1006, pound)};
  const ScaleCheck check = checked(scale);
  BOOST_TEST(check.check_weights[0].difference.allowed == 2 * 0.45359237, tt::tolerance(1e-14));
  BOOST_TEST((kinds(check) == Kinds{ScaleFlagKind::check_weight}));
  BOOST_TEST(check.flags[0].check_weight == 2u);
}

BOOST_AUTO_TEST_CASE(a_scale_is_used_where_a_reading_that_counts_names_it) {
  rig::Session session;
  session.scales = {named("P1"), named("P2"), named("P3")};
  rig::State state;
  rig::Reading one, struck;
  one.scales = {"P1", "P3"};
  struck.scales = {"P2"};
  struck.struck = rig::Strike{"door open", "", ""};
  state.readings = {one, struck};
  session.states = {state};
  const auto checks = assess::scale_checks(session);
  BOOST_TEST((checks[0].used && !checks[1].used && checks[2].used));
}

BOOST_AUTO_TEST_SUITE_END()
