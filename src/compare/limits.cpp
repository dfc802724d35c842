// Which limits were added, removed, rated otherwise or come out otherwise.
#include <algorithm>
#include <functional>

#include "compare/parts.hpp"

namespace steelyard::compare {
namespace {

using assess::Row;
using Pair = std::pair<std::optional<std::size_t>, std::optional<std::size_t>>;

bool same_limit(const rig::Limit& a, const rig::Limit& b) {
  return rig::limit_name(a) == rig::limit_name(b) && a.part == b.part && a.basis == b.basis &&
         a.with_weight_distribution == b.with_weight_distribution && a.advice == b.advice &&
         a.against.has_value() == b.against.has_value();
}

/// Limits of the two sheets, those of the same source first: a limit whose source changed is still that limit.
std::vector<Pair> pair_limits(const std::vector<rig::Limit>& before, const std::vector<rig::Limit>& after) {
  std::vector<std::optional<std::size_t>> to(after.size());
  std::vector<bool> taken(before.size(), false);
  for (const bool same_source : {true, false})
    for (std::size_t k = 0; k < after.size(); ++k)
      for (std::size_t i = 0; i < before.size() && !to[k]; ++i) {
        if (taken[i] || !same_limit(before[i], after[k])) continue;
        if (same_source && before[i].source != after[k].source) continue;
        to[k] = i;
        taken[i] = true;
      }
  std::vector<Pair> out;
  for (std::size_t k = 0; k < after.size(); ++k) out.emplace_back(to[k], k);
  for (std::size_t i = 0; i < before.size(); ++i)
    if (!taken[i]) out.emplace_back(i, std::nullopt);
  return out;
}

LimitSide side_of(const Row& row) {
  return {row.rating, row.value, row.u, row.margin, row.outcome, row.source, row.reason};
}

class Limits {
 public:
  Limits(const Side& before, const Side& after, Comparison& out) : before_(before), after_(after), out_(out) {}

  void all() {
    for (const auto& [left, right] : pair_limits(before_.session.rig.limits, after_.session.rig.limits)) {
      if (left && right)
        both(*left, *right);
      else
        one(left.has_value(), left ? *left : *right);
    }
  }

 private:
  static std::vector<const Row*> rows_of(const Side& side, std::size_t limit) {
    std::vector<const Row*> out;
    for (const Row& row : side.assessment.rows)
      if (row.limit == limit) out.push_back(&row);
    return out;
  }

  [[nodiscard]] bool matched(const Row& left, const Row& right) const {
    if (!left.state || !right.state) return left.state == right.state;
    return std::any_of(out_.states.begin(), out_.states.end(), [&](const MatchedState& match) {
      return before_.session.states[match.before].name == *left.state &&
             after_.session.states[match.after].name == *right.state;
    });
  }

  [[nodiscard]] bool stands_alone(const Row& row, bool in_before) const {
    return row.state && std::none_of(out_.states.begin(), out_.states.end(), [&](const MatchedState& match) {
             return (in_before ? before_.session.states[match.before] : after_.session.states[match.after]).name ==
                    *row.state;
           });
  }

  LimitCompared& add(const Row& row, const rig::Limit& limit) {
    LimitCompared& out = out_.limits.emplace_back();
    out.of = row.of;
    out.limit = limit;
    out.measure = row.measure;
    out.minimum = row.minimum;
    out.advice = row.advice;
    return out;
  }

  void both(std::size_t left, std::size_t right) {
    const std::vector<const Row*> from = rows_of(before_, left);
    for (const Row* row : rows_of(after_, right))
      for (const Row* was : from) {
        if (!matched(*was, *row)) continue;
        LimitCompared& out = add(*row, after_.session.rig.limits[right]);
        out.state_before = was->state;
        out.state_after = row->state;
        out.before = side_of(*was);
        out.after = side_of(*row);
        out.travels = was->travels || row->travels;
      }
  }

  /// In the states that are compared; where it concerns none of them, in all of its own.
  void one(bool in_before, std::size_t limit) {
    const Side& side = in_before ? before_ : after_;
    std::vector<const Row*> rows = rows_of(side, limit);
    const auto alone = [&](const Row* row) { return stands_alone(*row, in_before); };
    if (!std::all_of(rows.begin(), rows.end(), alone)) std::erase_if(rows, alone);
    for (const Row* row : rows) {
      LimitCompared& out = add(*row, side.session.rig.limits[limit]);
      (in_before ? out.state_before : out.state_after) = row->state;
      (in_before ? out.before : out.after) = side_of(*row);
      out.travels = row->travels;
    }
  }

  const Side &before_, &after_;
  Comparison& out_;
};

}  // namespace

void compare_limits(const Side& before, const Side& after, Comparison& out) {
  Limits(before, after, out).all();
}

}  // namespace steelyard::compare
