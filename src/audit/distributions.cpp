#include <algorithm>
#include <cmath>
#include <map>

#include "audit/fleet.hpp"

namespace steelyard::audit {
namespace {

std::size_t utilisation_bin(double used) {
  if (used < 0.5) return 0;
  // A whole number of per cent stands in the bin that it begins, whatever its last bit.
  const double tenths = std::floor(used * 10 + 1e-9);
  return static_cast<std::size_t>(std::min(tenths - 4, static_cast<double>(Utilisation::bins - 1)));
}

std::size_t share_bin(double share) {
  if (share < 0) return 0;
  const double percent = std::floor(share * 100 + 1e-9);
  return static_cast<std::size_t>(std::min(percent + 1, static_cast<double>(ShareDistribution::bins - 1)));
}

/// "tow_axle" of "tow_axle.2".
std::string_view without_axle(std::string_view of) {
  return of.substr(0, of.find('.'));
}

}  // namespace

double quantile(const std::vector<double>& sorted, double part) {
  if (sorted.empty()) return 0;
  const double at = part * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  if (below + 1 >= sorted.size()) return sorted.back();
  return sorted[below] + (at - static_cast<double>(below)) * (sorted[below + 1] - sorted[below]);
}

std::vector<Utilisation> utilisation_of(const std::vector<Entry>& entries) {
  std::map<rig::LimitKind, std::pair<Utilisation, std::vector<double>>> kinds;
  for (const Entry& entry : entries)
    for (const Rated& rated : entry.ratings) {
      if (!rated.value || !rated.rating) continue;
      auto& [one, values] = kinds[rated.kind];
      one.of = without_axle(rated.of);
      one.kind = rated.kind;
      one.minimum = rated.minimum;
      ++one.count;
      if (rated.outside()) ++one.outside;
      ++one.counts[utilisation_bin(rated.used)];
      values.push_back(rated.used);
    }
  std::vector<Utilisation> out;
  for (auto& [kind, one] : kinds) {
    auto& [utilisation, values] = one;
    std::sort(values.begin(), values.end());
    utilisation.median = quantile(values, 0.5);
    utilisation.ninetieth = quantile(values, 0.9);
    utilisation.most = values.back();
    out.push_back(utilisation);
  }
  return out;
}

ShareDistribution coupling_shares_of(const std::vector<Entry>& entries) {
  ShareDistribution out;
  std::vector<double> values;
  for (const Entry& entry : entries)
    if (entry.coupling_share) {
      values.push_back(entry.coupling_share->value);
      ++out.counts[share_bin(values.back())];
    }
  std::sort(values.begin(), values.end());
  out.count = values.size();
  out.tenth = quantile(values, 0.1);
  out.median = quantile(values, 0.5);
  out.ninetieth = quantile(values, 0.9);
  return out;
}

}  // namespace steelyard::audit
