#include "field/received.hpp"

namespace steelyard::field {
namespace {

constexpr const char* what = "receipt of the findings";

std::string first_line(const std::string& receiver) {
  return "Received the findings: " + receiver + "\n";
}

}  // namespace

bool has_receipt(const store::Store& store, const std::string& session, const std::string& receiver) {
  for (const store::Attachment& one : store.attachments(session))
    if (one.what == what && one.there && store.attached_bytes(session, one.number).starts_with(first_line(receiver)))
      return true;
  return false;
}

void attach_receipt(store::Store& store, const rig::Session& session, const std::string& receiver,
                    const std::string& handed_over_by, const std::string& at) {
  if (has_receipt(store, session.id, receiver)) return;
  const std::string text = first_line(receiver) + "Handed over by: " + handed_over_by + "\nAt: " + at +
                           "\nSession: " + session.id + ", revision " + std::to_string(session.revision) + "\n";
  store::Attachment attachment;
  attachment.what = what;
  attachment.by = handed_over_by;
  store.attach(session.id, attachment, text);
}

}  // namespace steelyard::field
