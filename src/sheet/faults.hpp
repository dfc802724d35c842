// The faults of one sheet as they are found, and which places they leave unreliable.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "sheet/place.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::sheet {

/// Keeps the first `most` faults and counts the rest, so that a hostile sheet cannot fill the memory with
/// them.
class Faults {
 public:
  static constexpr std::size_t most = 1'000;

  void add(const Place& place, std::string what);
  void add(std::string place, std::string what);

  [[nodiscard]] bool empty() const { return list_.empty(); }
  [[nodiscard]] bool more_than_kept() const { return beyond_ > 0; }
  [[nodiscard]] const std::vector<Fault>& list() const { return list_; }

  /// All of them; where there were more than `most`, a last one counts the rest.
  std::vector<Fault> take();

 private:
  std::vector<Fault> list_;
  std::size_t beyond_ = 0;
};

/// The places that could not be read. A rule about one of them would only repeat the fault in other words.
class BrokenPlaces {
 public:
  BrokenPlaces() = default;
  explicit BrokenPlaces(const std::vector<Fault>& faults);

  /// Whether the place itself, or what it stands in, could not be read.
  [[nodiscard]] bool covers(std::string_view place) const;
  /// Whether all of it was read: neither covered nor holding something that could not be read.
  [[nodiscard]] bool sound(const Place& place) const;

 private:
  std::set<std::string, std::less<>> places_;
};

}  // namespace steelyard::sheet
