#include "sheet/faults.hpp"

#include <utility>

namespace steelyard::sheet {

std::string to_text(const Fault& fault) {
  return fault.place.empty() ? fault.what : fault.place + ": " + fault.what;
}

void Faults::add(const Place& place, std::string what) {
  add(place.text(), std::move(what));
}

void Faults::add(std::string place, std::string what) {
  if (list_.size() < most)
    list_.push_back({std::move(place), std::move(what)});
  else
    ++beyond_;
}

std::vector<Fault> Faults::take() {
  if (beyond_ > 0) list_.push_back({"", "and " + std::to_string(beyond_) + " faults more; mend these first"});
  beyond_ = 0;
  return std::exchange(list_, {});
}

BrokenPlaces::BrokenPlaces(const std::vector<Fault>& faults) {
  for (const Fault& fault : faults) places_.insert(fault.place);
}

bool BrokenPlaces::covers(std::string_view place) const {
  if (places_.empty()) return false;
  while (!place.empty()) {
    if (places_.contains(place)) return true;
    const std::size_t cut = place.find_last_of(".[");
    place = cut == std::string_view::npos ? std::string_view() : place.substr(0, cut);
  }
  return false;
}

bool BrokenPlaces::sound(const Place& place) const {
  if (places_.empty()) return true;
  const std::string text = place.text();
  if (covers(text)) return false;
  for (const char step : {'.', '['}) {
    const std::string prefix = text + step;
    const auto next = places_.lower_bound(prefix);
    if (next != places_.end() && next->starts_with(prefix)) return false;
  }
  return true;
}

}  // namespace steelyard::sheet
