#include "cli/report_options.hpp"

#include "cli/clock.hpp"
#include "cli/new_file.hpp"
#include "reports/document/html.hpp"
#include "reports/document/text.hpp"
#include "reports/document/write_workbook.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

void ReportOptions::describe(po::options_description& options) {
  options.add_options()("paper", po::value(&paper_)->value_name("a4|letter"),
                        "paper of the workbook; else as set, else a4");
  options.add_options()("issued", po::value(&issued_)->value_name("DATE"), "date of issue, YYYY-MM-DD; else today");
  words_.describe(options);
}

std::string ReportOptions::fault() const {
  if (!paper_.empty() && paper_ != "a4" && paper_ != "letter") return "--paper must be a4 or letter, is " + paper_;
  return words_.fault();
}

std::string ReportOptions::issued() const {
  return issued_.empty() ? local_time_now().substr(0, 10) : issued_;
}

reports::Paper ReportOptions::paper(const StoredSettings& settings, std::string_view client) const {
  const std::string chosen = paper_.empty() ? settings.value("paper", client).value_or("a4") : paper_;
  return chosen == "letter" ? reports::Paper::Letter : reports::Paper::A4;
}

reports::Reader ReportOptions::reader(const StoredSettings& settings, std::string_view client) const {
  return reader_for(words_, settings.value("words", client));
}

bool is_report_name(std::string_view name) {
  return name.ends_with(".xlsx") || name.ends_with(".html") || name.ends_with(".txt");
}

void write_report_file(const reports::Report& report, reports::Paper paper, const std::filesystem::path& to) {
  const std::string ending = to.extension().string();
  if (ending == ".html")
    replace_file(to, reports::html_page(report));
  else if (ending == ".txt")
    replace_file(to, reports::text_page(report));
  else
    reports::write_workbook(report, paper, to);
}

}  // namespace steelyard::cli
