#include <algorithm>

#include "reports/fleet/content.hpp"
#include "reports/words/terms.hpp"
#include "units/number.hpp"

namespace steelyard::reports::fleet {

std::string counted(std::size_t number, std::string_view one, std::string_view several) {
  return std::to_string(number) + ' ' + std::string(number == 1 ? one : several);
}

std::string percent(double share, int decimals) {
  return units::fixed(100 * share, decimals) + " %";
}

std::string rate_words(const audit::Rate& rate) {
  if (rate.assessed == 0) return "nothing assessed";
  return percent(rate.share()) + " (95 %: " + units::fixed(100 * rate.low, 1) + " to " + percent(rate.high) + ")";
}

std::string rated_words(std::string_view of, std::string_view part, Region region) {
  auto limit = rig::parse_limit_name(of);
  const Wording wording(region);
  if (of == "tow_axle") return wording("Tow vehicle axle, each");
  if (of == "trailer_axle") return wording("Trailer axle, each");
  if (of == "wheel") return "Heavier wheel of an axle";
  if (!limit) return std::string(of);
  limit->part = part;
  return clipped(limit_words(*limit, rig::Rig{}, region), 80);
}

std::string outcome_in_words(assess::RigOutcome outcome) {
  return std::string(sign_of(tone_of(outcome))) + ' ' + std::string(assess::in_words(outcome));
}

std::string known(std::string_view text) {
  return text.empty() ? std::string("not given") : clipped(text, 60);
}

std::string rig_words(const audit::Entry& entry) {
  std::string words = known(entry.tow);
  if (entry.has_trailer) words += " with " + (entry.trailer.empty() ? std::string("a trailer") : clipped(entry.trailer, 60));
  return words;
}

Cell value_cell(const Source& source, const audit::Rated& rated) {
  if (!rated.value) return text("unknown");
  const bool share = rated.measure == reconcile::Measure::one;
  return with_unit(figure(*rated.value, rated.u.value_or(0), rated.measure, source.options.units, share), rated.measure,
                   source.options.units);
}

Cell rating_cell(const Source& source, const audit::Rated& rated) {
  if (!rated.rating) return {};
  const bool share = rated.measure == reconcile::Measure::one;
  return with_unit(bare(*rated.rating, rated.measure, source.options.units, share), rated.measure, source.options.units);
}

Cell share_cell(double share, int decimals) {
  return {.value = Number{.value = share, .decimals = decimals, .kind = Number::Kind::share}};
}

Cell used_cell(const audit::Rated& rated) {
  if (!rated.value || !rated.rating || rated.used >= 1e9) return {};
  return share_cell(rated.used);
}

std::vector<SheetContent> long_sheets(const Source& source, SheetContent sheet, LongTable table) {
  std::vector<SheetContent> sheets;
  const std::size_t most = source.options.most_rows, all = table.rows;
  for (std::size_t first = 0; first == 0 || first < all; first += most) {
    SheetContent part = sheet;
    LongTable rows = table;
    rows.rows = std::min(most, all - first);
    rows.row = [row = table.row, first](std::size_t i) { return row(first + i); };
    if (first > 0) part.name += " " + std::to_string(first / most + 1);
    part.blocks.emplace_back(std::move(rows));
    sheets.push_back(std::move(part));
  }
  return sheets;
}

}  // namespace steelyard::reports::fleet
