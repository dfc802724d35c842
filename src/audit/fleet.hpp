// A fleet's sessions looked at together: how many are outside a rating and of whom, how near the rest are, who is outside
// again and again, what was not assessed and why, which scales were out of date.
//
// Units as in entry.hpp. Indices point into the entries that were given, which are in order of weighing. What is counted
// are weighings, not rigs: a rig weighed twice counts twice. A rate is the share of weighings outside a rating among those
// in which at least one rating was assessed; sessions without any are counted apart. Nothing here depends on the order of
// computing or on threads. No errors.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "assess/overload_bands.hpp"
#include "audit/entry.hpp"

namespace steelyard::audit {

struct Rate {
  std::size_t weighed = 0, assessed = 0;
  std::size_t outside = 0;    // a load reads over its rating
  std::size_t too_close = 0;  // of these, by less than the uncertainty
  double low = 0, high = 1;   // Wilson's 95 % interval of outside / assessed
  /// outside / assessed; 0 where nothing was assessed.
  [[nodiscard]] double share() const {
    return assessed == 0 ? 0 : static_cast<double>(outside) / static_cast<double>(assessed);
  }
};

struct GroupRate {
  std::string_view name;  // empty: not given
  Rate rate;
};

/// By what a fleet is divided.
enum class Division { client, place, rig_kind, technician, purpose };

/// Highest lower end of the interval first, then by name.
std::vector<GroupRate> rates_by(const std::vector<Entry>& entries, Division division);

enum class Period { month, quarter, year };
struct PeriodRate {
  std::string name;  // "2026-10", "2026 Q4", "2026"
  Rate rate;
};
struct Trend {
  Period period = Period::month;
  std::vector<PeriodRate> periods;  // without gaps, the first to the last
  std::size_t undated = 0;          // sessions without a date
};
/// By months up to two years, by quarters up to eight, else by years.
Trend trend_of(const std::vector<Entry>& entries);

/// A rating that a session is outside of.
struct Breach {
  std::size_t entry = 0, rating = 0;
  const assess::OverloadBand* band = nullptr;  // of the bands given
};
/// Worst first: by how much of the rating is used, then in order of weighing. Of loads above an upper rating the band.
std::vector<Breach> breaches_of(const std::vector<Entry>& entries, const assess::OverloadBands& bands);

/// A rig that was outside a rating more than once.
struct Offender {
  std::string_view tow, trailer;
  std::size_t weighings = 0, outside = 0;
  std::size_t worst_entry = 0, last_entry = 0;  // of those outside
};
/// Most often first. The same rig: the same uids, else the same words.
std::vector<Offender> offenders_of(const std::vector<Entry>& entries);

/// The distribution of how much of one kind of rating is used.
struct Utilisation {
  static constexpr std::size_t bins = 9;  // under 50 %, 50 to 60 %, … 110 to 120 %, 120 % and more
  std::string_view of;                    // canonical name, the axle's number left off
  rig::LimitKind kind = rig::LimitKind::tow_gross;
  bool minimum = false;
  std::size_t count = 0, outside = 0;
  std::array<std::size_t, bins> counts{};
  double median = 0, ninetieth = 0, most = 0;  // of used
};
/// In the order of the contract's table of limits.
std::vector<Utilisation> utilisation_of(const std::vector<Entry>& entries);

struct ShareDistribution {
  static constexpr std::size_t bins = 22;  // under 0 %, 0 to 1 %, … 19 to 20 %, 20 % and more
  std::size_t count = 0;
  std::array<std::size_t, bins> counts{};
  double median = 0, tenth = 0, ninetieth = 0;
};
ShareDistribution coupling_shares_of(const std::vector<Entry>& entries);

/// A rating that was not assessed, with the reason, and in how many sessions.
struct NotAssessed {
  std::string_view of, reason;
  std::size_t sessions = 0;
};
/// Most often first.
std::vector<NotAssessed> not_assessed_of(const std::vector<Entry>& entries);

struct ScaleUse {
  std::string_view uid, name, due;
  std::size_t sessions = 0;
  std::string_view first_day, last_day;
};
/// Scales used after they were due: most often first.
std::vector<ScaleUse> scales_out_of_date_of(const std::vector<Entry>& entries);

/// The value below which that part of the sorted values lies: linear between neighbours (R. Hyndman, Y. Fan, Sample
/// quantiles in statistical packages, The American Statistician 50 (1996) 361–365, definition 7). 0 of none.
double quantile(const std::vector<double>& sorted, double part);

struct Totals {
  Rate rate;
  std::size_t rigs = 0, clients = 0, suspect = 0, untested = 0, not_solved = 0, without_rating = 0, incomplete = 0;
  std::string_view first_day, last_day;
};
Totals totals_of(const std::vector<Entry>& entries);

}  // namespace steelyard::audit
