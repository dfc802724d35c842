#include "rig/limit.hpp"

#include <array>
#include <charconv>

namespace steelyard::rig {
namespace {

struct Row {
  LimitKind kind;
  std::string_view name;
  Measure measure;
  bool minimum;
};

constexpr std::array rows{
    Row{LimitKind::tow_gross, "tow_gross", Measure::load, false},
    Row{LimitKind::tow_front, "tow_front", Measure::load, false},
    Row{LimitKind::tow_rear, "tow_rear", Measure::load, false},
    Row{LimitKind::tow_axle, "tow_axle.N", Measure::load, false},
    Row{LimitKind::tow_front_minimum_share, "tow_front_minimum_share", Measure::ratio, true},
    Row{LimitKind::combination, "combination", Measure::load, false},
    Row{LimitKind::trailer_gross, "trailer_gross", Measure::load, false},
    Row{LimitKind::towed_mass, "towed_mass", Measure::load, false},
    Row{LimitKind::towed_mass_unbraked, "towed_mass_unbraked", Measure::load, false},
    Row{LimitKind::trailer_axles, "trailer_axles", Measure::load, false},
    Row{LimitKind::trailer_axle, "trailer_axle.N", Measure::load, false},
    Row{LimitKind::coupling, "coupling", Measure::load, false},
    Row{LimitKind::coupling_minimum, "coupling_minimum", Measure::load, true},
    Row{LimitKind::coupling_share_minimum, "coupling_share_minimum", Measure::ratio, true},
    Row{LimitKind::coupling_share_maximum, "coupling_share_maximum", Measure::ratio, false},
    Row{LimitKind::wheel, "wheel.tow.N", Measure::load, false},
    Row{LimitKind::wheel, "wheel.trailer.N", Measure::load, false},
    Row{LimitKind::mass_ratio, "mass_ratio", Measure::ratio, false},
    Row{LimitKind::front_axle_restoration_minimum, "front_axle_restoration_minimum", Measure::ratio, true},
    Row{LimitKind::front_axle_restoration_maximum, "front_axle_restoration_maximum", Measure::ratio, false},
    Row{LimitKind::side_difference, "side_difference", Measure::ratio, false},
    Row{LimitKind::d_value, "d_value", Measure::force_kn, false},
    Row{LimitKind::dc_value, "dc_value", Measure::force_kn, false},
};

const Row& row_of(LimitKind kind) {
  for (const Row& row : rows)
    if (row.kind == kind) return row;
  return rows.front();
}

std::optional<int> axle_number(std::string_view text) {
  if (text.empty() || text.front() < '1' || text.front() > '9') return std::nullopt;
  int axle = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), axle);
  if (error != std::errc() || end != text.data() + text.size() || axle > most_axles) return std::nullopt;
  return axle;
}

}  // namespace

Measure measure_of(LimitKind kind) {
  return row_of(kind).measure;
}
bool is_minimum(LimitKind kind) {
  return row_of(kind).minimum;
}

std::string limit_name(const Limit& limit) {
  if (limit.kind == LimitKind::wheel)
    return (limit.vehicle == Vehicle::tow ? "wheel.tow." : "wheel.trailer.") + std::to_string(limit.axle);
  std::string name(row_of(limit.kind).name);
  if (name.ends_with(".N")) name.replace(name.size() - 1, 1, std::to_string(limit.axle));
  return name;
}

std::optional<Limit> parse_limit_name(std::string_view name) {
  for (const Row& row : rows) {
    Limit limit;
    limit.kind = row.kind;
    if (row.name == "wheel.trailer.N") limit.vehicle = Vehicle::trailer;
    if (!row.name.ends_with(".N")) {
      if (row.name == name) return limit;
      continue;
    }
    const auto stem = row.name.substr(0, row.name.size() - 1);
    if (!name.starts_with(stem)) continue;
    const auto axle = axle_number(name.substr(stem.size()));
    if (!axle) return std::nullopt;
    limit.axle = *axle;
    return limit;
  }
  return std::nullopt;
}

const std::vector<std::string_view>& limit_names() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> all;
    for (const Row& row : rows) all.push_back(row.name);
    return all;
  }();
  return names;
}

}  // namespace steelyard::rig
