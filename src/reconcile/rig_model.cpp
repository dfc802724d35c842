#include "reconcile/rig_model.hpp"

#include <cmath>
#include <limits>

#include "reconcile/statics.hpp"

namespace steelyard::reconcile {
namespace {

/// Collects values and derivatives.
struct FullRows {
  adjust::Vector& value;
  adjust::Matrix& derivative;
  static constexpr bool wants_derivatives = true;
  void set(Index row, double v) { value[row] = v; }
  auto at(Index row) {
    return [this, row](Index unknown, double d) { derivative(row, unknown) += d; };
  }
};

/// Collects values alone.
struct ValueRows {
  adjust::Vector& value;
  static constexpr bool wants_derivatives = false;
  void set(Index row, double v) { value[row] = v; }
};

std::vector<std::optional<Index>> direct_unknowns(const Layout& layout,
                                                  const std::vector<Observation>& observed) {
  std::vector<std::optional<Index>> out;
  std::size_t gain = 0, height = 0, level = 0;
  const auto next_level = [&] {
    while (!layout.states[level].level) ++level;
    return layout.states[level++].level;
  };
  for (const Observation& observation : observed) {
    switch (observation.kind) {
      case ObservationKind::reading:
        out.push_back(std::nullopt);
        break;
      case ObservationKind::gain:
        out.push_back(gain < layout.gains.size() ? layout.gains[gain] : layout.anonymous_gain);
        ++gain;
        break;
      case ObservationKind::wheelbase:
        out.push_back(layout.wheelbase);
        break;
      case ObservationKind::overhang:
        out.push_back(std::nullopt);
        break;
      case ObservationKind::coupling_to_axles:
        out.push_back(layout.to_axles);
        break;
      case ObservationKind::coupling_to_jockey:
        out.push_back(layout.to_jockey);
        break;
      case ObservationKind::height_sensitivity:
        out.push_back(layout.sensitivity);
        break;
      case ObservationKind::coupling_height:
        out.push_back(layout.states[height++].height);
        break;
      case ObservationKind::level:
        out.push_back(next_level());
        break;
      case ObservationKind::cg_height:
        out.push_back(layout.cg_height);
        break;
    }
  }
  return out;
}

}  // namespace

RigModel::RigModel(const Layout& layout, const std::vector<Observation>& observed, bool bounded)
    : layout_(layout),
      observed_(observed),
      direct_(direct_unknowns(layout, observed)),
      constraint_count_(layout.constraint_count()),
      bounded_(bounded) {}

template <class Rows>
void RigModel::fit(const adjust::Vector& z, Rows& rows) const {
  const Statics rig(layout_, z);
  Index i = 0;
  for (const ReadingRow& row : layout_.rows) {
    double sum = 0, gain = 0;
    for (const Index load : row.loads) sum += z[load];
    for (const Index g : row.gains) gain += z[g];
    const double share = 1 / static_cast<double>(row.gains.size());
    const double factor = 1 + gain * share;
    const double length = rig.wheelbase();
    const double shift = row.raised == 0 ? 0 : row.raised * z[*layout_.cg_height] / (length * length);
    const double borne = sum - (row.raised == 0 ? 0 : rig.tow_total(row.state) * shift);
    rows.set(i, factor * borne);
    if constexpr (Rows::wants_derivatives) {
      auto add = rows.at(i);
      for (const Index load : row.loads) add(load, factor);
      for (const Index g : row.gains) add(g, borne * share);
      if (row.raised != 0) {
        const double total = rig.tow_total(row.state);
        rig.add_tow_total(row.state, add, -factor * shift);
        add(*layout_.cg_height, -factor * total * row.raised / (length * length));
        add(layout_.wheelbase, 2 * factor * total * shift / length);
      }
    }
    ++i;
  }
  for (; i < observations(); ++i) {
    const auto& direct = direct_[static_cast<std::size_t>(i)];
    rows.set(i, direct ? z[*direct] : rig.overhang());
    if constexpr (Rows::wants_derivatives) {
      auto add = rows.at(i);
      if (direct)
        add(*direct, 1);
      else
        rig.add_overhang(add, 1);
    }
  }
}

template <class Rows>
void RigModel::close(const adjust::Vector& z, Rows& rows) const {
  const Statics rig(layout_, z);
  Index i = 0;
  const auto each_load = [](const AxleUnknowns& axle, auto&& use) {
    use(axle.first);
    if (axle.split) use(axle.second);
  };
  for (std::size_t k = 0; k < layout_.states.size(); ++k) {
    const StateLayout& place = layout_.states[k];
    if (place.read[0]) {
      double sum = 0, moment = 0, on_rear = 0;
      const double length = rig.wheelbase();
      for (std::size_t a = 0; a < place.axles[0].size(); ++a)
        each_load(place.axles[0][a], [&](Index load) {
          sum += z[load];
          moment += z[load] * (layout_.axle_offset[a] + (layout_.in_rear(a) ? length : 0));
          if (layout_.in_rear(a)) on_rear += z[load];
        });
      const double total = rig.tow_total(k), level = z[*place.level];
      rows.set(i, sum - total);
      rows.set(i + 1, moment - (rig.rear() + rig.net(k)) * length - rig.net_moment(k) + rig.distribution(k) -
                          total * level);
      if constexpr (Rows::wants_derivatives) {
        auto add = rows.at(i);
        auto turn = rows.at(i + 1);
        for (std::size_t a = 0; a < place.axles[0].size(); ++a)
          each_load(place.axles[0][a], [&](Index load) {
            add(load, 1);
            turn(load, layout_.axle_offset[a] + (layout_.in_rear(a) ? length : 0));
          });
        rig.add_tow_total(k, add, -1);
        turn(layout_.wheelbase, on_rear - rig.rear() - rig.net(k));
        turn(layout_.rear, -length);
        rig.add_net(k, turn, -length);
        rig.add_net_moment(k, turn, -1);
        rig.add_distribution(k, turn, 1);
        rig.add_tow_total(k, turn, -level);
        turn(*place.level, -total);
      }
      i += 2;
    }
    if (place.read[1] && (!layout_.coupled || place.state->hitched || place.support)) {
      double sum = 0;
      for (const AxleUnknowns& axle : place.axles[1]) each_load(axle, [&](Index load) { sum += z[load]; });
      rows.set(i, sum - rig.trailer() + rig.net(k) + (place.support ? z[*place.support] : 0));
      if constexpr (Rows::wants_derivatives) {
        auto add = rows.at(i);
        for (const AxleUnknowns& axle : place.axles[1]) each_load(axle, [&](Index load) { add(load, 1); });
        add(*layout_.trailer, -1);
        rig.add_net(k, add, 1);
        if (place.support) add(*place.support, 1);
      }
      ++i;
    }
    if (!place.support) continue;
    const double held = z[*place.support];
    if (place.state->support == rig::Support::coupling) {
      rows.set(i, held - rig.static_coupling(k));
      if constexpr (Rows::wants_derivatives) {
        auto add = rows.at(i);
        add(*place.support, 1);
        rig.add_static_coupling(k, add, -1);
      }
    } else {
      const double long_arm = rig.to_axles(), short_arm = long_arm - z[*layout_.to_jockey];
      rows.set(i, held * short_arm - rig.static_coupling(k) * long_arm);
      if constexpr (Rows::wants_derivatives) {
        auto add = rows.at(i);
        add(*place.support, short_arm);
        add(*layout_.to_axles, held - rig.static_coupling(k));
        add(*layout_.to_jockey, -held);
        rig.add_static_coupling(k, add, -long_arm);
      }
    }
    ++i;
  }
}

/// Behind the pole of the jockey's equation, or with a length turned round, loads may fit that no rig can
/// have.
bool RigModel::possible(const adjust::Vector& z) const {
  if (!(z[layout_.wheelbase] > 0)) return false;
  constexpr double wildest_gain = 0.5;  // a scale that shows half or double is no scale
  for (const Index gain : layout_.gains)
    if (!(std::abs(z[gain]) < wildest_gain)) return false;
  if (layout_.anonymous_gain && !(std::abs(z[*layout_.anonymous_gain]) < wildest_gain)) return false;
  if (!layout_.to_axles) return true;
  const double reach = z[*layout_.to_axles];
  return reach > 0 && (!layout_.to_jockey || reach > z[*layout_.to_jockey]);
}

void RigModel::linearise(const adjust::Vector& z, adjust::Linearised& out) const {
  FullRows observed{out.fitted, out.design};
  fit(z, observed);
  FullRows closed{out.misclosure, out.constraint};
  close(z, closed);
}

void RigModel::values(const adjust::Vector& z, adjust::Vector& fitted, adjust::Vector& misclosure) const {
  if (bounded_ && !possible(z)) {
    fitted.setConstant(std::numeric_limits<double>::infinity());
    return;
  }
  ValueRows observed{fitted};
  fit(z, observed);
  ValueRows closed{misclosure};
  close(z, closed);
}

}  // namespace steelyard::reconcile
