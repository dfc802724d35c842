#include "issued/issued.hpp"

#include "issued/compare.hpp"
#include "reconcile/reconcile.hpp"

namespace steelyard::issued {
namespace {

constexpr double tolerance = 1e-9;

}  // namespace

Issue issue(const Solved& solved) {
  return {engine_version(), build_of_this_program(), solved.json(), {}};
}

Issue issue(const rig::Session& session) {
  try {
    return issue(solve(session));
  } catch (const reconcile::NotSolved& error) {
    return {engine_version(), build_of_this_program(), {}, error.what()};
  }
}

Recomputed recompute(const rig::Session& session, std::string_view engine, std::string_view build,
                     std::string_view result) {
  const Issue now = issue(session);
  Recomputed out;
  const bool same = engine == now.engine && build == now.build;
  if (engine != now.engine)
    out.notices.push_back("issued with version " + std::string(engine) + ", computed anew with " + now.engine);
  else if (!same)
    out.notices.push_back("issued with another build (" + std::string(build) + "), computed anew with this one (" +
                          now.build + ")");
  if (now.result.empty()) {
    out.agreement = Agreement::not_solvable;
    out.differing = 1;
    out.differences.push_back(now.not_solved);
    return out;
  }
  if (now.result == result) return out;
  const Differences found = compare(result, now.result, same ? 0 : tolerance, engine == now.engine ? "" : "engine");
  out.agreement = found.count > 0 ? Agreement::differs : same ? Agreement::exactly : Agreement::to_tolerance;
  out.differences = found.first;
  out.differing = found.count;
  for (const std::string& added : found.added) out.notices.push_back("this version adds " + added);
  return out;
}

}  // namespace steelyard::issued
