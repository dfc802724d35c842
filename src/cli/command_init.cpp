#include "cli/command_init.hpp"

#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

About CommandInit::about() const {
  return {"init", "[--store FILE] [--json]", "makes a new store",
          "Makes a new, empty store: one file that keeps every sheet and every reading. A file that is "
          "already there "
          "is refused and left as it is."};
}

void CommandInit::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandInit::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
}

Exit CommandInit::run(Streams& streams) {
  const std::string path = store_.path().string();
  store::Store::create(path);
  if (json_.wanted())
    streams.out.line(reports::JsonText().begin_object().field("store", path).end_object().text());
  else
    streams.out.line("made the store " + reports::printable(path));
  return Exit::done;
}

}  // namespace steelyard::cli
