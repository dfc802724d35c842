// What the page needs before a session is chosen: sessions to go on with, and what earlier visits know.
//
// The latest session of each rig, client, scale, place and technician counts; the two hundred latest sessions are looked
// at. Errors: those of the store.
#pragma once

#include <string>

#include "reports/words/wording.hpp"
#include "store/store.hpp"

namespace steelyard::field {

struct DeskFacts {
  std::string engine, store_name, now;
  reports::Region words = reports::Region::plain;        // what cautions and kinds of rating are said in
  reports::Region usual_words = reports::Region::plain;  // the store's own
  bool line = false;  // loads come off a line
};

std::string desk_json(const store::Store& store, const DeskFacts& facts);

}  // namespace steelyard::field
