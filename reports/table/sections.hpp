// The parts of the readable result, each a text of whole lines; result_table puts them in order.
//
// Shapes: every function takes what it shows and gives UTF-8 lines of at most table_width columns, or nothing
// where there is nothing to say. Units: the reader's (Figures). Nothing is computed here beyond sums shown as
// such.
#pragma once

#include <string>

#include "assess/assessment.hpp"
#include "reconcile/findings.hpp"
#include "reconcile/monte_carlo.hpp"
#include "reports/table/figures.hpp"
#include "reports/words/wording.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// What a section needs; all outlive the section.
struct Subject {
  const rig::Session& session;
  const reconcile::Findings& findings;
  const assess::Assessment& assessment;
  Figures figures;
  Wording wording;
  const reconcile::MonteCarlo* monte_carlo = nullptr;  // where it was asked for
};

std::string loads_section(const Subject& subject);       // axles and wheels × states
std::string quantities_section(const Subject& subject);  // coupling load, ratios, masses

std::string limits_section(const Subject& subject);        // ratings, nearest first, and the governing link
std::string advice_section(const Subject& subject);        // guidance, apart from ratings
std::string not_assessed_section(const Subject& subject);  // with reasons

std::string suspicion_section(const Subject& subject);  // what does not fit, why, what to weigh; else nothing
std::string trust_section(const Subject& subject);      // do the readings agree, readings set aside
std::string scales_section(const Subject& subject);     // scales out of date, off zero or showing wrong; else nothing
std::string statistics_section(const Subject& subject);  // the tests in figures, every observation
std::string unknown_section(const Subject& subject);     // what could not be determined, and what to weigh
std::string cross_checks_section(const Subject& subject);  // what people check with a pencil
std::string monte_carlo_section(const Subject& subject);   // the uncertainties held against trials

}  // namespace steelyard::reports
