#include "cli/client_report.hpp"

#include <fstream>
#include <iterator>
#include <system_error>

#include "cli/command.hpp"
#include "cli/solve.hpp"
#include "digest/digest.hpp"
#include "reports/client/client.hpp"
#include "reports/document/html.hpp"
#include "reports/document/text.hpp"
#include "reports/document/write_workbook.hpp"

namespace steelyard::cli {
namespace {

/// A folder that is gone with whatever is in it.
class TemporaryFolder {
 public:
  TemporaryFolder() : path_(std::filesystem::temp_directory_path() / ("steelyard-" + digest::random_hex(8))) {
    if (!std::filesystem::create_directory(path_)) throw Refusal(path_.string() + ": is there already; try again");
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all);
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace

reports::Report client_report_of(const RecordedSession& source, const StoredSettings& settings, const reports::Reader& reader,
                                 reports::Paper paper, const std::string& issued) {
  const Solved solved = solve(source.session);
  reports::ClientOptions options;
  options.record = source.record;
  options.words = reader.words;
  options.units = reader.units;
  options.engine = version();
  options.provider = settings.provider();
  options.issued = issued;
  options.paper = paper;
  return reports::client_report(solved.session, solved.findings, solved.assessment, options);
}

std::string report_bytes(const reports::Report& report, reports::Paper paper, std::string_view form) {
  if (form == "html") return reports::html_page(report);
  if (form == "txt") return reports::text_page(report);
  const TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "report.xlsx";
  reports::write_workbook(report, paper, file);
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace steelyard::cli
