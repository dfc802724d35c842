// Who weighs: the business or person that a report names as its provider, as plain values for reports.
//
// Every text is as the provider wrote it and may be empty; whoever shows it makes it fit to be shown. Nothing is
// checked here: that an identity is a real business or licence number is the provider's own word. No units, no errors.
#pragma once

#include <string>

namespace steelyard::rig {

struct Provider {
  std::string name = {};
  std::string address = {};
  std::string contact = {};   // telephone, e-mail, as it is to be read by the client
  std::string identity = {};  // business or licence number

  [[nodiscard]] bool given() const {
    return !name.empty() || !address.empty() || !contact.empty() || !identity.empty();
  }
  bool operator==(const Provider&) const = default;
};

}  // namespace steelyard::rig
