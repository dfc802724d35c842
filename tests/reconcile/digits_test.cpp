// Slips of the pen, every figure worked out by hand: what a figure may have been before two of its digits
// were exchanged, one was left out, or one was written twice.
#include "reconcile/digits.hpp"

#include <algorithm>
#include <boost/test/unit_test.hpp>

using namespace steelyard::reconcile;

namespace {

using Figures = std::vector<double>;

bool has(const Figures& all, double figure) {
  return std::find(all.begin(), all.end(), figure) != all.end();
}

void check(Figures found, Figures by_hand) {
  std::sort(found.begin(), found.end());
  std::sort(by_hand.begin(), by_hand.end());
  BOOST_TEST(found == by_hand, boost::test_tools::per_element());
}

}  // namespace

BOOST_AUTO_TEST_SUITE(digits)

BOOST_AUTO_TEST_CASE(any_two_digits_are_exchanged) {
  check(digits_exchanged(819), {189, 918, 891});
  check(digits_exchanged(707), {770});  // 077 is nobody's figure, the two sevens change nothing
  check(digits_exchanged(1234), {2134, 3214, 4231, 1324, 1432, 1243});
  check(digits_exchanged(72), {27});
}

BOOST_AUTO_TEST_CASE(exchanging_goes_both_ways) {
  // What 918 became by a slip finds 918 again, and so with every other.
  for (const double figure : {819.0, 1872.0, 1469.5, 63.0})
    for (const double other : digits_exchanged(figure)) BOOST_TEST(has(digits_exchanged(other), figure));
}

BOOST_AUTO_TEST_CASE(equal_digits_and_single_ones_have_nothing_to_exchange) {
  check(digits_exchanged(777), {});
  check(digits_exchanged(8), {});
  check(digits_exchanged(0), {});
  check(digits_exchanged(11.1), {});
}

BOOST_AUTO_TEST_CASE(a_needless_zero_in_front_is_not_written) {
  check(digits_exchanged(500), {});           // 050 and 005
  check(digits_exchanged(102), {201, 120});   // 012
  check(digits_exchanged(10.5), {50.1, 15});  // 01.5; 15.0 is the figure 15
}

BOOST_AUTO_TEST_CASE(the_point_stays_where_it_is) {
  check(digits_exchanged(171.5), {711.5, 117.5, 571.1, 175.1, 151.7});  // the two ones alike
  check(digits_exchanged(0.5), {5});                                    // 5.0
  check(digits_exchanged(0.25), {0.52, 2.05, 5.2});
}

BOOST_AUTO_TEST_CASE(a_digit_left_out_may_have_stood_anywhere) {
  // Of 86: 186 to 986, 806 to 896 and 860 to 869, where 886 and 866 are met twice: 9 + 10 + 10 − 2 figures.
  Figures by_hand;
  for (int digit = 0; digit < 10; ++digit) {
    if (digit > 0) by_hand.push_back(100 * digit + 86);
    if (100 * 8 + 10 * digit + 6 != 886) by_hand.push_back(800 + 10 * digit + 6);
    if (860 + digit != 866) by_hand.push_back(860 + digit);
  }
  check(digit_restored(86), by_hand);
  BOOST_TEST(by_hand.size() == 27u);
}

BOOST_AUTO_TEST_CASE(every_figure_with_a_digit_left_out_is_found_again) {
  // 4630 lb written as 463, 460, 430 or 630; 171.5 kg as 71.5, 11.5, 17.5 or (with the point kept) 171.
  for (const double figure : {463.0, 460.0, 430.0, 630.0}) BOOST_TEST(has(digit_restored(figure), 4630));
  for (const double figure : {71.5, 11.5, 17.5}) BOOST_TEST(has(digit_restored(figure), 171.5));
}

BOOST_AUTO_TEST_CASE(nothing_may_grow_from_a_zero) {
  check(digit_restored(0), {10, 20, 30, 40, 50, 60, 70, 80, 90});  // 01 to 09 begin with a needless 0
  BOOST_TEST(!has(digit_restored(86), 86));                        // 086
  BOOST_TEST(has(digit_restored(0.5), 0.05));
  BOOST_TEST(has(digit_restored(0.5), 10.5));
  BOOST_TEST(!has(digit_restored(0.5), 0.5));  // 00.5 and 0.50
}

BOOST_AUTO_TEST_CASE(one_of_two_equal_neighbours_is_taken_out) {
  check(digit_taken_out(8819), {819});
  check(digit_taken_out(1000), {100});
  check(digit_taken_out(4477), {447, 477});
  check(digit_taken_out(1777), {177});
  check(digit_taken_out(1771), {171});
  check(digit_taken_out(4664.5), {464.5});
  check(digit_taken_out(171.55), {171.5});
}

BOOST_AUTO_TEST_CASE(no_neighbours_alike_nothing_to_take_out) {
  check(digit_taken_out(819), {});
  check(digit_taken_out(707), {});
  check(digit_taken_out(7), {});
  check(digit_taken_out(0), {});
  check(digit_taken_out(17.7), {});  // the point stands between them
}

BOOST_AUTO_TEST_CASE(pounds_are_figures_like_any_other) {
  check(digits_exchanged(1872), {8172, 7812, 2871, 1782, 1278, 1827});
  check(digit_taken_out(11872), {1872});
  BOOST_TEST(has(digit_restored(172), 1872));
}

BOOST_AUTO_TEST_SUITE_END()
