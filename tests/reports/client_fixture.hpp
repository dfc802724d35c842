// Hand-made sessions with findings and assessments, so that the report is tested without the engine.
//
// The figures are a hand calculation of the rig's statics (reconciliation model, section 3) with L = 3085 mm,
// o = 1190 mm, F = 1212 kg, R = 1590 kg, C = 171.42 kg, M = 1868.3 kg; the uncertainties are plausible, no
// more.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "rig/provider.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::test {

struct Case {
  rig::Session session;
  reconcile::Findings findings;
  assess::Assessment assessment;
  std::optional<rig::RecordNote> record = {};
  rig::Provider provider = {};
};

/// A utility and a tandem trailer in three states, every rating within but one too close to be sure.
Case whole_case();
/// The same over its rear axle's rating, with a suspect reading and a scale out of date.
Case over_case();
/// The same as the first, amended and sealed, with attachments; its scales were checked with known masses.
Case sealed_case();
/// Not sealed, and another copy with other content beside it.
Case conflict_case();
/// Trailer never weighed: quantities unknown, ratings not assessed.
Case incomplete_case();
/// A vehicle alone.
Case alone_case();
/// Every text hostile: formulas, markup, right-to-left, broken UTF-8, control characters, a name of a
/// megabyte.
Case hostile_case();
/// In pounds and inches.
Case pounds_case();

Case named_case(const std::string& name);

}  // namespace steelyard::test
