#include "sheet/csv_source.hpp"

#include <algorithm>

#include "sheet/csv_cells.hpp"
#include "sheet/formats.hpp"

namespace steelyard::sheet {
namespace {

std::string in_lower_case(std::string_view text) {
  std::string lower(trimmed(text));
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

std::size_t index_of(CsvKind kind, std::string_view name) {
  const auto columns = csv_columns(kind);
  const auto found = std::find_if(columns.begin(), columns.end(), [&](const auto& c) { return c.name == name; });
  return static_cast<std::size_t>(found - columns.begin());
}

}  // namespace

bool CsvSource::open(const CsvFile& file, std::size_t index, CsvFaults& faults, std::deque<CsvSource>& sources) {
  auto table = CsvTable::parse(file, index, faults.all);
  if (!table) return false;
  CsvSource source(std::move(*table), index);
  if (!source.read_header(faults)) return false;
  sources.push_back(std::move(source));
  return true;
}

/// The kind with most of its needed columns in the header, and of those the one with most columns.
CsvKind CsvSource::likely_kind() const {
  CsvKind best = CsvKind::readings;
  std::pair<double, int> most{0, 0};
  for (const CsvKind kind : csv_kinds) {
    int needed = 0, needed_there = 0, there = 0;
    for (const CsvColumn& column : csv_columns(kind)) {
      bool found = false;
      for (std::size_t i = 0; i < table_.header().count; ++i)
        found = found || in_lower_case(table_.cell(table_.header(), i)) == column.name;
      needed += column.needed;
      needed_there += column.needed && found;
      there += found;
    }
    const std::pair<double, int> score{static_cast<double>(needed_there) / needed, there};
    if (needed_there == needed && there > most.second) {
      best = kind;
      most = {1, there};
    } else if (most.first < 1 && score > most) {
      best = kind;
      most = score;
    }
  }
  return best;
}

bool CsvSource::read_header(CsvFaults& faults) {
  kind_ = likely_kind();
  cells_.assign(csv_columns(kind_).size(), std::nullopt);
  find_columns(faults);
  const CellPlace header{file_, table_.header().number, 0};
  const auto columns = csv_columns(kind_);
  if (std::none_of(cells_.begin(), cells_.end(), [](const auto& cell) { return cell.has_value(); })) {
    faults.all.add(header, "names no column of a sessions, vehicles, scales, limits or readings file; `steelyard "
                           "template` makes files that do");
    return false;
  }
  bool whole = true;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (!columns[i].needed || cells_[i]) continue;
    faults.all.add(header, "has no column " + in_quotes(columns[i].name) + ", which a " +
                               std::string(csv_name(kind_)) + " file needs; add it: " +
                               std::string(columns[i].meaning));
    whole = false;
  }
  if (whole) check_beyond_header(faults);
  return whole;
}

void CsvSource::find_columns(CsvFaults& faults) {
  const CsvTable::Row& header = table_.header();
  const auto columns = csv_columns(kind_);
  std::vector<std::string_view> names;
  for (const CsvColumn& column : columns) names.push_back(column.name);
  std::set<std::string> seen;
  named_.assign(header.count, false);
  const bool any_known = [&] {
    for (std::size_t i = 0; i < header.count; ++i)
      if (index_of(kind_, in_lower_case(table_.cell(header, i))) < columns.size()) return true;
    return false;
  }();
  for (std::size_t i = 0; i < header.count && any_known; ++i) {
    const std::string name = in_lower_case(table_.cell(header, i));
    if (name.empty()) continue;
    named_[i] = true;
    const CellPlace at{file_, header.number, static_cast<std::uint32_t>(i + 1)};
    if (!seen.insert(name).second) {
      faults.all.add(at, "is the name of two columns; keep one of the two");
    } else if (is_extra_key(name)) {
      extras_.emplace_back(name, i);
    } else if (const std::size_t index = index_of(kind_, name); index < columns.size()) {
      cells_[index] = i;
    } else {
      const auto meant = nearest(name, names);
      faults.all.add(at, "is no column of a " + std::string(csv_name(kind_)) + " file; " +
                             (meant.empty() ? "remove it, or let its name begin with x-"
                                            : "did you mean " + in_quotes(meant) + "?"));
    }
  }
}

void CsvSource::check_beyond_header(CsvFaults& faults) const {
  for (const CsvTable::Row& row : table_.rows())
    for (std::size_t i = 0; i < row.count; ++i)
      if ((i >= named_.size() || !named_[i]) && !trimmed(table_.cell(row, i)).empty())
        faults.all.add({file_, row.number, static_cast<std::uint32_t>(i + 1)},
                       "stands in a column without a name, holds " + in_quotes(table_.cell(row, i)) +
                           "; is a separator too many in this row?");
}

std::string_view CsvSource::text(const CsvTable::Row& row, std::size_t column) const {
  if (!cells_[column]) return {};
  const std::string_view cell = table_.cell(row, *cells_[column]);
  return trimmed(cell).empty() ? std::string_view() : cell;
}

std::string_view CsvSource::text(const CsvTable::Row& row, std::string_view name) const {
  return text(row, index_of(kind_, name));
}

CellPlace CsvSource::place(const CsvTable::Row& row, std::size_t column) const {
  return {file_, row.number, cells_[column] ? static_cast<std::uint32_t>(*cells_[column] + 1) : 0};
}

CellPlace CsvSource::place(const CsvTable::Row& row, std::string_view name) const {
  return place(row, index_of(kind_, name));
}

json CsvSource::value(const CsvTable::Row& row, std::size_t column, CsvFaults& faults) const {
  CellValue cell = cell_value(csv_columns(kind_)[column], text(row, column), table_.separator());
  if (!cell.fault.empty()) faults.cell(place(row, column), std::move(cell.fault));
  return std::move(cell.value);
}

void CsvSource::fill(json& object, const CsvTable::Row& row, CellOf of, CsvFaults& faults) const {
  const auto columns = csv_columns(kind_);
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (columns[i].of == of && !text(row, i).empty()) put_at(object, columns[i].path, value(row, i, faults));
  if (of != CellOf::object) return;
  for (const auto& [name, cell] : extras_)
    if (const auto text = table_.cell(row, cell); !trimmed(text).empty()) object[name] = text;
}

bool CsvSource::says(const CsvTable::Row& row, CellOf of) const {
  const auto columns = csv_columns(kind_);
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (columns[i].of == of && !text(row, i).empty()) return true;
  return of == CellOf::object && std::any_of(extras_.begin(), extras_.end(), [&](const auto& extra) {
           return !trimmed(table_.cell(row, extra.second)).empty();
         });
}

void CsvSource::refuse(const CsvTable::Row& row, CellOf of, const std::string& why, CsvFaults& faults) const {
  const auto columns = csv_columns(kind_);
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (columns[i].of == of && !text(row, i).empty()) faults.cell(place(row, i), why);
}

std::optional<std::size_t> CsvSource::column_at(CellOf of, std::string_view path) const {
  const auto columns = csv_columns(kind_);
  const auto within = [](std::string_view inner, std::string_view outer) {
    return inner.size() > outer.size() && inner.starts_with(outer) &&
           (inner[outer.size()] == '.' || inner[outer.size()] == '[');
  };
  std::optional<std::size_t> near;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].of != of || columns[i].path.empty()) continue;
    if (columns[i].path == path) return i;
    if (!near && (within(columns[i].path, path) || within(path, columns[i].path))) near = i;
  }
  return near;
}

void put_at(json& object, std::string_view path, json value) {
  const std::size_t dot = path.find('.');
  if (dot == std::string_view::npos)
    object[std::string(path)] = std::move(value);
  else
    object[std::string(path.substr(0, dot))][std::string(path.substr(dot + 1))] = std::move(value);
}

}  // namespace steelyard::sheet
