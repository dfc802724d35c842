#include "cli/command_backup.hpp"

#include "cli/progress.hpp"
#include "cli/record_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandBackup::about() const {
  return {"backup", "FILE [--replace] [--store FILE] [--json]", "a copy of the store, verified",
          "Writes a copy of the store as it stands, while it may be in use. The copy is verified before it gets its name, "
          "so that FILE is either a sound store or not there. A file that is there already is left as it is, unless "
          "--replace says otherwise.\n"
          "The copy is a store like any other: `steelyard verify --store FILE` holds it to account, and it takes the "
          "store's place as it is."};
}

void CommandBackup::describe(po::options_description& options) {
  options.add_options()("replace", po::bool_switch(&replace_), "replaces a file of that name");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandBackup::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  to_ = words[0];
}

Exit CommandBackup::run(Streams& streams) {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  store::Chain chain;
  {
    Progress progress(streams.err, "revisions verified", 0);
    chain = store.backup(to_, replace_, [&](std::size_t done, std::size_t) { progress.reach(done); });
  }
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("backup", to_).key("chain");
    write_chain(out, chain);
    streams.out.line(out.end_object().text());
  } else {
    streams.out.line("wrote " + reports::printable(to_) + ", verified");
    streams.out.write(head_to_keep(chain));
  }
  return Exit::done;
}

}  // namespace steelyard::cli
