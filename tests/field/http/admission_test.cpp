// Who is let in, and who has to go for it; each case by hand from the rule in the header.
#include <boost/test/unit_test.hpp>
#include <chrono>
#include <optional>
#include <vector>

#include "field/http/admission.hpp"

namespace http = steelyard::field::http;
using http::Guest;
using http::Standing;

namespace {

Guest guest(std::string_view peer, Standing standing, int since) {
  return {peer, standing, std::chrono::steady_clock::time_point(std::chrono::seconds(since))};
}

using Which = std::optional<std::size_t>;

}  // namespace

BOOST_AUTO_TEST_CASE(while_there_is_room_nobody_goes) {
  const std::vector<Guest> guests{guest("a", Standing::idle, 1), guest("b", Standing::held, 2)};
  const auto found = http::admission(guests, "a", 3, 2);
  BOOST_TEST(found.admitted);
  BOOST_TEST((found.displaced == Which{}));
}

BOOST_AUTO_TEST_CASE(a_peer_with_its_full_number_gives_up_its_own_idle_one) {
  const std::vector<Guest> guests{guest("b", Standing::idle, 1), guest("a", Standing::idle, 3),
                                  guest("a", Standing::idle, 2), guest("a", Standing::moving, 1)};
  BOOST_TEST((http::admission(guests, "a", 100, 3).displaced == Which{2}));
  const std::vector<Guest> busy{guest("b", Standing::idle, 1), guest("a", Standing::moving, 1),
                                guest("a", Standing::held, 1)};
  BOOST_TEST(!http::admission(busy, "a", 100, 2).admitted);
  BOOST_TEST(!http::admission(busy, "a", 3, 2).admitted);
}

BOOST_AUTO_TEST_CASE(where_all_is_full_the_longest_idle_goes) {
  const std::vector<Guest> guests{guest("a", Standing::moving, 0), guest("b", Standing::idle, 5),
                                  guest("c", Standing::idle, 4)};
  const auto found = http::admission(guests, "d", 3, 3);
  BOOST_TEST(found.admitted);
  BOOST_TEST((found.displaced == Which{2}));
}

BOOST_AUTO_TEST_CASE(who_keeps_many_busy_does_not_shut_out_who_has_few) {
  const std::vector<Guest> guests{guest("a", Standing::moving, 3), guest("a", Standing::held, 0),
                                  guest("a", Standing::moving, 2), guest("b", Standing::moving, 1)};
  BOOST_TEST((http::admission(guests, "c", 4, 4).displaced == Which{2}));
  // b would have two after it, a three before: a still has more.
  BOOST_TEST((http::admission(guests, "b", 4, 4).displaced == Which{2}));
  BOOST_TEST(!http::admission(guests, "a", 4, 4).admitted);
  const std::vector<Guest> even{guest("a", Standing::moving, 3), guest("b", Standing::moving, 1)};
  BOOST_TEST(!http::admission(even, "c", 2, 2).admitted);
  const std::vector<Guest> held{guest("a", Standing::held, 3), guest("a", Standing::held, 1)};
  BOOST_TEST(!http::admission(held, "c", 2, 2).admitted);
}
