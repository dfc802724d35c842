// The sheets of a comparison, one function a sheet; what they share. Inside reports/comparison only.
#pragma once

#include <optional>
#include <string>

#include "reports/comparison/comparison.hpp"
#include "reports/document/cells.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports::comparison {

struct Source {
  const rig::Session& before;
  const rig::Session& after;
  const compare::Comparison& all;
  const ComparisonOptions& options;
  Wording wording;
};

SheetContent summary(const Source& source);
SheetContent quantities(const Source& source);
SheetContent limits(const Source& source);
SheetContent conditions(const Source& source);  // fitted, not comparable, known on one side only
SheetContent method(const Source& source);

/// "≠ changed", "≈ not sure", or nothing where the two are one.
std::string verdict_words(const compare::Difference& difference);
/// "Rear axle, hitched", with its place and state where it has them.
std::string compared_words(const Source& source, const compare::Compared& row, bool with_state);
/// Before, after, difference, its U, Eₙ and the verdict, as cells.
TableRow compared_row(const Source& source, const compare::Compared& row, bool with_state);
std::vector<Column> compared_columns(std::string first, int span = 1);
std::string outcome_change(const compare::Comparison& all);

}  // namespace steelyard::reports::comparison
