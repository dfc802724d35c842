#include "cli/command_compare.hpp"

#include "assess/assessment.hpp"
#include "cli/session_source.hpp"
#include "cli/solve.hpp"
#include "compare/compare.hpp"
#include "reports/result/comparison_json.hpp"
#include "reports/table/comparison_table.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandCompare::about() const {
  return {"compare", "BEFORE AFTER [--to FILE.xlsx] [--json] [--store FILE]",
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
  options.add_options()("to", po::value(&to_)->value_name("FILE.xlsx"), "a workbook to write");
  store_.describe(options);
  json_.describe(options, "the comparison in JSON, one line");
}

void CommandCompare::take(const std::vector<std::string>& words) {
  expect(words, 2, 2);
  before_ = words[0];
  after_ = words[1];
  if (!to_.empty() && !to_.ends_with(".xlsx")) throw wrong("--to must end in .xlsx, is " + to_);
}

Exit CommandCompare::run(Streams& streams) {
  if (!to_.empty()) throw Refusal("a comparison is not written as a workbook: leave --to out, or use --json");
  const rig::Session before = one_session(streams.err, before_, store_.path());
  const rig::Session after = one_session(streams.err, after_, store_.path());
  const reconcile::Reconciliation was(before), is(after);
  const assess::Assessment assessed_before = assess::assess(before, was.findings());
  const assess::Assessment assessed_after = assess::assess(after, is.findings());
  const compare::Comparison comparison =
      compare::compare({before, was, assessed_before}, {after, is, assessed_after});
  if (json_.wanted())
    streams.out.line(reports::comparison_json(before, after, comparison, version()));
  else
    streams.out.write(reports::comparison_table(before, after, comparison));
  return Exit::done;
}

}  // namespace steelyard::cli
