#include "cli/solve_fleet.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

#include "assess/assessment.hpp"
#include "reconcile/reconcile.hpp"
#include "store/store.hpp"

namespace steelyard::cli {
namespace {

constexpr std::size_t claim = 8;  // sessions that a thread takes at a time

class Fleet {
 public:
  Fleet(const std::filesystem::path& store, const std::vector<std::string>& ids, audit::Names& names)
      : store_(store), ids_(ids), names_(names), entries_(ids.size()) {}

  void work() {
    try {
      const store::Store store = store::Store::open(store_, store::Access::read_only);
      for (std::size_t first = next_.fetch_add(claim); first < ids_.size(); first = next_.fetch_add(claim))
        for (std::size_t i = first; i < std::min(first + claim, ids_.size()); ++i) {
          entries_[i] = entry_at(store, i);
          ++done_;
        }
    } catch (...) {
      const std::lock_guard lock(guard_);
      if (!failed_) failed_ = std::current_exception();
      next_ = ids_.size();  // the others stop too
    }
    const std::lock_guard lock(guard_);
    ++finished_;
    changed_.notify_all();
  }

  /// Waits for `threads` threads to finish, telling how far they are.
  void wait(unsigned threads, const std::function<void(std::size_t)>& progress) {
    std::unique_lock lock(guard_);
    while (!changed_.wait_for(lock, std::chrono::milliseconds(50), [&] { return finished_ == threads; })) progress(done_);
  }

  std::vector<audit::Entry> take() {
    if (failed_) std::rethrow_exception(failed_);
    return std::move(entries_);
  }

 private:
  audit::Entry entry_at(const store::Store& store, std::size_t i) {
    const rig::Session session = store.load(ids_[i]);
    audit::Entry entry;
    try {
      const reconcile::Findings findings = reconcile::reconcile(session);
      entry = audit::entry_of(session, findings, assess::assess(session, findings), names_);
    } catch (const reconcile::NotSolved& error) {
      entry = audit::entry_without_solution(session, error.what(), names_);
    }
    return entry;
  }

  const std::filesystem::path& store_;
  const std::vector<std::string>& ids_;
  audit::Names& names_;
  std::vector<audit::Entry> entries_;
  std::atomic<std::size_t> next_ = 0, done_ = 0;
  std::mutex guard_;
  std::condition_variable changed_;
  unsigned finished_ = 0;
  std::exception_ptr failed_;
};

}  // namespace

unsigned usual_threads() {
  return std::clamp(std::thread::hardware_concurrency(), 1u, 64u);
}

std::vector<audit::Entry> solve_fleet(const std::filesystem::path& store, const std::vector<std::string>& ids,
                                      audit::Names& names, unsigned threads,
                                      const std::function<void(std::size_t)>& progress) {
  Fleet fleet(store, ids, names);
  std::vector<std::jthread> workers;
  for (unsigned i = 0; i < threads; ++i) workers.emplace_back([&fleet] { fleet.work(); });
  fleet.wait(threads, progress);
  workers.clear();
  return fleet.take();
}

}  // namespace steelyard::cli
