// What a scale may be out by: the accuracy classes of OIML R 76-1, and the trade's defaults where its sheet
// says no better.
//
// Source of the errors: OIML R 76-1:2006, Table 6 (maximum permissible errors on initial verification), twice
// that in service (3.5.2). Loads and divisions in one unit, whichever; the verification interval e is taken
// to be the division d.
#pragma once

#include "rig/session.hpp"

namespace steelyard::rig {

// Common practice, no source (reconciliation model, section 4).
inline constexpr double default_division_kg = 1;
inline constexpr double default_gain_u = 0.003;

/// The largest error in service at `load`, above 0; in the unit of `division`. A load beyond the table's last
/// step has the error of that step.
double largest_error_in_service(AccuracyClass of, double load, double division);

/// d in kg.
double division_or_default(const Scale& scale);
/// Standard deviation of repeated readings, kg; silent: d (common practice, no source).
double repeatability_or_default(const Scale& scale);

}  // namespace steelyard::rig
