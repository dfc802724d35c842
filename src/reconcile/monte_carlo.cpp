#include "reconcile/monte_carlo.hpp"

#include <algorithm>
#include <cmath>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <thread>

#include "adjust/distributions.hpp"
#include "reconcile/reconcile.hpp"
#include "reconcile/trials.hpp"

namespace steelyard::reconcile {
namespace {

constexpr long chunk_size = 250;  // trials of one stream of random numbers
constexpr double coverage = 0.95;

struct Counted {
  std::size_t index;  // in Findings::quantities
  adjust::Tally tally;
  long not_determinable = 0;
};

/// Chunks are drawn by several threads and counted in their order, so that every sum is added up the same way
/// whatever the number of threads.
class Run {
 public:
  Run(const rig::Session& session, const WholeSolution& whole, const Findings& findings, MonteCarlo& out,
      const TrialsDone& done)
      : session_(session), whole_(whole), out_(out), done_(done) {
    for (std::size_t i = 0; i < findings.quantities.size(); ++i) {
      const Quantity& quantity = findings.quantities[i];
      if (quantity.determinable)
        counted_.push_back({i, adjust::Tally(quantity.value, quantity.u > 0 ? quantity.u : 1)});
    }
  }

  std::vector<Counted> all(unsigned threads) {
    const auto chunks =
        static_cast<unsigned>(std::min<long>((out_.trials + chunk_size - 1) / chunk_size, 64));
    if (threads == 0) threads = std::max(1u, std::thread::hardware_concurrency());
    std::vector<std::jthread> workers;
    for (unsigned i = 1; i < std::min(threads, chunks); ++i) workers.emplace_back([this] { work(); });
    work();
    workers.clear();
    if (failure_) std::rethrow_exception(failure_);
    return std::move(counted_);
  }

 private:
  void work() {
    try {
      Trials trials(session_, whole_);
      for (;;) {
        const long chunk = take();
        const long first = chunk * chunk_size, last = std::min(first + chunk_size, out_.trials);
        if (first >= out_.trials) return;
        adjust::Deviates deviates(out_.seed, static_cast<std::uint64_t>(chunk));
        std::vector<std::optional<Trial>> drawn;
        for (long i = first; i < last; ++i) drawn.push_back(trials.next(deviates));
        if (!count(chunk, drawn, last)) return;
      }
    } catch (...) {
      const std::lock_guard lock(mutex_);
      if (!failure_) failure_ = std::current_exception();
      turn_.notify_all();
    }
  }

  long take() {
    const std::lock_guard lock(mutex_);
    return next_chunk_++;
  }

  /// False where another thread has failed.
  bool count(long chunk, const std::vector<std::optional<Trial>>& drawn, long trials_done) {
    std::unique_lock lock(mutex_);
    turn_.wait(lock, [&] { return failure_ || counted_chunks_ == chunk; });
    if (failure_) return false;
    for (const auto& trial : drawn) {
      if (!trial) {
        ++out_.not_converged;
        continue;
      }
      for (Counted& one : counted_) {
        const double value = trial->values[one.index];
        const bool there = std::isfinite(value);
        one.not_determinable += trial->not_determinable[one.index] || !there;
        if (there) one.tally.add(value);
      }
    }
    ++counted_chunks_;
    if (done_) done_(trials_done);
    turn_.notify_all();
    return true;
  }

  const rig::Session& session_;
  const WholeSolution& whole_;
  MonteCarlo& out_;
  const TrialsDone& done_;
  std::vector<Counted> counted_;
  std::mutex mutex_;
  std::condition_variable turn_;
  long next_chunk_ = 0, counted_chunks_ = 0;
  std::exception_ptr failure_;
};

Propagated propagated(const Counted& from, const Quantity& quantity) {
  const double reach = adjust::z95 * quantity.u;
  Propagated out;
  out.quantity = from.index;
  out.mean = from.tally.mean();
  out.u = from.tally.deviation();
  out.interval = from.tally.symmetric(coverage);
  out.shortest = from.tally.shortest(coverage);
  out.linear = quantity.interval.value_or(std::pair{quantity.value - reach, quantity.value + reach});
  out.not_determinable = from.not_determinable;
  return out;
}

void compare(const Propagated& one, const Quantity& quantity, std::optional<Discrepancy>& largest) {
  using Of = Discrepancy::Of;
  if (!(quantity.u > 0)) return;
  const auto look = [&](Of of, double difference) {
    const double in_u = difference / quantity.u;
    if (!largest || std::abs(in_u) > std::abs(largest->in_u)) largest = Discrepancy{one.quantity, of, in_u};
  };
  if (!quantity.interval) {
    look(Of::mean, one.mean - quantity.value);
    look(Of::u, one.u - quantity.u);
  }
  look(Of::low, one.interval.first - one.linear.first);
  look(Of::high, one.interval.second - one.linear.second);
}

/// Of the end of a 95 % interval: the deviation of a sample's quantile, √(p(1 − p)/n) over the density there.
double chance_of_an_end(long trials) {
  constexpr double p = (1 - coverage) / 2;
  const double density = std::exp(-adjust::z95 * adjust::z95 / 2) / std::sqrt(2 * std::acos(-1.0));
  return std::sqrt(p * (1 - p) / static_cast<double>(trials)) / density;
}

}  // namespace

std::string_view to_text(Discrepancy::Of of) {
  switch (of) {
    case Discrepancy::Of::mean:
      return "mean";
    case Discrepancy::Of::u:
      return "u";
    case Discrepancy::Of::low:
      return "low";
    case Discrepancy::Of::high:
      return "high";
  }
  return {};
}

MonteCarlo monte_carlo(const rig::Session& session, const Findings& findings, long trials, std::uint64_t seed,
                       const TrialsDone& done, unsigned threads) {
  if (trials < 2) throw std::invalid_argument("monte_carlo: at least two trials");
  const auto whole = solve_whole(session);
  if (!whole) throw NotSolved("session " + session.id + ": no solution converges");
  if (whole->derived.listed.size() != findings.quantities.size())
    throw std::logic_error("monte_carlo: the findings are not those of this session");
  MonteCarlo out;
  out.trials = trials;
  out.seed = seed;
  const std::vector<Counted> counted = Run(session, *whole, findings, out, done).all(threads);
  out.chance = chance_of_an_end(trials);
  for (const Counted& one : counted) {
    if (one.tally.count() < 2) continue;
    const Quantity& quantity = findings.quantities[one.index];
    out.quantities.push_back(propagated(one, quantity));
    compare(out.quantities.back(), quantity, out.largest);
  }
  return out;
}

}  // namespace steelyard::reconcile
