// What every report puts into its cells: texts, and figures in the reader's units rounded to their uncertainty.
//
// Units in: those of Findings (kg, mm, kg/mm, kg·mm, kN, 1); out: the reader's. U = 2u is shown with two significant
// figures and the value to the same decimals (JCGM 100, 7.2.6). Nothing here throws for finite figures.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "reports/document/document.hpp"
#include "reports/words/figures.hpp"
#include "rig/provider.hpp"

namespace steelyard::reports {

Cell text(std::string words);
Cell figure(double value, double u, reconcile::Measure measure, const ShownUnits& shown, bool share = false);
/// U = 2u, shown with two significant figures; empty where there is no uncertainty (a D-value of ratings).
Cell expanded(double u, reconcile::Measure measure, const ShownUnits& shown, bool share = false);
/// A figure without an uncertainty of its own: a rating.
Cell bare(double value, reconcile::Measure measure, const ShownUnits& shown, bool share = false);
/// The same cell with its unit shown in it.
Cell with_unit(Cell cell, reconcile::Measure measure, const ShownUnits& shown);
/// A whole number: a count.
Cell count(std::size_t number);

/// A heading, and each text beneath it with a bullet.
void bullets(std::vector<Block>& blocks, std::string heading, const std::vector<std::string>& texts);

/// Who issues a report: name, number, address, contact; what is not given says so, but for the number.
std::vector<Fact> provider_facts(const rig::Provider& provider);

/// `text` cut for a line of a page, with a mark where it was.
std::string clipped(std::string_view text, std::size_t most = 160);
/// The words, or "not given".
std::string given(std::string_view text);
/// "survey utility 12 (TCW 012)", from what was given.
std::string vehicle_words(const std::string& label, const std::string& registration);
/// The calendar day (YYYY-MM-DD) of a time as written, or empty.
std::string day_of(std::string_view time);
/// "03 October 2026, 08:40 (UTC+02:00)"; a text of another form comes back as it is.
std::string time_words(std::string_view time);

}  // namespace steelyard::reports
