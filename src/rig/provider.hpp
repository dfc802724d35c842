// Who weighs and issues the reports, as its settings say. Plain texts, empty where not set; no errors.
#pragma once

#include <string>

namespace steelyard::rig {

struct Provider {
  std::string name, address, contact;  // contact: telephone, e-mail, as the provider writes it
  std::string identity;                // business or licence number, with what it is: "licence W-0417"
  bool operator==(const Provider&) const = default;
};

}  // namespace steelyard::rig
