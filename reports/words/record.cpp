#include "reports/words/record.hpp"

namespace steelyard::reports {
namespace {

/// ", by R. Okoye, 2026-10-03T06:40:00Z" from what there is.
void append_who_and_when(std::string& text, const std::string& by, const std::string& at, TimeWords when) {
  if (!by.empty()) text.append(text.empty() ? "by " : ", by ").append(by);
  if (!at.empty()) text.append(text.empty() ? "" : ", ").append(when ? when(at) : at);
}

std::string store_words(const std::string& origin) {
  return "store " + origin.substr(0, 8);
}

void add_amendment(std::vector<RecordLine>& lines, const rig::RecordNote& note, TimeWords when) {
  if (!note.replaces.empty()) lines.push_back({"replaces", note.replaces});
  std::string amended = note.why;
  append_who_and_when(amended, note.by, note.at, when);
  if (!amended.empty()) lines.push_back({"amended", amended});
}

void add_seal(std::vector<RecordLine>& lines, const rig::RecordNote& note, TimeWords when) {
  if (!note.sealed) {
    lines.push_back({"record", "not sealed: can still change"});
    return;
  }
  std::string text;
  append_who_and_when(text, note.sealed_by, note.sealed_at, when);
  text += std::string(text.empty() ? "" : "; ") + "seal " + std::to_string(note.seal_number);
  if (!note.seal_origin.empty()) text += " of " + store_words(note.seal_origin);
  lines.push_back({"sealed", text});
  lines.push_back({"seal", grouped_hash(note.seal_head)});
  lines.push_back({"content", grouped_hash(note.content_hash)});
}

void add_chain(std::vector<RecordLine>& lines, const rig::RecordNote& note) {
  if (note.chain_head.empty()) return;
  if (note.sealed && note.chain_head == note.seal_head) return;  // it stands there already
  lines.push_back(
      {"chain", "of " + store_words(note.chain_origin) + ", at seal " + std::to_string(note.chain_seals)});
  lines.push_back({"head", grouped_hash(note.chain_head)});
}

void add_attachments(std::vector<RecordLine>& lines, const rig::RecordNote& note, TimeWords when) {
  for (const rig::RecordAttachment& one : note.attachments) {
    std::string text = one.what;
    if (!one.belongs.empty()) text += (text.empty() ? "to " : ", to ") + one.belongs;
    append_who_and_when(text, one.by, one.at, when);
    if (!one.there) text += "; the file was erased";
    lines.push_back({"file", text});
    if (!one.sha256.empty()) lines.push_back({"sha256", grouped_hash(one.sha256)});
  }
}

}  // namespace

std::string grouped_hash(const std::string& hash) {
  if (hash.size() != 64) return hash;
  std::string out;
  for (std::size_t i = 0; i < hash.size(); i += 16) out.append(i == 0 ? "" : " ").append(hash, i, 16);
  return out;
}

std::string record_standing(const rig::RecordNote& note) {
  return note.sealed ? "sealed, seal " + std::to_string(note.seal_number) : std::string("not sealed");
}

std::vector<RecordLine> amendment_lines(const rig::Session& session, TimeWords when) {
  rig::RecordNote note;
  note.replaces = session.replaces;
  if (session.revised) {
    note.why = session.revised->why;
    note.by = session.revised->by;
    note.at = session.revised->at;
  }
  std::vector<RecordLine> lines;
  add_amendment(lines, note, when);
  return lines;
}

std::vector<RecordLine> record_lines(const rig::RecordNote& note, TimeWords when) {
  std::vector<RecordLine> lines;
  add_amendment(lines, note, when);
  if (!note.stands)
    lines.push_back({"replaced", "a later revision of this session stands in its place", true});
  for (const std::string& rival : note.rivals)
    lines.push_back(
        {"conflict", "another copy of this revision with other content is in the store: " + rival, true});
  add_seal(lines, note, when);
  if (!note.received_by.empty()) {
    std::string text = "the findings, by " + note.received_by;
    if (!note.received_at.empty()) text += ", " + (when ? when(note.received_at) : note.received_at);
    lines.push_back({"received", text});
  }
  if (note.redacted)
    lines.push_back({"redacted", "names and identities were erased; figures and seals stand"});
  add_chain(lines, note);
  add_attachments(lines, note, when);
  return lines;
}

}  // namespace steelyard::reports
