// How each limit's value answers to mass added at one place. Internal to src/assess.
//
// Units: kg, mm, or the limit's own. Statics as in room.hpp. Nothing throws: what cannot be told has a
// reason. Source: reconciliation model, sections 2, 3 and 8.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/room.hpp"

namespace steelyard::assess {

/// The value after adding m: (a + b·m)/(c + d·m). Invariant: c > 0.
struct Response {
  double a = 0, b = 0, c = 1, d = 0;
  double u = 0;  // of the value now
};

/// All of `responses` have to stay within the rating: one, or one an axle for a side difference.
struct Told {
  std::vector<Response> responses;  // empty where it cannot be told
  bool supposed = false;
  std::string reason;
};

class Addition {
 public:
  Addition(const rig::Session& session, const reconcile::Findings& findings, const Place& place)
      : session_(session), findings_(findings), place_(place) {}

  /// Of an assessed row.
  [[nodiscard]] Told told(const Row& row);

 private:
  using Rate = std::optional<double>;  // change per kg added; nothing: reason_ says why

  [[nodiscard]] bool on_trailer() const { return place_.vehicle == rig::Vehicle::trailer; }
  [[nodiscard]] bool coupled() const {
    return session_.rig.trailer && !session_.rig.trailer->self_supporting;
  }
  [[nodiscard]] double on(rig::Vehicle vehicle) const { return place_.vehicle == vehicle ? 1 : 0; }

  std::optional<double> found(std::string_view name, std::string_view state = {}, std::string_view at = {});
  std::optional<double> fitted(reconcile::ObservationKind kind, std::string_view state = {}) const;
  std::optional<double> to_axles();
  double wheelbase() const;

  Rate coupling();
  Rate net(const rig::State& state);
  Rate tow_total(const rig::State& state);
  Rate tow_moment(const rig::State& state);
  Rate tow_group(const rig::State& state, rig::Group group);
  Rate tow_group_on_site(const rig::State& state, rig::Group group);
  Rate trailer_axles(const rig::State& state);
  Rate axle(const rig::State& state, const rig::Position& at);
  int axles_of(rig::Group group) const;
  /// The part of its group's load that an axle carries now, and where the group's load acts.
  std::optional<double> share(const rig::State& state, std::size_t axle);
  std::optional<double> centre(const rig::State& state, rig::Group group);

  using Answer = std::optional<Response>;
  Answer plain(const Row& row, Rate rate) const;
  Answer over(const Row& row, Rate rate, std::optional<double> under, Rate under_rate) const;
  Answer answer(const Row& row, const rig::Limit& limit);
  Answer answer_in(const Row& row, const rig::Limit& limit, const rig::State& state);
  Answer wheel(const Row& row, const rig::State& state);
  std::vector<Response> side_differences(const rig::State& state);

  const rig::Session& session_;
  const reconcile::Findings& findings_;
  const Place& place_;
  std::string reason_;
  bool supposed_ = false;
};

}  // namespace steelyard::assess
