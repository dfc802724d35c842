#include "reconcile/explain.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "adjust/distributions.hpp"
#include "reconcile/disturbed_model.hpp"
#include "reconcile/screen.hpp"
#include "reconcile/statics.hpp"
#include "reconcile/trust.hpp"

namespace steelyard::reconcile {
namespace {

using adjust::Vector;

constexpr double hopeless = 1e-4;          // a p-value so small in the linear problem is not solved for
constexpr std::size_t most_solved = 8;     // of whole figures, and of free sizes
constexpr std::size_t most_shown = 8;

struct Candidate {
  const Hypothesis* hypothesis;
  double chi_square;
};

bool exact(const Hypothesis& hypothesis) {
  return hypothesis.columns.empty() && hypothesis.kind != Blunder::weight_distribution_mislabelled;
}

/// χ² and what a hypothesis that makes readings less certain gains by that alone: twice the logarithm of the
/// likelihood, but for the sign and what all have in common. Loads ten times as large are ten times as
/// uncertain and would fit anything.
struct Ranked {
  Explanation explanation;
  double misfit = 0;
};

/// Those at the front that may pass. A slip in several figures is far from linear, so that the likeliest of whole
/// figures is solved however poorly it would do near a solution that the slip itself has pulled away.
std::ptrdiff_t worth_solving(std::vector<Candidate>::const_iterator from, std::vector<Candidate>::const_iterator to,
                             double most) {
  const auto passing = std::find_if(from, to, [most](const Candidate& c) { return c.chi_square > most; });
  const bool any = std::any_of(from, passing, [](const Candidate& c) { return !c.hypothesis->rearranged; });
  const bool one_more = !any && passing != to && exact(*passing->hypothesis);
  return std::min<std::ptrdiff_t>(passing - from + (one_more ? 1 : 0), most_solved);
}

/// The likeliest few of each kind of fit; of many ways to restore a digit of one reading only the best.
std::vector<Candidate> promising(const Screen& screen, const std::vector<Hypothesis>& all) {
  const auto freedom = static_cast<double>(screen.degrees_of_freedom());
  const double most = adjust::chi_square_quantile(1 - hopeless, std::max(freedom, 1.0));
  std::vector<Candidate> out;
  std::map<Index, std::size_t> restored;
  for (const Hypothesis& hypothesis : all) {
    const auto chi_square = screen.chi_square(hypothesis);
    if (!chi_square || (*chi_square > most && !exact(hypothesis))) continue;
    if (hypothesis.kind == Blunder::digit_dropped) {
      const auto [found, first] = restored.emplace(hypothesis.edits[0].row, out.size());
      if (!first) {
        if (*chi_square < out[found->second].chi_square) out[found->second] = {&hypothesis, *chi_square};
        continue;
      }
    }
    out.push_back({&hypothesis, *chi_square});
  }
  const auto free_from = std::stable_partition(out.begin(), out.end(), [](const Candidate& c) { return exact(*c.hypothesis); });
  std::vector<Candidate> kept;
  for (auto [from, to] : {std::pair{out.begin(), free_from}, std::pair{free_from, out.end()}}) {
    std::stable_sort(from, to, [](const Candidate& a, const Candidate& b) { return a.chi_square < b.chi_square; });
    kept.insert(kept.end(), from, from + worth_solving(from, to, most));
  }
  return kept;
}

class Solver {
 public:
  Solver(const SolvedRig& solved, const Vector& near, const std::vector<Index>& aside)
      : solved_(solved), layout_(*solved.layout), near_(near), given_(solved.given) {
    given_.set_aside = aside;
  }

  /// Nothing where it does not converge, does not make the test pass or has an impossible size.
  std::optional<Ranked> solve(const Hypothesis& hypothesis) const {
    Explanation out;
    double widened = 0;
    out.kind = hypothesis.kind;
    out.exact = exact(hypothesis);
    if (hypothesis.state) out.state = layout_.states[*hypothesis.state].state->name;
    out.scale = hypothesis.scale;
    out.vehicle = hypothesis.vehicle;
    const bool fits = hypothesis.rearranged ? rearrange(hypothesis, out)
                      : out.exact           ? edit(hypothesis, out, widened)
                                            : disturb(hypothesis, out);
    if (!fits || out.p_value < share_of_each_test) return std::nullopt;
    const double misfit = out.chi_square + widened;
    return Ranked{std::move(out), misfit};
  }

 private:
  [[nodiscard]] const rig::Reading& reading(Index row) const {
    return *layout_.rows[static_cast<std::size_t>(row)].reading;
  }

  static bool judge(const adjust::Solution& solution, Explanation& out) {
    if (!solution.converged || solution.degrees_of_freedom < 1) return false;
    out.chi_square = solution.chi_square;
    out.degrees_of_freedom = static_cast<int>(solution.degrees_of_freedom);
    out.p_value = adjust::chi_square_upper(out.chi_square, out.degrees_of_freedom);
    return true;
  }

  bool edit(const Hypothesis& hypothesis, Explanation& out, double& widened) const {
    adjust::Observed given = given_;
    for (const Hypothesis::Edit& edit : hypothesis.edits) {
      const Figure then = as_observed(*layout_.session, reading(edit.row), edit.meant.kg().value());
      given.value[edit.row] = then.value;
      widened += 2 * std::log(then.u / given.u[edit.row]);
      given.u[edit.row] = then.u;
      out.corrections.push_back({static_cast<std::size_t>(edit.row), reading(edit.row).load, edit.meant});
    }
    const RigModel model(layout_, solved_.observed, solved_.bounded);
    return judge(adjust::solve(model, given, near_, layout_.scale(), near_options()), out);
  }

  bool disturb(const Hypothesis& hypothesis, Explanation& out) const {
    const RigModel rig(layout_, solved_.observed, solved_.bounded);
    const DisturbedModel model(rig, hypothesis);
    const Index m = rig.observations(), n = rig.unknowns();
    adjust::Observed given = given_;
    given.value.conservativeResize(model.observations());
    given.u.conservativeResize(model.observations());
    for (Index r = m; r < model.observations(); ++r) {
      const Hypothesis::Prior& prior = hypothesis.priors[static_cast<std::size_t>(r - m)];
      given.value[r] = prior.value;
      given.u[r] = prior.u;
    }
    Vector start = Vector::Zero(model.unknowns()), scale = start;
    start.head(n) = near_;
    scale.head(n) = layout_.scale();
    for (Index c = n; c < model.unknowns(); ++c)
      scale[c] = hypothesis.columns[static_cast<std::size_t>(c - n)].scale;
    const adjust::Solution solution = adjust::solve(model, given, start, scale, near_options());
    if (!judge(solution, out)) return false;
    Vector gradient = Vector::Zero(model.unknowns());
    for (std::size_t c = 0; c < hypothesis.size.size(); ++c) gradient[n + static_cast<Index>(c)] = hypothesis.size[c];
    if (!solution.determinable(gradient)) return false;
    const double size = gradient.dot(solution.unknowns), u = solution.uncertainty(gradient);
    if (!possible(hypothesis, size, u)) return false;
    out.size = size;
    out.size_u = u;
    for (const Index row : hypothesis.corrects) correct(hypothesis, row, solution.unknowns.tail(solution.unknowns.size() - n), out);
    // What the scales cannot have shown was not meant, as far as the size is known.
    return std::all_of(out.corrections.begin(), out.corrections.end(), [&](const Explanation::Correction& c) {
      return bears(*layout_.session, reading(static_cast<Index>(c.observation)), c.meant.kg().value() - 2 * u);
    });
  }

  /// Within the trade's sizes as far as its own u lets one say, and clear of nothing.
  /// Within the trade's sizes as far as its own u lets one say, clear of nothing, and known at all.
  static bool possible(const Hypothesis& hypothesis, double size, double u) {
    const double positive = hypothesis.either_sign ? std::abs(size) : size;
    return u < hypothesis.most / 3 && positive > 2 * u && positive >= hypothesis.least - 2 * u &&
           positive <= hypothesis.most + 2 * u;
  }

  void correct(const Hypothesis& hypothesis, Index row, const Vector& sizes, Explanation& out) const {
    double added = 0;
    for (std::size_t c = 0; c < hypothesis.columns.size(); ++c)
      for (const auto& [at, effect] : hypothesis.columns[c].effect)
        if (at == row) added += effect * sizes[static_cast<Index>(c)];
    const units::Load& read = reading(row).load;
    const double in_unit = read.unit == units::LoadUnit::pound
                               ? units::to_pounds(units::Kilograms(added)).value()
                               : added;
    out.corrections.push_back({static_cast<std::size_t>(row), read, {read.figure - in_unit, read.unit}});
  }

  bool rearrange(const Hypothesis& hypothesis, Explanation& out) const {
    rig::Session session = *layout_.session;
    rig::State& state = session.states[*hypothesis.state];
    const bool bars = hypothesis.kind == Blunder::weight_distribution_mislabelled;
    if (bars) {
      state.weight_distribution = true;
    } else {
      state.support = rig::Support::jockey;
      for (rig::Reading& other : state.readings)
        if (other.at == rig::Position::support_at_coupling()) other.at = rig::Position::support_at_jockey();
    }
    const auto then = solve_alike(session, solved_);
    if (!then) return false;
    adjust::Solution solution = then->solution;
    if (!given_.set_aside.empty()) {
      adjust::Observed given = then->given;
      for (const Index row : given_.set_aside) given.set_aside.push_back(same_row(row, *then));
      solution = solve_again(*then, given, solution.unknowns);
    }
    for (const Index row : hypothesis.moved)
      out.corrections.push_back({static_cast<std::size_t>(row), reading(row).load, reading(row).load});
    return judge(solution, out) && (!bars || take_moment(hypothesis, *then->layout, solution, out));
  }

  static bool take_moment(const Hypothesis& hypothesis, const Layout& layout, const adjust::Solution& solution,
                          Explanation& out) {
    Vector gradient = Vector::Zero(layout.count);
    gradient[*layout.states[*hypothesis.state].distribution] = 1;
    if (!solution.determinable(gradient)) return false;
    out.size = gradient.dot(solution.unknowns);
    out.size_u = solution.uncertainty(gradient);
    const Statics rig(layout, solution.unknowns);
    const double at_front = 1 / rig.wheelbase() + rig.overhang() / rig.wheelbase() / rig.to_axles();
    return possible(hypothesis, *out.size * at_front, *out.size_u * at_front);
  }

  /// Readings keep their rows; a length to the jockey wheel may have come in among the others.
  [[nodiscard]] Index same_row(Index row, const SolvedRig& other) const {
    const Observation& wanted = solved_.observed[static_cast<std::size_t>(row)];
    const auto found = std::find_if(other.observed.begin(), other.observed.end(), [&](const Observation& o) {
      return o.kind == wanted.kind && o.id == wanted.id && o.state == wanted.state && o.scales == wanted.scales;
    });
    return static_cast<Index>(found - other.observed.begin());
  }

  const SolvedRig& solved_;
  const Layout& layout_;
  const Vector& near_;
  adjust::Observed given_;
};

/// Best fit first; what fits within 3.84 of the best of a group belongs to it, and there whole figures stand
/// before free sizes.
void rank(std::vector<Ranked>& all) {
  std::stable_sort(all.begin(), all.end(),
                   [](const Ranked& a, const Ranked& b) { return a.misfit < b.misfit; });
  for (auto from = all.begin(); from != all.end();) {
    const auto to = std::find_if(
        from, all.end(), [&](const Ranked& r) { return r.misfit > from->misfit + apart_in_chi_square; });
    if (from == all.begin())
      for (auto r = from; r != to; ++r) r->explanation.tied = true;
    std::stable_partition(from, to, [](const Ranked& r) { return r.explanation.exact; });
    from = to;
  }
}

}  // namespace

std::vector<Explanation> explain(const SolvedRig& solved, const Vector& near, const std::vector<Index>& aside,
                                 const std::vector<Hypothesis>& all) {
  const Screen screen(solved, near, aside);
  if (!screen.usable()) return {};
  const Solver solver(solved, near, aside);
  std::vector<Ranked> found;
  for (const Candidate& candidate : promising(screen, all))
    if (auto explanation = solver.solve(*candidate.hypothesis)) found.push_back(std::move(*explanation));
  rank(found);
  std::vector<Explanation> out;
  for (Ranked& one : found)
    if (out.size() < most_shown) out.push_back(std::move(one.explanation));
  return out;
}

}  // namespace steelyard::reconcile
