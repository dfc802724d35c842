// A sheet for others to look at, without who and where.
//
// Left out: client, place, technician, who struck, amended or read a plate, labels, registrations, VIN, serials,
// certificates, notes, and keys beginning x-. Replaced by pseudonyms: the session's id and every uid, the same one in
// every sheet made with one salt, so that the same scale or vehicle stays the same. Kept, although people could write
// names there: purpose, names of states and readings, reasons of strikes and amendments, sources of limits, what was
// fitted.
#pragma once

#include <string_view>

#include "rig/session.hpp"

namespace steelyard::sheet {

/// `salt` is drawn for each file and kept by nobody.
rig::Session anonymous(const rig::Session& session, std::string_view salt);

}  // namespace steelyard::sheet
