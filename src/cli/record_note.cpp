#include "cli/record_note.hpp"

#include "field/received.hpp"

namespace steelyard::cli {
namespace {

std::string belongs(const store::Attachment& one) {
  if (one.limit) return "limit " + std::to_string(*one.limit);
  if (!one.reading.empty()) return "reading " + one.reading;
  return {};
}

}  // namespace

rig::RecordNote record_note(const store::Store& store, const std::string& session) {
  const store::Record record = store.record_of(session);
  rig::RecordNote note;
  note.name = record.name;
  note.revision = record.revision;
  note.replaces = record.replaces;
  note.why = record.why;
  note.by = record.by;
  note.at = record.at;
  note.stands = record.stands;
  note.content_hash = record.content_hash;
  if (record.seal) {
    note.sealed = true;
    note.content_hash = record.seal->content_hash;
    note.seal_head = record.seal->head;
    note.sealed_by = record.seal->by;
    note.sealed_at = record.seal->at;
    note.seal_origin = record.seal->origin;
    note.seal_number = record.seal->number;
  }
  note.chain_origin = record.chain.origin;
  note.chain_head = record.chain.head;
  note.chain_seals = record.chain.seals;
  note.rivals = record.rivals;
  note.redacted = record.redacted;
  for (const store::Attachment& one : store.attachments(record.name))
    note.attachments.push_back({one.what, belongs(one), one.sha256, one.by, one.at, one.there});
  if (const auto receipt = field::receipt_of(store, record.name)) {
    note.received_by = receipt->receiver;
    note.received_at = receipt->at;
  }
  return note;
}

}  // namespace steelyard::cli
