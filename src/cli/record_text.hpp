// How commands speak of the record: revisions, seals and chains, in words and in JSON. No errors.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/command.hpp"
#include "reports/result/json_text.hpp"
#include "rig/session.hpp"
#include "store/records.hpp"

namespace steelyard::cli {

/// "1 session", "2 sessions".
std::string counted(std::size_t number, std::string_view what);

/// Revisions of one session, the first first, and the chain's head: what `show` says below the sheet.
std::string record_section(const std::vector<store::Record>& revisions);

/// One revision as a JSON value.
void write_record(reports::JsonText& out, const store::Record& record);

/// A chain as a JSON value: origin, own, seals, head (null where nothing is sealed).
void write_chain(reports::JsonText& out, const store::Chain& chain);

/// The head in full, and why to keep it outside; a line that nothing is sealed yet where that is so.
std::string head_to_keep(const store::Chain& chain);

/// Who does something: `given`, else who the sheet says weighed; empty where neither is known.
std::string who(std::string_view given, const rig::Session& session);

/// What a refusal says where who() is empty.
std::string nobody(const rig::Session& session);

}  // namespace steelyard::cli
