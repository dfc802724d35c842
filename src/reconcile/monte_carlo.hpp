// The linearised uncertainties of a session held against the propagation of distributions by Monte Carlo.
//
// Every observation is drawn from a normal distribution about its value as observed with its u (model,
// section 4; weights stay those of the observed values), each draw is solved nonlinearly with the tape and
// without it, and the quantities are taken from each. Units as in findings.hpp. The same session, number of
// trials and seed give the same figures, whatever the number of threads. Source: JCGM 101:2008;
// reconciliation model, section 5. Errors: NotSolved (reconcile.hpp) where the session cannot be solved,
// std::invalid_argument below two trials.
//
// A quantity that divides by the coupling load has no mean and no deviation where that load may be nothing;
// its interval is meant all the same. Such draws count in `not_determinable` and keep their value.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

inline constexpr long least_trials = 1000, most_trials = 10'000'000;  // of what people may ask for
inline constexpr std::uint64_t usual_seed = 1;

/// A determinable quantity as its trials have it, beside what was reported.
struct Propagated {
  std::size_t quantity = 0;  // index into Findings::quantities
  double mean = 0, u = 0;
  std::pair<double, double> interval;  // 95 %, probabilistically symmetric
  std::pair<double, double> shortest;  // 95 %
  std::pair<double, double> linear;    // as reported: Fieller's where there is one, else value ± 1.959964 u
  long not_determinable = 0;           // trials in which it would not have been reported
};

struct Discrepancy {
  enum class Of { mean, u, low, high };
  std::size_t quantity = 0;  // index into Findings::quantities
  Of of = Of::mean;
  double in_u = 0;  // Monte Carlo less reported, over the reported u
};
std::string_view to_text(Discrepancy::Of of);  // mean, u, low, high

struct MonteCarlo {
  long trials = 0;  // that were drawn
  std::uint64_t seed = 0;
  long not_converged = 0;  // trials without a solution, left out of everything
  std::vector<Propagated> quantities;
  /// The furthest that anything reported lies from its trials. Of quantities with Fieller's interval only
  /// that interval is compared: a ratio of normal variables has neither mean nor deviation.
  std::optional<Discrepancy> largest;
  /// Standard deviation by chance alone of an interval's end from so many trials, in u of a normal
  /// distribution.
  double chance = 0;
};

/// Is told how many trials are done, by one thread at a time.
using TrialsDone = std::function<void(long)>;

/// `findings` are those of this session. `threads` 0: as many as the machine has.
MonteCarlo monte_carlo(const rig::Session& session, const Findings& findings, long trials, std::uint64_t seed,
                       const TrialsDone& done = {}, unsigned threads = 0);

}  // namespace steelyard::reconcile
