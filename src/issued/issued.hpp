// The figures that go out with a seal, and computing them anew years later.
//
// A result is the text of steelyard-result/1, byte for byte what `reconcile --json` prints; loads in kg, lengths in mm.
// The same engine and build give the same bytes. Another version or build has to give the same figures to 1e-9: two
// numbers agree where they differ by no more than 1e-9 times the largest of 1 (in the field's own unit), either number,
// and either u that stands beside them in the same object. 1 and u are there because a figure near zero is a difference
// of large ones and has their rounding. Everything else, texts, true and false, null and what there is how many of, has
// to be equal. Errors: none of a session; a session without a solution is an answer.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "issued/solve.hpp"
#include "rig/session.hpp"

namespace steelyard::issued {

/// What the digits depend on besides the version: compiler, its flags, architecture, libraries, and a fingerprint of
/// what this machine's mathematical functions give, since the C library chooses them by the processor.
const std::string& build_of_this_program();

struct Issue {
  std::string engine, build;
  std::string result;      // empty where there is no solution
  std::string not_solved;  // the reason then; empty otherwise
};

Issue issue(const rig::Session& session);
Issue issue(const Solved& solved);

enum class Agreement {
  exactly,
  to_tolerance,  // another version or build; as above
  differs,
  not_solvable,  // there was a result, and now there is none
};

struct Recomputed {
  Agreement agreement = Agreement::exactly;
  std::vector<std::string> differences;  // the first few: "quantities[3].value (coupling_load): was 171, is 172.5"
  std::size_t differing = 0;             // how many there are
  std::vector<std::string> notices;      // another version or build; what a newer version adds
};

/// Solves the session and holds it against a result that was issued with `engine` and `build`. `result` is not empty.
Recomputed recompute(const rig::Session& session, std::string_view engine, std::string_view build,
                     std::string_view result);

}  // namespace steelyard::issued
