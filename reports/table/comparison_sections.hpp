// The parts of the comparison's table; comparison_table puts them in order. Each gives whole lines, or nothing
// where there is nothing to say. Units: the reader's (Figures).
#pragma once

#include <string>

#include "compare/comparison.hpp"
#include "reports/table/figures.hpp"

namespace steelyard::reports {

/// What a section needs; all outlive the section.
struct ComparisonSubject {
  const rig::Session& before;
  const rig::Session& after;
  const compare::Comparison& all;
  Figures figures;
};

/// "≠ changed", "≈ not sure"; nothing where there is no Eₙ.
std::string significance_words(const compare::Difference& difference);
/// "+17.6 ± 4.1", without its unit.
std::string signed_difference(const Figures& figures, const compare::Difference& difference,
                              reconcile::Measure measure, bool percent = false);

std::string differing_limits_section(const ComparisonSubject& subject);
std::string fitted_section(const ComparisonSubject& subject);
std::string unlike_section(const ComparisonSubject& subject);
std::string one_sided_section(const ComparisonSubject& subject);  // no value before, or none after
std::string common_section(const ComparisonSubject& subject);     // how U came about

}  // namespace steelyard::reports
