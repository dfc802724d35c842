#include "cli/bands_text.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "sheet/csv_text.hpp"
#include "units/quantity.hpp"

namespace steelyard::cli {
namespace {

using sheet::CsvTable;

constexpr std::array known_columns{
    std::string_view("band"),   std::string_view("from_percent"), std::string_view("from_over"),   std::string_view("unit"),
    std::string_view("source"), std::string_view("edition"),      std::string_view("jurisdiction")};

/// The column's number by its name; what is wrong with the header goes into `fault`.
std::map<std::string_view, std::size_t> columns_of(const CsvTable& table, std::string& fault) {
  std::map<std::string_view, std::size_t> columns;
  for (std::size_t i = 0; i < table.header().count; ++i) {
    const std::string_view name = sheet::trimmed(table.cell(table.header(), i));
    if (name.empty()) continue;
    if (std::find(known_columns.begin(), known_columns.end(), name) == known_columns.end())
      fault = "column " + sheet::column_letters(i + 1) + " (" + std::string(name) +
              ") is not known; the columns are band, from_percent, from_over, unit, source, edition, jurisdiction";
    else if (!columns.emplace(name, i).second)
      fault = "the column " + std::string(name) + " is there twice";
  }
  if (fault.empty() && !columns.contains("band")) fault = "the column band is missing";
  return columns;
}

class Reader {
 public:
  Reader(const CsvTable& table, std::map<std::string_view, std::size_t> columns)
      : table_(table), columns_(std::move(columns)) {}

  ReadBands read() {
    for (const CsvTable::Row& row : table_.rows()) {
      add(row);
      if (!out_.fault.empty()) return out_;
    }
    out_.fault = out_.bands.bands.empty() ? "it has no band" : check_bands(out_.bands);
    return out_;
  }

 private:
  void add(const CsvTable::Row& row) {
    assess::OverloadBand band;
    band.name = cell(row, "band");
    band.from_ratio = number(row, "from_percent", 100) / 100;
    const std::string unit(cell(row, "unit"));
    if (!unit.empty() && unit != "kg" && unit != "lb") return wrong(row, "unit", "must be kg or lb");
    band.from_over =
        units::Load{number(row, "from_over", 0), unit == "lb" ? units::LoadUnit::pound : units::LoadUnit::kilogram}.kg().value();
    say(row, "source", out_.bands.source);
    say(row, "edition", out_.bands.edition);
    say(row, "jurisdiction", out_.bands.jurisdiction);
    out_.bands.bands.push_back(std::move(band));
  }

  std::string_view cell(const CsvTable::Row& row, std::string_view name) const {
    const auto found = columns_.find(name);
    return found == columns_.end() ? std::string_view() : sheet::trimmed(table_.cell(row, found->second));
  }

  double number(const CsvTable::Row& row, std::string_view name, double otherwise) {
    const std::string_view text = cell(row, name);
    if (text.empty()) return otherwise;
    const sheet::CellNumber read = sheet::cell_number(text, table_.separator());
    if (!read.value) wrong(row, name, read.fault);
    return read.value.value_or(otherwise);
  }

  void say(const CsvTable::Row& row, std::string_view name, std::string& to) {
    const std::string_view text = cell(row, name);
    if (text.empty()) return;
    if (!to.empty() && to != text) return wrong(row, name, "says otherwise than the rows before it; a set of bands has one");
    to = text;
  }

  void wrong(const CsvTable::Row& row, std::string_view name, const std::string& what) {
    if (out_.fault.empty())
      out_.fault = "row " + std::to_string(row.number) + ", column " + std::string(name) + ": " + what;
  }

  const CsvTable& table_;
  std::map<std::string_view, std::size_t> columns_;
  ReadBands out_;
};

}  // namespace

ReadBands read_bands(std::string_view csv) {
  sheet::CellFaults faults;
  const auto table = CsvTable::parse({"overload bands", std::string(csv)}, 0, faults);
  if (!table || !faults.empty())
    return {{}, faults.empty() ? std::string("it is empty") : faults.list().begin()->what};
  std::string fault;
  auto columns = columns_of(*table, fault);
  if (!fault.empty()) return {{}, fault};
  return Reader(*table, std::move(columns)).read();
}

}  // namespace steelyard::cli
