// One thing after another, in the order asked for.
#include <atomic>
#include <boost/test/unit_test.hpp>
#include <future>
#include <stdexcept>
#include <vector>

#include "field/worker.hpp"

using steelyard::field::Worker;
using namespace std::chrono_literals;

BOOST_AUTO_TEST_SUITE(worker)

BOOST_AUTO_TEST_CASE(in_order_and_one_at_a_time) {
  Worker worker;
  std::vector<int> done;  // only the worker's thread touches it, until the last job
  std::promise<void> last;
  for (int i = 0; i < 1000; ++i) BOOST_TEST(worker.post([&done, i] { done.push_back(i); }));
  BOOST_TEST(worker.post([&] { last.set_value(); }));
  BOOST_REQUIRE((last.get_future().wait_for(30s) == std::future_status::ready));
  BOOST_TEST(done.size() == 1000u);
  for (int i = 0; i < 1000; ++i) BOOST_TEST(done[static_cast<std::size_t>(i)] == i);
}

BOOST_AUTO_TEST_CASE(a_job_that_throws_ends_nothing_else) {
  Worker worker;
  std::promise<void> next;
  worker.post([] { throw std::runtime_error("no"); });
  worker.post([&] { next.set_value(); });
  BOOST_TEST((next.get_future().wait_for(30s) == std::future_status::ready));
}

BOOST_AUTO_TEST_CASE(the_tick_comes_when_nothing_is_asked_and_between_jobs) {
  std::atomic<int> ticks{0};
  Worker worker([&] { ++ticks; }, 5ms);
  const auto until = std::chrono::steady_clock::now() + 30s;
  while (ticks < 3 && std::chrono::steady_clock::now() < until) std::this_thread::sleep_for(1ms);
  BOOST_TEST(ticks >= 3);
  // A queue that never runs empty: each job is asked for by the one before it.
  std::promise<void> seen;
  std::function<void()> again;
  const int before = ticks;
  again = [&] {
    if (ticks >= before + 3)
      seen.set_value();
    else
      worker.post(again);
  };
  worker.post(again);
  BOOST_TEST((seen.get_future().wait_for(30s) == std::future_status::ready));
  worker.stop();
}

BOOST_AUTO_TEST_CASE(a_tick_that_throws_comes_again) {
  std::atomic<int> ticks{0};
  Worker worker(
      [&] {
        ++ticks;
        throw std::runtime_error("no");
      },
      2ms);
  const auto until = std::chrono::steady_clock::now() + 30s;
  while (ticks < 3 && std::chrono::steady_clock::now() < until) std::this_thread::sleep_for(1ms);
  BOOST_TEST(ticks >= 3);
}

BOOST_AUTO_TEST_CASE(stopping_finishes_the_job_under_way_and_drops_the_others) {
  Worker worker;
  std::promise<void> begun, go_on;
  std::atomic<bool> finished{false}, other{false};
  worker.post([&, wait = go_on.get_future().share()] {
    begun.set_value();
    wait.wait();
    finished = true;
  });
  // What a job holds goes with it: whoever asked is answered by that.
  const auto held = std::make_shared<int>(7);
  worker.post([&other, held] { other = true; });
  BOOST_REQUIRE((begun.get_future().wait_for(30s) == std::future_status::ready));
  auto stopping = std::async(std::launch::async, [&] { worker.stop(); });
  BOOST_TEST((stopping.wait_for(20ms) == std::future_status::timeout));
  go_on.set_value();
  BOOST_REQUIRE((stopping.wait_for(30s) == std::future_status::ready));
  BOOST_TEST(finished);
  BOOST_TEST(!other);
  BOOST_TEST(held.use_count() == 1);
  BOOST_TEST(!worker.post([] {}));
  worker.stop();
}

BOOST_AUTO_TEST_SUITE_END()
