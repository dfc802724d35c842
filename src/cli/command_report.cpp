#include "cli/command_report.hpp"

#include "cli/client_report.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandReport::about() const {
  return {"report", "SESSION|SHEET --to FILE.xlsx|.html|.txt [--paper a4|letter] [--words au|uk|us|za] [--store FILE]",
          "the client's report of one session: workbook, page or text",
          "Reconciles one session and writes the client's report: as a workbook (.xlsx), as one page for a browser or an "
          "e-mail (.html), or as plain text (.txt). All three say the same and show the same figures. In plain words and the "
          "sheet's own units; with --words, or where the store's settings say so, in a region's, and with a glossary of "
          "them. A file of that name is replaced, and only once the new one is whole."};
}

void CommandReport::describe(po::options_description& options) {
  options.add_options()("to", po::value(&to_)->value_name("FILE"),
                        "file to write, .xlsx, .html or .txt (required)");
  report_.describe(options);
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandReport::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  session_ = words[0];
  if (to_.empty()) throw wrong("--to FILE is missing; its name ends in .xlsx, .html or .txt");
  if (!is_report_name(to_)) throw wrong("--to must end in .xlsx, .html or .txt, is " + to_);
  if (const std::string fault = report_.fault(); !fault.empty()) throw wrong(fault);
}

Exit CommandReport::run(Streams& streams) {
  const RecordedSession source = one_recorded_session(streams.err, session_, store_.path());
  const StoredSettings settings = settings_of(store_.path());
  const std::string& client = source.session.client.uid;
  const reports::Paper paper = report_.paper(settings, client);
  write_report_file(client_report_of(source, settings, report_.reader(settings, client), paper, report_.issued()), paper, to_);
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("session", source.session.id).field("report", to_).end_object();
    streams.out.line(out.text());
  } else {
    streams.out.line("wrote " + reports::printable(to_));
  }
  return Exit::done;
}

}  // namespace steelyard::cli
