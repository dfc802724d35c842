// What it takes from a reading's post until every open page shows what it means.
//
//   bench_field PROGRAM [PAGES = 20] [A SECOND = 50] [SECONDS = 20]
//
// PROGRAM is steelyard itself; it serves a temporary store on loopback. First the sample rig's readings, one after the
// other, each timed from the start of its post until the last page has a view with that reading and settled figures.
// Then readings at a steady rate, five sessions of at most fifty at a time with a fifth of the pages each, timed from
// when each was due. In the same run and as the measure of it: the same readings kept by the store alone, and solved
// alone. At the end the store is read: every acknowledged reading has to be there.
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "field_client.hpp"
#include "issued/solve.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace steelyard;
using namespace std::chrono_literals;
using bench::Instant;
using nlohmann::json;
using Clock = std::chrono::steady_clock;

constexpr std::size_t side_by_side = 5;  // sessions weighed at a time

struct Sample {
  json sheet;  // nothing read yet
  std::vector<json> readings;
};

Sample sample() {
  std::ifstream in(STEELYARD_SOURCE_DIR "/sample_data/tcw-012-pump-trailer.json");
  Sample out;
  out.sheet = json::parse(in);
  for (json& state : out.sheet["states"]) {
    for (json reading : state["readings"]) {
      reading["state"] = state["name"];
      out.readings.push_back(std::move(reading));
    }
    state["readings"] = json::array();
  }
  return out;
}

rig::Session session_of(const json& sheet) {
  auto read = sheet::read(sheet.dump());
  if (!read.session) throw std::runtime_error(sheet::to_text(read.faults.at(0)));
  return *read.session;
}

std::string name_of(std::size_t number) {
  return "bench-session-" + std::to_string(number);
}

/// The id of a session's reading: no id begins another.
std::string id_of(std::size_t session, std::size_t reading) {
  char text[32];
  std::snprintf(text, sizeof text, "s%04zu-r%04zu", session, reading);
  return text;
}

double milliseconds(Clock::duration time) {
  return std::chrono::duration<double, std::milli>(time).count();
}

struct Times {
  std::vector<double> all = {};
  double at(double share) {
    if (all.empty()) return 0;
    std::sort(all.begin(), all.end());
    return all[std::min(all.size() - 1, static_cast<std::size_t>(share * static_cast<double>(all.size())))];
  }
  void print(const char* what) {
    std::printf("%-42s %8.1f %8.1f %8.1f  %5zu\n", what, at(0.5), at(0.95), at(1), all.size());
  }
};

/// When the last of them saw a reading; each has to have seen it.
Instant last_seen(const std::vector<bench::Watching>& pages, std::size_t first, std::size_t step, std::size_t reading) {
  Instant last{};
  for (std::size_t i = first; i < pages.size(); i += step) last = std::max(last, pages[i].seen().at(reading));
  return last;
}

std::vector<bench::Watching> open_pages(int port, std::size_t count, std::size_t first_session, std::size_t sessions,
                                        std::size_t readings) {
  std::vector<bench::Watching> pages;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t session = first_session + i % sessions;
    std::vector<std::string> ids;
    for (std::size_t k = 0; k < readings; ++k) ids.push_back(id_of(session, k));
    // A phone has few pages open: ten an address.
    pages.emplace_back(port, static_cast<int>(2 + i / 10), name_of(session), ids);
  }
  return pages;
}

class Bench {
 public:
  Bench(const std::string& program, fs::path folder, std::size_t pages)
      : path_(std::move(folder) / "store.db"), pages_(pages) {
    store::Store::create(path_);
    served_.emplace(program, path_);
  }

  void one_by_one(std::size_t rounds) {
    Times shown, kept;
    for (std::size_t round = 0; round < rounds; ++round) {
      bench::Line line(port());
      add_session(line);
      auto pages = open_pages(port(), pages_, sessions_ - 1, 1, sample_.readings.size());
      for (std::size_t k = 0; k < sample_.readings.size(); ++k) {
        const Instant from = Clock::now();
        send(line, sessions_ - 1, k);
        kept.all.push_back(milliseconds(Clock::now() - from));
        wait_for(pages, [&](const bench::Watching& page) { return page.seen().size() > k; });
        shown.all.push_back(milliseconds(last_seen(pages, 0, 1, k) - from));
      }
      bytes_ = pages.front().bytes() / pages.front().views();
    }
    kept.print("one by one: until it is acknowledged");
    shown.print("one by one: until the last page shows it");
    shown_ = shown.at(0.5);
  }

  void at_a_rate(double a_second, double seconds) {
    const std::size_t each = sample_.readings.size(), wave = side_by_side * each;
    auto left = static_cast<std::size_t>(a_second * seconds);
    Times shown, kept;
    double took = 0;
    std::size_t views = 0;
    const std::size_t all = left;
    for (; left > 0; left -= std::min(left, wave)) {
      std::vector<bench::Line> lines;
      for (std::size_t i = 0; i < side_by_side; ++i) {
        lines.emplace_back(port(), static_cast<int>(10 + i));
        add_session(lines.back());
      }
      const std::size_t first = sessions_ - side_by_side, count = std::min(left, wave) / side_by_side;
      auto pages = open_pages(port(), pages_, first, side_by_side, count);
      std::vector<std::vector<Instant>> due(side_by_side), acknowledged(side_by_side);
      const auto pause = std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(1 / a_second));
      const Instant start = Clock::now() + 50ms;
      std::vector<std::thread> posting;
      for (std::size_t i = 0; i < side_by_side; ++i)
        posting.emplace_back([&, i] {
          for (std::size_t k = 0; k < count; ++k) {
            due[i].push_back(start + pause * static_cast<long>(k * side_by_side + i));
            std::this_thread::sleep_until(due[i].back());
            send(lines[i], first + i, k);
            acknowledged[i].push_back(Clock::now());
          }
        });
      wait_for(pages, [&](const bench::Watching& page) { return page.seen().size() >= count; });
      for (std::thread& one : posting) one.join();
      for (std::size_t i = 0; i < side_by_side; ++i)
        for (std::size_t k = 0; k < count; ++k) {
          kept.all.push_back(milliseconds(acknowledged[i][k] - due[i][k]));
          shown.all.push_back(milliseconds(last_seen(pages, i, side_by_side, k) - due[i][k]));
        }
      took += milliseconds(Clock::now() - start) / 1000;
      for (const bench::Watching& page : pages) views += page.views() - 1;
    }
    kept.print("at the rate: until it is acknowledged");
    shown.print("at the rate: until its last page shows it");
    std::printf("%.1f readings a second of %.0f asked for; %.2f views a reading and page\n", static_cast<double>(all) / took,
                a_second, static_cast<double>(views) / static_cast<double>(all) * side_by_side / static_cast<double>(pages_));
  }

  /// The same without pages: what the store and the solution take of it.
  void alone(const fs::path& folder) {
    Times kept, solved;
    const fs::path path = folder / "alone.db";
    store::Store store = store::Store::create(path);
    json sheet = sample_.sheet;
    sheet["id"] = "bench-alone";
    {
      const rig::Session empty = session_of(sheet);
      auto import = store.begin_import();
      import.add(empty, sheet::content_hash(empty));
      import.commit();
    }
    for (std::size_t k = 0; k < sample_.readings.size(); ++k) {
      json reading = sample_.readings[k];
      reading["id"] = id_of(0, k);
      const std::string state = reading["state"];
      reading.erase("state");
      for (json& one : sheet["states"])
        if (one["name"] == state) one["readings"].push_back(reading);
      const rig::Session session = session_of(sheet);
      const rig::Reading& added = rig::find_state(session, state)->readings.back();
      Instant from = Clock::now();
      store.record_once(session.id, state, added);
      kept.all.push_back(milliseconds(Clock::now() - from));
      from = Clock::now();
      (void)issued::solve(session);
      solved.all.push_back(milliseconds(Clock::now() - from));
    }
    kept.print("the store alone keeps one");
    solved.print("solved alone, after each");
    std::printf("shown / (kept and solved alone), medians:   %8.2f;  a view has %zu kB\n",
                shown_ / (kept.at(0.5) + solved.at(0.5)), bytes_ / 1000);
  }

  /// Every acknowledged reading has to be in the file.
  bool none_lost() {
    served_.reset();
    const store::Store store = store::Store::open(path_, store::Access::read_only);
    std::size_t there = 0;
    for (const std::string& id : store.ids())
      for (const rig::State& state : store.load(id).states) there += state.readings.size();
    std::printf("acknowledged %zu, in the store %zu: %s\n", acknowledged_.load(), there,
                there == acknowledged_ ? "none lost, none doubled" : "NOT THE SAME");
    return there == acknowledged_;
  }

 private:
  [[nodiscard]] int port() const { return served_->port(); }

  void add_session(bench::Line& line) {
    json sheet = sample_.sheet;
    sheet["id"] = name_of(sessions_++);
    if (line.post("/api/sessions", sheet.dump()) != 201) throw std::runtime_error("a session was not taken");
  }

  void send(bench::Line& line, std::size_t session, std::size_t number) {
    json reading = sample_.readings[number];
    reading["id"] = id_of(session, number);
    if (line.post("/api/sessions/" + name_of(session) + "/readings", reading.dump()) != 201)
      throw std::runtime_error("a reading was not taken");
    ++acknowledged_;
  }

  template <class Done>
  static void wait_for(std::vector<bench::Watching>& pages, const Done& done) {
    const Instant until = Clock::now() + 120s;
    while (!std::all_of(pages.begin(), pages.end(), done)) {
      if (Clock::now() > until) throw std::runtime_error("a page does not show a reading");
      bench::hear_all(pages, 100ms);
    }
  }

  fs::path path_;
  std::size_t pages_;
  Sample sample_ = sample();
  std::optional<bench::Served> served_ = {};
  std::size_t sessions_ = 0, bytes_ = 0;
  std::atomic<std::size_t> acknowledged_{0};
  double shown_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fprintf(stderr, "usage: bench_field PROGRAM [PAGES] [A SECOND] [SECONDS]\n");
    return 2;
  }
  const auto pages = std::max(side_by_side, static_cast<std::size_t>(argc > 2 ? std::atoi(argv[2]) : 20));
  const double a_second = argc > 3 ? std::atof(argv[3]) : 50, seconds = argc > 4 ? std::atof(argv[4]) : 20;
  const fs::path folder = fs::temp_directory_path() / ("steelyard-bench-" + std::to_string(getpid()));
  fs::create_directory(folder);
  bool sound = false;
  try {
    std::printf("%zu pages open; milliseconds %17s %8s %8s  %5s\n", pages, "median", "95 %", "most", "of");
    Bench bench(argv[1], folder, pages);
    bench.one_by_one(4);
    bench.at_a_rate(a_second, seconds);
    bench.alone(folder);
    sound = bench.none_lost();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bench_field: %s\n", error.what());
  }
  fs::remove_all(folder);
  return sound ? 0 : 1;
}
