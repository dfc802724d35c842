#include "cli/command_compare.hpp"

#include "assess/assessment.hpp"
#include "cli/session_source.hpp"
#include "cli/solve.hpp"
#include "cli/settings.hpp"
#include "compare/compare.hpp"
#include "digest/digest.hpp"
#include "reports/comparison/comparison.hpp"
#include "reports/result/comparison_json.hpp"
#include "reports/table/comparison_table.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandCompare::about() const {
  return {"compare",
          "BEFORE AFTER [--to FILE.xlsx|.html|.txt] [--paper a4|letter] [--words au|uk|us|za] [--json] [--store FILE]",
          "a rig before and after a change",
          "Holds two weighings of one tow vehicle against each other: before and after something was fitted, "
          "or with another trailer. BEFORE and AFTER are each a session of the store, by its id or as much of "
          "one as tells it from the others, or a sheet's file name (.json).\n"
          "Every quantity is shown before, after, and as a difference with its uncertainty: an error that both "
          "weighings have in common, of the same scale or the same tape, does not count twice. Limits that were "
          "added, removed or come out otherwise are listed, and so is all that was not the same at both "
          "weighings: fuel, people, coupling height, scales. What was fitted is held by its declared mass "
          "against what the axles show."};
}

void CommandCompare::describe(po::options_description& options) {
  options.add_options()("to", po::value(&to_)->value_name("FILE"), "a report to write: .xlsx, .html or .txt");
  report_.describe(options);
  store_.describe(options);
  json_.describe(options, "the comparison in JSON, one line");
}

void CommandCompare::take(const std::vector<std::string>& words) {
  expect(words, 2, 2);
  before_ = words[0];
  after_ = words[1];
  if (!to_.empty() && !is_report_name(to_)) throw wrong("--to must end in .xlsx, .html or .txt, is " + to_);
  if (const std::string fault = report_.fault(); !fault.empty()) throw wrong(fault);
}

Exit CommandCompare::run(Streams& streams) {
  const rig::Session before = one_session(streams.err, before_, store_.path());
  const rig::Session after = one_session(streams.err, after_, store_.path());
  const reconcile::Reconciliation was(before), is(after);
  const assess::Assessment assessed_before = assess::assess(before, was.findings());
  const assess::Assessment assessed_after = assess::assess(after, is.findings());
  const compare::Comparison comparison =
      compare::compare({before, was, assessed_before}, {after, is, assessed_after});
  if (!to_.empty()) write_report(before, after, comparison);
  if (json_.wanted())
    streams.out.line(reports::comparison_json(before, after, comparison, version()));
  else
    streams.out.write(reports::comparison_table(before, after, comparison));
  if (!to_.empty() && !json_.wanted()) streams.out.line("\nwrote " + reports::printable(to_));
  return Exit::done;
}

void CommandCompare::write_report(const rig::Session& before, const rig::Session& after,
                                  const compare::Comparison& comparison) const {
  const StoredSettings settings = settings_of(store_.path());
  reports::ComparisonOptions options;
  options.engine = version();
  options.issued = report_.issued();
  options.number = "C-" + digest::sha256_hex(before.id + '@' + std::to_string(before.revision) + '\n' + after.id + '@' +
                                             std::to_string(after.revision))
                              .substr(0, 8);
  options.provider = settings.provider();
  options.reader = report_.reader(settings, after.client.uid);
  write_report_file(reports::comparison_report(before, after, comparison, options),
                    report_.paper(settings, after.client.uid), to_);
}

}  // namespace steelyard::cli
