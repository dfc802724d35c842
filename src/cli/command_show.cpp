#include "cli/command_show.hpp"

#include "cli/input_file.hpp"
#include "cli/record_text.hpp"
#include "cli/session_source.hpp"
#include "cli/settings.hpp"
#include "reports/table/result_table.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

About CommandShow::about() const {
  return {"show", "SESSION [--record] [--words au|uk|us|za] [--store FILE] [--json]",
          "one session as its sheet says",
          "What a session's sheet says, with the readings and strikes that came later. SESSION is an id, as "
          "much of one "
          "as tells it from the others (at least 4 characters), or a sheet's file name. ID@1 is its first "
          "revision, "
          "ID@1.HASH one of several with other content.\n"
          "Below a session of the store stands its record: every revision, who sealed it and when, why it "
          "was amended. "
          "--record shows the record alone. With --words limits and places have a region's words; what was "
          "entered stays as it "
          "was entered."};
}

void CommandShow::describe(boost::program_options::options_description& options) {
  options.add_options()("record", boost::program_options::bool_switch(&record_), "the record alone");
  words_.describe(options);
  store_.describe(options);
  json_.describe(options, "the sheet itself, ready to be imported elsewhere; with --record the record");
}

void CommandShow::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  session_ = words[0];
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  if (record_ && names_a_sheet(session_)) throw wrong("--record goes with a session of the store");
}

void CommandShow::write_record_json(Streams& streams, const std::vector<store::Record>& revisions) const {
  reports::JsonText out;
  out.begin_object().field("session", revisions.front().id).key("revisions").begin_array();
  for (const store::Record& record : revisions) write_record(out, record);
  out.end_array().key("chain");
  write_chain(out, revisions.front().chain);
  streams.out.line(out.end_object().text());
}

Exit CommandShow::run(Streams& streams) {
  if (names_a_sheet(session_)) {
    const rig::Session session = one_session(streams.err, session_, store_.path());
    streams.out.write(json_.wanted() ? sheet::write(session) + '\n'
                                     : reports::session_table(session, nullptr, reader_for(words_, settings_of(store_.path()).value("words", session.client.uid))));
    return Exit::done;
  }
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  const std::string name = store.resolve(session_);
  const rig::Session session = store.load(name);
  if (json_.wanted() && !record_) {
    streams.out.line(sheet::write(session));
    return Exit::done;
  }
  const std::vector<store::Record> revisions = store.revisions(session.id);
  if (json_.wanted()) {
    write_record_json(streams, revisions);
    return Exit::done;
  }
  if (!record_) streams.out.write(reports::session_table(session, nullptr, reader_for(words_, settings_of(store_.path()).value("words", session.client.uid))) + '\n');
  streams.out.write(record_section(revisions));
  return Exit::done;
}

}  // namespace steelyard::cli
