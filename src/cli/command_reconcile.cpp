#include "cli/command_reconcile.hpp"

#include "cli/input_file.hpp"
#include "cli/progress.hpp"
#include "cli/session_source.hpp"
#include "cli/settings.hpp"
#include "cli/solve.hpp"
#include "reconcile/reconcile.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandReconcile::about() const {
  return {
      "reconcile",
      "SESSION|SHEET|--all [--detail] [--json] [--strict] [--monte-carlo N [--seed S]] "
      "[--words au|uk|us|za] [--store FILE]",
      "what rests where, and which rating is nearest",
      "Reconciles every reading of a session with the statics of the rig, and holds the result against "
      "its ratings. "
      "SESSION is an id or as much of one as tells it from the others; SHEET is a sheet's file name "
      "(.json), or a "
      "fleet's (.jsonl), and needs no store; --all takes every session of the store.\n"
      "With --words the table is in a region's words and units. With --json the result is one line a "
      "session, the "
      "same whatever the words. With --strict the exit code is 3 where any rating is not "
      "passed in any state, or not assessed, or a reading is suspect; advice does not count.\n"
      "With --monte-carlo N the uncertainties, which come from a linearisation, are held against N trials: "
      "everything observed is drawn anew from its uncertainty and solved again (JCGM 101). The same "
      "seed gives the same figures. It goes with one session or sheet; 10000 trials take a few seconds."};
}

void CommandReconcile::describe(po::options_description& options) {
  options.add_options()("all", po::bool_switch(&all_), "every session of the store");
  options.add_options()("strict", po::bool_switch(&strict_),
                        "exit code 3 where something is not passed or suspect");
  options.add_options()("detail", po::bool_switch(&detail_), "the statistics behind the table besides");
  words_.describe(options);
  store_.describe(options);
  monte_carlo_.describe(options);
  json_.describe(options, "the result in JSON, one line a session");
}

void CommandReconcile::take(const std::vector<std::string>& words) {
  if (all_ && !words.empty()) throw wrong("--all goes without a session or a sheet");
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  if (const std::string fault = monte_carlo_.fault(); !fault.empty()) throw wrong(fault);
  if (!all_) {
    expect(words, 1, 1);
    source_ = words[0];
  }
  const bool several = all_ || (names_a_sheet(source_) && sheet_kind(source_) == SheetKind::fleet);
  if (several && monte_carlo_.wanted())
    throw wrong("--monte-carlo goes with one session or one sheet (.json): name it");
}

void CommandReconcile::use(Streams& streams, const rig::Session& session, const rig::RecordNote* record) {
  try {
    Solved solved = solve(session);
    if (monte_carlo_.wanted()) draw(streams, solved);
    worrying_ = worrying_ || solved.worrying();
    if (json_.wanted()) {
      streams.out.line(solved.json());
    } else {
      if (written_ > 0) streams.out.line('\n' + std::string(reports::table_width, '=') + '\n');
      streams.out.write(table(solved, detail_, record, reader_for(words_, settings_.value("words", session.client.uid))));
    }
    ++written_;
  } catch (const reconcile::NotSolved& error) {
    ++failed_;
    streams.err.say(error.what());
  }
}

void CommandReconcile::draw(Streams& streams, Solved& solved) {
  const long trials = monte_carlo_.trials();
  Progress progress(streams.err, "trials", static_cast<std::size_t>(trials));
  solved.monte_carlo =
      reconcile::monte_carlo(solved.session, solved.findings, trials, monte_carlo_.seed(),
                             [&](long done) { progress.reach(static_cast<std::size_t>(done)); });
}

void CommandReconcile::whole_store(Streams& streams) {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  const std::vector<std::string> ids = store.ids();
  Progress progress(streams.err, "sessions", ids.size());
  const bool together = streams.out.is_terminal();
  for (const std::string& id : ids) {
    progress.step();
    const rig::Session session = store.load(id);
    if (together) progress.clear();
    use(streams, session);
    if (together) streams.out.flush();
  }
}

void CommandReconcile::fleet(Streams& streams) {
  Progress progress(streams.err, "sheets", 0);
  const bool together = streams.out.is_terminal();
  failed_ += each_of_fleet(streams.err, source_, [&](const rig::Session& session) {
    progress.step();
    if (together) progress.clear();
    use(streams, session);
    if (together) streams.out.flush();
  });
}

void CommandReconcile::one(Streams& streams) {
  const RecordedSession source = one_recorded_session(streams.err, source_, store_.path());
  use(streams, source.session, source.record ? &*source.record : nullptr);
}

Exit CommandReconcile::run(Streams& streams) {
  if (!json_.wanted()) settings_ = settings_of(store_.path());
  if (all_)
    whole_store(streams);
  else if (names_a_sheet(source_) && sheet_kind(source_) == SheetKind::fleet)
    fleet(streams);
  else
    one(streams);
  if (failed_ > 0) return Exit::refused;
  return strict_ && worrying_ ? Exit::strict : Exit::done;
}

}  // namespace steelyard::cli
