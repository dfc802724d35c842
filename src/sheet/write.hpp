// The canonical sheet and how much of a session found its place in it.
#pragma once

#include <string>

#include "rig/session.hpp"

namespace steelyard::sheet {

struct Written {
  std::string text;
  std::size_t extras = 0;  // how many of the session's extras stand in the text
};

/// write() with that count; without the id where `with_id` is false, for deriving one.
Written write_canonical(const rig::Session& session, bool with_id);

}  // namespace steelyard::sheet
