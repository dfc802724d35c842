// Everything that could be weighed: the sheet's states and the usual ones that it lacks, every axle and
// support in them, and the scales under each. Internal to src/plan.
#pragma once

#include <string>
#include <vector>

#include "plan/supposed.hpp"
#include "rig/session.hpp"

namespace steelyard::plan {

enum class Unit { tow, nose, trailer };

/// What is set down in one go at least: both wheel ends of an axle (one of them alone tells neither the
/// axle's load nor its split), or the support under the nose.
struct Element {
  std::size_t state = 0;  // index into Candidates::base.states
  Unit unit = Unit::tow;
  std::vector<rig::Position> positions;
  std::vector<std::vector<std::string>> scales;  // one list a position; empty: none that is listed
};

struct Candidates {
  rig::Session base;              // every state, no readings
  std::vector<bool> added;        // a state: the sheet does not have it
  std::vector<Element> elements;  // in the order of weighing: state by state, from the front
};

/// How often each element is weighed: 0, 1 or 2.
using Selection = std::vector<int>;

/// The sheet without its readings, and with the usual states that it lacks.
void arrange(Candidates& candidates, const rig::Session& sheet);
/// Elements and scales; `arrange` first. No scale gets more than it carries.
void place(Candidates& candidates, const SupposedRig& rig);

/// One reading of a selection, in the order of weighing.
struct Taken {
  std::size_t element = 0, position = 0;
  int pass = 1, set_down = 1;
};
std::vector<Taken> in_order(const Candidates& candidates, const Selection& selection);

/// What a scale shows where `load` rests on it: its known gain error is in the figure (model, section 4).
double shown(const rig::Session& session, const std::vector<std::string>& scales, double load);

/// The session with the supposed loads as readings, the `first` of them in that order, and only the states
/// marked in `states`.
rig::Session weighed(const Candidates& candidates, const SupposedRig& rig, const std::vector<Taken>& order,
                     std::size_t first, const std::vector<bool>& states);
/// The states that a selection keeps: the sheet's and those of the added ones that are weighed.
std::vector<bool> states_of(const Candidates& candidates, const Selection& selection);

}  // namespace steelyard::plan
