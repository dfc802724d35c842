#include "cli/record_text.hpp"

#include "reports/words/terminal_text.hpp"

namespace steelyard::cli {
namespace {

using reports::paragraph;
using reports::printable;

constexpr std::string_view inner = "      ";

std::optional<std::string> maybe(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

std::string sealed_words(const store::Record& record) {
  if (!record.seal) return "not sealed: readings and strikes can still be added";
  const store::Seal& seal = *record.seal;
  const bool here = seal.origin == record.chain.origin;
  return "sealed " + seal.at + " by " + printable(seal.by) + ", seal " + std::to_string(seal.number) +
         (here ? " of this store" : " of store " + seal.origin.substr(0, 8));
}

std::string revision_lines(const store::Record& record) {
  std::string head = "  @" + std::to_string(record.revision);
  head += record.stands ? "  " : "  replaced; ";
  std::string out = paragraph(head, sealed_words(record));
  out += std::string(inner) + "content " + record.content_hash + '\n';
  if (!record.why.empty() || !record.by.empty() || !record.at.empty()) {
    std::string amended = "amended";
    if (!record.at.empty()) amended += ' ' + record.at;
    if (!record.by.empty()) amended += " by " + printable(record.by);
    if (!record.why.empty()) amended += ": " + printable(record.why);
    out += paragraph(inner, amended);
  }
  if (!record.replaces.empty()) out += paragraph(inner, "replaces " + printable(record.replaces));
  if (record.redacted) out += paragraph(inner, "its identity was erased");
  for (const std::string& rival : record.rivals)
    out += paragraph(inner, "beside " + printable(rival) + ", which has other content; an amendment decides");
  return out;
}

}  // namespace

std::string counted(std::size_t number, std::string_view what) {
  return std::to_string(number) + ' ' + std::string(what) + (number == 1 ? "" : "s");
}

std::string record_section(const std::vector<store::Record>& revisions) {
  std::string out = "Record\n";
  for (const store::Record& record : revisions) out += revision_lines(record);
  if (!revisions.empty() && revisions.front().chain.seals > 0) {
    const store::Chain& chain = revisions.front().chain;
    out += "  " + counted(static_cast<std::size_t>(chain.seals), "seal") + " of this store; head of the chain\n";
    out += std::string(inner) + chain.head + '\n';
  }
  return out;
}

void write_record(reports::JsonText& out, const store::Record& record) {
  out.begin_object().field("session", record.id).field("revision", record.revision).field("name", record.name);
  out.field("stands", record.stands).field("content_hash", record.content_hash);
  out.key("seal");
  if (record.seal) {
    const store::Seal& seal = *record.seal;
    out.begin_object().field("head", seal.head).field("origin", seal.origin);
    out.field("number", seal.number).field("by", seal.by).field("at", seal.at);
    out.field("result_hash", maybe(seal.result_hash)).end_object();
  } else {
    out.null();
  }
  out.field("replaces", maybe(record.replaces)).field("why", maybe(record.why)).field("by", maybe(record.by));
  out.field("at", maybe(record.at)).field("redacted", record.redacted);
  out.key("rivals").begin_array();
  for (const std::string& rival : record.rivals) out.value(rival);
  out.end_array().end_object();
}

void write_chain(reports::JsonText& out, const store::Chain& chain) {
  out.begin_object().field("origin", chain.origin).field("own", chain.own);
  out.field("seals", chain.seals).field("head", maybe(chain.head)).end_object();
}

std::string head_to_keep(const store::Chain& chain) {
  if (chain.head.empty()) return "nothing is sealed in this store yet\n";
  return "head of the chain, seal " + std::to_string(chain.seals) + " of store " + chain.origin.substr(0, 8) + ":\n  " +
         chain.head + '\n' +
         paragraph("", "Keep this head outside the store: on paper, in an e-mail, in the client's report. "
                       "`steelyard verify --head` holds the store against it, and nothing else can tell an old copy "
                       "or a chain written anew.");
}

std::string who(std::string_view given, const rig::Session& session) {
  return given.empty() ? session.weighed.technician : std::string(given);
}

std::string nobody(const rig::Session& session) {
  return "session " + session.id + ": its sheet names no technician; say who with --by NAME";
}

}  // namespace steelyard::cli
