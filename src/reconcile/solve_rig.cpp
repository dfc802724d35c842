#include "reconcile/solve_rig.hpp"

#include <algorithm>

namespace steelyard::reconcile {
namespace {

constexpr double usual_overhang = 1200;  // mm, held where there is no tape (model, section 5)

/// The unknowns of one layout carried to another of the same session; the lever is turned from o into T or back.
adjust::Vector carry(const Layout& from, const adjust::Vector& z, const Layout& to) {
  adjust::Vector out(to.count);
  const auto skips = [](const Layout& layout, Index i) { return layout.lever && i > *layout.lever ? 1 : 0; };
  const Index before = *to.coupling;  // the lever's place is right behind C in every layout that has one
  for (Index i = 0; i <= before; ++i) out[i] = z[i];
  const Index rest = from.count - (from.lever ? 1 : 0);
  for (Index i = before + 1; i < rest; ++i)
    out[i + skips(to, before + 2)] = z[i + skips(from, before + 2)];
  if (to.lever) {
    const double load = z[*from.coupling];
    const double o = from.lever_kind == Lever::held       ? from.held_overhang
                     : from.lever_kind == Lever::overhang ? z[*from.lever]
                                                          : z[*from.lever] / (load == 0 ? 1 : load);
    out[*to.lever] = to.lever_kind == Lever::overhang ? o : o * load;
  }
  return out;
}

/// Lengths that nobody measured kept where they are supposed to be, so that no blunder can be explained by them.
void hold_lengths(std::vector<Observation>& observed) {
  constexpr double measured_u = 10;  // mm
  for (Observation& o : observed)
    if (o.kind == ObservationKind::coupling_to_axles || o.kind == ObservationKind::coupling_to_jockey)
      o.u = std::min(o.u, measured_u);
}

std::unique_ptr<SolvedRig> attempt(const rig::Session& session, Lever lever, double held, bool tape,
                                   const SolvedRig* near, bool bounded = true, bool lengths_held = false) {
  auto solved = std::make_unique<SolvedRig>();
  solved->layout = std::make_unique<Layout>(session, lever, held);
  solved->observed = observe(*solved->layout, tape);
  solved->lengths_held = lengths_held;
  if (lengths_held) hold_lengths(solved->observed);
  const auto m = static_cast<Index>(solved->observed.size());
  adjust::Observed observed{adjust::Vector(m), adjust::Vector(m), std::nullopt};
  for (Index i = 0; i < m; ++i) {
    observed.value[i] = solved->observed[static_cast<std::size_t>(i)].value;
    observed.u[i] = solved->observed[static_cast<std::size_t>(i)].u;
  }
  const RigModel model(*solved->layout, solved->observed, bounded);
  const adjust::Vector start =
      near ? carry(*near->layout, near->solution.unknowns, *solved->layout) : first_guess(*solved->layout);
  solved->solution = adjust::solve(model, observed, start, solved->layout->scale());
  if (!solved->solution.converged && lengths_held)
    solved->solution = adjust::solve(model, observed, usual_guess(*solved->layout), solved->layout->scale());
  if (!solved->solution.converged) return nullptr;
  solved->iterations = solved->solution.iterations;
  return solved;
}

}  // namespace

std::unique_ptr<SolvedRig> solve_rig(const rig::Session& session, bool tape, const SolvedRig* near) {
  const auto& taped = session.rig.tow_vehicle.overhang;
  const double held = taped ? taped->value.mm().value() : usual_overhang;
  const bool coupled = session.rig.trailer && !session.rig.trailer->self_supporting;
  if (!coupled) return attempt(session, Lever::overhang, held, tape, nullptr);
  if (taped && tape)
    if (auto solved = attempt(session, Lever::overhang, held, true, near)) return solved;
  if (auto solved = attempt(session, Lever::moment, held, tape, near)) return solved;
  if (near)
    if (auto solved = attempt(session, Lever::moment, held, tape, nullptr)) return solved;
  if (auto fixed = attempt(session, Lever::held, held, tape, nullptr)) {
    if (auto solved = attempt(session, Lever::moment, held, tape, fixed.get())) return solved;
    return fixed;
  }
  // A blunder may fit best with lengths that no rig has; that is better said than not solved.
  if (auto solved = attempt(session, Lever::moment, held, tape, nullptr, false)) return solved;
  if (auto solved = attempt(session, Lever::held, held, tape, nullptr, false)) return solved;
  if (auto solved = attempt(session, Lever::held, held, tape, nullptr, true, true)) return solved;
  return attempt(session, Lever::held, held, tape, nullptr, false, true);
}

std::unique_ptr<WholeSolution> solve_whole(const rig::Session& session) {
  auto whole = std::make_unique<WholeSolution>();
  whole->everything = solve_rig(session, true);
  if (!whole->everything) return nullptr;
  const SolvedRig& main = *whole->everything;
  const bool taped = main.layout->coupled && session.rig.tow_vehicle.overhang;
  if (taped) whole->weights_only = solve_rig(session, false, &main);
  const SolvedRig* weights = taped ? whole->weights_only.get() : &main;
  whole->derived = derive(*main.layout, main.observed, main.solution, main.lengths_held, weights ? *weights->layout : *main.layout,
                          weights ? &weights->solution : nullptr);
  return whole;
}

}  // namespace steelyard::reconcile
