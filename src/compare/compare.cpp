#include "compare/compare.hpp"

#include "compare/parts.hpp"

namespace steelyard::compare {
namespace {

std::string in_words(const rig::TowVehicle& vehicle) {
  std::string out = vehicle.label.empty() ? "a tow vehicle" : "“" + vehicle.label + "”";
  std::string marks = vehicle.registration;
  if (!vehicle.uid.empty()) marks += (marks.empty() ? "uid " : ", uid ") + vehicle.uid;
  return marks.empty() ? out : out + " (" + marks + ')';
}

}  // namespace

Comparison compare(const Side& before, const Side& after) {
  Comparison out;
  out.tow_vehicle = same_tow_vehicle(before.session, after.session);
  if (out.tow_vehicle == Same::no)
    throw NotOneRig("these are two tow vehicles, " + in_words(before.session.rig.tow_vehicle) + " and " +
                    in_words(after.session.rig.tow_vehicle) +
                    ": compare sessions of one; if it is the same vehicle, amend one of the sheets so that "
                    "both have the same uid");
  out.session_before = before.session.id;
  out.session_after = after.session.id;
  out.revision_before = before.session.revision;
  out.revision_after = after.session.revision;
  out.trailer = same_trailer(before.session, after.session);
  out.states = match_states(before.session, after.session);
  out.common = common_errors(before, after, out.tow_vehicle, out.trailer);
  out.outcome_before = before.assessment.outcome;
  out.outcome_after = after.assessment.outcome;
  compare_quantities(before, after, out);
  compare_limits(before, after, out);
  check_fitted(before, after, out);
  list_unlike(before, after, out);
  return out;
}

}  // namespace steelyard::compare
