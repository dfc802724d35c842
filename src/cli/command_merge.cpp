#include "cli/command_merge.hpp"

#include <array>

#include "cli/record_text.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace steelyard::cli {
namespace {

using reports::paragraph;
using reports::printable;

std::string as_json(const std::string& other, const store::Merged& merged) {
  reports::JsonText out;
  out.begin_object().field("merged", other);
  for (const auto& [key, names] : {std::pair{"added", &merged.added}, {"extended", &merged.extended},
                                   {"already_there", &merged.already_there}, {"conflicts", &merged.conflicts}}) {
    out.key(key).begin_array();
    for (const std::string& name : *names) out.value(name);
    out.end_array();
  }
  for (const auto& [key, number] : {std::pair{"seals", merged.seals}, {"attachments", merged.attachments},
                                    {"notes", merged.notes}, {"redactions", merged.redactions}})
    out.field(key, number);
  return out.end_object().text();
}

std::string in_words(const std::string& other, const store::Merged& merged) {
  std::string text = counted(merged.added.size(), "session") + " added";
  if (!merged.extended.empty()) text += ", " + counted(merged.extended.size(), "session") + " extended";
  if (!merged.already_there.empty()) text += ", " + std::to_string(merged.already_there.size()) + " already there";
  for (const auto& [number, what] : {std::pair{merged.seals, "seal"}, {merged.attachments, "attachment"},
                                     {merged.notes, "note"}, {merged.redactions, "erasure"}})
    if (number > 0) text += ", " + counted(static_cast<std::size_t>(number), what);
  std::string out = paragraph("", printable(other) + ": " + text);
  if (merged.conflicts.empty()) return out;
  out += paragraph("", "These have other content than another of the same revision, and stand beside it until an "
                       "amendment decides (`steelyard show` names both):");
  for (const std::string& name : merged.conflicts) out += "  " + printable(name) + '\n';
  return out;
}

}  // namespace

About CommandMerge::about() const {
  return {"merge", "OTHER… [--store FILE] [--json]", "brings in what other stores hold",
          "Brings in sessions, readings, strikes, seals, attachments and notes of other stores; each all or nothing. "
          "Nothing is doubled and the order of merging does not matter. A session of which two stores hold different "
          "content is kept with both, side by side. Seals keep the chain in which they were set. A store that is "
          "damaged or does not verify is refused."};
}

void CommandMerge::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "answer in JSON, one line a store");
}

void CommandMerge::take(const std::vector<std::string>& words) {
  expect(words, 1, words.size());
  others_ = words;
}

Exit CommandMerge::run(Streams& streams) {
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  Exit exit = Exit::done;
  for (const std::string& other : others_) {
    try {
      const store::Merged merged = store.merge(other);
      if (json_.wanted())
        streams.out.line(as_json(other, merged));
      else
        streams.out.write(in_words(other, merged));
    } catch (const store::Refused& refused) {
      streams.err.say(refused.what());
      exit = Exit::refused;
    }
  }
  return exit;
}

}  // namespace steelyard::cli
