#include "cli/command_report.hpp"

#include "cli/clock.hpp"
#include "cli/session_source.hpp"
#include "cli/solve.hpp"
#include "reports/client/client.hpp"
#include "reports/result/json_text.hpp"
#include "reports/table/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandReport::about() const {
  return {"report", "SESSION|SHEET --to FILE.xlsx [--paper a4|letter] [--words au|uk|us|za] [--store FILE]",
          "the client's workbook of one session",
          "Reconciles one session and writes the client's report as a workbook, in plain words and the "
          "sheet's own units; with --words in "
          "a region's, and with a glossary of them. A "
          "file of that "
          "name is replaced, and only once the new one is whole."};
}

void CommandReport::describe(po::options_description& options) {
  options.add_options()("to", po::value(&to_)->value_name("FILE.xlsx"), "the workbook to write (required)");
  options.add_options()("paper", po::value(&paper_)->value_name("a4|letter")->default_value("a4"),
                        "paper to print on");
  options.add_options()("issued", po::value(&issued_)->value_name("DATE"),
                        "date of issue, YYYY-MM-DD; else today");
  words_.describe(options);
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandReport::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  session_ = words[0];
  if (!to_.ends_with(".xlsx"))
    throw wrong(to_.empty() ? "--to FILE.xlsx is missing" : "--to must end in .xlsx, is " + to_);
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  if (paper_ != "a4" && paper_ != "letter") throw wrong("--paper must be a4 or letter, is " + paper_);
}

Exit CommandReport::run(Streams& streams) {
  const RecordedSession source = one_recorded_session(streams.err, session_, store_.path());
  const Solved solved = solve(source.session);
  reports::ClientOptions options;
  options.record = source.record;
  const reports::Reader reader = reader_for(words_);
  options.words = reader.words;
  options.units = reader.units;
  options.engine = version();
  options.issued = issued_.empty() ? local_time_now().substr(0, 10) : issued_;
  options.paper = paper_ == "letter" ? reports::Paper::Letter : reports::Paper::A4;
  reports::write_client_workbook(solved.session, solved.findings, solved.assessment, options, to_);
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("session", solved.session.id).field("report", to_).end_object();
    streams.out.line(out.text());
  } else {
    streams.out.line("wrote " + reports::printable(to_));
  }
  return Exit::done;
}

}  // namespace steelyard::cli
