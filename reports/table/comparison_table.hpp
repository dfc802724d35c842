// Two weighings of one rig as a table for a terminal: before, after, the difference and whether it is more
// than its uncertainty.
//
// Lines of at most table_width columns, UTF-8, in the units of the later sheet; U = 2u (about 95 %). Whether a
// difference counts is said by a sign and a word. Texts of the sheets are made printable. No errors; the same
// input gives the same bytes.
#pragma once

#include <string>

#include "compare/comparison.hpp"

namespace steelyard::reports {

std::string comparison_table(const rig::Session& before, const rig::Session& after,
                             const compare::Comparison& comparison);

}  // namespace steelyard::reports
