// The result of one reconciliation as a table for a terminal, and a session as a table.
//
// Lines of at most table_width columns, UTF-8, in the words and units of the reader, who without a choice has
// plain words and the sheet's own units; U = 2u (about 95 %). Names and texts
// of the sheet are made printable, so that hostile text stays text. No errors; the same input gives the same
// bytes. Where a record is given its place is printed with the session; nothing where it is not.
#pragma once

#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "reports/words/wording.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// What does not fit and what to weigh for it, what rests where, the rig's figures, ratings nearest first,
/// advice, what is missing, trust, cross-checks, cautions; the trials of a Monte Carlo where there are any, and
/// with `detail` the statistics behind it all.
std::string result_table(const rig::Session& session, const reconcile::Findings& findings,
                         const assess::Assessment& assessment,
                         const reconcile::MonteCarlo* monte_carlo = nullptr, bool detail = false,
                         const rig::RecordNote* record = nullptr, const Reader& reader = {});

/// What one more reading changes: outcome, what does not fit, the rig's figures, ratings nearest first, trust.
std::string result_summary(const rig::Session& session, const reconcile::Findings& findings,
                           const assess::Assessment& assessment, const Reader& reader = {});

/// What the sheet says: who, where, the rig, its scales, limits and every reading as it was entered.
std::string session_table(const rig::Session& session, const rig::RecordNote* record = nullptr,
                          const Reader& reader = {});

/// Who, what, when: the lines that head both tables.
std::string session_heading(const rig::Session& session, const rig::RecordNote* record = nullptr);

/// A vehicle's label and registration in one phrase; both may be missing.
std::string vehicle_in_words(const std::string& label, const std::string& registration);

}  // namespace steelyard::reports
