// The statics of the rig at one set of unknowns, each value with its partial derivatives.
//
// Every value has an add_… beside it that adds weight·∂value/∂unknown through `add(index, derivative)`, so
// that the chain rule reads as the formula does. Units: kg, mm, kg·mm. Source: reconciliation model,
// section 3. Internal to src/reconcile.
#pragma once

#include "reconcile/layout.hpp"

namespace steelyard::reconcile {

/// An overhang beyond it is none that a rig can have.
constexpr double longest_overhang = 10000;  // mm, model section 5

class Statics {
 public:
  Statics(const Layout& layout, const adjust::Vector& z) : at_(layout), z_(z) {}

  [[nodiscard]] double operator[](Index unknown) const { return z_[unknown]; }
  [[nodiscard]] double front() const { return z_[at_.front]; }
  [[nodiscard]] double rear() const { return z_[at_.rear]; }
  [[nodiscard]] double wheelbase() const { return z_[at_.wheelbase]; }
  [[nodiscard]] double coupling() const { return z_[*at_.coupling]; }
  [[nodiscard]] double trailer() const { return z_[*at_.trailer]; }
  [[nodiscard]] double to_axles() const { return z_[*at_.to_axles]; }

  /// o
  [[nodiscard]] double overhang() const {
    if (at_.lever_kind == Lever::held) return at_.held_overhang;
    return at_.lever_kind == Lever::overhang ? z_[*at_.lever] : z_[*at_.lever] / divisor();
  }
  template <class Add>
  void add_overhang(Add&& add, double weight) const {
    if (at_.lever_kind == Lever::overhang) add(*at_.lever, weight);
    if (at_.lever_kind != Lever::moment) return;
    add(*at_.lever, weight / divisor());
    add(*at_.coupling, -weight * z_[*at_.lever] / (divisor() * divisor()));
  }

  /// Cₖ − C: what height and its uncertainty make of the coupling load in state k.
  [[nodiscard]] double height_effect(std::size_t k) const {
    if (!at_.reference || k == *at_.reference) return 0;
    return z_[*at_.sensitivity] * at_.states[k].height_difference + z_[*at_.states[k].height] -
           z_[*at_.states[*at_.reference].height];
  }
  template <class Add>
  void add_height_effect(std::size_t k, Add&& add, double weight) const {
    if (!at_.reference || k == *at_.reference) return;
    if (at_.states[k].height_difference != 0) add(*at_.sensitivity, weight * at_.states[k].height_difference);
    add(*at_.states[k].height, weight);
    add(*at_.states[*at_.reference].height, -weight);
  }

  /// Cₖ
  [[nodiscard]] double static_coupling(std::size_t k) const { return coupling() + height_effect(k); }
  template <class Add>
  void add_static_coupling(std::size_t k, Add&& add, double weight) const {
    add(*at_.coupling, weight);
    add_height_effect(k, add, weight);
  }

  /// Wₖ
  [[nodiscard]] double distribution(std::size_t k) const {
    return at_.states[k].distribution ? z_[*at_.states[k].distribution] : 0;
  }
  template <class Add>
  void add_distribution(std::size_t k, Add&& add, double weight) const {
    if (at_.states[k].distribution) add(*at_.states[k].distribution, weight);
  }

  /// Nₖ − C
  [[nodiscard]] double net_less_static(std::size_t k) const {
    return height_effect(k) - (at_.states[k].distribution ? distribution(k) / to_axles() : 0);
  }
  template <class Add>
  void add_net_less_static(std::size_t k, Add&& add, double weight) const {
    add_height_effect(k, add, weight);
    if (!at_.states[k].distribution) return;
    add(*at_.states[k].distribution, -weight / to_axles());
    add(*at_.to_axles, weight * distribution(k) / (to_axles() * to_axles()));
  }

  /// Nₖ in a hitched state of a coupled trailer; 0 elsewhere.
  [[nodiscard]] double net(std::size_t k) const {
    return loads_vehicle(k) ? coupling() + net_less_static(k) : 0;
  }
  template <class Add>
  void add_net(std::size_t k, Add&& add, double weight) const {
    if (!loads_vehicle(k)) return;
    add(*at_.coupling, weight);
    add_net_less_static(k, add, weight);
  }

  /// Nₖ·o. With T = C·o it is T + (Nₖ − C)·o, which is T itself in the reference state.
  [[nodiscard]] double net_moment(std::size_t k) const {
    if (!loads_vehicle(k)) return 0;
    if (at_.lever_kind == Lever::moment) return z_[*at_.lever] + net_less_static(k) * overhang();
    return net(k) * overhang();
  }
  template <class Add>
  void add_net_moment(std::size_t k, Add&& add, double weight) const {
    if (!loads_vehicle(k)) return;
    if (at_.lever_kind != Lever::moment) {
      add_net(k, add, weight * overhang());
      add_overhang(add, weight * net(k));
      return;
    }
    add(*at_.lever, weight);
    const double part = net_less_static(k);
    add_net_less_static(k, add, weight * overhang());
    if (part != 0) add_overhang(add, weight * part);
  }

  /// Fₖ + Rₖ
  [[nodiscard]] double tow_total(std::size_t k) const { return front() + rear() + net(k); }
  template <class Add>
  void add_tow_total(std::size_t k, Add&& add, double weight) const {
    add(at_.front, weight);
    add(at_.rear, weight);
    add_net(k, add, weight);
  }

  /// Fₖ
  [[nodiscard]] double tow_front(std::size_t k) const {
    return front() - (net_moment(k) - distribution(k)) / wheelbase();
  }
  template <class Add>
  void add_tow_front(std::size_t k, Add&& add, double weight) const {
    const double by = weight / wheelbase();
    add(at_.front, weight);
    add_net_moment(k, add, -by);
    add_distribution(k, add, by);
    add(at_.wheelbase, by * (net_moment(k) - distribution(k)) / wheelbase());
  }

  /// Rₖ
  [[nodiscard]] double tow_rear(std::size_t k) const { return tow_total(k) - tow_front(k); }
  template <class Add>
  void add_tow_rear(std::size_t k, Add&& add, double weight) const {
    add_tow_total(k, add, weight);
    add_tow_front(k, add, -weight);
  }

  /// True where the trailer rests on the tow vehicle in state k.
  [[nodiscard]] bool loads_vehicle(std::size_t k) const {
    return at_.coupled && at_.states[k].state->hitched;
  }

 private:
  // Exactly nothing on the coupling has no overhang; any direction away from there will do for the next step.
  [[nodiscard]] double divisor() const { return coupling() == 0 ? 1e-9 : coupling(); }

  const Layout& at_;
  const adjust::Vector& z_;
};

}  // namespace steelyard::reconcile
