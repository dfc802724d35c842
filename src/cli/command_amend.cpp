#include "cli/command_amend.hpp"

#include "cli/input_file.hpp"
#include "cli/record_text.hpp"
#include "cli/session_source.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandAmend::about() const {
  return {"amend", "SESSION --why TEXT [--by NAME] [--with SHEET.json] [--store FILE] [--json]",
          "opens a new revision of a sealed session",
          "Opens a new revision beside a sealed one, which stays as it is. Without --with it begins with the same "
          "content, and readings and strikes can be added; with --with it is the corrected sheet, which must hold every "
          "reading of the sealed one as it was (it may be struck). Where merged stores hold several of a revision, an "
          "amendment of one of them decides.\n"
          "Seal the new revision when it is right. ID@1 still names the first."};
}

void CommandAmend::describe(po::options_description& options) {
  options.add_options()("why", po::value(&why_)->value_name("TEXT"), "why it is amended (required)");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who amends; else who weighed");
  options.add_options()("with", po::value(&with_)->value_name("SHEET.json"), "the corrected sheet");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandAmend::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  session_ = words[0];
  if (why_.find_first_not_of(' ') == std::string::npos) throw wrong("--why must say why the session is amended");
  if (!with_.empty() && (!names_a_sheet(with_) || sheet_kind(with_) != SheetKind::one))
    throw wrong("--with must be a sheet's file name (.json), is " + with_);
}

Exit CommandAmend::run(Streams& streams) {
  std::optional<rig::Session> corrected;
  if (!with_.empty()) corrected = one_session(streams.err, with_, store_.path());
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  const std::string name = store.resolve(session_);
  const rig::Session before = store.load(name);
  const std::string by = who(by_, corrected ? *corrected : before);
  if (by.empty()) throw wrong(nobody(before));
  const rig::Session after = store.amend(name, why_, by, corrected);
  const store::Record record = store.record_of(after.id);
  if (json_.wanted()) {
    reports::JsonText out;
    write_record(out, record);
    streams.out.line(out.text());
  } else {
    streams.out.line("opened " + reports::printable(record.name) + " beside the sealed revision; it is not sealed yet");
  }
  return Exit::done;
}

}  // namespace steelyard::cli
