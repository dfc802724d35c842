// Codes, waiting and tokens, with a clock that is made up. Waits and numbers of tries are those of
// access.hpp.
#include <atomic>
#include <boost/test/unit_test.hpp>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "digest/digest.hpp"
#include "field/access.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace std::chrono_literals;

namespace {

constexpr std::string_view code = "7K3M-Q9XD";

struct Desk {
  explicit Desk(AccessBounds bounds = {})
      : access(
            code, [this] { return now; }, bounds) {}

  /// The token, or nothing.
  std::string token(std::string_view peer) {
    const Entered entered = access.enter(peer, code);
    const auto* const granted = std::get_if<Granted>(&entered);
    return granted == nullptr ? std::string() : granted->token;
  }
  bool wrong(std::string_view peer) {
    return std::holds_alternative<WrongCode>(access.enter(peer, "AAAA-AAAA"));
  }
  std::chrono::seconds wait(std::string_view peer) {
    const Entered entered = access.enter(peer, code);
    const auto* const waiting = std::get_if<WaitFirst>(&entered);
    return waiting == nullptr ? 0s : waiting->wait;
  }

  Access::Instant now{1000h};
  Access access;
};

}  // namespace

BOOST_AUTO_TEST_SUITE(field_access)

BOOST_AUTO_TEST_CASE(codes_are_drawn_evenly_from_letters_that_look_unlike) {
  std::map<char, int> drawn;
  std::set<std::string> codes;
  constexpr int count = 5400;
  for (int i = 0; i < count; ++i) {
    const std::string one = new_code();
    BOOST_TEST_REQUIRE(one.size() == 9U);
    BOOST_TEST_REQUIRE(one[4] == '-');
    codes.insert(one);
    for (const char c : one)
      if (c != '-') ++drawn[c];
  }
  BOOST_TEST(codes.size() ==
             static_cast<std::size_t>(count));  // two alike: 5400^2 / 2 / 2^38, once in 19,000 runs
  for (const char c : std::string("01OILSBZU")) BOOST_TEST(drawn.count(c) == 0U);
  BOOST_TEST(8 * std::log2(static_cast<double>(drawn.size())) >= 38);
  // Binomial: each is expected 43,200 / 27 = 1600 times with a standard deviation of 39; seven of them are
  // allowed.
  for (const auto& [letter, times] : drawn)
    BOOST_TEST(std::abs(times - 1600) < 7 * 39, letter << " " << times);
}

BOOST_AUTO_TEST_CASE(a_code_may_be_typed_as_people_type) {
  Desk desk;
  for (const char* typed : {"7K3M-Q9XD", "7k3mq9xd", " 7 k 3 m - q 9 x d ", "7K3M--Q9XD\r\n"})
    BOOST_TEST(std::holds_alternative<Granted>(desk.access.enter("phone", typed)), typed);
  for (const char* typed : {"", "-", "7K3M-Q9X", "7K3M-Q9XDD", "7K3M-Q9XE", "7K3M_Q9XD"})
    BOOST_TEST(std::holds_alternative<WrongCode>(desk.access.enter("phone", typed)), typed);
  BOOST_TEST(folded_code("s5b8z2u") == "558822V");
  const std::string long_one(1'000'000, '7');
  BOOST_TEST(std::holds_alternative<WrongCode>(desk.access.enter("phone", long_one)));
  BOOST_CHECK_THROW(Access(""), std::invalid_argument);
  BOOST_CHECK_THROW(Access("7K3M-Q9X"), std::invalid_argument);
}

BOOST_AUTO_TEST_CASE(ten_wrong_codes_then_waits_that_double) {
  Desk desk;
  for (int i = 0; i < 10; ++i) BOOST_TEST(desk.wrong("a"));
  for (const auto wait : {60s, 120s, 240s, 480s, 900s, 900s}) {
    BOOST_TEST(desk.wait("a").count() == wait.count());
    desk.now += wait - 1s;
    BOOST_TEST(desk.wait("a").count() == 1);
    desk.now += 1s;
    BOOST_TEST(desk.wrong("a"));
  }
  desk.now += 900s;
  BOOST_TEST(!desk.token("a").empty());
  for (int i = 0; i < 10; ++i) BOOST_TEST(desk.wrong("a"));  // a right code clears the count
  BOOST_TEST(desk.wait("a").count() == 60);
  desk.now += 3601s;  // and so does an hour
  for (int i = 0; i < 10; ++i) BOOST_TEST(desk.wrong("a"));
}

BOOST_AUTO_TEST_CASE(wrong_codes_count_for_ten_minutes) {
  Desk desk;
  for (int i = 0; i < 40; ++i) {  // nine in any ten minutes
    BOOST_TEST(desk.wrong("a"));
    desk.now += 67s;
  }
  BOOST_TEST(!desk.token("a").empty());
  for (int i = 0; i < 9; ++i) BOOST_TEST(desk.wrong("b"));
  desk.now += 599s;
  BOOST_TEST(desk.wrong("b"));
  BOOST_TEST(desk.wait("b").count() == 60);
}

BOOST_AUTO_TEST_CASE(a_thousand_wrong_codes_do_not_keep_another_out) {
  Desk desk;
  int looked_at = 0;
  for (int i = 0; i < 1000; ++i) {
    if (desk.wrong("a")) ++looked_at;
    desk.now += 1s;
    if (i % 100 == 50) BOOST_TEST(!desk.token("b").empty());
  }
  // 10 at once, then after 60, 120, 240 and 480 s: 900 s altogether.
  BOOST_TEST(looked_at == 14);
}

BOOST_AUTO_TEST_CASE(many_peers_are_slowed_down_together_but_not_those_who_never_failed) {
  Desk desk;
  for (int i = 0; i < 100; ++i) BOOST_TEST(desk.wrong("peer " + std::to_string(i)));
  BOOST_TEST(desk.wait("peer 99").count() == 60);  // the hundredth
  BOOST_TEST(desk.wrong("peer 7"));
  BOOST_TEST(desk.wait("peer 7").count() == 60);
  BOOST_TEST(!desk.token("another").empty());
  BOOST_TEST(desk.wrong("late"));
  BOOST_TEST(desk.wait("late").count() == 60);
  desk.now += 60s;
  BOOST_TEST(!desk.token("late").empty());
  desk.now += 601s;
  BOOST_TEST(desk.wrong("peer 8"));
  BOOST_TEST(!desk.token("peer 8").empty());
}

BOOST_AUTO_TEST_CASE(no_more_peers_are_kept_than_asked_for) {
  Desk desk({.peers = 3, .tokens = 10});
  for (int i = 0; i < 10; ++i) desk.wrong("a");
  BOOST_TEST(desk.wait("a").count() == 60);
  desk.wrong("b");
  desk.wrong("c");
  BOOST_TEST(desk.wait("a").count() == 60);
  desk.wrong("d");  // in the place of a
  BOOST_TEST(desk.wait("a").count() == 0);
}

BOOST_AUTO_TEST_CASE(only_what_was_granted_is_allowed) {
  Desk desk;
  const std::string one = desk.token("a");
  const std::string two = desk.token("a");
  BOOST_TEST(one.size() == 32U);
  BOOST_TEST(one != two);
  BOOST_TEST(desk.access.allowed(one));
  BOOST_TEST(desk.access.allowed(two));
  std::string guess = one;
  guess.back() = guess.back() == '0' ? '1' : '0';
  BOOST_TEST(!desk.access.allowed(guess));
  BOOST_TEST(!desk.access.allowed(""));
  BOOST_TEST(!desk.access.allowed(one.substr(1)));
  BOOST_TEST(!desk.access.allowed(one + one));
  BOOST_TEST(!desk.access.allowed(digest::sha256_hex(one)));
  for (int i = 0; i < 1000; ++i) BOOST_TEST_REQUIRE(!desk.access.allowed(digest::random_hex(16)));
  Desk other;
  BOOST_TEST(!other.access.allowed(one));
}

BOOST_AUTO_TEST_CASE(tokens_end_a_day_after_their_last_use) {
  Desk desk;
  const std::string used = desk.token("a");
  const std::string left = desk.token("a");
  for (int day = 0; day < 5; ++day) {
    desk.now += 23h;
    BOOST_TEST(desk.access.allowed(used));
  }
  BOOST_TEST(!desk.access.allowed(left));
  desk.now += 24h;
  BOOST_TEST(desk.access.allowed(used));
  desk.now += 24h + 1s;
  BOOST_TEST(!desk.access.allowed(used));
  BOOST_TEST(!desk.access.allowed(used));
}

BOOST_AUTO_TEST_CASE(of_too_many_tokens_the_one_used_longest_ago_ends) {
  Desk desk({.peers = 10, .tokens = 2});
  const std::string first = desk.token("a");
  desk.now += 1s;
  const std::string second = desk.token("a");
  desk.now += 1s;
  BOOST_TEST(desk.access.allowed(first));
  desk.now += 1s;
  const std::string third = desk.token("a");
  BOOST_TEST(desk.access.allowed(first));
  BOOST_TEST(!desk.access.allowed(second));
  BOOST_TEST(desk.access.allowed(third));
}

BOOST_AUTO_TEST_CASE(several_threads_at_once) {
  Access access(code);
  std::atomic<int> granted = 0;
  std::atomic<int> looked_at = 0;
  std::vector<std::thread> threads;
  for (int thread = 0; thread < 4; ++thread)
    threads.emplace_back([&, thread] {
      const std::string peer = "good " + std::to_string(thread);
      for (int i = 0; i < 100; ++i) {
        const Entered entered = access.enter(peer, code);
        if (const auto* const token = std::get_if<Granted>(&entered))
          if (access.allowed(token->token)) ++granted;
        if (std::holds_alternative<WrongCode>(access.enter("bad", "AAAAAAAA"))) ++looked_at;
      }
    });
  for (std::thread& thread : threads) thread.join();
  BOOST_TEST(granted == 400);
  BOOST_TEST(looked_at == 10);
}

BOOST_AUTO_TEST_CASE(the_cookie_is_kept_from_scripts_and_other_sites) {
  BOOST_TEST(cookie_text("abc", false) == "steelyard_field=abc; HttpOnly; SameSite=Strict; Path=/");
  BOOST_TEST(cookie_text("abc", true) == "steelyard_field=abc; HttpOnly; SameSite=Strict; Path=/; Secure");
  const std::string token = digest::random_hex(16);
  const std::string pair = "steelyard_field=" + token;
  BOOST_TEST(token_in_cookies(pair) == token);
  BOOST_TEST(token_in_cookies("a=b; " + pair + "; c=d") == token);
  BOOST_TEST(token_in_cookies("steelyard_field=old;" + pair) == token);
  BOOST_TEST(token_in_cookies("my_" + pair + "; steelyard_fields=" + token) == "");
  for (const char* none : {"", ";", "steelyard_field", "steelyard_field=", "steelyard_field=0"})
    BOOST_TEST(token_in_cookies(none) == "", none);
}

BOOST_AUTO_TEST_CASE(bytes_are_compared_and_drawn) {
  BOOST_TEST(digest::same_bytes("", ""));
  BOOST_TEST(digest::same_bytes("abc", "abc"));
  BOOST_TEST(!digest::same_bytes("abc", "abd"));
  BOOST_TEST(!digest::same_bytes("abc", "ab"));
  BOOST_TEST(digest::random_bytes(16).size() == 16U);
  BOOST_TEST(digest::random_bytes(16) != digest::random_bytes(16));
}

BOOST_AUTO_TEST_SUITE_END()
