#include "cli/recompute_all.hpp"

#include <condition_variable>
#include <deque>
#include <exception>
#include <map>
#include <mutex>
#include <thread>

#include "issued/issued.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::cli {
namespace {

constexpr std::size_t workers = 2, most_waiting = 32;  // sessions read ahead

struct Job {
  std::size_t number = 0;
  rig::Session session;
  store::SealedResult sealed;
};

struct Outcome {
  std::string name, refused;  // refused: why it was not computed at all
  issued::Recomputed recomputed;
};

Outcome outcome_of(const Job& job) {
  Outcome out{job.sealed.name, {}, {}};
  // Statics presupposes what a sheet's check makes sure of; a file that was altered may hold anything.
  const std::vector<sheet::Fault> faults = sheet::check(job.session);
  if (!faults.empty()) {
    out.refused = "it is no valid sheet any more: " + sheet::to_text(faults.front());
    return out;
  }
  try {
    out.recomputed =
        issued::recompute(job.session, job.sealed.issued.engine, job.sealed.issued.build, job.sealed.issued.result);
  } catch (const std::exception& error) {
    out.refused = error.what();
  }
  return out;
}

/// Reads on one thread, as the store demands, and computes on others.
class Pool {
 public:
  Pool() {
    for (std::size_t i = 0; i < workers; ++i) threads_.emplace_back([this] { work(); });
  }
  Pool(const Pool&) = delete;
  Pool& operator=(const Pool&) = delete;
  ~Pool() { close(); }

  void put(Job job) {
    std::unique_lock lock(guard_);
    taken_.wait(lock, [this] { return waiting_.size() < most_waiting; });
    waiting_.push_back(std::move(job));
    lock.unlock();
    put_.notify_one();
  }

  /// Waits for all; outcomes by number.
  std::map<std::size_t, Outcome> finish() {
    close();
    return std::move(outcomes_);
  }

 private:
  void close() {
    {
      const std::scoped_lock lock(guard_);
      closed_ = true;
    }
    put_.notify_all();
    threads_.clear();  // joins
  }

  void work() {
    std::unique_lock lock(guard_);
    for (;;) {
      put_.wait(lock, [this] { return closed_ || !waiting_.empty(); });
      if (waiting_.empty()) return;
      const Job job = std::move(waiting_.front());
      waiting_.pop_front();
      lock.unlock();
      taken_.notify_one();
      Outcome outcome = outcome_of(job);
      lock.lock();
      outcomes_.emplace(job.number, std::move(outcome));
    }
  }

  std::mutex guard_;
  std::condition_variable put_, taken_;
  std::deque<Job> waiting_;
  std::map<std::size_t, Outcome> outcomes_;
  bool closed_ = false;
  std::vector<std::jthread> threads_;
};

void fault(RecomputedAll& all, const char* kind, const std::string& session, std::string what) {
  all.remarks.push_back({store::Remark::Weight::fault, kind, session, std::move(what)});
}

void count(RecomputedAll& all, const Outcome& outcome) {
  const issued::Recomputed& found = outcome.recomputed;
  if (!outcome.refused.empty()) {
    ++all.differ;
    return fault(all, "figures_not_computed", outcome.name, "its figures cannot be computed: " + outcome.refused);
  }
  if (found.agreement == issued::Agreement::exactly) {
    ++all.exactly;
  } else if (found.agreement == issued::Agreement::to_tolerance) {
    ++all.to_tolerance;
  } else if (found.agreement == issued::Agreement::not_solvable) {
    ++all.differ;
    fault(all, "figures_differ", outcome.name, "figures were issued, and now there is no solution: " +
                                                   found.differences.front());
  } else {
    ++all.differ;
    for (const std::string& difference : found.differences)
      fault(all, "figures_differ", outcome.name, "computed anew, " + difference);
    if (found.differing > found.differences.size())
      fault(all, "figures_differ", outcome.name,
            std::to_string(found.differing - found.differences.size()) + " more figures differ");
  }
}

}  // namespace

RecomputedAll recompute_all(const store::Store& store, const std::function<void(std::size_t)>& progress) {
  RecomputedAll all;
  Pool pool;
  store.each_issued([&](const rig::Session& session, const store::SealedResult& sealed) {
    pool.put({all.results++, session, sealed});
    progress(all.results);
  });
  std::map<std::string, std::size_t> notices;  // thousands may have the same
  for (const auto& [number, outcome] : pool.finish()) {
    count(all, outcome);
    for (const std::string& notice : outcome.recomputed.notices) ++notices[notice];
  }
  for (const auto& [notice, times] : notices)
    all.remarks.push_back({store::Remark::Weight::notice, "computed_otherwise", {},
                           std::to_string(times) + (times == 1 ? " result: " : " results: ") + notice});
  return all;
}

}  // namespace steelyard::cli
