// The rows of one session put together as a JSON sheet, and the way back from a place in that sheet to the cell.
#pragma once

#include <map>

#include "sheet/csv_source.hpp"

namespace steelyard::sheet {

/// The rows that one session is made of, in the order of the files.
struct CsvSession {
  CsvRow session, tow_vehicle, trailer;  // the vehicles: nothing where none is named
  std::vector<CsvRow> scales, limits, readings;
};

/// A rule holds for all sessions that use a row without a unit: they must be of one unit.
class RowUnits {
 public:
  /// The unit of a row's figures in a session whose own is `unit`; a fault where they do not go together.
  void use(const CsvRow& row, std::string_view column, std::string_view session_unit, CsvFaults& faults);

 private:
  std::map<CsvRow, std::string> unit_of_;
};

class CsvAssembly {
 public:
  CsvAssembly(const CsvSession& rows, RowUnits& units, CsvFaults& faults);

  /// The sheet; taken once.
  json& tree() { return tree_; }
  /// Where a fault of the sheet stands in the files. `column` is told in words where the file has no such column.
  struct Where {
    CellPlace at;
    std::string column;
  };
  [[nodiscard]] Where where(std::string_view place) const;

 private:
  struct State {
    CsvRow first;
    std::map<std::size_t, CsvRow> told;  // by column: the row that said it
    std::vector<CsvRow> readings;
  };

  void vehicles();
  void scales();
  void limits();
  void readings();
  std::size_t state_of(const CsvRow& row, std::string_view name);
  void add_to_state(State& state, json& object, const CsvRow& row);
  [[nodiscard]] static Where in_row(const CsvRow& row, CellOf of, std::string_view path);

  const CsvSession& rows_;
  RowUnits& units_;
  CsvFaults& faults_;
  json tree_;
  std::string load_unit_, length_unit_;
  std::vector<State> states_;
  std::map<std::string_view, std::size_t> state_by_name_;
};

}  // namespace steelyard::sheet
