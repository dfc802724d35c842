// What an audit of a fleet costs, from the store to a finished workbook.
//
//   bench_audit STEELYARD [SESSIONS = 100000] [FOLDER = a temporary one, removed]
//
// Against two bare things in the same run: the plain reconciliations and assessments of the same sessions held in memory, on
// as many threads, and the bare library writing as many cells of the same kinds in its row-by-row mode. The audit runs as the
// program itself, so its memory is its own. With a folder given the store and the workbook stay there.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "assess/assessment.hpp"
#include "reconcile/reconcile.hpp"
#include "sheet/sheet.hpp"
#include "simulated_fleet.hpp"
#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace steelyard;

constexpr int sample = 10;  // plain reconciliations of every tenth session; their time is taken ten times

template <class Action>
double seconds(const Action& action) {
  const auto from = std::chrono::steady_clock::now();
  action();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

void make_store(const fs::path& path, int sessions) {
  store::Store store = store::Store::create(path);
  auto import = store.begin_import();
  for (int number = 0; number < sessions; ++number) {
    const rig::Session session = bench::simulated_session(number);
    import.add(session, sheet::content_hash(session));
  }
  import.commit();
}

double plain_reconciliations(int sessions, unsigned threads) {
  std::vector<rig::Session> all;
  for (int number = 0; number < sessions; number += sample) all.push_back(bench::simulated_session(number));
  std::atomic<std::size_t> next = 0, outside = 0;
  const double took = seconds([&] {
    std::vector<std::jthread> workers;
    for (unsigned i = 0; i < threads; ++i)
      workers.emplace_back([&] {
        for (std::size_t at = next++; at < all.size(); at = next++) try {
            const auto findings = reconcile::reconcile(all[at]);
            outside += assess::assess(all[at], findings).outcome == assess::RigOutcome::fail ? 1 : 0;
          } catch (const reconcile::NotSolved&) {
          }
      });
  });
  std::printf("plain      %zu sessions reconciled and assessed on %u threads: %.1f s, %zu outside a rating\n", all.size(),
              threads, took, outside.load());
  return took * sample;
}

/// The register's cells: nine texts and seven figures a row.
double bare_cells(const fs::path& path, int rows) {
  return seconds([&] {
    lxw_workbook_options options{};
    options.constant_memory = LXW_TRUE;
    lxw_workbook* book = workbook_new_opt(path.c_str(), &options);
    lxw_worksheet* sheet = workbook_add_worksheet(book, nullptr);
    lxw_format* format = workbook_add_format(book);
    for (int row = 0; row < rows; ++row) {
      const auto at = static_cast<lxw_row_t>(row);
      for (lxw_col_t column = 0; column < 9; ++column)
        worksheet_write_string(sheet, at, column, "Neighbour 17 of Tallow Creek", format);
      for (lxw_col_t column = 9; column < 16; ++column) worksheet_write_number(sheet, at, column, row * 1.017, format);
    }
    if (workbook_close(book) != LXW_NO_ERROR) throw std::runtime_error("the bare workbook was not written");
  });
}

struct Run {
  double seconds = 0, megabytes = 0;
};

Run run_audit(const std::string& program, const fs::path& store, const fs::path& to) {
  Run run;
  rusage used{};
  run.seconds = seconds([&] {
    std::fflush(stdout);  // else the child would print it too
    const pid_t child = ::fork();
    if (child == 0) {
      if (!std::freopen("/dev/null", "w", stdout)) ::_exit(126);
      ::execl(program.c_str(), program.c_str(), "audit", "--store", store.c_str(), "--to", to.c_str(), nullptr);
      ::_exit(127);
    }
    int status = 0;
    if (child < 0 || ::wait4(child, &status, 0, &used) != child || status != 0) throw std::runtime_error("the audit failed");
  });
  run.megabytes = static_cast<double>(used.ru_maxrss) / 1024;  // kilobytes on Linux
  return run;
}

void time_audit(const std::string& program, int sessions, const fs::path& folder) {
  const unsigned threads = std::max(1u, std::thread::hardware_concurrency());
  const double importing = seconds([&] { make_store(folder / "fleet.db", sessions); });
  std::printf("fleet      %d simulated sessions in a store: %.1f s\n", sessions, importing);
  const double plain = plain_reconciliations(sessions, threads);
  const double cells = bare_cells(folder / "bare.xlsx", sessions);
  std::printf("bare       %d cells written by the bare library: %.1f s\n", 16 * sessions, cells);
  const Run run = run_audit(program, folder / "fleet.db", folder / "fleet.xlsx");
  std::printf("audit      %d sessions to a workbook: %.1f s, %.0f a second, %.0f MB at most\n", sessions, run.seconds,
              sessions / run.seconds, run.megabytes);
  std::printf("ratio      %.2f of the rate of plain reconciliations (%.1f s) and bare cells (%.1f s) together\n",
              (plain + cells) / run.seconds, plain, cells);
}

}  // namespace

int main(int count, char** words) try {
  if (count < 2) throw std::runtime_error("name the program: bench_audit STEELYARD [SESSIONS] [FOLDER]");
  const int sessions = count > 2 ? std::atoi(words[2]) : 100'000;
  const bool keep = count > 3;
  const fs::path folder =
      keep ? fs::path(words[3]) : fs::temp_directory_path() / ("bench-audit-" + std::to_string(::getpid()));
  fs::create_directories(folder);
  time_audit(words[1], sessions, folder);
  if (!keep) fs::remove_all(folder);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "bench_audit: %s\n", error.what());
  return 1;
}
