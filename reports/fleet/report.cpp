#include "reports/document/write_workbook.hpp"
#include "reports/fleet/content.hpp"

namespace steelyard::reports {

fleet::Source fleet::source_of(const FleetSubject& subject, const FleetOptions& options) {
  return {subject, options, audit::totals_of(subject.entries),
          std::make_shared<const std::vector<audit::Breach>>(audit::breaches_of(subject.entries, subject.bands))};
}

Report fleet_report(const FleetSubject& subject, const FleetOptions& options) {
  const fleet::Source source = fleet::source_of(subject, options);
  Report report{.number = options.number,
                .standing = {},
                .title = "Fleet audit",
                .client = {},
                .issued = options.issued,
                .engine = options.engine,
                .sheets = {}};
  auto& sheets = report.sheets;
  const auto add = [&sheets](std::vector<SheetContent> more) {
    for (SheetContent& one : more) sheets.push_back(std::move(one));
  };
  sheets.push_back(fleet::summary(source));
  add(fleet::breaches(source));
  sheets.push_back(fleet::rates(source));
  sheets.push_back(fleet::trend(source));
  sheets.push_back(fleet::distributions(source));
  sheets.push_back(fleet::again(source));
  sheets.push_back(fleet::not_assessed(source));
  sheets.push_back(fleet::doubts(source));
  add(fleet::register_sheets(source));
  sheets.push_back(fleet::method(source));
  for (std::size_t i = 1; i < sheets.size(); ++i) sheets[i].subtitle = "Audit " + options.number;
  return report;
}

void write_fleet_workbook(const FleetSubject& subject, const FleetOptions& options, const std::filesystem::path& to) {
  const Report report = fleet_report(subject, options);
  Workbook book(to, properties_of(report), Growth::row_by_row);
  lay_out(report, options.paper, book);
  book.close();
}

}  // namespace steelyard::reports
