#include "plan/choose.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "reconcile/trust.hpp"

namespace steelyard::plan {
namespace {

using adjust::Index;
using adjust::Matrix;
using adjust::Vector;

constexpr double rounding = 1e-9;    // of a u, between one solution and an update of another
constexpr double near_floor = 1.02;  // coming nearer than 2 % to what twice gives is not worth the work

/// The solution with everything once, from which a second reading of an element follows in closed form: with
/// Σ = K·P·Kᵀ, one more reading of u-weighted row f·K⁺ turns P into P − P f fᵀ P/(1 + fᵀ P f).
class Updates {
 public:
  Updates(const Outlook& once, const Goals& goals, const std::vector<Taken>& order, std::size_t elements)
      : rows_(elements) {
    const adjust::Solution& solution = once.solved->solution;
    p_ = Matrix::Identity(solution.fitted_root.cols(), solution.fitted_root.cols());
    // The readings' rows stand state by state, which is the order in which they are taken.
    for (std::size_t i = 0; i < order.size(); ++i)
      rows_[order[i].element].push_back(solution.fitted_root.row(static_cast<Index>(i)).transpose());
    for (std::size_t a = 0; a < goals.u.size(); ++a)
      if (goals.u[a] && once.gradient[a].size() > 0)
        along_.push_back(solution.covariance_root.transpose() * once.gradient[a] / *goals.u[a]);
  }

  /// Worst u over goal, with an element read once more; `all` settles equals.
  struct Rank {
    double worst = 0, all = 0;
    bool operator<(const Rank& other) const {
      // As good as equal, the one that does more good elsewhere.
      if (std::abs(worst - other.worst) > 1e-12 * worst) return worst < other.worst;
      return all < other.all;
    }
  };
  [[nodiscard]] Rank with(std::size_t element) const { return rank(again(element)); }
  [[nodiscard]] Rank now() const { return rank(p_); }
  void add(std::size_t element) { p_ = again(element); }

 private:
  [[nodiscard]] Matrix again(std::size_t element) const {
    Matrix p = p_;
    for (const Vector& f : rows_[element]) {
      const Vector pf = p * f;
      p -= pf * pf.transpose() / (1 + f.dot(pf));
    }
    return p;
  }

  [[nodiscard]] Rank rank(const Matrix& p) const {
    Rank out;
    for (const Vector& g : along_) {
      const double ratio = std::sqrt(std::max(0.0, g.dot(p * g)));
      out.worst = std::max(out.worst, ratio);
      out.all += ratio;
    }
    return out;
  }

  Matrix p_;
  std::vector<std::vector<Vector>> rows_;
  std::vector<Vector> along_;
};

void read_again(Selection& selection, const Candidates& candidates, const Goals& goals, const Outlook& once) {
  Updates updates(once, goals, in_order(candidates, selection), candidates.elements.size());
  while (updates.now().worst > 1) {
    std::optional<std::size_t> best;
    Updates::Rank found{std::numeric_limits<double>::infinity(), 0};
    for (std::size_t e = 0; e < selection.size(); ++e) {
      if (selection[e] > 1) continue;
      const auto rank = updates.with(e);
      if (!(rank < found)) continue;
      best = e;
      found = rank;
    }
    if (!best) return;
    updates.add(*best);
    selection[*best] = 2;
  }
}

/// Elements that go together, and how often each would still be weighed.
struct Saving {
  std::vector<std::size_t> elements;
  int left = 0;
  bool added = false;  // in a state that the sheet does not have
  std::size_t state = 0;
};

/// Whole units in a state before single elements, states that were added before the sheet's, later before
/// earlier; an element altogether before its second reading.
std::vector<Saving> savings(const Candidates& candidates) {
  std::vector<Saving> units, singles;
  for (std::size_t e = 0; e < candidates.elements.size(); ++e) {
    const Element& element = candidates.elements[e];
    const bool added = candidates.added[element.state];
    const bool same = !units.empty() && units.back().state == element.state &&
                      candidates.elements[units.back().elements.back()].unit == element.unit;
    if (!same) units.push_back({{}, 0, added, element.state});
    units.back().elements.push_back(e);
    singles.push_back({{e}, 0, added, element.state});
  }
  const auto first = [](const Saving& a, const Saving& b) {
    if (a.added != b.added) return a.added;
    if (a.elements.size() != b.elements.size()) return a.elements.size() > b.elements.size();
    return a.elements.front() > b.elements.front();
  };
  std::stable_sort(units.begin(), units.end(), first);
  std::stable_sort(singles.begin(), singles.end(), first);
  std::vector<Saving> out = units;
  out.insert(out.end(), singles.begin(), singles.end());
  for (Saving saving : singles) {
    saving.left = 1;
    out.push_back(saving);
  }
  return out;
}

/// A nose on a scale that the weighed axles of its trailer leave there, and yet not read.
bool unread_nose(const Candidates& candidates, const Selection& selection) {
  for (std::size_t nose = 0; nose < selection.size(); ++nose) {
    const Element& on = candidates.elements[nose];
    if (on.unit != Unit::nose || selection[nose] > 0 || on.scales.front().empty()) continue;
    bool weighed = false, needed = false;
    for (std::size_t e = 0; e < selection.size(); ++e) {
      const Element& axle = candidates.elements[e];
      if (selection[e] == 0 || axle.state != on.state || axle.unit != Unit::trailer) continue;
      weighed = true;
      needed =
          needed || std::find(axle.scales.begin(), axle.scales.end(), on.scales.front()) != axle.scales.end();
    }
    if (weighed && !needed) return true;
  }
  return false;
}

bool leave_out(Selection& selection, const Candidates& candidates, const Goals& goals, const Look& look) {
  bool any = false;
  for (const Saving& saving : savings(candidates)) {
    Selection less = selection;
    for (const std::size_t e : saving.elements) less[e] = std::min(less[e], saving.left);
    const bool nothing = std::all_of(less.begin(), less.end(), [](int times) { return times == 0; });
    if (less == selection || nothing) continue;
    const Outlook outlook = look(less);
    if (!reaches(outlook, goals) || !checks(outlook, candidates, less, goals)) continue;
    selection = less;
    any = true;
  }
  return any;
}

}  // namespace

Goals goals_of(const Aims& aims, const Outlook& twice) {
  Goals out;
  for (std::size_t i = 0; i < aims.aims.size(); ++i) {
    out.determinable.push_back(twice.u[i].has_value());
    const auto& wanted = aims.aims[i].wanted;
    out.u.push_back(wanted && twice.u[i] ? std::optional(std::max(*wanted, near_floor * *twice.u[i]))
                                         : std::nullopt);
  }
  return out;
}

bool reaches(const Outlook& outlook, const Goals& goals) {
  if (!outlook.solved || !outlook.keeps) return false;
  for (std::size_t i = 0; i < goals.u.size(); ++i) {
    if (goals.determinable[i] && !outlook.u[i]) return false;
    if (goals.u[i] && *outlook.u[i] > *goals.u[i] * (1 + rounding)) return false;
  }
  return true;
}

std::vector<std::vector<bool>> checked_by_others(const Candidates& candidates, const Outlook& once) {
  std::vector<std::vector<bool>> out;
  for (const Element& element : candidates.elements) out.emplace_back(element.positions.size(), false);
  if (!once.solved) return out;
  const auto order = in_order(candidates, Selection(out.size(), 1));
  for (std::size_t i = 0; i < order.size(); ++i)
    out[order[i].element][order[i].position] = once.redundancy[i] >= reconcile::least_redundancy;
  return out;
}

bool checks(const Outlook& outlook, const Candidates& candidates, const Selection& selection,
            const Goals& goals) {
  if (goals.checked.empty()) return true;
  if (unread_nose(candidates, selection)) return false;
  const auto order = in_order(candidates, selection);
  for (std::size_t i = 0; i < order.size(); ++i)
    if (goals.checked[order[i].element][order[i].position] &&
        outlook.redundancy[i] < reconcile::least_redundancy)
      return false;
  return true;
}

Selection choose(const Candidates& candidates, const Goals& goals, const Look& look) {
  Selection selection(candidates.elements.size(), 1);
  const Outlook once = look(selection);
  if (!once.solved) return selection;
  if (!reaches(once, goals)) read_again(selection, candidates, goals, once);
  // Leaving out a state may move the reference to another, and what is left out needs no check any more, so
  // that more can go after it.
  while (leave_out(selection, candidates, goals, look)) {
  }
  return selection;
}

}  // namespace steelyard::plan
