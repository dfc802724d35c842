// From a JSON tree to a rig::Session: shapes, types, words and keys. Whether the values make sense is
// check.hpp's part.
#pragma once

#include "rig/session.hpp"
#include "sheet/fields.hpp"

namespace steelyard::sheet {

/// The session that the sheet describes, as far as it can be read; what cannot is added to `decoding.faults`.
rig::Session decode(json& sheet, Decoding& decoding);

/// Decodes, gives the readings their ids, checks, and derives the id that a sheet brings not; nothing where there are
/// faults. The tree is used up.
std::optional<rig::Session> read_tree(json& tree, Faults& faults);

// Its parts.
rig::Rig decode_rig(Fields& fields);
rig::State decode_state(Fields& fields);

}  // namespace steelyard::sheet
