#include "cli/command_glossary.hpp"

#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/glossary.hpp"

namespace steelyard::cli {
namespace {

std::string in_json(reports::Region region) {
  reports::JsonText out;
  out.begin_object()
      .field("words", reports::region_code(region))
      .field("region", reports::region_title(region));
  out.key("entries").begin_array();
  const auto or_null = [](const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(text);
  };
  for (const reports::GlossaryEntry& entry : reports::glossary(region)) {
    out.begin_object().field("term", entry.term).field("stands_for", or_null(entry.stands_for));
    out.field("meaning", entry.meaning).field("canonical", or_null(entry.canonical)).end_object();
  }
  return out.end_array().end_object().text();
}

std::string in_lines(reports::Region region) {
  std::string out = "Words: " + std::string(reports::region_title(region)) + '\n';
  for (const reports::GlossaryEntry& entry : reports::glossary(region)) {
    const std::string stands = entry.stands_for.empty() ? "" : ": " + entry.stands_for;
    out += '\n' + reports::paragraph("", entry.term + stands) + reports::paragraph("  ", entry.meaning);
    if (!entry.canonical.empty()) out += reports::paragraph("  in sheets and JSON: ", entry.canonical);
  }
  return out;
}

}  // namespace

About CommandGlossary::about() const {
  return {"glossary", "[--words au|uk|us|za] [--json]",
          "the trade's words, a region's at a time, and what they mean",
          "Every word that a table or a workbook uses for a rating, a load or a part of the rig, what it "
          "means, and "
          "its name in sheets and JSON, which is the same everywhere. Without --words the plain words."};
}

void CommandGlossary::describe(boost::program_options::options_description& options) {
  words_.describe(options);
  json_.describe(options, "the glossary in JSON");
}

void CommandGlossary::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
}

Exit CommandGlossary::run(Streams& streams) {
  const reports::Region region = words_.region().value_or(reports::Region::plain);
  if (json_.wanted())
    streams.out.line(in_json(region));
  else
    streams.out.write(in_lines(region));
  return Exit::done;
}

}  // namespace steelyard::cli
