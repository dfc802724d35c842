// Which unknown stands where: the rig of one session laid out for the adjustment.
//
// Units of the unknowns: kg, mm, kg·mm, kg/mm and plain ratios as in the reconciliation model, section 2.
// Internal to src/reconcile. A Layout refers to its Session and must not outlive it.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "adjust/adjust.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

using adjust::Index;

/// How the overhang takes part. The results are the same; what differs is which problem stays nearly linear:
/// with a tape the overhang itself, without one the coupling moment T = C·o, which stays finite when C is
/// near nothing.
enum class Lever { overhang, moment, held };

struct AxleUnknowns {
  bool split = false;  // left and right apart; else one load for the axle
  Index first = 0;     // left, or the axle
  Index second = 0;    // right; only where split
};

struct StateLayout {
  const rig::State* state = nullptr;
  std::array<bool, 2> read{};                                 // tow vehicle, trailer: has a reading here
  std::array<std::vector<AxleUnknowns>, 2> axles{};           // empty where not read
  std::optional<Index> support, distribution, height, level;  // J, W, e, q
  double height_difference = 0;                               // Δh in mm, 0 where either height is not known
};

/// One reading that takes part.
struct ReadingRow {
  const rig::Reading* reading = nullptr;
  std::size_t state = 0;
  std::vector<Index> loads;  // the unknowns it sums
  std::vector<Index> gains;  // of its scales; the anonymous one where it names none
  double raised = 0;         // f·t in mm, only where it shifts a tow vehicle reading
};

struct Layout {
  Layout(const rig::Session& session, Lever lever, double held_overhang);

  const rig::Session* session;
  Lever lever_kind;
  double held_overhang;  // mm, used where the lever is held
  bool coupled;          // a trailer that rests on a coupling
  bool has_trailer;

  Index front = 0, rear = 0, wheelbase = 0;  // F, R, L
  std::optional<Index> coupling;             // C
  std::optional<Index> lever;                // o or T
  std::optional<Index> trailer;              // M
  std::optional<Index> to_axles, to_jockey;  // D, j
  std::optional<Index> sensitivity;          // S
  std::optional<Index> cg_height;            // h
  std::vector<Index> gains;                  // one for each scale of the sheet, in its order
  std::optional<Index> anonymous_gain;
  std::vector<StateLayout> states;
  std::vector<ReadingRow> rows;
  std::optional<std::size_t> reference;  // the reference state
  Index count = 0;

  std::vector<double> axle_offset;  // tow axles: place less their group's centre, mm
  double wheelbase_mm = 0;          // as given

  [[nodiscard]] adjust::Vector scale() const;
  [[nodiscard]] bool in_rear(std::size_t axle) const {
    return session->rig.tow_vehicle.axles[axle].group == rig::Group::rear;
  }
  [[nodiscard]] Index constraint_count() const;

 private:
  void place_states();
  void place_rows();
  std::vector<std::pair<Index, double>> scaled_;
  Index take(double scale);
};

}  // namespace steelyard::reconcile
