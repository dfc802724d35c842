#include "audit/fleet.hpp"

#include <algorithm>
#include <map>

namespace steelyard::audit {
namespace {

bool has_band(const Rated& rated) {
  return rated.measure == reconcile::Measure::kilogram && !rated.minimum && rated.value && rated.rating;
}

double used_at_nearest(const Entry& entry) {
  return entry.nearest ? entry.ratings[*entry.nearest].used : 0;
}

}  // namespace

std::vector<Breach> breaches_of(const std::vector<Entry>& entries, const assess::OverloadBands& bands) {
  std::vector<Breach> out;
  for (std::size_t i = 0; i < entries.size(); ++i)
    for (std::size_t j = 0; j < entries[i].ratings.size(); ++j) {
      const Rated& rated = entries[i].ratings[j];
      if (!rated.outside()) continue;
      out.push_back({i, j, has_band(rated) ? assess::band_of(bands, *rated.value, *rated.rating) : nullptr});
    }
  std::stable_sort(out.begin(), out.end(), [&](const Breach& a, const Breach& b) {
    return entries[a.entry].ratings[a.rating].used > entries[b.entry].ratings[b.rating].used;
  });
  return out;
}

std::vector<Offender> offenders_of(const std::vector<Entry>& entries) {
  std::map<std::pair<std::string_view, std::string_view>, Offender> rigs;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Entry& entry = entries[i];
    const std::string_view tow = entry.tow_uid.empty() ? entry.tow : entry.tow_uid;
    if (tow.empty()) continue;  // nobody knows whether it is the same one
    Offender& one = rigs[{tow, entry.trailer_uid.empty() ? entry.trailer : entry.trailer_uid}];
    ++one.weighings;
    if (!entry.outside()) continue;
    one.tow = entry.tow;
    one.trailer = entry.trailer;
    if (one.outside == 0 || used_at_nearest(entry) > used_at_nearest(entries[one.worst_entry])) one.worst_entry = i;
    one.last_entry = i;
    ++one.outside;
  }
  std::vector<Offender> out;
  for (const auto& [rig, one] : rigs)
    if (one.outside > 1) out.push_back(one);
  std::stable_sort(out.begin(), out.end(), [](const Offender& a, const Offender& b) { return a.outside > b.outside; });
  return out;
}

std::vector<NotAssessed> not_assessed_of(const std::vector<Entry>& entries) {
  std::map<std::pair<std::string_view, std::string_view>, NotAssessed> found;
  for (const Entry& entry : entries)
    for (const Rated& rated : entry.ratings)
      if (rated.outcome == assess::Outcome::not_assessed) {
        NotAssessed& one = found[{rated.of, rated.reason}];
        one.of = rated.of;
        one.reason = rated.reason;
        ++one.sessions;
      }
  std::vector<NotAssessed> out;
  for (const auto& [key, one] : found) out.push_back(one);
  std::stable_sort(out.begin(), out.end(),
                   [](const NotAssessed& a, const NotAssessed& b) { return a.sessions > b.sessions; });
  return out;
}

std::vector<ScaleUse> scales_out_of_date_of(const std::vector<Entry>& entries) {
  std::map<std::pair<std::string_view, std::string_view>, ScaleUse> scales;
  for (const Entry& entry : entries)
    for (const ScaleOutOfDate& scale : entry.scales_out_of_date) {
      ScaleUse& one = scales[{scale.uid.empty() ? scale.name : scale.uid, scale.due}];
      one.uid = scale.uid;
      one.name = scale.name;
      one.due = scale.due;
      ++one.sessions;
      if (one.first_day.empty() || entry.day < one.first_day) one.first_day = entry.day;
      if (entry.day > one.last_day) one.last_day = entry.day;
    }
  std::vector<ScaleUse> out;
  for (const auto& [key, one] : scales) out.push_back(one);
  std::stable_sort(out.begin(), out.end(), [](const ScaleUse& a, const ScaleUse& b) { return a.sessions > b.sessions; });
  return out;
}

}  // namespace steelyard::audit
