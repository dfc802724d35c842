#include "cli/command_plan.hpp"


#include "cli/new_file.hpp"
#include "cli/session_source.hpp"
#include "cli/settings.hpp"
#include "cli/solve.hpp"
#include "reconcile/reconcile.hpp"
#include "reports/plan/plan_json.hpp"
#include "reports/plan/plan_table.hpp"
#include "reports/words/terminal_text.hpp"
#include "sheet/sheet.hpp"
#include "units/number.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

/// The planned sheet: supposed loads as readings, each marked, so that nobody takes them for weighed ones.
std::string to_be_filled(rig::Session planned) {
  // Weighed to this plan it is another session than the sheet: its id follows from what it will hold.
  planned.id.clear();
  planned.revision = 1;
  planned.replaces.clear();
  // Tables and workbooks show this beside the figures, should somebody reconcile it before it is filled.
  planned.weighed.technician = "nobody yet: all loads are supposed";
  planned.extras.push_back({"", "x-supposed", "\"every load here is supposed; write what the scales show\""});
  for (std::size_t k = 0; k < planned.states.size(); ++k)
    for (std::size_t i = 0; i < planned.states[k].readings.size(); ++i)
      planned.extras.push_back(
          {"states[" + std::to_string(k) + "].readings[" + std::to_string(i) + "]", "x-supposed", "true"});
  return sheet::write(planned) + '\n';
}

}  // namespace

About CommandPlan::about() const {
  return {
      "plan",
      "SESSION|SHEET [--coupling-u LOAD] [--margin-u LOAD] [--least] [--sheet-to FILE.json] "
      "[--words au|uk|us|za] [--json] [--store FILE]",
      "before weighing: what to weigh, in which order, on which scale",
      "Says which states and positions to weigh, in what order and on which of the sheet's scales, so that "
      "the coupling load and every margin come out as sure as is wanted, and what reading each position "
      "twice would buy. The sheet holds the rig, the scales in the van and the limits; its states may be "
      "empty. Readings that are there serve only to suppose loads.\n"
      "LOAD is a standard uncertainty u, half of the ± of a result, in the sheet's unit of load. Not given: "
      "4 kg for the coupling load and margins on it, and 1 % of its rating for every other margin. Shares "
      "and ratios follow from the loads and only have to be determinable.\n"
      "Every reading of a plan is checked by the others, so that an error shows, unless even every position "
      "once would not check it; the table names those. --least leaves that out of account: the least work "
      "that still comes to what is wanted, where an error may go unnoticed.\n"
      "--sheet-to writes the planned sheet with the supposed loads as readings, each marked "
      "\"x-supposed\"; a file that is there is not replaced."};
}

void CommandPlan::describe(po::options_description& options) {
  options.add_options()("coupling-u", po::value(&coupling_u_text_)->value_name("LOAD"),
                        "wanted u of the coupling load");
  options.add_options()("margin-u", po::value(&margin_u_text_)->value_name("LOAD"),
                        "wanted u of every other margin");
  options.add_options()("least", po::bool_switch(&least_), "least work; readings need not check each other");
  options.add_options()("sheet-to", po::value(&sheet_to_)->value_name("FILE.json"),
                        "write the planned sheet, its loads supposed");
  words_.describe(options);
  store_.describe(options);
  json_.describe(options, "the plan in JSON, one line");
}

std::optional<double> CommandPlan::above_nothing(const std::string& option, const std::string& text) const {
  if (text.empty()) return std::nullopt;
  const auto number = units::parse_number(text);
  if (!number) throw wrong(option + " must be a number above 0, is " + text);
  if (!(*number > 0)) throw wrong(option + " must be above 0, is " + text);
  return number;
}

void CommandPlan::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  source_ = words[0];
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  coupling_u_ = above_nothing("--coupling-u", coupling_u_text_);
  margin_u_ = above_nothing("--margin-u", margin_u_text_);
  if (!sheet_to_.empty() && !sheet_to_.ends_with(".json"))
    throw wrong("--sheet-to must end in .json, is " + sheet_to_);
}

plan::Wanted CommandPlan::wanted(const rig::Session& sheet) const {
  const bool coupled = sheet.rig.trailer && !sheet.rig.trailer->self_supporting;
  if (coupling_u_ && !coupled)
    throw Refusal(source_ + ": this rig puts no load on a coupling; leave --coupling-u out");
  const auto kilograms = [&](const std::optional<double>& figure) -> std::optional<double> {
    if (!figure) return std::nullopt;
    return units::Load{*figure, sheet.units.load}.kg().value();
  };
  return {kilograms(coupling_u_), kilograms(margin_u_), least_ ? plan::Rule::least : plan::Rule::checked};
}

Exit CommandPlan::run(Streams& streams) {
  const rig::Session sheet = one_session(streams.err, source_, store_.path());
  try {
    const plan::Plan plan = plan::plan_weighing(sheet, wanted(sheet));
    if (!sheet_to_.empty()) write_new_file(sheet_to_, to_be_filled(plan.chosen.session));
    if (json_.wanted())
      streams.out.line(reports::plan_json(sheet, plan, version()));
    else
      streams.out.write(reports::plan_table(sheet, plan, reader_for(words_, settings_of(store_.path()).value("words", sheet.client.uid))));
  } catch (const reconcile::NotSolved& error) {
    throw Refusal(error.what());
  }
  if (!sheet_to_.empty() && !json_.wanted())
    streams.out.line("wrote " + reports::printable(sheet_to_) + "; its loads are supposed: write over them");
  return Exit::done;
}

}  // namespace steelyard::cli
