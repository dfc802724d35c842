// A revision's place in the record, in words: what it replaces and why, who sealed it, or that it can still
// change.
//
// Texts hold names from the sheet and the store as they came; whoever shows them makes them harmless for the
// terminal or the workbook. Nothing is computed here. Heads and hashes are shown in full, in four groups of
// sixteen digits: what is on paper years later has to be enough to hold a store against.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

struct RecordLine {
  std::string label, text;  // "sealed", "by R. Okoye, …"; the label is one word in small letters
  bool warning = false;     // of two copies that contradict each other, of a revision that was replaced
};

/// How a report writes a time.
using TimeWords = std::string (*)(std::string_view time);

/// Everything, in the order in which it is asked for; `when` nothing: times as they were written.
std::vector<RecordLine> record_lines(const rig::RecordNote& note, TimeWords when = nullptr);

/// What the sheet itself says of an amendment: what it replaces, why, by whom and when.
std::vector<RecordLine> amendment_lines(const rig::Session& session, TimeWords when = nullptr);

/// "sealed, seal 3" or "not sealed": short enough for the head of every page.
std::string record_standing(const rig::RecordNote& note);

/// "0123456789abcdef 0123456789abcdef …"; what has not 64 characters comes back as it is.
std::string grouped_hash(const std::string& hash);

}  // namespace steelyard::reports
