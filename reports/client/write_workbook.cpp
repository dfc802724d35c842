#include "reports/client/client.hpp"
#include "reports/client/layout.hpp"

namespace steelyard::reports {

void write_client_workbook(const rig::Session& session, const reconcile::Findings& findings,
                           const assess::Assessment& assessment, const ClientOptions& options,
                           const std::filesystem::path& to) {
  const Report report = client_report(session, findings, assessment, options);
  Workbook book(to, {.title = report.title + " " + report.number,
                     .subject = report.client,
                     .author = "Steelyard " + report.engine,
                     .comments = {},
                     .created = midnight_of(options.issued).value_or(0)});
  std::vector<Sheet> sheets;
  for (const SheetContent& content : report.sheets) sheets.push_back(book.add_sheet(content.name));
  Sheet points = book.add_sheet("Picture");  // what the picture is drawn from: hidden, never printed
  for (std::size_t i = 0; i < sheets.size(); ++i)
    client::Layout(sheets[i], points, report.sheets[i], report).write(options.paper, i + 1 == sheets.size());
  points.hide();
  book.close();
}

}  // namespace steelyard::reports
