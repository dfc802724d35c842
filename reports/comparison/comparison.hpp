// A rig before and after a change, as a report: what is different, whether that is more than its uncertainty, what came of
// the ratings, what was not comparable.
//
// Units: the later sheet's own, or those asked for. Values before and after are each session's own, so they agree with its
// report; differences, their U and Eₙ are those of compare/comparison.hpp. Nothing else is computed here.
#pragma once

#include <string>

#include "compare/comparison.hpp"
#include "reports/document/document.hpp"
#include "reports/words/wording.hpp"
#include "reports/workbook/workbook.hpp"
#include "rig/provider.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

struct ComparisonOptions {
  std::string engine;
  std::string issued;  // YYYY-MM-DD, also the file's creation date
  std::string number;  // of the report
  rig::Provider provider = {};
  Reader reader = {};
};

/// What the report says, before any layout; holds nothing of what it was made from.
Report comparison_report(const rig::Session& before, const rig::Session& after, const compare::Comparison& comparison,
                         const ComparisonOptions& options);

}  // namespace steelyard::reports
