#include "cli/command_record.hpp"

#include "cli/scale_warnings.hpp"
#include "cli/solve.hpp"
#include "cli/settings.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "rig/words.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"
#include "units/number.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

rig::State& state_named(rig::Session& session, const std::string& name) {
  std::string known;
  for (rig::State& state : session.states) {
    if (state.name == name) return state;
    known += (known.empty() ? "\"" : ", \"") + state.name + '"';
  }
  throw Refusal("the session has no state \"" + name + "\"; its states are " +
                (known.empty() ? "none" : known));
}

/// Checks the session as it would stand with the reading, by the same rules as a sheet.
void check_with(const rig::Session& session, const std::string& state, const rig::Reading& reading) {
  rig::Session changed = session;
  rig::Reading added = reading;
  added.id = "the new reading";  // any id that no reading has; the store gives the real one
  state_named(changed, state).readings.push_back(std::move(added));
  const std::vector<sheet::Fault> faults = sheet::check(changed);
  if (faults.empty()) return;
  std::string text = "the reading was refused, nothing stored";
  for (const sheet::Fault& fault : faults) text += '\n' + sheet::to_text(fault);
  throw Refusal(text);
}

}  // namespace

About CommandRecord::about() const {
  return {"record",
          "SESSION STATE POSITION LOAD [--unit kg|lb] [--scale ID]… [--raised LENGTH] [--words au|uk|us|za]",
          "adds one reading and says what the rig's figures are now",
          "Adds one reading to a state of a session in the store. POSITION is tow.1.left, trailer.2, tow, "
          "coupling …; "
          "LOAD is in the sheet's unit unless --unit says otherwise. Several scales under one position are "
          "summed: "
          "repeat --scale.\n"
          "Answers with the reading's id and what the rig's figures are now."};
}

void CommandRecord::describe(po::options_description& options) {
  options.add_options()("unit", po::value(&unit_)->value_name("kg|lb"), "unit of LOAD; else the sheet's");
  options.add_options()("scale", po::value(&scales_)->value_name("ID")->composing(),
                        "the scale, by its id in the sheet; again for each scale summed");
  options.add_options()("raised", po::value(&raised_text_)->value_name("LENGTH"),
                        "how far this axle stood above the others, in the sheet's unit of length");
  words_.describe(options);
  store_.describe(options);
  json_.describe(options, "answer in JSON: session, reading, result");
}

void CommandRecord::take(const std::vector<std::string>& words) {
  expect(words, 4, 4);
  session_ = words[0];
  state_ = words[1];
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  const auto position = rig::parse_position(words[2]);
  if (!position)
    throw wrong(words[2] + " is no position; one is tow.1.left, trailer.2, tow, trailer, coupling or jockey");
  position_ = *position;
  const auto load = units::parse_number(words[3]);
  if (!load) throw wrong("the load must be a decimal number, is " + words[3]);
  load_ = *load;
  if (!unit_.empty()) {
    load_unit_ = rig::parse_load_unit(unit_);
    if (!load_unit_) throw wrong("--unit must be kg or lb, is " + unit_);
  }
  if (!raised_text_.empty()) {
    raised_ = units::parse_number(raised_text_);
    if (!raised_) throw wrong("--raised must be a decimal number, is " + raised_text_);
  }
}

rig::Reading CommandRecord::reading_for(const rig::Session& session) const {
  rig::Reading reading;
  reading.at = position_;
  reading.load = {load_, load_unit_.value_or(session.units.load)};
  reading.scales = scales_;
  if (raised_) reading.raised = units::Length{*raised_, session.units.length};
  return reading;
}

Exit CommandRecord::run(Streams& streams) {
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  const std::string session_id = store.resolve(session_);
  const rig::Session before = store.load(session_id);
  const rig::Reading reading = reading_for(before);
  check_with(before, state_, reading);
  const std::string id = store.record(session_id, state_, reading);
  ScaleWarnings warnings;
  warnings.look_at(before, reading);
  warnings.say(streams.err);
  if (!json_.wanted()) {
    streams.out.line("recorded " + reports::printable(id));
    streams.out.flush();  // the reading is kept even where the rig cannot be solved
  }
  const Solved solved = solve(store.load(session_id));
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("session", session_id).field("reading", id);
    streams.out.line(out.key("result").raw(solved.json()).end_object().text());
  } else {
    streams.out.write('\n' + summary(solved, reader_for(words_, StoredSettings(store.settings()).value("words", solved.session.client.uid))));
  }
  return Exit::done;
}

}  // namespace steelyard::cli
