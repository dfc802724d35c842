// Wilson's interval against published values.
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "audit/wilson.hpp"

using steelyard::audit::wilson;

BOOST_AUTO_TEST_SUITE(wilsons_interval)

// R. G. Newcombe, Two-sided confidence intervals for the single proportion: comparison of seven methods, Statistics in
// Medicine 17 (1998) 857-872, table I, method 3 (score, no continuity correction). The values are from memory.
BOOST_AUTO_TEST_CASE(newcombe_1998_table_1) {
  struct Printed {
    std::size_t hits, trials;
    double low, high;
  };
  for (const Printed& one : {Printed{81, 263, 0.2553, 0.3662}, Printed{15, 148, 0.0624, 0.1605},
                             Printed{0, 20, 0.0000, 0.1611}, Printed{1, 29, 0.0061, 0.1718}}) {
    const auto [low, high] = wilson(one.hits, one.trials);
    BOOST_TEST(std::abs(low - one.low) <= 0.00005);
    BOOST_TEST(std::abs(high - one.high) <= 0.00005);
  }
}

// The definition: the ends are the p for which the score test just rejects, |p̂ − p| = z·√(p(1 − p)/n).
BOOST_AUTO_TEST_CASE(the_ends_are_where_the_score_test_rejects) {
  for (const std::size_t trials : {1u, 7u, 100u, 99'999u})
    for (const std::size_t hits : {trials / 3, trials / 2, trials}) {
      const auto [low, high] = wilson(hits, trials);
      const double n = static_cast<double>(trials), share = static_cast<double>(hits) / n;
      for (const double p : {low, high}) {
        if (p <= 0 || p >= 1) continue;
        const double score = std::abs(share - p) / std::sqrt(p * (1 - p) / n);
        BOOST_TEST(std::abs(score - steelyard::audit::normal_95) < 1e-6);
      }
      BOOST_TEST((low <= share && share <= high));
    }
}

BOOST_AUTO_TEST_CASE(of_nothing_it_is_everything) {
  BOOST_TEST((wilson(0, 0) == std::pair<double, double>{0, 1}));
  BOOST_TEST(wilson(5, 5).second == 1.0);
  BOOST_TEST(wilson(0, 5).first == 0.0);
}

BOOST_AUTO_TEST_SUITE_END()
