#include "reconcile/solve_rig.hpp"

#include <algorithm>
#include <array>

namespace steelyard::reconcile {
namespace {

constexpr double usual_overhang = 1200;  // mm, held where there is no tape (model, section 5)

/// The unknowns of one layout carried to another of the same session; the lever is turned from o into T or
/// back.
adjust::Vector carry(const Layout& from, const adjust::Vector& z, const Layout& to) {
  adjust::Vector out(to.count);
  const auto skips = [](const Layout& layout, Index i) { return layout.lever && i > *layout.lever ? 1 : 0; };
  const Index before = *to.coupling;  // the lever's place is right behind C in every layout that has one
  for (Index i = 0; i <= before; ++i) out[i] = z[i];
  const Index rest = from.count - (from.lever ? 1 : 0);
  for (Index i = before + 1; i < rest; ++i) out[i + skips(to, before + 2)] = z[i + skips(from, before + 2)];
  if (to.lever) {
    const double load = z[*from.coupling];
    const double o = from.lever_kind == Lever::held       ? from.held_overhang
                     : from.lever_kind == Lever::overhang ? z[*from.lever]
                                                          : z[*from.lever] / (load == 0 ? 1 : load);
    out[*to.lever] = to.lever_kind == Lever::overhang ? o : o * load;
  }
  return out;
}

/// Lengths that nobody measured kept where they are supposed to be, and scales true, so that no blunder can
/// be explained by them: what is left is nearly linear.
void hold_lengths(std::vector<Observation>& observed) {
  constexpr double measured_u = 10;  // mm
  constexpr double true_scale_u = 1e-4;
  for (Observation& o : observed) {
    if (o.kind == ObservationKind::gain) o.u = std::min(o.u, true_scale_u);
    if (o.kind == ObservationKind::coupling_to_axles || o.kind == ObservationKind::coupling_to_jockey)
      o.u = std::min(o.u, measured_u);
  }
}

struct Attempt {
  Lever lever = Lever::moment;
  bool bounded = true;        // lengths and gains must stay as a rig and its scales can have them
  bool lengths_held = false;  // see hold_lengths
};

/// Tries one way to solve a session from several starts.
class Attempts {
 public:
  Attempts(const rig::Session& session, bool tape)
      : session_(session),
        tape_(tape),
        taped_(session.rig.tow_vehicle.overhang.has_value()),
        held_(taped_ ? session.rig.tow_vehicle.overhang->value.mm().value() : usual_overhang) {}

  /// From `near` where there is one, else from the readings, else from a rig of usual size.
  std::unique_ptr<SolvedRig> from_anywhere(const Attempt& how, const SolvedRig* near = nullptr) const {
    if (near)
      if (auto solved =
              run(how, [&](const Layout& to) { return carry(*near->layout, near->solution.unknowns, to); }))
        return solved;
    if (auto solved = run(how, first_guess)) return solved;
    return run(how, usual_guess);
  }

  std::unique_ptr<SolvedRig> from(const Attempt& how, const SolvedRig& near) const {
    return run(how, [&](const Layout& to) { return carry(*near.layout, near.solution.unknowns, to); });
  }

  std::unique_ptr<SolvedRig> quickly(const Attempt& how) const {
    return run(how, first_guess, near_options());
  }

  std::unique_ptr<SolvedRig> with_free_overhang(bool bounded, const SolvedRig* near) const {
    if (taped_ && tape_)
      if (auto solved = from_anywhere({Lever::overhang, bounded}, near)) return solved;
    return from_anywhere({Lever::moment, bounded}, near);
  }

  std::unique_ptr<SolvedRig> with_held_overhang(bool bounded, bool lengths_held) const {
    auto fixed = from_anywhere({Lever::held, bounded, lengths_held});
    if (!fixed || lengths_held) return fixed;
    if (auto solved = from({Lever::moment, bounded}, *fixed)) return solved;
    return fixed;
  }

 private:
  template <class Start>
  std::unique_ptr<SolvedRig> run(const Attempt& how, Start&& start,
                                 const adjust::Options& options = {}) const {
    auto solved = std::make_unique<SolvedRig>();
    solved->layout = std::make_unique<Layout>(session_, how.lever, held_);
    solved->observed = observe(*solved->layout, tape_);
    solved->lengths_held = how.lengths_held;
    if (how.lengths_held) hold_lengths(solved->observed);
    const auto m = static_cast<Index>(solved->observed.size());
    adjust::Observed& given = solved->given;
    given = {adjust::Vector(m), adjust::Vector(m), std::nullopt};
    for (Index i = 0; i < m; ++i) {
      given.value[i] = solved->observed[static_cast<std::size_t>(i)].value;
      given.u[i] = solved->observed[static_cast<std::size_t>(i)].u;
    }
    solved->bounded = how.bounded;
    const RigModel model(*solved->layout, solved->observed, how.bounded);
    solved->solution = adjust::solve(model, given, start(*solved->layout), solved->layout->scale(),
                                     options);
    if (!solved->solution.converged) return nullptr;
    solved->iterations = solved->solution.iterations;
    return solved;
  }

  const rig::Session& session_;
  bool tape_, taped_;
  double held_;
};

}  // namespace

std::unique_ptr<SolvedRig> solve_rig(const rig::Session& session, bool tape, const SolvedRig* near) {
  const Attempts attempts(session, tape);
  const bool coupled = session.rig.trailer && !session.rig.trailer->self_supporting;
  // A blunder may fit best with lengths or gains that nothing has; that is better said than not solved.
  constexpr std::array within{true, false};
  if (!coupled) {
    for (const bool lengths_held : {false, true})
      for (const bool bounded : within)
        if (auto solved = attempts.from_anywhere({Lever::overhang, bounded, lengths_held})) return solved;
    return nullptr;
  }
  for (const bool bounded : within)
    if (auto solved = attempts.with_free_overhang(bounded, near)) return solved;
  for (const bool lengths_held : {false, true})
    for (const bool bounded : within)
      if (auto solved = attempts.with_held_overhang(bounded, lengths_held)) return solved;
  return nullptr;
}

std::unique_ptr<SolvedRig> solve_alike(const rig::Session& session, const SolvedRig& like) {
  return Attempts(session, true).quickly({like.layout->lever_kind, like.bounded, like.lengths_held});
}

adjust::Solution solve_again(const SolvedRig& rig, const adjust::Observed& given,
                             const adjust::Vector& start) {
  const Layout& layout = *rig.layout;
  const RigModel model(layout, rig.observed, rig.bounded);
  const adjust::Vector scale = layout.scale();
  adjust::Solution solution = adjust::solve(model, given, start, scale);
  if (solution.converged) return solution;
  return adjust::solve(model, given, first_guess(layout), scale);
}

std::unique_ptr<WholeSolution> solve_whole(const rig::Session& session) {
  auto whole = std::make_unique<WholeSolution>();
  whole->everything = solve_rig(session, true);
  if (!whole->everything) return nullptr;
  const SolvedRig& main = *whole->everything;
  const bool taped = main.layout->coupled && session.rig.tow_vehicle.overhang;
  if (taped) whole->weights_only = solve_rig(session, false, &main);
  const SolvedRig* weights = taped ? whole->weights_only.get() : &main;
  whole->derived = derive(*main.layout, main.observed, main.solution, main.lengths_held,
                          weights ? *weights->layout : *main.layout, weights ? &weights->solution : nullptr);
  return whole;
}

}  // namespace steelyard::reconcile
