#include "cli/command_export.hpp"

#include "cli/new_file.hpp"
#include "cli/progress.hpp"
#include "cli/record_text.hpp"
#include "digest/digest.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "sheet/anonymous.hpp"
#include "sheet/sheet.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {

About CommandExport::about() const {
  return {"export", "SESSION…|--all --to FILE.jsonl|FILE.json|- [--anonymous] [--store FILE] [--json]",
          "sheets that can be imported elsewhere",
          "Writes sessions as sheets, one a line, every revision in order (ID@N is one of them alone); a .json file holds "
          "one. Imported elsewhere they give the same content. Seals and attached files are no part of a sheet: `steelyard "
          "merge` brings those.\n"
          "--anonymous leaves out client, place, technician, labels, registrations, VIN, serials, certificates, notes, who "
          "struck or read what, and keys beginning x-; ids and uids become pseudonyms that are the same throughout one "
          "file. What people may have written into purpose, names of states, reasons, sources and modifications stays."};
}

void CommandExport::describe(po::options_description& options) {
  options.add_options()("to", po::value(&to_)->value_name("FILE"), "the file to make; - for standard output (required)");
  options.add_options()("all", po::bool_switch(&all_), "every session");
  options.add_options()("anonymous", po::bool_switch(&anonymous_), "without who and where");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandExport::take(const std::vector<std::string>& words) {
  if (all_ && !words.empty()) throw wrong("--all goes without a session");
  if (!all_) expect(words, 1, words.size());
  sessions_ = words;
  if (to_ != "-" && !to_.ends_with(".json") && !to_.ends_with(".jsonl"))
    throw wrong(to_.empty() ? "--to FILE.jsonl is missing" : "--to must end in .jsonl or .json, or be -, is " + to_);
  if (to_ == "-" && json_.wanted()) throw wrong("--json and --to - would both write to standard output");
}

std::vector<std::string> CommandExport::names(const store::Store& store) const {
  std::vector<std::string> names;
  const auto add = [&](const std::string& id) {
    for (const store::Record& record : store.revisions(id)) names.push_back(record.name);
  };
  if (all_)
    for (const std::string& id : store.ids()) add(id);
  for (const std::string& word : sessions_) {
    const std::string name = store.resolve(word), id = store.record_of(name).id;
    if (name == id)
      add(id);
    else
      names.push_back(name);
  }
  return names;
}

Exit CommandExport::run(Streams& streams) {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  const std::vector<std::string> all = names(store);
  if (to_.ends_with(".json") && all.size() != 1)
    throw Refusal(reports::printable(to_) + ": a .json file holds one sheet, these are " + std::to_string(all.size()) +
                  "; give a name that ends in .jsonl");
  const std::string salt = digest::random_hex(16);
  std::optional<NewFile> file;
  if (to_ != "-") file.emplace(to_);
  std::size_t attachments = 0;
  {
    Progress progress(streams.err, "sheets", all.size());
    for (const std::string& name : all) {
      const rig::Session session = store.load(name);
      const std::string line = sheet::write(anonymous_ ? sheet::anonymous(session, salt) : session) + "\n";
      if (file)
        file->write(line);
      else
        streams.out.write(line);
      attachments += store.attachments(name).size();
      progress.step();
    }
  }
  if (!file) return Exit::done;
  file->finish();
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().field("to", to_).field("sheets", static_cast<std::int64_t>(all.size()));
    out.field("attachments_left", static_cast<std::int64_t>(attachments)).end_object();
    streams.out.line(out.text());
  } else {
    std::string text = "wrote " + reports::printable(to_) + ": " + counted(all.size(), "sheet");
    if (attachments > 0) text += "; " + counted(attachments, "attachment") + " stayed behind";
    streams.out.line(text);
  }
  return Exit::done;
}

}  // namespace steelyard::cli
