#include "cli/command_template.hpp"

#include <filesystem>

#include "cli/new_file.hpp"
#include "cli/solve.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/template/template.hpp"

namespace po = boost::program_options;
namespace fs = std::filesystem;

namespace steelyard::cli {

About CommandTemplate::about() const {
  return {"template", "--to FILE.xlsx [--paper a4|letter] [--json]",
          "a workbook to fill in with weighings, or empty .csv files",
          "Writes a workbook with a sheet each for sessions, vehicles, scales, limits and readings, and instructions. "
          "Filled in and saved as CSV UTF-8, sheet by sheet, `steelyard import` takes it.\n"
          "With --csv-to the same as empty .csv files. Nothing that is there already is written over."};
}

void CommandTemplate::describe(po::options_description& options) {
  options.add_options()("to", po::value(&to_)->value_name("FILE.xlsx"), "the workbook to write");
  options.add_options()("csv-to", po::value(&csv_to_)->value_name("FOLDER"), "empty .csv files, in place of a workbook");
  options.add_options()("paper", po::value(&paper_)->value_name("a4|letter")->default_value("a4"),
                        "paper to print on");
  json_.describe(options, "answer in JSON");
}

void CommandTemplate::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
  if (to_.empty() == csv_to_.empty()) throw wrong("either --to FILE.xlsx or --csv-to FOLDER is needed");
  if (!to_.empty() && !to_.ends_with(".xlsx")) throw wrong("--to must end in .xlsx, is " + to_);
  if (paper_ != "a4" && paper_ != "letter") throw wrong("--paper must be a4 or letter, is " + paper_);
}

namespace {

/// A file that was filled in is not to be lost to an empty one.
void refuse_if_there(const fs::path& file) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(file, error)))
    throw Refusal(file.string() + ": is there already; name another, or move it away");
}

}  // namespace

std::vector<std::string> CommandTemplate::write_csv() const {
  const fs::path folder = csv_to_;
  std::error_code error;
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder)) throw Refusal(folder.string() + ": is no folder, and none can be made of that name");
  std::vector<std::string> names;
  for (const sheet::CsvKind kind : sheet::csv_kinds) {
    const fs::path file = folder / (std::string(sheet::csv_name(kind)) + ".csv");
    refuse_if_there(file);
    names.push_back(file.string());
  }
  for (std::size_t i = 0; i < names.size(); ++i) write_new_file(names[i], reports::empty_csv(sheet::csv_kinds[i]));
  return names;
}

Exit CommandTemplate::run(Streams& streams) {
  std::vector<std::string> names;
  if (to_.empty()) {
    names = write_csv();
  } else {
    refuse_if_there(to_);
    reports::write_template(to_, paper_ == "letter" ? reports::Paper::Letter : reports::Paper::A4, version());
    names.push_back(to_);
  }
  if (!json_.wanted()) {
    for (const std::string& name : names) streams.out.line("wrote " + reports::printable(name));
    return Exit::done;
  }
  reports::JsonText out;
  out.begin_object().key("files").begin_array();
  for (const std::string& name : names) out.value(name);
  out.end_array().end_object();
  streams.out.line(out.text());
  return Exit::done;
}

}  // namespace steelyard::cli
