#include "sheet/csv_session.hpp"

#include <charconv>

#include "rig/words.hpp"
#include "sheet/place.hpp"

namespace steelyard::sheet {
namespace {

std::string word_or(std::string_view word, std::string_view otherwise) {
  const std::string_view plain = trimmed(word);
  return std::string(plain.empty() ? otherwise : plain);
}

/// Takes "name[7]" off the front of `place`, and the point behind it.
std::optional<std::size_t> take_index(std::string_view& place, std::string_view name) {
  if (!place.starts_with(name) || place.size() <= name.size() || place[name.size()] != '[') return std::nullopt;
  std::size_t index = 0;
  const char* const end = place.data() + place.size();
  const auto [stop, error] = std::from_chars(place.data() + name.size() + 1, end, index);
  if (error != std::errc() || stop == end || *stop != ']') return std::nullopt;
  place.remove_prefix(static_cast<std::size_t>(stop - place.data()) + 1);
  if (place.starts_with('.')) place.remove_prefix(1);
  return index;
}

bool take_name(std::string_view& place, std::string_view name) {
  if (!place.starts_with(name)) return false;
  if (place.size() > name.size() && place[name.size()] != '.') return false;
  place.remove_prefix(std::min(place.size(), name.size() + 1));
  return true;
}

/// A row in words, as a fault of another row names it.
std::string row_in_words(const CsvRow& row, const CsvRow& from) {
  const std::string number = "row " + std::to_string(row.row->number);
  return row.source == from.source ? number : number + " of another file";
}

}  // namespace

void RowUnits::use(const CsvRow& row, std::string_view column, std::string_view session_unit, CsvFaults& faults) {
  const std::string_view own = trimmed(row.source->text(*row.row, column));
  const CellPlace at = row.source->place(*row.row, column);
  if (!own.empty()) {
    if (row.source->kind() != CsvKind::limits && own != session_unit)
      faults.all.add(at, "must be that of the sessions that use this row, " + in_quotes(session_unit) + ", is " +
                             in_quotes(own));
    return;
  }
  const auto [first, added] = unit_of_.emplace(row, session_unit);
  if (!added && first->second != session_unit)
    faults.all.add(at, std::string("is missing: sessions in ") + first->second + " and in " +
                           std::string(session_unit) + " use this row; write its unit, or a row for each");
}

CsvAssembly::CsvAssembly(const CsvSession& rows, RowUnits& units, CsvFaults& faults)
    : rows_(rows), units_(units), faults_(faults), tree_(json::object()) {
  const CsvSource& source = *rows.session.source;
  load_unit_ = word_or(source.text(*rows.session.row, "unit_load"), "kg");
  length_unit_ = word_or(source.text(*rows.session.row, "unit_length"), "mm");
  tree_["format"] = "steelyard-session/1";
  source.fill(tree_, *rows.session.row, CellOf::object, faults_);
  vehicles();
  scales();
  limits();
  readings();
}

void CsvAssembly::vehicles() {
  json& rig = tree_["rig"];
  const auto add = [&](const CsvRow& row, std::string_view key, CellOf own, CellOf other, const std::string& why) {
    json& vehicle = rig[std::string(key)];
    if (!row) return;  // null: the fault is told already
    vehicle = json::object();
    row.source->fill(vehicle, *row.row, CellOf::object, faults_);
    row.source->fill(vehicle, *row.row, own, faults_);
    row.source->refuse(*row.row, other, why, faults_);
    units_.use(row, "unit_length", length_unit_, faults_);
  };
  add(rows_.tow_vehicle, "tow_vehicle", CellOf::tow, CellOf::trailer, "goes only with kind trailer; leave it empty");
  if (!rows_.session.source->text(*rows_.session.row, "trailer").empty())
    add(rows_.trailer, "trailer", CellOf::trailer, CellOf::tow, "goes only with kind tow; leave it empty");
}

void CsvAssembly::scales() {
  if (rows_.scales.empty()) return;
  json& list = tree_["scales"] = json::array();
  for (const CsvRow& row : rows_.scales) {
    json scale = json::object();
    row.source->fill(scale, *row.row, CellOf::object, faults_);
    list.push_back(std::move(scale));
    units_.use(row, "unit", load_unit_, faults_);
  }
}

void CsvAssembly::limits() {
  if (rows_.limits.empty()) return;
  json& list = tree_["rig"]["limits"] = json::array();
  for (const CsvRow& row : rows_.limits) {
    json limit = json::object();
    row.source->fill(limit, *row.row, CellOf::object, faults_);
    const auto name = rig::parse_limit_name(trimmed(row.source->text(*row.row, "of")));
    const bool load = name && rig::measure_of(name->kind) == rig::Measure::load && limit.contains("value");
    if (load || limit.contains("against")) units_.use(row, "unit", load_unit_, faults_);
    list.push_back(std::move(limit));
  }
}

void CsvAssembly::readings() {
  json& list = tree_["states"] = json::array();
  for (const CsvRow& row : rows_.readings) {
    const std::string_view name = row.source->text(*row.row, "state");
    if (name.empty()) {
      faults_.cell(row.source->place(*row.row, "state"), "is missing; write the name of the state in each row");
      continue;
    }
    const std::size_t index = state_of(row, name);
    if (index == list.size()) list.push_back({{"readings", json::array()}});
    State& state = states_[index];
    add_to_state(state, list[index], row);
    if (!row.source->says(*row.row, CellOf::object)) continue;  // it says that the state was there, no more
    json reading = json::object();
    row.source->fill(reading, *row.row, CellOf::object, faults_);
    if (auto scale = reading.find("scale"); scale != reading.end() && scale->is_array() && scale->size() == 1)
      *scale = json(scale->front());
    list[index]["readings"].push_back(std::move(reading));
    state.readings.push_back(row);
  }
}

std::size_t CsvAssembly::state_of(const CsvRow& row, std::string_view name) {
  const auto [found, added] = state_by_name_.emplace(name, states_.size());
  if (added) states_.push_back({row, {}, {}});
  return found->second;
}

/// What a state is may stand on its first row alone or on several; then they say the same.
void CsvAssembly::add_to_state(State& state, json& object, const CsvRow& row) {
  const auto columns = csv_columns(CsvKind::readings);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].of != CellOf::state) continue;
    const std::string_view text = row.source->text(*row.row, i);
    if (text.empty()) continue;
    const auto [told, first] = state.told.emplace(i, row);
    if (first) {
      put_at(object, columns[i].path, row.source->value(*row.row, i, faults_));
      continue;
    }
    const CsvRow& before = told->second;
    if (text == before.source->text(*before.row, i)) continue;
    CsvFaults told_already{faults_.all};
    json here = row.source->value(*row.row, i, faults_);
    if (here.is_null() || here == before.source->value(*before.row, i, told_already)) continue;
    faults_.all.add(row.source->place(*row.row, i),
                    "is " + in_quotes(trimmed(text)) + ", but " +
                        in_quotes(trimmed(before.source->text(*before.row, i))) + " in " + row_in_words(before, row) +
                        ", of the same state; write one of the two, or give the state a name of its own");
  }
}

CsvAssembly::Where CsvAssembly::in_row(const CsvRow& row, CellOf of, std::string_view path) {
  Where where{{row.source->file(), row.row->number, 0}, {}};
  auto column = row.source->column_at(of, path);
  if (!column && of != CellOf::object) column = row.source->column_at(CellOf::object, path);
  if (!column) return where;
  where.at = row.source->place(*row.row, *column);
  if (where.at.column == 0) where.column = row.source->column_name(*column);
  return where;
}

CsvAssembly::Where CsvAssembly::where(std::string_view place) const {
  std::string_view rest = place;
  if (const auto i = take_index(rest, "states"); i && *i < states_.size()) {
    const State& state = states_[*i];
    if (const auto j = take_index(rest, "readings"); j && *j < state.readings.size())
      return in_row(state.readings[*j], CellOf::object, rest);
    const auto column = state.first.source->column_at(CellOf::state, rest);
    const auto told = column ? state.told.find(*column) : state.told.end();
    return in_row(told == state.told.end() ? state.first : told->second, CellOf::state, rest);
  }
  if (const auto i = take_index(rest, "scales"); i && *i < rows_.scales.size())
    return in_row(rows_.scales[*i], CellOf::object, rest);
  if (const auto i = take_index(rest, "rig.limits"); i && *i < rows_.limits.size())
    return in_row(rows_.limits[*i], CellOf::object, rest);
  if (rows_.tow_vehicle && take_name(rest, "rig.tow_vehicle")) return in_row(rows_.tow_vehicle, CellOf::tow, rest);
  if (rows_.trailer && take_name(rest, "rig.trailer")) return in_row(rows_.trailer, CellOf::trailer, rest);
  Where where = in_row(rows_.session, CellOf::object, place);
  if (where.at.column == 0 && where.column.empty()) where = in_row(rows_.session, CellOf::key, place);
  return where;
}

}  // namespace steelyard::sheet
