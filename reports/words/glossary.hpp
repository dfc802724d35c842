// A glossary of one region's words: what each stands for, what it means, and its canonical name in JSON.
//
// Meanings are the project's own and use the region's words themselves. In plain words the terms are the
// plain ones. Source of the terms: the trade's table of words by region. No units, no errors.
#pragma once

#include <string>
#include <vector>

#include "reports/words/region.hpp"

namespace steelyard::reports {

struct GlossaryEntry {
  std::string term;        // "GVWR"
  std::string stands_for;  // "gross vehicle weight rating"; empty where the term says it itself
  std::string meaning;     // a sentence or two
  std::string canonical;   // "tow_gross": its name in sheets and results; empty where it has none there
};

std::vector<GlossaryEntry> glossary(Region region);

}  // namespace steelyard::reports
