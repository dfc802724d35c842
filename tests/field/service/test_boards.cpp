// What is sent to those who watch: always whole, never older than what was published, and the last one always.
#include <boost/test/unit_test.hpp>
#include <chrono>
#include <future>
#include <thread>

#include "field/boards.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;
using namespace std::chrono_literals;
using nlohmann::json;

namespace {

constexpr auto patience = 60s;

/// A session with so many readings at one wheel.
rig::Session with_readings(std::size_t count, const std::string& id = "small-0001") {
  json sheet = small_sheet();
  sheet["id"] = id;
  sheet["states"][1]["readings"] = json::array();
  for (std::size_t i = 0; i < count; ++i)
    sheet["states"][1]["readings"].push_back(reading_of("n" + std::to_string(i), "tow.1.left", 500 + static_cast<double>(i % 3)));
  return session_of(sheet);
}

std::size_t readings_in(const json& view) {
  return view["states"][1]["places"][0]["readings"].size();
}

json data_of(const std::string& event) {
  const std::string head = "event: view\ndata: ";
  BOOST_REQUIRE(event.starts_with(head));
  BOOST_REQUIRE(event.ends_with("\n\n"));
  return json::parse(event.substr(head.size()));
}

std::shared_ptr<http::EventStream> new_stream() {
  return std::make_shared<http::EventStream>(4, http::EventStream::OnClose());
}

/// The next view that a stream has, waited for; null where none comes in time.
json next_view(http::EventStream& stream, std::chrono::milliseconds wait = patience) {
  const auto until = std::chrono::steady_clock::now() + wait;
  do {
    if (const auto text = stream.take()) return data_of(*text);
    std::this_thread::sleep_for(1ms);
  } while (std::chrono::steady_clock::now() < until);
  return nullptr;
}

struct Asked {
  std::promise<http::Response> promise;
  http::Reply reply() {
    return http::Reply([this](http::Response response) { promise.set_value(std::move(response)); }, {});
  }
  json view() {
    auto future = promise.get_future();
    BOOST_REQUIRE((future.wait_for(patience) == std::future_status::ready));
    const http::Response response = future.get();
    BOOST_REQUIRE(response.status == 200);
    return json::parse(response.kept_body ? *response.kept_body : response.body);
  }
};

json answer(Boards& boards, const std::string& id = "small-0001", reports::Region words = reports::Region::plain) {
  Asked asked;
  boards.answer(id, words, asked.reply());
  return asked.view();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(boards)

BOOST_AUTO_TEST_CASE(an_answer_is_never_older_than_what_was_published) {
  Boards boards;
  for (std::size_t count = 0; count < 12; ++count) {
    boards.publish(with_readings(count), {});
    BOOST_TEST(readings_in(answer(boards)) == count);
  }
}

BOOST_AUTO_TEST_CASE(what_is_not_known_is_404) {
  Boards boards;
  Asked asked;
  auto future = asked.promise.get_future();
  boards.answer("nobody", reports::Region::plain, asked.reply());
  BOOST_TEST(future.get().status == 404);
  const auto stream = new_stream();
  boards.watch("nobody", reports::Region::plain, stream);
  BOOST_TEST(stream->closed());
}

BOOST_AUTO_TEST_CASE(of_many_changes_the_last_one_always_comes) {
  Boards boards;
  boards.publish(with_readings(0), {});
  const auto stream = new_stream();
  boards.watch("small-0001", reports::Region::plain, stream);
  std::vector<rig::Session> sessions;
  for (std::size_t count = 1; count <= 60; ++count) sessions.push_back(with_readings(count));
  for (const rig::Session& session : sessions) boards.publish(session, {});
  std::int64_t version = 0;
  std::size_t readings = 0, views = 0;
  bool first = true;
  while (readings < 60) {
    const json view = next_view(*stream);
    BOOST_REQUIRE(!view.is_null());
    BOOST_TEST((first || view["version"].get<std::int64_t>() > version));
    BOOST_TEST((first || readings_in(view) > readings));  // whole states, in order
    first = false;
    version = view["version"];
    readings = readings_in(view);
    BOOST_TEST(view["found"].is_null() == (readings == 0));
    ++views;
  }
  BOOST_TEST(readings == 60u);
  BOOST_TEST(views <= 61u);
  BOOST_TEST(next_view(*stream, 100ms).is_null());  // and nothing after it
}

BOOST_AUTO_TEST_CASE(the_same_again_is_not_sent_but_a_seal_is) {
  Boards boards;
  boards.publish(with_readings(2), {});
  const auto stream = new_stream();
  boards.watch("small-0001", reports::Region::plain, stream);
  BOOST_TEST(next_view(*stream)["session"]["sealed"].is_null());
  boards.publish(with_readings(2), {});
  BOOST_TEST(next_view(*stream, 100ms).is_null());
  rig::RecordNote seal;
  seal.sealed = true;
  seal.seal_head = std::string(64, 'b');
  boards.publish(with_readings(2), seal);
  BOOST_TEST(next_view(*stream)["session"]["sealed"]["head"] == seal.seal_head);
}

BOOST_AUTO_TEST_CASE(each_reader_has_its_own_words) {
  Boards boards;
  boards.publish(with_readings(3), {});
  BOOST_TEST(answer(boards, "small-0001", reports::Region::north_america)["units"]["load"] == "lb");
  BOOST_TEST(answer(boards)["units"]["load"] == "kg");
  const auto pounds = new_stream(), plain = new_stream();
  boards.watch("small-0001", reports::Region::north_america, pounds);
  boards.watch("small-0001", reports::Region::plain, plain);
  BOOST_TEST(next_view(*pounds)["units"]["load"] == "lb");
  BOOST_TEST(next_view(*plain)["units"]["load"] == "kg");
  boards.publish(with_readings(4), {});
  BOOST_TEST(next_view(*pounds)["units"]["load"] == "lb");
  BOOST_TEST(next_view(*plain)["units"]["load"] == "kg");
}

BOOST_AUTO_TEST_CASE(a_slow_stream_has_the_newest_and_holds_nobody_up) {
  Boards boards;
  boards.publish(with_readings(0), {});
  const auto slow = new_stream(), quick = new_stream();
  boards.watch("small-0001", reports::Region::plain, slow);
  boards.watch("small-0001", reports::Region::plain, quick);
  BOOST_REQUIRE(!next_view(*quick).is_null());
  for (std::size_t count = 1; count <= 12; ++count) {
    boards.publish(with_readings(count), {});
    BOOST_TEST(readings_in(next_view(*quick)) == count);
  }
  BOOST_TEST(slow->dropped() == 13u - 4u);  // 13 views, room for 4
  json last;
  for (json view = next_view(*slow, 0ms); !view.is_null(); view = next_view(*slow, 0ms)) last = view;
  BOOST_TEST(readings_in(last) == 12u);
}

BOOST_AUTO_TEST_CASE(a_closed_stream_is_let_go) {
  Boards boards;
  boards.publish(with_readings(1), {});
  auto gone = new_stream();
  const std::weak_ptr<http::EventStream> held = gone;
  boards.watch("small-0001", reports::Region::plain, gone);
  gone->gone();
  gone.reset();
  // Whoever comes again and again, as a phone that loses its network does, leaves nothing behind.
  boards.watch("small-0001", reports::Region::plain, new_stream());
  BOOST_TEST(held.expired());
}

BOOST_AUTO_TEST_CASE(what_nobody_looks_at_is_forgotten) {
  Boards boards;
  boards.publish(with_readings(1, "watched-0"), {});
  const auto stream = new_stream();
  boards.watch("watched-0", reports::Region::plain, stream);
  BOOST_REQUIRE(!next_view(*stream).is_null());
  constexpr int others = 90;
  for (int i = 0; i < others; ++i) {
    const std::string id = "other-" + std::to_string(i);
    boards.publish(with_readings(1, id), {});
    answer(boards, id);
  }
  BOOST_TEST(boards.session("watched-0") != nullptr);
  BOOST_TEST(boards.session("other-89") != nullptr);
  BOOST_TEST(boards.session("other-0") == nullptr);
  int kept = 0;
  for (int i = 0; i < others; ++i) kept += boards.session("other-" + std::to_string(i)) ? 1 : 0;
  BOOST_TEST(kept <= 64);
  // After another program's change only what is watched is asked for anew.
  BOOST_TEST((boards.after_a_change() == std::vector<std::string>{"watched-0"}));
  BOOST_TEST(boards.session("other-89") == nullptr);
  stream->gone();
  BOOST_TEST(boards.after_a_change().empty());
}

BOOST_AUTO_TEST_CASE(what_cannot_be_solved_says_why) {
  // A rig whose only reading is struck has nothing to solve; one that contradicts nothing but tells nothing is solved.
  json sheet = small_sheet();
  sheet["states"][1]["readings"] = {reading_of("r1", "tow.1", 1000)};
  sheet["states"][1]["readings"][0]["struck"] = {{"why", "wrong pad"}, {"by", "x"}, {"at", "2026-10-03T09:10:00+02:00"}};
  Boards boards;
  boards.publish(session_of(sheet), {});
  BOOST_TEST(answer(boards)["found"].is_null());
}

BOOST_AUTO_TEST_CASE(stopping_answers_what_waits) {
  auto boards = std::make_unique<Boards>();
  boards->publish(with_readings(1), {});
  boards->stop();
  Asked asked;
  auto future = asked.promise.get_future();
  boards->publish(with_readings(2), {});
  boards->answer("small-0001", reports::Region::plain, asked.reply());
  boards.reset();  // a reply that is dropped answers by itself
  BOOST_REQUIRE((future.wait_for(0s) == std::future_status::ready));
  BOOST_TEST(future.get().status == 500);
}

BOOST_AUTO_TEST_SUITE_END()
