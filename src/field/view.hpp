// What the page shows of one session, as JSON: what was read, what it means so far, what to read next.
//
// The page computes nothing: figures come rounded to their uncertainty and in the reader's units and words, beside the
// canonical names by which the page acts (positions, ids of readings, states). Entries are in the session's own units.
// The members are listed in src/field/README.md. Texts hold names as people typed them; whoever shows them sets them as
// text. No errors.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "issued/solve.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/wording.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::field {

struct Seen {
  const rig::Session& session;
  const issued::Solved* solved = nullptr;  // nothing: not solved
  std::string why_not;                     // then: the reason; empty before the first reading
  std::optional<rig::RecordNote> sealed;   // the seal it carries
  std::int64_t version = 0;
};

std::string view_json(const Seen& seen, const reports::Reader& reader);

/// "survey utility 12 with pump trailer 3".
std::string rig_title(const std::string& tow, const std::optional<std::string>& trailer);
std::string rig_title(const rig::Rig& rig);

/// Its part: verdict, trust, suspects, loads, margins, what is open; null before the first reading.
void write_found(reports::JsonText& out, const Seen& seen, const reports::Wording& wording);

}  // namespace steelyard::field
