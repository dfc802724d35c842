// What was typed on the page, as the session it would make: the same words, rules and faults as a sheet's.
//
// A body is JSON; what it adds is put into the session's own sheet and the whole is read as an import would read it.
// Units: the session's. Errors: faults, each with its place in what was sent ("load", "coupling_height.value"); nothing
// throws for a bad body.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::field {

struct Entry {
  std::optional<rig::Session> session;  // present exactly when there are no faults
  std::vector<sheet::Fault> faults;
};

/// {"state", "id", "at", "load", "unit"?, "scale"?, "raised"?, "taken_at"?}. A reading that the session has under this id
/// already is put aside first, so that the same entry can be read twice.
Entry with_reading(const rig::Session& session, std::string_view body);
/// A state as in the sheet. One that the session has under this name already is put aside likewise.
Entry with_state(const rig::Session& session, std::string_view body);
/// {"scales": […], "limits": […], "modifications": […], "check_weights": {"P1": [{"mass", "load", "taken_at"}]}},
/// appended; a scale whose id is there takes its place, what else is there just so is left out, so that the same can be
/// read twice.
Entry with_additions(const rig::Session& session, std::string_view body);
/// {"zero_after": {"P1": 1}, "states": {"apart": {"coupling_height": …, "slope": …, "ride_heights": …}}}.
Entry with_completions(const rig::Session& session, std::string_view body);

/// A body that is one JSON object; else nothing and the reason.
std::optional<nlohmann::json> object_of(std::string_view body, std::vector<sheet::Fault>& faults);
/// The text under a key; empty where there is none.
std::string text_in(const nlohmann::json& object, const char* key);
/// The same straight from a body; empty where that is no JSON object.
std::string text_in_body(std::string_view body, const char* key);

}  // namespace steelyard::field
