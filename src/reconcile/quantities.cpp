#include "reconcile/quantities.hpp"

#include <cmath>

#include "adjust/distributions.hpp"
#include "reconcile/statics.hpp"

namespace steelyard::reconcile {
namespace {

/// What is to be known of each quantity.
enum class Depth { whole, value };

/// Quantities of one solution; gradients stand one after another, so that one product gives every
/// uncertainty.
class Derivation {
 public:
  Derivation(const Layout& layout, const adjust::Solution& solution, Depth depth)
      : at_(layout), solution_(solution), rig_(layout, solution.unknowns), depth_(depth) {}

  const Statics& rig() const { return rig_; }

  /// A quantity whose gradient `fill` writes through add(index, derivative).
  template <class Fill>
  Derived make(std::string name, const StateLayout* state, std::string at, Measure measure, double value,
               Fill&& fill) {
    Derived out;
    Quantity& quantity = out.quantity;
    if (depth_ == Depth::value) {
      quantity.value = value;
      return out;
    }
    gradient_.setZero(at_.count);
    fill([this](Index unknown, double d) { gradient_[unknown] += d; });
    quantity.name = std::move(name);
    if (state) quantity.state = state->state->name;
    if (!at.empty()) quantity.at = std::move(at);
    quantity.measure = measure;
    quantity.determinable = solution_.determinable(gradient_);
    if (quantity.determinable) {
      quantity.value = value;
      quantity.u = solution_.uncertainty(gradient_);
    } else {
      out.obstacle = Obstacle::free;
    }
    out.gradient = gradient_;
    return out;
  }

  static void forbid(Derived& derived, Obstacle obstacle) {
    if (!derived.quantity.determinable) return;
    derived.quantity.determinable = false;
    derived.quantity.value = derived.quantity.u = 0;
    derived.obstacle = obstacle;
  }

  Derived overhang(std::string name) {
    return make(std::move(name), nullptr, "", Measure::millimetre, rig_.overhang(),
                [&](auto add) { rig_.add_overhang(add, 1); });
  }

  /// base + o/L
  Derived ratio(std::string name, double base) {
    const double o = rig_.overhang(), length = rig_.wheelbase();
    return make(std::move(name), nullptr, "", Measure::one, base + o / length, [&](auto add) {
      rig_.add_overhang(add, 1 / length);
      add(at_.wheelbase, -o / (length * length));
    });
  }

  /// What stands in the way of dividing by the coupling load here; the tape takes the first obstacle away.
  Obstacle division_obstacle(bool taped) {
    if (at_.lever_kind == Lever::held) return Obstacle::held;
    if (!taped) {
      const Derived load =
          make("", nullptr, "", Measure::kilogram, rig_.coupling(), [&](auto add) { add(*at_.coupling, 1); });
      if (load.quantity.determinable && std::abs(load.quantity.value) <= adjust::z95 * load.quantity.u)
        return Obstacle::small_coupling;
    }
    return std::abs(rig_.overhang()) > longest_overhang ? Obstacle::far_overhang : Obstacle::none;
  }

 protected:
  const Layout& at_;
  const adjust::Solution& solution_;
  Statics rig_;
  Depth depth_;
  adjust::Vector gradient_;
};

class Listing : Derivation {
 public:
  Listing(const Layout& layout, const std::vector<Observation>& observed, const adjust::Solution& solution,
          bool lengths_held, const Layout& other, const adjust::Solution* weights_only, Depth depth)
      : Derivation(layout, solution, depth),
        lengths_held_(lengths_held),
        other_(other),
        weights_only_(weights_only),
        observed_(observed) {}

  DerivedSet all() {
    unhitched();
    if (at_.coupled) {
      obstacle_ = division_obstacle(at_.session->rig.tow_vehicle.overhang.has_value());
      coupling_loads();
      levers();
    }
    hitched();
    masses();
    if (at_.coupled) {
      distribution();
      sensitivity();
    }
    positions();
    if (depth_ == Depth::whole) for_limits();
    return std::move(out_);
  }

 private:
  template <class Fill>
  void list(std::string name, const StateLayout* state, std::string at, Measure measure, double value,
            Fill&& fill) {
    out_.listed.push_back(
        make(std::move(name), state, std::move(at), measure, value, std::forward<Fill>(fill)));
  }
  template <class Fill>
  void limit(std::string name, const StateLayout* state, std::string at, Measure measure, double value,
             Fill&& fill) {
    out_.for_limits.push_back(
        make(std::move(name), state, std::move(at), measure, value, std::forward<Fill>(fill)));
  }

  template <class Use>
  void each_state(Use&& use) {
    for (std::size_t k = 0; k < at_.states.size(); ++k) use(k, &at_.states[k]);
  }
  template <class Use>
  void each_hitched(Use&& use) {
    each_state([&](std::size_t k, const StateLayout* place) {
      if (place->state->hitched) use(k, place);
    });
  }

  void unhitched() {
    list("tow_unhitched_front", nullptr, "", Measure::kilogram, rig_.front(),
         [&](auto add) { add(at_.front, 1); });
    list("tow_unhitched_rear", nullptr, "", Measure::kilogram, rig_.rear(),
         [&](auto add) { add(at_.rear, 1); });
    list("tow_unhitched_total", nullptr, "", Measure::kilogram, rig_.front() + rig_.rear(), [&](auto add) {
      add(at_.front, 1);
      add(at_.rear, 1);
    });
  }

  void coupling_loads() {
    list("coupling_load", nullptr, "", Measure::kilogram, rig_.coupling(),
         [&](auto add) { add(*at_.coupling, 1); });
    each_state([&](std::size_t k, const StateLayout* place) {
      list("coupling_load_at_height", place, "", Measure::kilogram, rig_.static_coupling(k),
           [&](auto add) { rig_.add_static_coupling(k, add, 1); });
    });
    each_hitched([&](std::size_t k, const StateLayout* place) {
      list("coupling_load_net", place, "", Measure::kilogram, rig_.net(k),
           [&](auto add) { rig_.add_net(k, add, 1); });
    });
  }

  void levers() {
    for (Derived derived :
         {ratio("load_transfer_ratio", 1), ratio("front_relief_ratio", 0), overhang("overhang")}) {
      if (obstacle_ != Obstacle::none) forbid(derived, obstacle_);
      out_.listed.push_back(std::move(derived));
    }
    if (!weights_only_) {
      for (const auto& [name, measure] : {std::pair{"inferred_overhang", Measure::millimetre},
                                          std::pair{"inferred_transfer_ratio", Measure::one}}) {
        Derived& derived = out_.listed.emplace_back();
        derived.quantity.name = name;
        derived.quantity.measure = measure;
        derived.obstacle = Obstacle::not_solved;
      }
      return;
    }
    Derivation weights(other_, *weights_only_, depth_);
    const Obstacle obstacle = weights.division_obstacle(false);
    for (Derived derived :
         {weights.overhang("inferred_overhang"), weights.ratio("inferred_transfer_ratio", 1)}) {
      if (obstacle != Obstacle::none) forbid(derived, obstacle);
      if (derived.quantity.determinable) interval(derived);
      derived.weights_only = true;
      out_.listed.push_back(std::move(derived));
    }
  }

  /// Fieller's interval of T/C, or of 1 + (T/L)/C, from the covariances of the solution without the tape.
  void interval(Derived& derived) {
    const Statics rig(other_, weights_only_->unknowns);
    const bool per_wheelbase = derived.quantity.measure == Measure::one;
    const double by = per_wheelbase ? 1 / rig.wheelbase() : 1;
    const double o = rig.overhang(), load = rig.coupling(), moment = load * o;
    adjust::Vector upper = adjust::Vector::Zero(other_.count), lower = upper;
    const auto add = [&](Index unknown, double d) { upper[unknown] += d; };
    if (other_.lever_kind == Lever::moment) {
      add(*other_.lever, by);
    } else {
      add(*other_.coupling, o * by);
      rig.add_overhang(add, load * by);
    }
    if (per_wheelbase) add(other_.wheelbase, -moment * by * by);
    lower[*other_.coupling] = 1;
    // Without the coupling load itself there is no pair, and no interval, however well the ratio is known.
    if (!weights_only_->determinable(upper) || !weights_only_->determinable(lower))
      return forbid(derived, Obstacle::free);
    const auto found =
        adjust::fieller(moment * by, load, weights_only_->covariance(upper, upper),
                        weights_only_->covariance(lower, lower), weights_only_->covariance(upper, lower));
    if (!found) return forbid(derived, Obstacle::small_coupling);
    const double base = per_wheelbase ? 1 : 0;
    derived.quantity.interval = std::pair{base + found->first, base + found->second};
  }

  void hitched() {
    each_hitched([&](std::size_t k, const StateLayout* place) {
      list("tow_hitched_front", place, "", Measure::kilogram, rig_.tow_front(k),
           [&](auto add) { rig_.add_tow_front(k, add, 1); });
      list("tow_hitched_rear", place, "", Measure::kilogram, rig_.tow_rear(k),
           [&](auto add) { rig_.add_tow_rear(k, add, 1); });
      list("tow_hitched_total", place, "", Measure::kilogram, rig_.tow_total(k),
           [&](auto add) { rig_.add_tow_total(k, add, 1); });
    });
  }

  void masses() {
    if (!at_.has_trailer) return;
    list("trailer_mass", nullptr, "", Measure::kilogram, rig_.trailer(),
         [&](auto add) { add(*at_.trailer, 1); });
    if (at_.coupled)
      each_hitched([&](std::size_t k, const StateLayout* place) {
        list("trailer_axles_hitched", place, "", Measure::kilogram, rig_.trailer() - rig_.net(k),
             [&](auto add) {
               add(*at_.trailer, 1);
               rig_.add_net(k, add, -1);
             });
      });
    list("combination_mass", nullptr, "", Measure::kilogram, rig_.front() + rig_.rear() + rig_.trailer(),
         [&](auto add) {
           add(at_.front, 1);
           add(at_.rear, 1);
           add(*at_.trailer, 1);
         });
    if (!at_.coupled) return;
    const double mass = rig_.trailer(), load = rig_.coupling();
    list("coupling_share", nullptr, "", Measure::one, load / mass, [&](auto add) {
      add(*at_.coupling, 1 / mass);
      add(*at_.trailer, -load / (mass * mass));
    });
  }

  void distribution() {
    each_hitched([&](std::size_t k, const StateLayout* place) {
      if (!place->distribution) return;
      list("weight_distribution_moment", place, "", Measure::kilogram_millimetre, rig_.distribution(k),
           [&](auto add) { rig_.add_distribution(k, add, 1); });
      if (lengths_held_) forbid(out_.listed.back(), Obstacle::held);
    });
    each_hitched([&](std::size_t k, const StateLayout* place) {
      if (!place->distribution) return;
      out_.listed.push_back(restoration(k, place));
    });
  }

  /// Wₖ·(1 + o/D)/(Cₖ·o) = Wₖ/Cₖ·(1/o + 1/D)
  Derived restoration(std::size_t k, const StateLayout* place) {
    const double w = rig_.distribution(k), load = rig_.static_coupling(k), o = rig_.overhang(),
                 d = rig_.to_axles(), length = rig_.wheelbase();
    const double lever = 1 / o + 1 / d, value = w / load * lever;
    Derived out = make("front_axle_restoration", place, "", Measure::one, value, [&](auto add) {
      rig_.add_distribution(k, add, lever / load);
      rig_.add_static_coupling(k, add, -value / load);
      rig_.add_overhang(add, -w / load / (o * o));
      add(*at_.to_axles, -w / load / (d * d));
    });
    if (obstacle_ != Obstacle::none) forbid(out, obstacle_);
    const Derived loss = make("", nullptr, "", Measure::kilogram, load * o / length, [&](auto add) {
      rig_.add_static_coupling(k, add, o / length);
      rig_.add_overhang(add, load / length);
      add(at_.wheelbase, -load * o / (length * length));
    });
    if (loss.quantity.determinable && std::abs(loss.quantity.value) < 2 * loss.quantity.u)
      forbid(out, Obstacle::small_front_loss);
    return out;
  }

  void sensitivity() {
    Derived out = make("height_sensitivity", nullptr, "", Measure::kilogram_per_millimetre,
                       rig_[*at_.sensitivity], [&](auto add) { add(*at_.sensitivity, 1); });
    double prior = 0;
    for (const Observation& observation : observed_)
      if (observation.kind == ObservationKind::height_sensitivity) prior = observation.u;
    if (out.quantity.determinable && !(out.quantity.u < prior / 2)) forbid(out, Obstacle::prior_only);
    out_.listed.push_back(std::move(out));
  }

  /// A sum of loads with signs, as the site gave them.
  void site(std::string name, const StateLayout* place, std::string at,
            const std::vector<std::pair<Index, double>>& parts) {
    double value = 0;
    for (const auto& [unknown, sign] : parts) value += sign * rig_[unknown];
    list(std::move(name), place, std::move(at), Measure::kilogram, value, [&](auto add) {
      for (const auto& [unknown, sign] : parts) add(unknown, sign);
    });
  }

  static void add_axle(std::vector<std::pair<Index, double>>& parts, const AxleUnknowns& axle) {
    parts.emplace_back(axle.first, 1.0);
    if (axle.split) parts.emplace_back(axle.second, 1.0);
  }

  template <class Use>
  void each_axle(Use&& use) {
    each_state([&](std::size_t, const StateLayout* place) {
      for (std::size_t v = 0; v < 2; ++v) {
        const auto vehicle = v == 0 ? rig::Vehicle::tow : rig::Vehicle::trailer;
        for (std::size_t a = 0; a < place->axles[v].size(); ++a)
          use(place, vehicle, static_cast<int>(a + 1), place->axles[v][a]);
      }
    });
  }

  void positions() {
    using rig::Position;
    each_axle([&](const StateLayout* place, rig::Vehicle vehicle, int n, const AxleUnknowns& axle) {
      if (!axle.split) return;
      site("wheel_load", place, to_text(Position::wheel(vehicle, n, rig::Side::left)), {{axle.first, 1}});
      site("wheel_load", place, to_text(Position::wheel(vehicle, n, rig::Side::right)), {{axle.second, 1}});
    });
    each_axle([&](const StateLayout* place, rig::Vehicle vehicle, int n, const AxleUnknowns& axle) {
      std::vector<std::pair<Index, double>> parts;
      add_axle(parts, axle);
      site("axle_load", place, to_text(Position::whole_axle(vehicle, n)), parts);
    });
    each_state([&](std::size_t, const StateLayout* place) {
      std::vector<std::pair<Index, double>> front, rear, trailer;
      for (std::size_t a = 0; a < place->axles[0].size(); ++a)
        add_axle(at_.in_rear(a) ? rear : front, place->axles[0][a]);
      for (const AxleUnknowns& axle : place->axles[1]) add_axle(trailer, axle);
      if (!front.empty()) site("group_load", place, "tow.front", front);
      if (!rear.empty()) site("group_load", place, "tow.rear", rear);
      if (!trailer.empty()) site("group_load", place, "trailer", trailer);
    });
    each_axle([&](const StateLayout* place, rig::Vehicle vehicle, int n, const AxleUnknowns& axle) {
      if (axle.split)
        site("side_difference", place, to_text(Position::whole_axle(vehicle, n)),
             {{axle.first, 1}, {axle.second, -1}});
    });
  }

  void for_limits() {
    each_state([&](std::size_t k, const StateLayout* place) {
      limit("tow_load", place, "", Measure::kilogram, rig_.tow_total(k),
            [&](auto add) { rig_.add_tow_total(k, add, 1); });
      group(k, place, false);
      group(k, place, true);
      front_share(k, place);
    });
    each_axle([&](const StateLayout* place, rig::Vehicle vehicle, int n, const AxleUnknowns& axle) {
      if (!axle.split) return;
      const double left = rig_[axle.first], right = rig_[axle.second], sum = left + right;
      const double sign = left >= right ? 1 : -1, share = sign * (left - right) / sum;
      limit("side_difference_share", place, to_text(rig::Position::whole_axle(vehicle, n)), Measure::one,
            share, [&](auto add) {
              add(axle.first, (sign - share) / sum);
              add(axle.second, (-sign - share) / sum);
            });
    });
    if (!at_.has_trailer) return;
    const double mass = rig_.trailer(), tow = rig_.front() + rig_.rear();
    limit("mass_ratio", nullptr, "", Measure::one, mass / tow, [&](auto add) {
      add(*at_.trailer, 1 / tow);
      add(at_.front, -mass / (tow * tow));
      add(at_.rear, -mass / (tow * tow));
    });
    const double resting = at_.coupled ? rig_.coupling() : 0;
    limit("trailer_axles_static", nullptr, "", Measure::kilogram, mass - resting, [&](auto add) {
      add(*at_.trailer, 1);
      if (at_.coupled) add(*at_.coupling, -1);
    });
  }

  /// A group's load on level ground: of a single axle Fₖ or Rₖ, of several their sum as read, less the shift.
  double group_value(std::size_t k, bool rear) const {
    const StateLayout& place = at_.states[k];
    if (single(rear)) return rear ? rig_.tow_rear(k) : rig_.tow_front(k);
    double sum = 0;
    for (std::size_t a = 0; a < place.axles[0].size(); ++a)
      if (at_.in_rear(a) == rear)
        sum += rig_[place.axles[0][a].first] + (place.axles[0][a].split ? rig_[place.axles[0][a].second] : 0);
    const double shift = rig_.tow_total(k) * rig_[*place.level] / rig_.wheelbase();
    return rear ? sum - shift : sum + shift;
  }

  template <class Add>
  void add_group(std::size_t k, bool rear, Add&& add, double weight) const {
    const StateLayout& place = at_.states[k];
    if (single(rear)) {
      rear ? rig_.add_tow_rear(k, add, weight) : rig_.add_tow_front(k, add, weight);
      return;
    }
    for (std::size_t a = 0; a < place.axles[0].size(); ++a) {
      if (at_.in_rear(a) != rear) continue;
      add(place.axles[0][a].first, weight);
      if (place.axles[0][a].split) add(place.axles[0][a].second, weight);
    }
    const double q = rig_[*place.level], length = rig_.wheelbase(), by = (rear ? -weight : weight) / length;
    rig_.add_tow_total(k, add, by * q);
    add(*place.level, by * rig_.tow_total(k));
    add(at_.wheelbase, -by * rig_.tow_total(k) * q / length);
  }

  bool single(bool rear) const {
    int count = 0;
    for (std::size_t a = 0; a < at_.axle_offset.size(); ++a) count += at_.in_rear(a) == rear;
    return count == 1;
  }

  /// Several axles not read in this state: nothing is assumed of how a group shares its load, so it is not
  /// known.
  void unread(std::string name, const StateLayout* place, Measure measure) {
    Derived& derived = out_.for_limits.emplace_back();
    derived.quantity.name = std::move(name);
    derived.quantity.state = place->state->name;
    derived.quantity.measure = measure;
    derived.obstacle = Obstacle::free;
  }

  void group(std::size_t k, const StateLayout* place, bool rear) {
    const std::string name = rear ? "tow_rear_load" : "tow_front_load";
    if (!single(rear) && !place->read[0]) return unread(name, place, Measure::kilogram);
    limit(name, place, "", Measure::kilogram, group_value(k, rear),
          [&](auto add) { add_group(k, rear, add, 1); });
  }

  void front_share(std::size_t k, const StateLayout* place) {
    if (!single(false) && !place->read[0]) return unread("tow_front_share", place, Measure::one);
    const double total = rig_.tow_total(k), front = group_value(k, false);
    limit("tow_front_share", place, "", Measure::one, front / total, [&](auto add) {
      add_group(k, false, add, 1 / total);
      rig_.add_tow_total(k, add, -front / (total * total));
    });
  }

  bool lengths_held_;
  const Layout& other_;
  const adjust::Solution* weights_only_;
  const std::vector<Observation>& observed_;
  Obstacle obstacle_ = Obstacle::none;
  DerivedSet out_;
};

}  // namespace

DerivedSet derive(const Layout& layout, const std::vector<Observation>& observed,
                  const adjust::Solution& solution, bool lengths_held, const Layout& weights_only_layout,
                  const adjust::Solution* weights_only) {
  return Listing(layout, observed, solution, lengths_held, weights_only_layout, weights_only, Depth::whole)
      .all();
}

std::vector<double> derive_values(const Layout& layout, const std::vector<Observation>& observed,
                                  const adjust::Vector& unknowns, const Layout& weights_only_layout,
                                  const adjust::Vector* weights_only) {
  adjust::Solution main, weights;
  main.unknowns = unknowns;
  if (weights_only) weights.unknowns = *weights_only;
  const DerivedSet all = Listing(layout, observed, main, false, weights_only_layout,
                                 weights_only ? &weights : nullptr, Depth::value)
                             .all();
  std::vector<double> out;
  out.reserve(all.listed.size());
  for (const Derived& derived : all.listed) out.push_back(derived.quantity.value);
  return out;
}

}  // namespace steelyard::reconcile
