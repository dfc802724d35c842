#include "plan/outlook.hpp"

#include <algorithm>
#include <map>

#include "assess/assessment.hpp"
#include "assess/compared.hpp"

namespace steelyard::plan {
namespace {

using reconcile::Derived;
using reconcile::Quantity;

reconcile::Findings figures_of(const reconcile::DerivedSet& derived) {
  reconcile::Findings out;
  for (const Derived& one : derived.listed) out.quantities.push_back(one.quantity);
  for (const Derived& one : derived.for_limits) out.limit_quantities.push_back(one.quantity);
  return out;
}

/// The derived quantity behind a copy in `figures`.
const Derived& behind(const Quantity* quantity, const reconcile::Findings& figures,
                      const reconcile::DerivedSet& derived) {
  const auto place = [&](const std::vector<Quantity>& in) -> std::optional<std::size_t> {
    for (std::size_t i = 0; i < in.size(); ++i)
      if (&in[i] == quantity) return i;
    return std::nullopt;
  };
  if (const auto i = place(figures.quantities)) return derived.listed[*i];
  return derived.for_limits[*place(figures.limit_quantities)];
}

const Quantity* compared(const Aim& aim, const rig::Session& session, const reconcile::Findings& figures) {
  if (!aim.limit) return figures.find("coupling_load");
  const assess::Comparer comparer(session, figures);
  const rig::Limit& limit = session.rig.limits[*aim.limit];
  if (!aim.state) return comparer.stateless(limit).quantity;
  const rig::State* state = rig::find_state(session, *aim.state);
  return state ? comparer.in_state(limit, *state).quantity : nullptr;
}

bool on_coupling(rig::LimitKind kind) {
  return kind == rig::LimitKind::coupling || kind == rig::LimitKind::coupling_minimum;
}

std::optional<double> wanted_of(const rig::Limit& limit, double rating, const Wanted& wanted) {
  if (rig::measure_of(limit.kind) != rig::Measure::load) return std::nullopt;
  if (on_coupling(limit.kind)) return wanted.coupling_u.value_or(usual_coupling_u);
  return wanted.margin_u.value_or(usual_margin_share * rating);
}

void keep_masses(Aims& out, const Candidates& candidates) {
  const auto& trailer = candidates.base.rig.trailer;
  const bool coupled = trailer && !trailer->self_supporting;
  out.kept.push_back({"tow_unhitched_front", ""});
  out.kept.push_back({"tow_unhitched_rear", ""});
  if (!trailer) return;
  out.kept.push_back({"trailer_mass", ""});
  if (coupled) out.kept.push_back({"coupling_load", ""});
  const rig::State* travels = rig::travelling_state(candidates.base);
  for (std::size_t k = 0; k < candidates.base.states.size(); ++k) {
    const rig::State& state = candidates.base.states[k];
    if (!state.hitched || (candidates.added[k] && &state != travels)) continue;
    out.kept.push_back({"tow_hitched_front", state.name});
    out.kept.push_back({"tow_hitched_rear", state.name});
    if (coupled) out.kept.push_back({"trailer_axles_hitched", state.name});
  }
}

/// Rows where the rig travels; of a limit that has none there, those of every state.
std::vector<assess::Row> rows_that_count(const rig::Session& session, const reconcile::Findings& figures) {
  std::vector<assess::Row> rows = assess::assess(session, figures).rows;
  std::map<std::size_t, bool> travelling;
  for (const assess::Row& row : rows)
    travelling[row.limit] = travelling[row.limit] || (row.travels && row.rating);
  std::erase_if(rows, [&](const assess::Row& row) {
    // Coupling forces follow from the ratings alone.
    const bool force = rig::measure_of(session.rig.limits[row.limit].kind) == rig::Measure::force_kn;
    return !row.rating || force || (travelling[row.limit] && !row.travels);
  });
  return rows;
}

}  // namespace

Outlook look(rig::Session session, const Aims& aims) {
  Outlook out;
  out.session = std::make_unique<rig::Session>(std::move(session));
  out.u.resize(aims.aims.size());
  out.gradient.resize(aims.aims.size());
  out.solved = reconcile::solve_rig(*out.session, true);
  if (!out.solved) return out;
  const reconcile::SolvedRig& solved = *out.solved;
  for (std::size_t i = 0; i < solved.observed.size(); ++i)
    if (solved.observed[i].kind == reconcile::ObservationKind::reading)
      out.redundancy.push_back(solved.solution.redundancy[static_cast<adjust::Index>(i)]);
  out.derived = reconcile::derive(*solved.layout, solved.observed, solved.solution, solved.lengths_held,
                                  *solved.layout, nullptr);
  const reconcile::Findings figures = figures_of(out.derived);
  out.keeps = std::all_of(aims.kept.begin(), aims.kept.end(), [&](const Kept& kept) {
    const Quantity* quantity = figures.find(kept.name, kept.state);
    return quantity && quantity->determinable;
  });
  for (std::size_t i = 0; i < aims.aims.size(); ++i) {
    const Quantity* quantity = compared(aims.aims[i], *out.session, figures);
    if (!quantity || !quantity->determinable) continue;
    out.u[i] = quantity->u;
    out.gradient[i] = behind(quantity, figures, out.derived).gradient;
  }
  return out;
}

Aims find_aims(const Candidates& candidates, const rig::Session& full, const Wanted& wanted) {
  Aims out;
  const auto& trailer = full.rig.trailer;
  if (trailer && !trailer->self_supporting)
    out.aims.push_back({.wanted = wanted.coupling_u.value_or(usual_coupling_u)});
  keep_masses(out, candidates);
  const Outlook everything = look(full, out);
  const reconcile::Findings figures = figures_of(everything.derived);
  std::erase_if(out.kept, [&](const Kept& kept) {
    const Quantity* quantity = figures.find(kept.name, kept.state);
    return !quantity || !quantity->determinable;
  });
  for (const assess::Row& row : rows_that_count(full, figures)) {
    Aim aim{.limit = row.limit,
            .state = row.state,
            .rating = row.rating,
            .measure = row.measure,
            .wanted = wanted_of(full.rig.limits[row.limit], *row.rating, wanted)};
    // A limit that no state of this rig can be held against is no aim.
    if (row.state || compared(aim, full, figures)) out.aims.push_back(std::move(aim));
  }
  return out;
}

std::pair<reconcile::ObservationKind, double> governing(const Outlook& outlook, std::size_t aim) {
  // fitted_root has orthonormal columns, so the squared parts of its rows sum to the variance.
  const adjust::Solution& solution = outlook.solved->solution;
  const adjust::Vector along = solution.covariance_root.transpose() * outlook.gradient[aim];
  const adjust::Vector parts = (solution.fitted_root * along).cwiseAbs2();
  std::map<reconcile::ObservationKind, double> sums;
  for (std::size_t i = 0; i < outlook.solved->observed.size(); ++i)
    sums[outlook.solved->observed[i].kind] += parts[static_cast<adjust::Index>(i)];
  const auto most = std::max_element(sums.begin(), sums.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  const double all = parts.sum();
  return {most->first, all > 0 ? most->second / all : 0};
}

}  // namespace steelyard::plan
