// A fleet's figures from entries made by hand; what is expected is counted by hand.
#include <boost/test/unit_test.hpp>

#include "audit/fleet.hpp"

using namespace steelyard;
using namespace steelyard::audit;
using assess::Outcome;
using assess::RigOutcome;

namespace {

Rated rated(rig::LimitKind kind, std::string_view of, double rating, double value, Outcome outcome) {
  Rated out;
  out.kind = kind;
  out.of = of;
  out.rating = rating;
  out.value = value;
  out.u = 1.0;
  out.used = value / rating;
  out.outcome = outcome;
  return out;
}

Entry entry(std::string_view id, std::string_view day, std::string_view client, RigOutcome outcome, double gross) {
  Entry out;
  out.id = id;
  out.day = day;
  out.client = out.client_uid = client;
  out.tow = out.tow_uid = "utility";
  out.outcome = outcome;
  out.consistent = true;
  const Outcome of_gross = outcome == RigOutcome::fail               ? Outcome::fail
                           : outcome == RigOutcome::conditional_fail ? Outcome::conditional_fail
                                                                     : Outcome::pass;
  out.ratings.push_back(rated(rig::LimitKind::tow_gross, "tow_gross", 1000, gross, of_gross));
  out.nearest = 0;
  return out;
}

std::vector<Entry> fleet() {
  std::vector<Entry> all{entry("a", "2026-01-10", "north", RigOutcome::fail, 1100),
                         entry("b", "2026-01-20", "north", RigOutcome::pass, 800),
                         entry("c", "2026-03-05", "south", RigOutcome::conditional_fail, 1001),
                         entry("d", "2026-03-06", "south", RigOutcome::pass, 500),
                         entry("e", "2026-03-07", "south", RigOutcome::pass, 499)};
  Entry unrated = entry("f", "", "north", RigOutcome::not_assessed, 0);
  unrated.ratings.front() = {};
  unrated.ratings.front().of = "tow_gross";
  unrated.ratings.front().reason = "weigh every axle";
  unrated.nearest.reset();
  unrated.consistent.reset();
  all.push_back(unrated);
  return all;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(a_fleet)

BOOST_AUTO_TEST_CASE(what_has_no_rating_counts_in_no_rate) {
  const Totals totals = totals_of(fleet());
  BOOST_TEST(totals.rate.weighed == 6u);
  BOOST_TEST(totals.rate.assessed == 5u);
  BOOST_TEST(totals.rate.outside == 2u);
  BOOST_TEST(totals.rate.too_close == 1u);
  BOOST_TEST(totals.rate.share() == 0.4);
  BOOST_TEST(totals.clients == 2u);
  BOOST_TEST(totals.rigs == 1u);
  BOOST_TEST(totals.without_rating == 1u);
  BOOST_TEST(totals.untested == 1u);
  BOOST_TEST(totals.first_day == "2026-01-10");
  BOOST_TEST(totals.last_day == "2026-03-07");
}

BOOST_AUTO_TEST_CASE(rates_stand_by_their_lower_ends) {
  const auto rates = rates_by(fleet(), Division::client);
  BOOST_REQUIRE(rates.size() == 2u);
  BOOST_TEST(rates[0].name == "north");  // 1 of 2: from 0.095 on; 1 of 3: from 0.061 on
  BOOST_TEST(rates[0].rate.assessed == 2u);
  BOOST_TEST(rates[0].rate.weighed == 3u);
  BOOST_TEST(rates[1].rate.outside == 1u);
  BOOST_TEST(rates[1].rate.too_close == 1u);
}

BOOST_AUTO_TEST_CASE(a_trend_has_no_gaps) {
  const Trend trend = trend_of(fleet());
  BOOST_TEST((trend.period == Period::month));
  BOOST_REQUIRE(trend.periods.size() == 3u);
  BOOST_TEST(trend.periods[1].name == "2026-02");
  BOOST_TEST(trend.periods[1].rate.weighed == 0u);
  BOOST_TEST(trend.periods[2].rate.weighed == 3u);
  BOOST_TEST(trend.undated == 1u);
  std::vector<Entry> long_ago = fleet();
  long_ago.push_back(entry("g", "2022-12-31", "north", RigOutcome::pass, 1));
  BOOST_TEST((trend_of(long_ago).period == Period::quarter));
  BOOST_TEST(trend_of(long_ago).periods.front().name == "2022 Q4");
  long_ago.push_back(entry("h", "2001-12-31", "north", RigOutcome::pass, 1));
  BOOST_TEST(trend_of(long_ago).periods.front().name == "2001");
}

BOOST_AUTO_TEST_CASE(breaches_stand_worst_first_and_again_is_more_than_once) {
  const auto all = fleet();
  const auto breaches = breaches_of(all, {});
  BOOST_REQUIRE(breaches.size() == 2u);
  BOOST_TEST(breaches[0].entry == 0u);
  BOOST_TEST(breaches[1].entry == 2u);
  const auto offenders = offenders_of(all);
  BOOST_REQUIRE(offenders.size() == 1u);
  BOOST_TEST(offenders[0].weighings == 6u);
  BOOST_TEST(offenders[0].outside == 2u);
  BOOST_TEST(offenders[0].worst_entry == 0u);
  BOOST_TEST(offenders[0].last_entry == 2u);
}

BOOST_AUTO_TEST_CASE(a_round_share_stands_in_the_bin_that_it_begins) {
  std::vector<Entry> all;
  for (const double gross : {499.0, 500.0, 599.9, 600.0, 1000.0, 1099.0, 1200.0, 5000.0})
    all.push_back(entry("x", "2026-01-01", "n", RigOutcome::pass, gross));
  const auto used = utilisation_of(all);
  BOOST_REQUIRE(used.size() == 1u);
  const std::array<std::size_t, Utilisation::bins> expected{1, 2, 1, 0, 0, 0, 2, 0, 2};
  BOOST_TEST(used[0].counts == expected, boost::test_tools::per_element());
  BOOST_TEST(used[0].count == 8u);
}

// Hyndman and Fan's definition 7 by hand: of 1, 2, 3, 4 the median is 2.5 and the tenth part 1.3.
BOOST_AUTO_TEST_CASE(quantiles_are_linear_between_neighbours) {
  BOOST_TEST(quantile({1, 2, 3, 4}, 0.5) == 2.5);
  BOOST_TEST(quantile({1, 2, 3, 4}, 0.1) == 1.3, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(quantile({7}, 0.9) == 7);
  BOOST_TEST(quantile({}, 0.5) == 0);
}

BOOST_AUTO_TEST_CASE(coupling_shares_and_reasons_are_counted) {
  auto all = fleet();
  all[0].coupling_share = Figure{-0.01, 0.01};
  all[1].coupling_share = Figure{0.05, 0.01};
  all[2].coupling_share = Figure{0.31, 0.01};
  const auto shares = coupling_shares_of(all);
  BOOST_TEST(shares.count == 3u);
  BOOST_TEST(shares.counts[0] == 1u);
  BOOST_TEST(shares.counts[6] == 1u);  // 5 to 6 %
  BOOST_TEST(shares.counts[ShareDistribution::bins - 1] == 1u);
  BOOST_TEST(shares.median == 0.05);
  const auto reasons = not_assessed_of(all);
  BOOST_REQUIRE(reasons.size() == 1u);
  BOOST_TEST(reasons[0].reason == "weigh every axle");
  BOOST_TEST(reasons[0].sessions == 1u);
}

BOOST_AUTO_TEST_SUITE_END()
