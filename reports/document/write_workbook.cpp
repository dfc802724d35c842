#include "reports/document/write_workbook.hpp"

#include "reports/document/layout.hpp"

namespace steelyard::reports {

Properties properties_of(const Report& report) {
  return {.title = report.title + " " + report.number,
          .subject = report.client,
          .author = "Steelyard " + report.engine,
          .comments = {},
          .created = midnight_of(report.issued).value_or(0)};
}

void lay_out(const Report& report, Paper paper, Workbook& book) {
  std::vector<Sheet> sheets;
  for (const SheetContent& content : report.sheets) sheets.push_back(book.add_sheet(content.name));
  Sheet points = book.add_sheet("Picture");  // what the picture is drawn from: hidden, never printed
  for (std::size_t i = 0; i < sheets.size(); ++i)
    document::Layout(sheets[i], points, report.sheets[i], report).write(paper, i + 1 == sheets.size());
  points.hide();
}

void write_workbook(const Report& report, Paper paper, const std::filesystem::path& to) {
  Workbook book(to, properties_of(report));
  lay_out(report, paper, book);
  book.close();
}

}  // namespace steelyard::reports
