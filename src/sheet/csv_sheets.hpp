// Sessions from CSV files: readings, sessions, vehicles, scales and limits that belong together, to checked sessions.
//
// The rows of each session are put together as a JSON sheet (csv_session) and read by the very rules of sheet.hpp, so a
// session from CSV equals that of the JSON sheet, id and content hash with it. Columns, and what CSV does not carry:
// csv_columns.hpp. Faults of all files are told at once, each by file, row and column as the spreadsheet shows them;
// with one fault there is no session. Several files of a kind count as one, in the order given. A vehicle's limits and
// a scale without a session go with the sessions that use them; a row that no session uses is only looked at cell by
// cell. Bad files never throw.
#pragma once

#include <functional>

#include "sheet/csv_text.hpp"

namespace steelyard::sheet {

struct ReadCsv {
  std::vector<rig::Session> sessions;  // none where there are faults
  std::vector<Fault> faults;           // place: "readings.csv, row 14, column G (load)"
};

/// `progress(done, of)` is called for each session.
using CsvProgress = std::function<void(std::size_t, std::size_t)>;

ReadCsv read_csv(const std::vector<CsvFile>& files, const CsvProgress& progress = {});

}  // namespace steelyard::sheet
