// What a test asks of a client's report: its sheets, their blocks, what they say.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "client_fixture.hpp"
#include "reports/client/client.hpp"

namespace steelyard::test {

using namespace steelyard::reports;

inline ClientOptions options() {
  return {.engine = "0.1.0", .issued = "2026-10-04", .units = {}};
}

inline Report report_of(const Case& one, const ClientOptions& how = options()) {
  return client_report(one.session, one.findings, one.assessment, how);
}

inline const SheetContent& sheet(const Report& report, std::string_view name) {
  return *std::find_if(report.sheets.begin(), report.sheets.end(),
                       [name](const auto& one) { return one.name == name; });
}

template <class Kind>
std::vector<const Kind*> blocks(const SheetContent& sheet) {
  std::vector<const Kind*> found;
  for (const Block& block : sheet.blocks)
    if (const auto* one = std::get_if<Kind>(&block)) found.push_back(one);
  return found;
}

inline std::string words(const Cell& cell) {
  const auto* text = std::get_if<std::string>(&cell.value);
  return text ? *text : std::string();
}

inline double number(const Cell& cell) {
  return std::get<Number>(cell.value).value;
}

/// Every text of a sheet, one a line.
inline std::string all_text(const SheetContent& sheet) {
  std::string all;
  const auto add = [&all](const std::string& text) { all += text + '\n'; };
  for (const auto* one : blocks<Heading>(sheet)) add(one->text);
  for (const auto* one : blocks<Paragraph>(sheet)) add(one->text);
  for (const auto* one : blocks<Facts>(sheet))
    for (const Fact& fact : one->facts) add(fact.label + ": " + fact.text);
  for (const auto* one : blocks<Banner>(sheet)) {
    add(one->headline);
    for (const auto& line : one->lines) add(line);
  }
  for (const auto* one : blocks<Table>(sheet))
    for (const TableRow& row : one->rows)
      for (const Cell& cell : row.cells) add(words(cell));
  return all;
}

inline bool says(const SheetContent& sheet, std::string_view text) {
  return all_text(sheet).find(text) != std::string::npos;
}

}  // namespace steelyard::test
