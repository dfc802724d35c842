#include "reconcile/hypotheses.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "reconcile/digits.hpp"
#include "reconcile/state_blunders.hpp"

namespace steelyard::reconcile {
namespace {

using rig::Position;
using Rows = std::vector<Index>;
/// Readings of each place of a state, in the order in which they were taken: repeats are passes.
using Places = std::map<Position, Rows>;

struct Swap {
  Index one, other;
};

// Sizes of the trade, kg (common practice, no source).
constexpr double least_offset = 2, most_offset = 60;
constexpr double least_part_off = 0.1, most_part_off = 0.6;  // of a wheel's load

class Finder {
 public:
  Finder(const SolvedRig& solved, const Rows& suspects) : layout_(*solved.layout) {
    for (const Index row : suspects)
      if (row < static_cast<Index>(layout_.rows.size())) suspects_.insert(row);
    places_.resize(layout_.states.size());
    for (std::size_t i = 0; i < layout_.rows.size(); ++i)
      places_[layout_.rows[i].state][layout_.rows[i].reading->at].push_back(static_cast<Index>(i));
    // A length, a level or a gain in place of readings: then it may be any of them.
    if (suspects_.empty())
      for (std::size_t i = 0; i < layout_.rows.size(); ++i) suspects_.insert(static_cast<Index>(i));
    // Of two readings of one place that differ, it may be either that was exchanged with another's.
    for (const Index row : suspects_)
      for (const Index repeat : places_[row_of(row).state][row_of(row).reading->at]) touched_.insert(repeat);
  }

  void add_to(std::vector<Hypothesis>& out) {
    for (const Index row : suspects_) single(row);
    for (std::size_t k = 0; k < layout_.states.size(); ++k) {
      scales(k);
      sides(k);
      axles(k);
      for (std::size_t other = k + 1; other < layout_.states.size(); ++other) states(k, other);
    }
    out.insert(out.end(), std::make_move_iterator(out_.begin()), std::make_move_iterator(out_.end()));
  }

 private:
  [[nodiscard]] const ReadingRow& row_of(Index i) const { return layout_.rows[static_cast<std::size_t>(i)]; }
  [[nodiscard]] const units::Load& load(Index i) const { return row_of(i).reading->load; }

  Hypothesis& start(Blunder kind, std::size_t state) {
    Hypothesis& out = out_.emplace_back();
    out.kind = kind;
    out.state = state;
    return out;
  }

  void single(Index i) {
    const std::size_t state = row_of(i).state;
    const auto figures = [&](Blunder kind, const std::vector<double>& meant) {
      for (const double figure : meant)
        if (can_show(i, {figure, load(i).unit})) start(kind, state).edits = {{i, {figure, load(i).unit}}};
    };
    figures(Blunder::digits_swapped, digits_exchanged(load(i).figure));
    figures(Blunder::digit_dropped, digit_restored(load(i).figure));
    figures(Blunder::digit_doubled, digit_taken_out(load(i).figure));
    if (can_show(i, in_other_unit(i))) start(Blunder::pounds_for_kilograms, state).edits = {{i, in_other_unit(i)}};
    tyre_off(i);
  }

  [[nodiscard]] bool can_show(Index i, const units::Load& load) const {
    return bears(*layout_.session, *row_of(i).reading, load.kg().value());
  }

  /// The scale showed pounds and kilograms were written, or the other way round.
  [[nodiscard]] units::Load in_other_unit(Index i) const {
    const units::Load& read = load(i);
    return {read.figure, read.unit == units::LoadUnit::kilogram ? units::LoadUnit::pound
                                                                : units::LoadUnit::kilogram};
  }

  void tyre_off(Index i) {
    const Position& at = row_of(i).reading->at;
    const bool wheel = at.extent == rig::Extent::wheel;
    if (!wheel && at.extent != rig::Extent::axle) return;
    const double read = load(i).kg().value(), of_axle = wheel ? 1 : 0.5;
    Hypothesis& out = start(Blunder::tyre_off_scale, row_of(i).state);
    out.columns = {{{{i, -1.0}}}};
    out.size = {1};
    const auto missing = [&](double part) { return read * part * of_axle / (1 - part * of_axle); };
    out.least = missing(least_part_off);
    out.most = missing(most_part_off);
    out.corrects = {i};
  }

  void scales(std::size_t k) {
    std::map<std::string, Rows> of_scale;
    for (const auto& [at, rows] : places_[k])
      for (const Index i : rows)
        for (const std::string& id : row_of(i).reading->scales) of_scale[id].push_back(i);
    for (const auto& [id, rows] : of_scale) {
      Hypothesis& zero = start(Blunder::scale_not_zeroed, k);
      zero.scale = id;
      zero.columns.emplace_back();
      for (const Index i : rows) zero.columns[0].effect.emplace_back(i, 1.0);
      zero.size = {1};
      zero.least = least_offset;
      zero.most = most_offset;
      zero.either_sign = true;
      zero.corrects = rows;
      const bool shown = std::all_of(rows.begin(), rows.end(), [&](Index i) { return can_show(i, in_other_unit(i)); });
      if (rows.size() < 2 || !touches(rows) || !shown) continue;
      Hypothesis& pounds = start(Blunder::pounds_for_kilograms, k);
      pounds.scale = id;
      for (const Index i : rows) pounds.edits.push_back({i, in_other_unit(i)});
    }
  }

  [[nodiscard]] bool touches(const Rows& rows) const {
    return std::any_of(rows.begin(), rows.end(), [&](Index i) { return touched_.contains(i); });
  }

  [[nodiscard]] const Rows* find(std::size_t k, const Position& at) const {
    const auto found = places_[k].find(at);
    return found == places_[k].end() ? nullptr : &found->second;
  }

  /// Loads of two places exchanged: in each pass by itself, and in all.
  void exchange(Blunder kind, std::size_t state, const std::vector<std::pair<const Rows*, const Rows*>>& pairs) {
    std::size_t passes = 0;
    for (const auto& [one, other] : pairs) passes = std::max(passes, std::min(one->size(), other->size()));
    for (std::size_t pass = 0; pass <= passes; ++pass) {  // the last one stands for all together
      if (pass == passes && passes < 2) break;
      std::vector<Swap> swaps;
      for (const auto& [one, other] : pairs)
        for (std::size_t p = 0; p < std::min(one->size(), other->size()); ++p)
          if (p == pass || pass == passes) swaps.push_back({(*one)[p], (*other)[p]});
      exchange(kind, state, swaps);
    }
  }

  void exchange(Blunder kind, std::size_t state, const std::vector<Swap>& swaps) {
    Rows rows;
    bool changes = false;
    for (const Swap& swap : swaps) {
      if (!can_show(swap.one, load(swap.other)) || !can_show(swap.other, load(swap.one))) return;
      rows.insert(rows.end(), {swap.one, swap.other});
      changes = changes || !(load(swap.one) == load(swap.other));
    }
    std::sort(rows.begin(), rows.end());
    if (!changes || !touches(rows) || !exchanged_.insert(rows).second) return;
    Hypothesis& out = start(kind, state);
    for (const Swap& swap : swaps) {
      out.edits.push_back({swap.one, load(swap.other)});
      out.edits.push_back({swap.other, load(swap.one)});
    }
  }

  void sides(std::size_t k) {
    for (const auto& [at, left] : places_[k]) {
      if (at.extent != rig::Extent::wheel || at.side != rig::Side::left) continue;
      const Rows* right = find(k, Position::wheel(at.vehicle, at.axle, rig::Side::right));
      if (right) exchange(Blunder::sides_swapped, k, {{&left, right}});
    }
  }

  /// Two axles of one state, of one vehicle or across the coupling: whole axles, both wheels, or one side.
  void axles(std::size_t k) {
    std::set<std::pair<rig::Vehicle, int>> read;
    for (const auto& [at, rows] : places_[k])
      if (at.axle > 0) read.emplace(at.vehicle, at.axle);
    for (auto a = read.begin(); a != read.end(); ++a)
      for (auto b = std::next(a); b != read.end(); ++b) {
        const auto pair = [&](const Position& one, const Position& other) {
          return std::pair{find(k, one), find(k, other)};
        };
        const auto whole = pair(Position::whole_axle(a->first, a->second), Position::whole_axle(b->first, b->second));
        if (whole.first && whole.second) exchange(Blunder::axles_swapped, k, {whole});
        std::vector<std::pair<const Rows*, const Rows*>> wheels;
        for (const rig::Side side : {rig::Side::left, rig::Side::right}) {
          const auto ends = pair(Position::wheel(a->first, a->second, side), Position::wheel(b->first, b->second, side));
          if (ends.first && ends.second) wheels.push_back(ends);
        }
        exchange(Blunder::axles_swapped, k, wheels);
        if (wheels.size() == 2)
          for (const auto& ends : wheels) exchange(Blunder::axles_swapped, k, {ends});
      }
  }

  /// The same places of two states: one of them, an axle, a vehicle, everything.
  void states(std::size_t k, std::size_t other) {
    std::vector<std::pair<const Rows*, const Rows*>> all;
    std::map<rig::Vehicle, std::vector<std::pair<const Rows*, const Rows*>>> vehicles;
    std::map<std::pair<rig::Vehicle, int>, std::vector<std::pair<const Rows*, const Rows*>>> axles;
    for (const auto& [at, rows] : places_[k]) {
      const Rows* there = find(other, at);
      if (!there) continue;
      exchange(Blunder::states_swapped, k, {{&rows, there}});
      all.emplace_back(&rows, there);
      vehicles[at.vehicle].emplace_back(&rows, there);
      if (at.axle > 0) axles[{at.vehicle, at.axle}].emplace_back(&rows, there);
    }
    for (const auto& [axle, pairs] : axles) exchange(Blunder::states_swapped, k, pairs);
    for (const auto& [vehicle, pairs] : vehicles) exchange(Blunder::states_swapped, k, pairs);
    exchange(Blunder::states_swapped, k, all);
  }

  const Layout& layout_;
  std::set<Index> suspects_, touched_;  // and their repeats
  std::vector<Places> places_;
  std::set<Rows> exchanged_;  // the same exchange is one hypothesis however it was come by
  std::vector<Hypothesis> out_;
};

}  // namespace

bool bears(const rig::Session& session, const rig::Reading& reading, double kg) {
  double capacity = 0;
  for (const std::string& id : reading.scales) {
    const rig::Scale& scale = *rig::find_scale(session, id);
    if (!scale.capacity) return true;
    capacity += scale.capacity->kg().value();
  }
  return reading.scales.empty() || kg <= capacity;
}

std::vector<Hypothesis> hypotheses(const SolvedRig& solved, const adjust::Vector& sound,
                                   const std::vector<Index>& suspects) {
  std::vector<Hypothesis> out;
  Finder(solved, suspects).add_to(out);
  add_state_blunders(solved, sound, out);
  return out;
}

}  // namespace steelyard::reconcile
