#include <algorithm>
#include <charconv>
#include <map>

#include "audit/fleet.hpp"
#include "audit/wilson.hpp"

namespace steelyard::audit {
namespace {

void count(Rate& rate, const Entry& entry) {
  ++rate.weighed;
  if (!entry.assessed()) return;
  ++rate.assessed;
  if (!entry.outside()) return;
  ++rate.outside;
  if (entry.outcome == assess::RigOutcome::conditional_fail) ++rate.too_close;
}

void finish(Rate& rate) {
  std::tie(rate.low, rate.high) = wilson(rate.outside, rate.assessed);
}

std::string_view name_in(const Entry& entry, Division division) {
  switch (division) {
    case Division::client:
      return entry.client;
    case Division::place:
      return entry.place;
    case Division::rig_kind:
      return entry.rig_kind;
    case Division::technician:
      return entry.technician;
    case Division::purpose:
      break;
  }
  return entry.purpose;
}

/// Months since the year 0 of a day YYYY-MM-DD; nothing where it is none.
std::optional<int> month_of(std::string_view day) {
  int year = 0, month = 0;
  if (day.size() != 10 || day[4] != '-' || day[7] != '-') return std::nullopt;
  const auto whole = [](std::string_view digits, int& out) {
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), out);
    return error == std::errc() && end == digits.data() + digits.size();
  };
  if (!whole(day.substr(0, 4), year) || !whole(day.substr(5, 2), month) || month < 1 || month > 12) return std::nullopt;
  return 12 * year + month - 1;
}

int period_of(int month, Period period) {
  return period == Period::month ? month : period == Period::quarter ? month / 3 : month / 12;
}

std::string period_name(int number, Period period) {
  const auto padded = [](int value, std::size_t digits) {
    std::string text = std::to_string(value);
    return std::string(text.size() < digits ? digits - text.size() : 0, '0') + text;
  };
  if (period == Period::year) return padded(number, 4);
  if (period == Period::quarter) return padded(number / 4, 4) + " Q" + std::to_string(number % 4 + 1);
  return padded(number / 12, 4) + "-" + padded(number % 12 + 1, 2);
}

}  // namespace

std::vector<GroupRate> rates_by(const std::vector<Entry>& entries, Division division) {
  std::map<std::string_view, Rate> rates;
  for (const Entry& entry : entries) count(rates[name_in(entry, division)], entry);
  std::vector<GroupRate> out;
  for (auto& [name, rate] : rates) {
    finish(rate);
    out.push_back({name, rate});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const GroupRate& a, const GroupRate& b) { return a.rate.low > b.rate.low; });
  return out;
}

Trend trend_of(const std::vector<Entry>& entries) {
  Trend trend;
  std::vector<std::optional<int>> months;
  std::optional<int> first, last;
  for (const Entry& entry : entries) {
    months.push_back(month_of(entry.day));
    const auto& month = months.back();
    if (!month) {
      ++trend.undated;
      continue;
    }
    first = first ? std::min(*first, *month) : *month;
    last = last ? std::max(*last, *month) : *month;
  }
  if (!first) return trend;
  const int span = *last - *first + 1;
  trend.period = span <= 24 ? Period::month : span <= 96 ? Period::quarter : Period::year;
  const int begin = period_of(*first, trend.period), end = period_of(*last, trend.period);
  for (int number = begin; number <= end; ++number) trend.periods.push_back({period_name(number, trend.period), {}});
  for (std::size_t i = 0; i < entries.size(); ++i)
    if (months[i])
      count(trend.periods[static_cast<std::size_t>(period_of(*months[i], trend.period) - begin)].rate, entries[i]);
  for (PeriodRate& one : trend.periods) finish(one.rate);
  return trend;
}

Totals totals_of(const std::vector<Entry>& entries) {
  Totals totals;
  std::map<std::pair<std::string_view, std::string_view>, int> rigs;
  std::map<std::string_view, int> clients;
  for (const Entry& entry : entries) {
    count(totals.rate, entry);
    ++rigs[{entry.tow_uid.empty() ? entry.tow : entry.tow_uid,
            entry.trailer_uid.empty() ? entry.trailer : entry.trailer_uid}];
    ++clients[entry.client_uid.empty() ? entry.client : entry.client_uid];
    if (entry.suspect) ++totals.suspect;
    if (!entry.not_solved.empty()) ++totals.not_solved;
    if (entry.not_solved.empty() && !entry.consistent) ++totals.untested;
    if (entry.not_solved.empty() && !entry.assessed()) ++totals.without_rating;
    if (entry.outcome == assess::RigOutcome::incomplete) ++totals.incomplete;
    if (!month_of(entry.day)) continue;
    if (totals.first_day.empty() || entry.day < totals.first_day) totals.first_day = entry.day;
    if (entry.day > totals.last_day) totals.last_day = entry.day;
  }
  totals.rigs = rigs.size();
  totals.clients = clients.size();
  finish(totals.rate);
  return totals;
}

}  // namespace steelyard::audit
