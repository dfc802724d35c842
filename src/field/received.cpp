#include "field/received.hpp"

#include <string_view>

namespace steelyard::field {
namespace {

constexpr const char* what = "receipt of the findings";
constexpr std::string_view received = "Received the findings: ", at_line = "\nAt: ";

/// A name is one line, whatever was sent.
std::string one_line(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < ' ') c = ' ';
  return text;
}

std::string first_line(const std::string& receiver) {
  return std::string(received) + one_line(receiver) + "\n";
}

std::string line_from(std::string_view text, std::size_t from) {
  return std::string(text.substr(from, text.find('\n', from) - from));
}

}  // namespace

std::optional<Receipt> receipt_of(const store::Store& store, const std::string& session) {
  std::optional<Receipt> last;
  for (const store::Attachment& one : store.attachments(session)) {
    if (one.what != what || !one.there) continue;
    const std::string text = store.attached_bytes(session, one.number);
    const auto at = text.find(at_line);
    if (text.starts_with(received) && at != text.npos)
      last = Receipt{line_from(text, received.size()), line_from(text, at + at_line.size())};
  }
  return last;
}

bool has_receipt(const store::Store& store, const std::string& session, const std::string& receiver) {
  for (const store::Attachment& one : store.attachments(session))
    if (one.what == what && one.there && store.attached_bytes(session, one.number).starts_with(first_line(receiver)))
      return true;
  return false;
}

void attach_receipt(store::Store& store, const rig::Session& session, const std::string& receiver,
                    const std::string& handed_over_by, const std::string& at) {
  if (has_receipt(store, session.id, receiver)) return;
  const std::string text = first_line(receiver) + "Handed over by: " + one_line(handed_over_by) + std::string(at_line) + at +
                           "\nSession: " + session.id + ", revision " + std::to_string(session.revision) + "\n";
  store::Attachment attachment;
  attachment.what = what;
  attachment.by = handed_over_by;
  store.attach(session.id, attachment, text);
}

}  // namespace steelyard::field
