// Overload bands as CSV, the form in which a store keeps them and a person writes them.
//
// Columns: band, from_percent (of the rating, 100 or more; empty: 100), from_over (above the rating; empty: 0), unit (kg or
// lb, of from_over; empty: kg), source, edition, jurisdiction (each said in one row at least, and alike in all that say it).
// A row a band, the lowest first; a band begins at the higher of the two. Errors: none thrown; `fault` says what is wrong.
#pragma once

#include <string>
#include <string_view>

#include "assess/overload_bands.hpp"

namespace steelyard::cli {

struct ReadBands {
  assess::OverloadBands bands;
  std::string fault;  // empty where nothing is wrong
};

ReadBands read_bands(std::string_view csv);

}  // namespace steelyard::cli
