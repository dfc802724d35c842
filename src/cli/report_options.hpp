// What every report is asked alike: paper, date of issue, words; what the store's settings say where nothing is asked; and
// the file that a report becomes.
//
// A report's file is a workbook (.xlsx), a page (.html) or text (.txt) by its name's ending; one of that name is replaced,
// and only once the new one is whole. Errors: fault() says what is wrong with the words given; Refusal and
// reports::WorkbookRefused where the file cannot be written.
#pragma once

#include <boost/program_options.hpp>
#include <filesystem>
#include <string>
#include <string_view>

#include "cli/options.hpp"
#include "cli/settings.hpp"
#include "reports/document/document.hpp"
#include "reports/workbook/workbook.hpp"

namespace steelyard::cli {

class ReportOptions {
 public:
  void describe(boost::program_options::options_description& options);
  [[nodiscard]] std::string fault() const;

  /// As given, else today.
  [[nodiscard]] std::string issued() const;
  /// As given, else as set for that client or for all, else A4.
  [[nodiscard]] reports::Paper paper(const StoredSettings& settings, std::string_view client) const;
  [[nodiscard]] reports::Reader reader(const StoredSettings& settings, std::string_view client) const;

 private:
  std::string paper_, issued_;
  WordsOption words_;
};

bool is_report_name(std::string_view name);

void write_report_file(const reports::Report& report, reports::Paper paper, const std::filesystem::path& to);

}  // namespace steelyard::cli
