// The columns of the CSV files, once: the reader, the templates and their instructions all go by this table.
//
// Five kinds of files make sessions together: sessions, vehicles, scales, limits, readings. A file's kind is told by its
// header row. Units: those of the session sheet (kg or lb, mm or in). Not carried, and left to the JSON sheet:
// modifications, check weights, `revision`, `replaces`, `revised`, keys x-… of anything but a session, a vehicle, a
// scale, a limit or a reading, and values of such keys that are no text; a scale's id that holds a semicolon. No errors.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace steelyard::sheet {

enum class CsvKind { sessions, vehicles, scales, limits, readings };
inline constexpr CsvKind csv_kinds[] = {CsvKind::sessions, CsvKind::vehicles, CsvKind::scales, CsvKind::limits,
                                        CsvKind::readings};

/// What a cell holds, and how it becomes a value of the sheet.
enum class CellType {
  text,
  number,
  truth,    // yes or no
  names,    // "P1; P2"
  axles,    // "0 front; 3085 rear"
  heights,  // "front_left 512; front_right 515"
};

/// What of the sheet the column belongs to.
enum class CellOf {
  key,      // joins the files' rows; no value of the sheet
  object,   // the row's own object: session, vehicle, scale, limit, reading
  state,    // of readings: the state that the reading was taken in
  tow,      // of vehicles: rows of kind tow alone
  trailer,  // of vehicles: rows of kind trailer alone
};

/// The words that a cell may hold. `position` and `limit` allow more than are listed: axles beyond the listed ones.
enum class CellWords {
  any,
  yes_no,
  load_unit,
  length_unit,
  limit_unit,
  vehicle_kind,
  suspension,
  support,
  accuracy_class,
  basis,
  tyres,
  position,
  limit
};

struct CsvColumn {
  std::string_view name;
  CellOf of = CellOf::object;
  CellType type = CellType::text;
  std::string_view path;  // within that object of the sheet: "overhang.u"
  std::string_view unit;  // for people: "unit_length"; empty for none
  CellWords words = CellWords::any;
  bool needed = false;       // an import cannot do without it
  std::string_view meaning;  // a short sentence without a full stop
};

/// "readings"
std::string_view csv_name(CsvKind kind);
/// What one row is, and what the file is for: a sentence for people.
std::string_view csv_purpose(CsvKind kind);
std::span<const CsvColumn> csv_columns(CsvKind kind);

/// The words as lists offer them; empty where any text may stand.
std::vector<std::string> allowed_words(CellWords words);

}  // namespace steelyard::sheet
