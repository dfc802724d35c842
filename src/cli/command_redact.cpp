#include "cli/command_redact.hpp"

#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

using reports::printable;

std::string in_words(const store::Redacted& done) {
  if (done.sessions.empty() && done.notes == 0)
    return "nothing to erase: it was erased before\n";
  std::string out = reports::paragraph(
      "", "erased client, reference, place, registrations and VIN of " + std::to_string(done.sessions.size()) +
              (done.sessions.size() == 1 ? " revision" : " revisions") + ", " + std::to_string(done.files) +
              (done.files == 1 ? " attached file" : " attached files") + " and " + std::to_string(done.notes) +
              (done.notes == 1 ? " note" : " notes") + " of the register; seals stay valid");
  for (const std::string& name : done.sessions) out += "  " + printable(name) + "\n";
  return out + reports::paragraph("", "Copies elsewhere (backups, other stores, workbooks, sheets) still hold it.");
}

}  // namespace

About CommandRedact::about() const {
  return {"redact", "SESSION|--client UID --why TEXT --yes [--by NAME] [--store FILE] [--json]",
          "erases who and where, and keeps what was weighed",
          "Erases the client's name and reference, the place, registrations, the VIN and attached files of every "
          "revision of a session; with --client of every session of that client, and what the register notes of it. It "
          "cannot be taken back: without --yes it only says what it would erase. Seals stay valid, as they hold a salted "
          "hash of these in place of the texts, and the salt goes with them.\n"
          "Not erased: uids, labels of vehicles, technicians, notes, reasons, keys beginning x-; and an id that was "
          "derived from a sheet's content, with import_hash, which somebody who has all the rest of the sheet could use "
          "to try names. A disk may keep the old bytes of a deleted journal until it writes over them."};
}

void CommandRedact::describe(po::options_description& options) {
  options.add_options()("client", po::value(&client_)->value_name("UID"), "every session of that client");
  options.add_options()("why", po::value(&why_)->value_name("TEXT"), "why (required)");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who erases it");
  options.add_options()("yes", po::bool_switch(&yes_), "really erase it");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandRedact::take(const std::vector<std::string>& words) {
  expect(words, client_.empty() ? 1 : 0, client_.empty() ? 1 : 0);
  if (!words.empty()) session_ = words[0];
  if (why_.find_first_not_of(' ') == std::string::npos) throw wrong("--why must say why it is erased");
}

Exit CommandRedact::run(Streams& streams) {
  store::Store store = store::Store::open(store_.path(), yes_ ? store::Access::read_write : store::Access::read_only);
  if (!yes_) {
    std::vector<std::string> ids;
    if (client_.empty())
      ids.push_back(store.record_of(store.resolve(session_)).id);
    else
      for (const store::Summary& one : store.history(store::RegisterKind::client, client_)) ids.push_back(one.id);
    std::string out = "nothing was erased; with --yes it would be, of " + std::to_string(ids.size()) +
                      (ids.size() == 1 ? " session:\n" : " sessions:\n");
    for (const std::string& id : ids) out += "  " + printable(id) + "\n";
    if (json_.wanted()) {
      reports::JsonText json;
      json.begin_object().field("erased", false).key("sessions").begin_array();
      for (const std::string& id : ids) json.value(id);
      out = json.end_array().end_object().text() + "\n";
    }
    streams.out.write(out);
    return Exit::done;
  }
  const store::Redacted done = client_.empty() ? store.redact_session(store.resolve(session_), why_, by_)
                                               : store.redact_client(client_, why_, by_);
  if (!json_.wanted()) {
    streams.out.write(in_words(done));
    return Exit::done;
  }
  reports::JsonText out;
  out.begin_object().field("erased", true).key("sessions").begin_array();
  for (const std::string& name : done.sessions) out.value(name);
  out.end_array().field("notes", done.notes).field("files", done.files).end_object();
  streams.out.line(out.text());
  return Exit::done;
}

}  // namespace steelyard::cli
