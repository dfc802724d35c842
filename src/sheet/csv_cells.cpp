#include "sheet/csv_cells.hpp"

#include "rig/words.hpp"
#include "sheet/csv_text.hpp"
#include "sheet/place.hpp"

namespace steelyard::sheet {
namespace {

CellValue truth(std::string_view text) {
  std::string word(trimmed(text));
  for (char& c : word)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  if (word == "yes" || word == "true") return {true, {}};
  if (word == "no" || word == "false") return {false, {}};
  return {nullptr, "must be yes or no, is " + in_quotes(text)};
}

CellValue number(std::string_view text, char separator) {
  CellNumber read = cell_number(text, separator);
  if (!read.value) return {nullptr, std::move(read.fault)};
  return {*read.value, {}};
}

CellValue names(std::string_view text) {
  json list = json::array();
  for (const std::string_view name : parted(text)) list.push_back(name);
  return {std::move(list), {}};
}

/// "0 front" at its last blank.
std::pair<std::string_view, std::string_view> at_last_blank(std::string_view text) {
  const std::size_t blank = text.find_last_of(" \t\n");
  if (blank == std::string_view::npos) return {text, {}};
  return {trimmed(text.substr(0, blank)), text.substr(blank + 1)};
}

CellValue axles(std::string_view text, char separator) {
  json list = json::array();
  for (const std::string_view one : parted(text)) {
    const auto [place, group] = at_last_blank(one);
    const CellNumber at = cell_number(place, separator);
    if (!at.value || !rig::parse_group(group))
      return {nullptr, "must be each axle's place and group, parted by semicolons, such as \"0 front; 3085 rear\"; " +
                           in_quotes(one) + " is neither"};
    list.push_back({{"at", *at.value}, {"group", group}});
  }
  return {std::move(list), {}};
}

CellValue heights(std::string_view text, char separator) {
  json object = json::object();
  for (const std::string_view one : parted(text)) {
    const auto [name, figure] = at_last_blank(one);
    const CellNumber height = cell_number(figure, separator);
    if (name.empty() || !height.value)
      return {nullptr, "must be names and heights, parted by semicolons, such as \"front_left 512; front_right 515\"; " +
                           in_quotes(one) + " is none"};
    if (!object.emplace(name, *height.value).second)
      return {nullptr, "names " + in_quotes(name) + " twice; keep one of the two"};
  }
  return {std::move(object), {}};
}

}  // namespace

std::vector<std::string_view> parted(std::string_view text) {
  std::vector<std::string_view> parts;
  for (std::size_t end = 0; end != std::string_view::npos;) {
    end = text.find(';');
    parts.push_back(trimmed(text.substr(0, end)));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  while (parts.size() > 1 && parts.back().empty()) parts.pop_back();
  return parts;
}

CellValue cell_value(const CsvColumn& column, std::string_view text, char separator) {
  switch (column.type) {
    case CellType::text:
      break;
    case CellType::number:
      return number(text, separator);
    case CellType::truth:
      return truth(text);
    case CellType::names:
      return names(text);
    case CellType::axles:
      return axles(text, separator);
    case CellType::heights:
      return heights(text, separator);
  }
  return {column.words == CellWords::any ? text : trimmed(text), {}};
}

}  // namespace steelyard::sheet
