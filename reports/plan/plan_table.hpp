// A plan for a terminal: what to weigh in which order, what it gives, and what was supposed.
//
// Lines of at most table_width columns, UTF-8, in the words and units of the reader, who without a choice has
// plain words and the sheet's own units; ± is U = 2u (about 95 %). Texts of
// the sheet are made printable. No errors; the same plan gives the same bytes.
#pragma once

#include <string>

#include "plan/plan.hpp"
#include "reports/words/wording.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

std::string plan_table(const rig::Session& sheet, const plan::Plan& plan, const Reader& reader = {});

}  // namespace steelyard::reports
