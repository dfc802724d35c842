#include "reports/document/cells.hpp"

#include <array>
#include <utility>

#include "reports/workbook/text.hpp"
#include "reports/workbook/workbook.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

constexpr std::array<std::string_view, 12> months{"January",   "February", "March",    "April",
                                                  "May",       "June",     "July",     "August",
                                                  "September", "October",  "November", "December"};

int share_decimals(double u) {
  return units::decimals_for(100 * u, 2);
}

}  // namespace

Cell text(std::string words) {
  return {.value = std::move(words)};
}

Cell figure(double value, double u, reconcile::Measure measure, const ShownUnits& shown, bool share) {
  if (u <= 0) return bare(value, measure, shown, share);
  if (share)
    return {.value = Number{.value = value, .decimals = share_decimals(u), .kind = Number::Kind::share}};
  return {.value = Number{.value = convert(value, measure, shown),
                          .decimals = decimals_of(convert(u, measure, shown), measure)}};
}

Cell expanded(double u, reconcile::Measure measure, const ShownUnits& shown, bool share) {
  if (u <= 0) return {};
  Cell cell = figure(2 * u, u, measure, shown, share);
  std::get<Number>(cell.value).plus_or_minus = true;
  return cell;
}

Cell bare(double value, reconcile::Measure measure, const ShownUnits& shown, bool share) {
  if (share) return {.value = Number{.value = value, .decimals = 1, .kind = Number::Kind::share}};
  const double converted = convert(value, measure, shown);
  return {.value = Number{.value = converted, .decimals = bare_decimals(converted, measure)}};
}

Cell with_unit(Cell cell, reconcile::Measure measure, const ShownUnits& shown) {
  if (auto* number = std::get_if<Number>(&cell.value); number && number->kind == Number::Kind::plain)
    number->unit = unit_word(measure, shown);
  return cell;
}

Cell count(std::size_t number) {
  return {.value = Number{.value = static_cast<double>(number)}};
}

void bullets(std::vector<Block>& blocks, std::string heading, const std::vector<std::string>& texts) {
  blocks.emplace_back(Heading{std::move(heading)});
  for (const std::string& one : texts) blocks.emplace_back(Paragraph{one, Paragraph::Kind::bullet});
}

std::vector<Fact> provider_facts(const rig::Provider& provider) {
  std::vector<Fact> facts{{"Provider", given(provider.name)}};
  if (!provider.identity.empty()) facts.push_back({"Number", clipped(provider.identity)});
  facts.push_back({"Address", given(provider.address)});
  facts.push_back({"Contact", given(provider.contact)});
  return facts;
}

std::string clipped(std::string_view text, std::size_t most) {
  return presentable(text, most);
}

std::string given(std::string_view text) {
  return text.empty() ? "not given" : clipped(text);
}

std::string vehicle_words(const std::string& label, const std::string& registration) {
  if (label.empty() && registration.empty()) return "not given";
  if (label.empty() || registration.empty()) return clipped(label.empty() ? registration : label, 80);
  return clipped(label, 80) + " (" + clipped(registration, 30) + ")";
}

std::string day_of(std::string_view time) {
  return midnight_of(time) ? std::string(time.substr(0, 10)) : std::string();
}

std::string time_words(std::string_view time) {
  const std::string day = day_of(time);
  if (day.empty()) return given(time);
  const auto month = static_cast<std::size_t>((day[5] - '0') * 10 + (day[6] - '0') - 1);
  std::string words = (day[8] == '0' ? "" : day.substr(8, 1)) + day.substr(9, 1) + ' ' +
                      std::string(months[month]) + ' ' + day.substr(0, 4);
  if (time.size() >= 16 && time[10] == 'T') {
    words += ", " + clipped(time.substr(11, 5), 5);
    const auto offset = time.find_first_of("+-Z", 16);
    if (offset != time.npos)
      words += time[offset] == 'Z' ? " (UTC)" : " (UTC" + clipped(time.substr(offset), 8) + ")";
  }
  return words;
}

}  // namespace steelyard::reports
