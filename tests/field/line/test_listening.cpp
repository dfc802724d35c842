// Lines out of bytes, the rule of like readings, and what is told when: with a time that is made up.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <string>
#include <vector>

#include "field/line/listening.hpp"

using namespace steelyard::field;
using namespace std::chrono_literals;
using steelyard::units::LoadUnit;
using Kind = LineTrouble::Kind;

namespace {

std::vector<std::string> cut(LineCutter& cutter, std::string_view bytes) {
  std::vector<std::string> lines;
  cutter.feed(bytes, [&](std::string_view line) { lines.emplace_back(line); });
  return lines;
}

using Lines = std::vector<std::string>;

struct Listener {
  explicit Listener(LineOptions options = {.device = "/dev/null"})
      : listening(
            options, [this](const LineNews& told) { news.push_back(told); }, LineTimes{}) {
    listening.opened(now);
    hear("\n");
  }

  void hear(std::string_view bytes) {
    listening.heard(bytes, now);
    listening.look(now);
  }

  void pass(std::chrono::milliseconds time) {
    const auto until = now + time;
    for (auto next = listening.next(); next && *next <= until; next = listening.next()) {
      BOOST_TEST_REQUIRE((*next > now || listening.next() == next));
      now = std::max(now, *next);
      listening.look(now);
      if (listening.next() == next) break;
    }
    now = until;
    listening.look(now);
  }

  [[nodiscard]] std::vector<Kind> troubles() const {
    std::vector<Kind> kinds;
    for (const LineNews& one : news)
      if (const auto* const trouble = std::get_if<LineTrouble>(&one)) kinds.push_back(trouble->kind);
    return kinds;
  }
  [[nodiscard]] std::vector<LineLoad> loads() const {
    std::vector<LineLoad> found;
    for (const LineNews& one : news)
      if (const auto* const load = std::get_if<LineLoad>(&one)) found.push_back(*load);
    return found;
  }

  LineListening::Instant now = LineListening::Instant(1000s);
  std::vector<LineNews> news = {};
  LineListening listening;
};

LineFigure kilograms(double figure) {
  return {.figure = figure, .unit = LoadUnit::kilogram};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(line_listening)

BOOST_AUTO_TEST_CASE(lines_end_as_they_are_said_to) {
  LineCutter any(LineEnd::any);
  BOOST_TEST(cut(any, "rest\ra\r\nb\n\nc\rd") == (Lines{"a", "b", "c"}));
  BOOST_TEST(cut(any, "\n") == (Lines{"d"}));
  LineCutter cr(LineEnd::cr);
  BOOST_TEST(cut(cr, "\ra\nb\rc\r") == (Lines{"a\nb", "c"}));
  LineCutter lf(LineEnd::lf);
  BOOST_TEST(cut(lf, "\na\rb\nc\n") == (Lines{"a\rb", "c"}));
  LineCutter pair(LineEnd::crlf);
  BOOST_TEST(cut(pair, "\r\na\rb\nc\r") == Lines{});
  BOOST_TEST(cut(pair, "\n\r\nd\r\n") == (Lines{"a\rb\nc", "d"}));
}

BOOST_AUTO_TEST_CASE(a_line_too_long_goes_up_to_its_end) {
  for (const LineEnd end : {LineEnd::lf, LineEnd::crlf}) {
    const std::string mark = end == LineEnd::lf ? "\n" : "\r\n";
    LineCutter cutter(end);
    const std::string longest(256, 'a');
    BOOST_TEST(cut(cutter, mark + longest + mark) == Lines{longest});
    BOOST_TEST(!cutter.was_too_long());
    BOOST_TEST(cut(cutter, longest + "b" + mark + "c" + mark) == Lines{"c"});
    BOOST_TEST(cutter.was_too_long());
    BOOST_TEST(cut(cutter, std::string(100'000, 'x')) == Lines{});
    BOOST_TEST(cut(cutter, mark + "d" + mark) == Lines{"d"});
  }
}

BOOST_AUTO_TEST_CASE(half_a_line_is_no_line) {
  LineCutter cutter(LineEnd::lf);
  BOOST_TEST(cut(cutter, "41 kg\n641 kg\n") == Lines{"641 kg"});
  BOOST_TEST(cut(cutter, "6") == Lines{});
  cutter.paused();
  BOOST_TEST(cut(cutter, "41 kg\n") == Lines{});
  cutter.start_again();
  cutter.paused();  // silence after opening: the first line is whole
  BOOST_TEST(cut(cutter, "641 kg\n") == Lines{"641 kg"});
}

BOOST_AUTO_TEST_CASE(like_readings_for_long_enough_are_stable) {
  LineOptions options{.device = "/dev/null"};
  options.stable_for = 2;
  options.within = 0.2;
  SteadyRule rule(options);
  SteadyRule::Instant now{100s};
  const auto after = [&](std::chrono::milliseconds time, LineFigure figure) {
    return rule.stable(figure, now += time);
  };
  BOOST_TEST(!after(0ms, kilograms(641)));
  BOOST_TEST(!after(1000ms, kilograms(641.2)));
  BOOST_TEST(!after(900ms, kilograms(641.1)));
  BOOST_TEST(after(100ms, kilograms(641.0)));
  BOOST_TEST(after(1000ms, kilograms(641.2)));
  BOOST_TEST(!after(100ms, kilograms(641.3)));   // 641.0 is 1.1 s old, and 0.3 away
  BOOST_TEST(!after(1800ms, kilograms(641.3)));  // the run began with 641.2, 1.9 s ago
  BOOST_TEST(after(100ms, kilograms(641.3)));
  BOOST_TEST(!after(100ms, {.figure = 641.3, .unit = LoadUnit::pound}));
  BOOST_TEST(!after(1900ms, {.figure = 641.3, .unit = LoadUnit::pound}));
  BOOST_TEST(after(100ms, {.figure = 641.3, .unit = LoadUnit::pound}));
  BOOST_TEST(
      !after(2100ms, {.figure = 641.3, .unit = LoadUnit::pound}));  // who knows what it showed meanwhile
}

BOOST_AUTO_TEST_CASE(two_readings_are_too_few_and_a_creeping_load_is_never_stable) {
  LineOptions options{.device = "/dev/null"};
  options.stable_for = 1;
  options.within = 1;
  SteadyRule rule(options);
  SteadyRule::Instant now{100s};
  BOOST_TEST(!rule.stable(kilograms(5), now));
  BOOST_TEST(!rule.stable(kilograms(5), now + 1500ms));
  BOOST_TEST(rule.stable(kilograms(5), now + 1600ms));
  SteadyRule creeping(options);
  bool ever = false;
  for (int tenth = 0; tenth < 200; ++tenth)  // 2 kg a second, never 1 s within 1 kg
    ever = creeping.stable(kilograms(0.2 * tenth), now + tenth * 100ms) || ever;
  BOOST_TEST(!ever);
  options.stable_for = 0;
  SteadyRule each(options);
  BOOST_TEST(each.stable(kilograms(5), now));
}

BOOST_AUTO_TEST_CASE(a_fast_line_is_stable_too) {
  LineOptions options{.device = "/dev/null"};
  options.stable_for = 60;
  SteadyRule rule(options);
  SteadyRule::Instant now{100s};
  bool stable = false;
  for (int i = 0; i < 59'999; ++i) stable = rule.stable(kilograms(5), now + i * 1ms) || stable;
  BOOST_TEST(!stable);
  rule.stable(kilograms(5), now + 59'999ms);
  BOOST_TEST(rule.stable(kilograms(5), now + 60'000ms));
}

BOOST_AUTO_TEST_CASE(ten_loads_a_second_at_most_and_the_latest_always) {
  Listener it;
  for (int i = 0; i < 1000; ++i) {  // 100 lines a second for 10 s, each another load
    it.hear(std::to_string(i) + " kg\r\n");
    it.pass(10ms);
  }
  it.pass(200ms);
  const auto loads = it.loads();
  BOOST_TEST(loads.size() <= 102U);
  BOOST_TEST(loads.size() >= 95U);
  BOOST_TEST(loads.back().load == 999);
  BOOST_TEST(it.troubles().empty());
}

BOOST_AUTO_TEST_CASE(a_change_of_stability_is_told_at_once) {
  LineOptions options{.device = "/dev/null"};
  options.pattern = R"(^(?<stable>S?)(?<load>\d+)(?<unit>kg)$)";
  Listener it(options);
  for (const char* line : {"1kg\n", "2kg\n", "S3kg\n", "S4kg\n", "5kg\n"}) it.hear(line);
  std::vector<double> told;
  for (const LineLoad& load : it.loads()) told.push_back(load.load);
  BOOST_TEST(told == (std::vector<double>{1, 3, 5}));
}

BOOST_AUTO_TEST_CASE(silence_is_told_once_after_5_s) {
  Listener it;
  it.hear("641 kg\n");
  it.pass(4999ms);
  BOOST_TEST(it.troubles().empty());
  it.pass(1ms);
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::silent}));
  BOOST_TEST(std::get<LineTrouble>(it.news.back()).what.find("nothing heard for 5 s") == 0U);
  it.pass(60s);
  BOOST_TEST(it.troubles().size() == 1U);
  it.hear("641 kg\n");
  BOOST_TEST(std::holds_alternative<LineLoad>(it.news.back()));
  it.pass(5s);
  BOOST_TEST(it.troubles().size() == 2U);
}

BOOST_AUTO_TEST_CASE(lines_without_a_load_are_told_after_5_s) {
  Listener it;
  it.hear("641 kg\n");
  for (int second = 0; second < 5; ++second) {
    it.pass(900ms);
    it.hear("no load here\n");
  }
  BOOST_TEST(it.troubles().empty());
  it.pass(900ms);
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::not_understood}));
  BOOST_TEST(std::get<LineTrouble>(it.news.back()).what.find("\"no load here\"") != std::string::npos);
  it.pass(10s);
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::not_understood, Kind::silent}));
}

BOOST_AUTO_TEST_CASE(bytes_without_an_end_are_told) {
  Listener it;
  for (int i = 0; i < 60; ++i) {
    it.hear(std::string(20, '\xf0'));
    it.pass(100ms);
  }
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::not_understood}));
  BOOST_TEST(std::get<LineTrouble>(it.news.back()).what.find("--line-speed") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(another_unit_is_told_when_no_load_comes_beside_it) {
  LineOptions options{.device = "/dev/null"};
  options.pattern = R"((?<load>[\d.]+) (?<unit>\w+))";
  Listener both(options);
  for (int i = 0; i < 20; ++i) {
    both.hear("641 kg\n0.641 t\n");
    both.pass(300ms);
  }
  BOOST_TEST(both.troubles().empty());
  for (int i = 0; i < 20; ++i) {
    both.hear("0.641 t\n");
    both.pass(300ms);
  }
  BOOST_TEST((both.troubles() == std::vector<Kind>{Kind::not_taken}));
}

BOOST_AUTO_TEST_CASE(a_pattern_at_its_limit_is_told_and_rests) {
  LineOptions options{.device = "/dev/null"};
  options.pattern = "^(?:(?<load>(?:[0-9]+)+)+x|(?<unit>kg))$";
  Listener it(options);
  for (int i = 0; i < 5000; ++i) it.hear(std::string(250, '1') + "\n");  // in no time: one is looked at
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::not_understood}));
}

BOOST_AUTO_TEST_CASE(a_device_that_comes_and_goes_tells_the_same_once) {
  Listener it;
  for (int i = 0; i < 10; ++i) {
    it.listening.closed("gone");
    it.pass(1s);
    it.listening.opened(it.now);
  }
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::closed}));
  it.pass(5s);
  BOOST_TEST((it.troubles() == std::vector<Kind>{Kind::closed, Kind::silent}));
}

BOOST_AUTO_TEST_SUITE_END()
