// Sessions for a command, wherever they are: one in the store, one sheet file, a fleet file, or the whole
// store.
//
// Sheets are read and checked as an import would, but nothing is stored and no store is needed. A fleet file
// is streamed: one session in memory at a time, however long the file. Errors: what concerns the whole source
// throws (Refusal, store::Refused). A sheet of a fleet that has faults is told on standard error with its
// places, counted in `refused`, and the others go on.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "cli/output.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

/// Every fault of one sheet, a line each, with the file's name before it.
void say_faults(Messages& messages, const std::filesystem::path& file,
                const std::vector<sheet::Fault>& faults);

/// One session: a sheet's file name (.json) or what identifies a session in the store.
rig::Session one_session(Messages& messages, const std::string& word, const std::filesystem::path& store);

/// The same with its place in the record, which a sheet has not.
struct RecordedSession {
  rig::Session session;
  std::optional<rig::RecordNote> record = {};
};
RecordedSession one_recorded_session(Messages& messages, const std::string& word, const std::filesystem::path& store);

using Use = std::function<void(const rig::Session&)>;

/// Calls `use` for each sheet of a fleet file; gives how many were refused.
std::size_t each_of_fleet(Messages& messages, const std::filesystem::path& file, const Use& use);

}  // namespace steelyard::cli
