// That the client was shown the findings: who took them, kept with the session before it is sealed.
//
// It is an attachment of plain text, so that the seal covers it and erasing the session's identity erases the name.
// No signature and no consent: it says that the findings were handed over. Errors: those of the store.
#pragma once

#include <optional>
#include <string>

#include "store/store.hpp"

namespace steelyard::field {

struct Receipt {
  std::string receiver, at;
};

/// The last that is kept with the session; nothing where there is none, or where it was erased.
std::optional<Receipt> receipt_of(const store::Store& store, const std::string& session);

/// Kept once: the same receiver again adds nothing.
void attach_receipt(store::Store& store, const rig::Session& session, const std::string& receiver,
                    const std::string& handed_over_by, const std::string& at);

/// True where this receiver's is among what the standing revision holds.
bool has_receipt(const store::Store& store, const std::string& session, const std::string& receiver);

}  // namespace steelyard::field
