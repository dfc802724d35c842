#include "reconcile/state_blunders.hpp"

#include <algorithm>
#include <cmath>

#include "reconcile/statics.hpp"

namespace steelyard::reconcile {
namespace {

// Sizes of the trade, kg and shares of a length (common practice, no source).
constexpr double least_person = 40, most_person = 130, usual_person = 85, person_u = 30;
constexpr double seat_u = 25;   // kg between front and rear axle: seats lie near the middle of the wheelbase
// People on a trailer stand anywhere from behind its axles to the drawbar: of their mass about a third is on
// the nose, give or take 40 kg.
constexpr double nose_share = 0.3, stand_u = 40;
constexpr double least_on_jockey = 10, most_on_jockey = 200;
constexpr double least_at_front = 20, most_at_front = 200;  // of weight distribution
constexpr double usual_to_jockey = 500;                     // mm, model section 4

/// What extra loads in one state add to its readings.
class Extra {
 public:
  Extra(const Layout& layout, std::size_t state) : layout_(layout), state_(state), load_(layout.count, 0.0) {}

  /// Shared evenly, which keeps a group's centre where it is.
  void on_tow(bool rear, double load) {
    const auto& axles = layout_.states[state_].axles[0];
    std::vector<Index> group;
    for (std::size_t a = 0; a < axles.size(); ++a)
      if (layout_.in_rear(a) == rear) group.push_back(axles[a].first);
    share(group, load);
  }
  void on_trailer(double load) {
    std::vector<Index> group;
    for (const AxleUnknowns& axle : layout_.states[state_].axles[1]) group.push_back(axle.first);
    share(group, load);
  }
  void on_support(double load) {
    if (const auto& support = layout_.states[state_].support) load_[static_cast<std::size_t>(*support)] += load;
  }

  [[nodiscard]] Hypothesis::Column column() const {
    Hypothesis::Column out;
    for (std::size_t i = 0; i < layout_.rows.size(); ++i) {
      const ReadingRow& row = layout_.rows[i];
      if (row.state != state_) continue;
      double sum = 0;
      for (const Index load : row.loads) sum += load_[static_cast<std::size_t>(load)];
      if (sum != 0) out.effect.emplace_back(static_cast<Index>(i), sum);
    }
    return out;
  }

 private:
  void share(const std::vector<Index>& group, double load) {
    for (const Index axle : group) load_[static_cast<std::size_t>(axle)] += load / static_cast<double>(group.size());
  }

  const Layout& layout_;
  std::size_t state_;
  std::vector<double> load_;
};

/// The arms of the rig near the truth.
class StateBlunders {
 public:
  StateBlunders(const SolvedRig& solved, const adjust::Vector& sound, std::vector<Hypothesis>& out)
      : layout_(*solved.layout), out_(out) {
    const Statics rig(layout_, sound);
    if (!layout_.coupled) return;
    relief_ = rig.overhang() / rig.wheelbase();
    wheelbase_ = rig.wheelbase();
    reach_ = rig.to_axles();
    const auto& jockey = layout_.session->rig.trailer->coupling_to_jockey;
    jockey_ = layout_.to_jockey ? rig[*layout_.to_jockey]
              : jockey          ? jockey->value.mm().value()
                                : usual_to_jockey;
  }

  void all() {
    for (std::size_t k = 0; k < layout_.states.size(); ++k) {
      const StateLayout& place = layout_.states[k];
      if (place.read[0]) person_in_vehicle(k);
      if (place.read[1] || place.support) person_on_trailer(k);
      if (!layout_.coupled) continue;
      if (place.state->hitched) {
        jockey_still_loaded(k);
        if (!place.distribution) distribution(k);
      }
      if (place.state->support == rig::Support::coupling) support_under_jockey(k);
    }
  }

 private:
  Hypothesis& start(Blunder kind, std::size_t state, double least, double most) {
    Hypothesis& out = out_.emplace_back();
    out.kind = kind;
    out.state = state;
    out.least = least;
    out.most = most;
    out.size = {1};
    return out;
  }

  /// A load on the coupling of a hitched rig.
  void on_coupling(Extra& extra, double load) const {
    extra.on_tow(false, -load * relief_);
    extra.on_tow(true, load * (1 + relief_));
  }

  void person_in_vehicle(std::size_t k) {
    Extra front(layout_, k), rear(layout_, k);
    front.on_tow(false, 1);
    rear.on_tow(true, 1);
    Hypothesis& out = start(Blunder::person_aboard, k, least_person, most_person);
    out.vehicle = rig::Vehicle::tow;
    out.columns = {front.column(), rear.column()};
    out.size = {1, 1};
    out.priors = {{{-1, 1}, seat_u}, {{1, 1}, person_u, usual_person}};
  }

  void person_on_trailer(std::size_t k) {
    const StateLayout& place = layout_.states[k];
    Extra axles(layout_, k), nose(layout_, k);
    axles.on_trailer(1);
    Hypothesis& out = start(Blunder::person_aboard, k, least_person, most_person);
    out.vehicle = rig::Vehicle::trailer;
    out.columns = {axles.column()};
    out.priors = {{{1}, person_u, usual_person}};
    if (!layout_.coupled || (!place.state->hitched && !place.support)) return;
    if (place.state->hitched)
      on_coupling(nose, 1);
    else
      nose.on_support(place.state->support == rig::Support::jockey ? reach_ / (reach_ - jockey_) : 1);
    if (nose.column().effect.empty()) return;
    out.columns.push_back(nose.column());
    out.size = {1, 1};
    out.priors = {{{-nose_share, 1 - nose_share}, stand_u}, {{1, 1}, person_u, usual_person}};
  }

  /// What still stands on the jockey wheel of a hitched rig is missing in the combination.
  void jockey_still_loaded(std::size_t k) {
    Extra missing(layout_, k);
    on_coupling(missing, -(reach_ - jockey_) / reach_);
    missing.on_trailer(-jockey_ / reach_);
    Hypothesis& out = start(Blunder::jockey_still_loaded, k, least_on_jockey, most_on_jockey);
    out.columns = {missing.column()};
    if (out.columns[0].effect.empty()) out_.pop_back();
  }

  void distribution(std::size_t k) {
    start(Blunder::weight_distribution_mislabelled, k, least_at_front, most_at_front).rearranged = true;
  }

  void support_under_jockey(std::size_t k) {
    std::vector<Index> moved;
    for (std::size_t i = 0; i < layout_.rows.size(); ++i)
      if (layout_.rows[i].state == k && layout_.rows[i].reading->at == rig::Position::support_at_coupling())
        moved.push_back(static_cast<Index>(i));
    if (moved.empty()) return;
    Hypothesis& out = start(Blunder::jockey_taken_for_coupling, k, 0, 0);
    out.size.clear();
    out.rearranged = true;
    out.moved = std::move(moved);
  }

  const Layout& layout_;
  std::vector<Hypothesis>& out_;
  double relief_ = 0, wheelbase_ = 1, reach_ = 1, jockey_ = 0;
};

}  // namespace

void add_state_blunders(const SolvedRig& solved, const adjust::Vector& sound, std::vector<Hypothesis>& out) {
  StateBlunders(solved, sound, out).all();
}

}  // namespace steelyard::reconcile
