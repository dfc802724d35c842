#include "cli/command_strike.hpp"

#include "cli/clock.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandStrike::about() const {
  return {"strike", "SESSION READING-ID --why TEXT [--by NAME] [--store FILE] [--json]",
          "sets a reading aside; it stays on record",
          "Sets a reading of a session aside: it takes no part any more, and stays on record with who did "
          "it, why and "
          "when. A reading is never deleted or altered."};
}

void CommandStrike::describe(po::options_description& options) {
  options.add_options()("why", po::value(&why_)->value_name("TEXT"),
                        "why the reading does not count (required)");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who says so");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandStrike::take(const std::vector<std::string>& words) {
  expect(words, 2, 2);
  session_ = words[0];
  reading_ = words[1];
  if (why_.find_first_not_of(' ') == std::string::npos)
    throw wrong("--why must say why the reading does not count");
}

Exit CommandStrike::run(Streams& streams) {
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  const std::string session_id = store.resolve(session_);
  const rig::Strike strike{why_, by_, local_time_now()};
  store.strike(session_id, reading_, strike);
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("session", session_id).field("reading", reading_);
    out.key("struck").begin_object().field("why", why_);
    out.field("by", by_.empty() ? std::nullopt : std::optional(by_)).field("at", strike.at).end_object();
    streams.out.line(out.end_object().text());
  } else {
    streams.out.line("set aside " + reports::printable(reading_) + "; it stays on record");
  }
  return Exit::done;
}

}  // namespace steelyard::cli
