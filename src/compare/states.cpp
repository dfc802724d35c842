// Which state of one weighing is held against which of the other.
#include <functional>

#include "compare/parts.hpp"

namespace steelyard::compare {
namespace {

bool arranged_alike(const rig::State& a, const rig::State& b) {
  return a.hitched == b.hitched && a.weight_distribution == b.weight_distribution && a.support == b.support;
}

class Matching {
 public:
  Matching(const rig::Session& before, const rig::Session& after)
      : left_(before.states), right_(after.states), taken_left_(left_.size()), taken_right_(right_.size()) {}

  using Test = std::function<bool(const rig::State&, const rig::State&)>;

  /// Pairs that pass, the first with the first; `alone`: only where neither has a second to go with.
  void pair(bool alone, const Test& test) {
    for (std::size_t i = 0; i < left_.size(); ++i) {
      if (taken_left_[i]) continue;
      const std::vector<std::size_t> to = partners(i, test);
      if (to.empty() || (alone && (to.size() > 1 || rivals(to.front(), test) > 1))) continue;
      taken_left_[i] = taken_right_[to.front()] = true;
      out_.push_back({i, to.front(), arranged_alike(left_[i], right_[to.front()])});
    }
  }

  std::vector<MatchedState> all() { return std::move(out_); }

 private:
  [[nodiscard]] std::vector<std::size_t> partners(std::size_t i, const Test& test) const {
    std::vector<std::size_t> out;
    for (std::size_t k = 0; k < right_.size(); ++k)
      if (!taken_right_[k] && test(left_[i], right_[k])) out.push_back(k);
    return out;
  }
  [[nodiscard]] std::size_t rivals(std::size_t k, const Test& test) const {
    std::size_t count = 0;
    for (std::size_t i = 0; i < left_.size(); ++i) count += !taken_left_[i] && test(left_[i], right_[k]);
    return count;
  }

  const std::vector<rig::State>&left_, &right_;
  std::vector<bool> taken_left_, taken_right_;
  std::vector<MatchedState> out_;
};

}  // namespace

std::vector<MatchedState> match_states(const rig::Session& before, const rig::Session& after) {
  Matching matching(before, after);
  const rig::State *from = rig::travelling_state(before), *to = rig::travelling_state(after);
  const auto travel = [&](const rig::State& a, const rig::State& b) { return &a == from && &b == to; };
  matching.pair(false, [](const rig::State& a, const rig::State& b) {
    return arranged_alike(a, b) && a.name == b.name;
  });
  matching.pair(false,
                [&](const rig::State& a, const rig::State& b) { return arranged_alike(a, b) && travel(a, b); });
  matching.pair(true, arranged_alike);
  matching.pair(false, [](const rig::State& a, const rig::State& b) {
    return a.hitched && b.hitched && a.name == b.name;
  });
  matching.pair(false,
                [&](const rig::State& a, const rig::State& b) { return a.hitched && b.hitched && travel(a, b); });
  return matching.all();
}

}  // namespace steelyard::compare
