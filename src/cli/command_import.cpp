#include "cli/command_import.hpp"

#include "cli/input_file.hpp"
#include "cli/progress.hpp"
#include "cli/scale_warnings.hpp"
#include "cli/session_source.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "sheet/csv_sheets.hpp"
#include "store/store.hpp"

namespace steelyard::cli {
namespace {

/// One file on its way into the store. Checking goes on after a fault, so that all are told at once; storing
/// does not.
class FileImport {
 public:
  FileImport(Messages& messages, store::Store& store, std::string file)
      : messages_(messages), store_(store), file_(std::move(file)), transaction_(store.begin_import()) {}

  void take(const sheet::Read& read) {
    if (!read.session) {
      faults_ += read.faults.size();
      say_faults(messages_, file_, read.faults);
      return;
    }
    if (faults_ == 0) add(*read.session);
  }

  /// Sessions that were read and checked already.
  void take(const std::vector<rig::Session>& sessions, Progress& progress) {
    for (const rig::Session& session : sessions) {
      add(session);
      progress.step();
    }
  }

  [[nodiscard]] std::size_t faults() const { return faults_; }
  void commit() {
    transaction_.commit();
    warnings_.say(messages_);
  }

  std::vector<std::string> added, already_there;

 private:
  void add(const rig::Session& session) {
    try {
      const auto outcome = transaction_.add(session, sheet::content_hash(session));
      (outcome == store::Store::Added::added ? added : already_there).push_back(session.id);
      if (outcome == store::Store::Added::added) warnings_.look_at(session);
    } catch (const store::Conflict& conflict) {
      ++faults_;
      messages_.say(file_ + ": " + conflict.what());
      for (const std::string& difference : sheet::differences(store_.load(session.id), session))
        messages_.say("  " + difference);
    }
  }

  Messages& messages_;
  store::Store& store_;
  std::string file_;
  store::Store::Import transaction_;
  std::size_t faults_ = 0;
  ScaleWarnings warnings_;
};

/// `files`: one, or the CSV files that were imported together.
std::string as_json(const std::vector<std::string>& files, const FileImport& import) {
  reports::JsonText out;
  out.begin_object();
  if (files.size() == 1) {
    out.field("file", files.front());
  } else {
    out.key("files").begin_array();
    for (const std::string& file : files) out.value(file);
    out.end_array();
  }
  for (const auto& [key, ids] :
       {std::pair{"added", &import.added}, {"already_there", &import.already_there}}) {
    out.key(key).begin_array();
    for (const std::string& id : *ids) out.value(id);
    out.end_array();
  }
  return out.end_object().text();
}

std::string in_words(const std::string& file, const FileImport& import) {
  const auto sessions = [](std::size_t n) { return std::to_string(n) + (n == 1 ? " session" : " sessions"); };
  std::string text = reports::printable(file) + ": ";
  if (import.already_there.empty()) return text + sessions(import.added.size()) + " added";
  if (import.added.empty()) return text + sessions(import.already_there.size()) + " already there";
  return text + sessions(import.added.size()) + " added, " + std::to_string(import.already_there.size()) +
         " already there";
}

/// What the files are called in messages.
std::string name_of(const std::vector<std::string>& files) {
  return files.size() == 1 ? files.front() : "the CSV files";
}

bool commit_or_refuse(Streams& streams, FileImport& import, const std::vector<std::string>& files, bool json) {
  if (import.faults() > 0) {
    streams.err.say(name_of(files) + ": refused, nothing of " + (files.size() == 1 ? "it" : "them") + " stored");
    return false;
  }
  import.commit();
  streams.out.line(json ? as_json(files, import) : in_words(name_of(files), import));
  return true;
}

}  // namespace

About CommandImport::about() const {
  return {"import", "SHEET… [--store FILE] [--json]", "checks and stores sheets (.json, .jsonl, .csv)",
          "Reads session sheets, checks them and keeps them in the store. A .json file holds one sheet, a "
          ".jsonl file "
          "one a line. The .csv files of one command belong together (sessions, vehicles, scales, limits and readings, "
          "in any order); `steelyard template` makes them to be filled in.\n"
          "A sheet that is already there is recognised and not doubled. A file with a fault is refused "
          "whole, every "
          "fault with its place and remedy (of .csv files: row and column; all of them are refused); the other files go "
          "on."};
}

void CommandImport::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "answer in JSON, one line a file");
}

void CommandImport::take(const std::vector<std::string>& words) {
  expect(words, 1, words.size());
  for (const std::string& word : words) (names_csv(word) ? csv_files_ : files_).push_back(word);
}

/// All of them are read before the store is opened, so that a fault of one leaves nothing of the others.
bool CommandImport::import_csv(Streams& streams) {
  std::vector<sheet::CsvFile> files;
  for (const std::string& name : csv_files_) files.push_back({name, read_csv_file(name)});
  std::optional<Progress> progress;
  const auto read = sheet::read_csv(files, [&](std::size_t done, std::size_t of) {
    if (!progress) progress.emplace(streams.err, "sessions read", of);
    progress->reach(done);
  });
  progress.reset();
  for (const sheet::Fault& fault : read.faults) streams.err.say(sheet::to_text(fault));
  if (!read.faults.empty()) {
    streams.err.say(name_of(csv_files_) + ": refused, nothing of " + (files.size() == 1 ? "it" : "them") + " stored");
    return false;
  }
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  FileImport import(streams.err, store, name_of(csv_files_));
  progress.emplace(streams.err, "sessions stored", read.sessions.size());
  import.take(read.sessions, *progress);
  progress.reset();
  return commit_or_refuse(streams, import, csv_files_, json_.wanted());
}

bool CommandImport::import_file(Streams& streams, const std::string& name) {
  const SheetKind kind = sheet_kind(name);
  std::ifstream fleet;
  std::string text;
  if (kind == SheetKind::fleet)
    fleet = open_fleet_file(name);
  else
    text = read_sheet_file(name);

  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  FileImport import(streams.err, store, name);
  if (kind == SheetKind::one) {
    import.take(sheet::read(text));
  } else {
    Progress progress(streams.err, "sheets", 0);
    sheet::FleetReader reader(fleet);
    while (const auto read = reader.next()) {
      if (!read->session) progress.clear();
      import.take(*read);
      progress.step();
    }
    if (fleet.bad()) throw Refusal(name + ": could not be read to its end; nothing stored");
  }
  return commit_or_refuse(streams, import, {name}, json_.wanted());
}

Exit CommandImport::run(Streams& streams) {
  Exit exit = Exit::done;
  const auto attempt = [&](auto import_one) {
    try {
      if (!import_one()) exit = Exit::refused;
    } catch (const Refusal& refusal) {
      streams.err.say(refusal.what());
      exit = Exit::refused;
    }
  };
  for (const std::string& file : files_) attempt([&] { return import_file(streams, file); });
  if (!csv_files_.empty()) attempt([&] { return import_csv(streams); });
  return exit;
}

}  // namespace steelyard::cli
