#include "cli/session_source.hpp"

#include "cli/command.hpp"
#include "cli/input_file.hpp"
#include "cli/record_note.hpp"

namespace fs = std::filesystem;

namespace steelyard::cli {

void say_faults(Messages& messages, const fs::path& file, const std::vector<sheet::Fault>& faults) {
  for (const sheet::Fault& fault : faults) messages.say(file.string() + ": " + sheet::to_text(fault));
}

rig::Session one_session(Messages& messages, const std::string& word, const fs::path& store_path) {
  if (!names_a_sheet(word)) {
    const store::Store store = store::Store::open(store_path, store::Access::read_only);
    return store.load(store.resolve(word));
  }
  const fs::path file = word;
  if (sheet_kind(file) == SheetKind::fleet)
    throw Refusal(file.string() + ": a fleet; this needs one session or one sheet (.json)");
  const sheet::Read read = sheet::read(read_sheet_file(file));
  if (!read.session) {
    say_faults(messages, file, read.faults);
    throw Refusal(file.string() + ": refused, " + std::to_string(read.faults.size()) +
                  (read.faults.size() == 1 ? " fault" : " faults"));
  }
  return *read.session;
}

RecordedSession one_recorded_session(Messages& messages, const std::string& word, const fs::path& store_path) {
  if (names_a_sheet(word)) return {one_session(messages, word, store_path)};
  const store::Store store = store::Store::open(store_path, store::Access::read_only);
  const std::string name = store.resolve(word);
  return {store.load(name), record_note(store, name)};
}

std::size_t each_of_fleet(Messages& messages, const fs::path& file, const Use& use) {
  std::ifstream in = open_fleet_file(file);
  sheet::FleetReader reader(in);
  std::size_t refused = 0;
  while (const auto read = reader.next()) {
    if (read->session) {
      use(*read->session);
      continue;
    }
    ++refused;
    say_faults(messages, file, read->faults);
  }
  if (in.bad()) throw Refusal(file.string() + ": could not be read to its end");
  return refused;
}

}  // namespace steelyard::cli
