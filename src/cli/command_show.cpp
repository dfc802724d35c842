#include "cli/command_show.hpp"

#include "cli/session_source.hpp"
#include "reports/table/result_table.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::cli {

About CommandShow::about() const {
  return {"show", "SESSION [--store FILE] [--json]", "one session as its sheet says",
          "What a session's sheet says, with the readings and strikes that came later. SESSION is an id, as "
          "much of one "
          "as tells it from the others (at least 4 characters), or a sheet's file name."};
}

void CommandShow::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "the sheet itself, ready to be imported elsewhere");
}

void CommandShow::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  session_ = words[0];
}

Exit CommandShow::run(Streams& streams) {
  const rig::Session session = one_session(streams.err, session_, store_.path());
  if (json_.wanted())
    streams.out.line(sheet::write(session));
  else
    streams.out.write(reports::session_table(session));
  return Exit::done;
}

}  // namespace steelyard::cli
