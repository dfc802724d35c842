// What the proof rests on, against tables and hand calculations.
#include "proof/statistics.hpp"

#include <boost/test/unit_test.hpp>

#include "proof/workers.hpp"

namespace {

using namespace steelyard::proof;
namespace tt = boost::test_tools;

}  // namespace

BOOST_AUTO_TEST_SUITE(proof_statistics)

// 9 of 10 where half was claimed: P(9 or more) = 11/1024 is above the tail beyond three standard errors,
// 0.00135; 10 of 10, 1/1024, is not.
BOOST_AUTO_TEST_CASE(few_are_judged_by_the_binomial_itself) {
  BOOST_TEST(at_most(Count{10, 9}, 0.5));
  BOOST_TEST(!at_most(Count{10, 10}, 0.5));
  BOOST_TEST(at_least(Count{10, 1}, 0.5));
  BOOST_TEST(!at_least(Count{10, 0}, 0.5));
  BOOST_TEST(!near(Count{0, 0}, 0.5));
}

// 10,000 at 95 %: a standard error is 0.218 %, so that 9435 is just within three and 9434 is not.
BOOST_AUTO_TEST_CASE(many_are_judged_by_standard_errors) {
  BOOST_TEST(near(Count{10000, 9435}, 0.95));
  BOOST_TEST(!near(Count{10000, 9434}, 0.95));
  BOOST_TEST(at_most(Count{10000, 9434}, 0.95));
  BOOST_TEST((Count{10000, 9435}.deviation(0.95)) == -2.98, tt::tolerance(1e-3));
}

// Chi-square at 9 degrees of freedom, 1 %: 21.666 in every table.
BOOST_AUTO_TEST_CASE(evenness_of_even_and_uneven_numbers) {
  std::vector<double> even, uneven;
  for (int i = 0; i < 1000; ++i) {
    even.push_back((i + 0.5) / 1000);
    uneven.push_back(even.back() * even.back());
  }
  const Evenness good = evenness(even), bad = evenness(uneven);
  BOOST_TEST(good.chi_square_critical == 21.666, tt::tolerance(1e-5));
  BOOST_TEST(good.chi_square == 0.0);
  BOOST_TEST(good.kolmogorov == 0.0005, tt::tolerance(1e-9));
  BOOST_TEST(good.even());
  // Squares lie √x below x at most by 1/4, at x = 1/4.
  BOOST_TEST(bad.kolmogorov == 0.25, tt::tolerance(0.01));
  BOOST_TEST(!bad.even());
}

BOOST_AUTO_TEST_CASE(threads_do_not_matter) {
  const auto square = [](std::size_t i) { return i * i; };
  const auto one = Workers{1, true}.each<std::size_t>("", 1000, square);
  const auto four = Workers{4, true}.each<std::size_t>("", 1000, square);
  BOOST_TEST((one == four));
  BOOST_TEST(one[31] == 961u);
  BOOST_CHECK_THROW((Workers{3, true}.each<int>("", 10,
                                                [](std::size_t i) -> int {
                                                  if (i == 5) throw std::runtime_error("five");
                                                  return 0;
                                                })),
                    std::runtime_error);
}

BOOST_AUTO_TEST_SUITE_END()
