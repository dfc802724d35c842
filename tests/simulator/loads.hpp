// A rig as it truly is, and what then rests on every wheel.
//
// Written from moments about contact points, apart from src/reconcile, so that the two can disagree. Units:
// kg (the mass a scale shows), mm, kg·mm, kg/mm. Definitions are those of the reconciliation model, sections
// 1 to
// 3. Places on the tow vehicle are behind the front group's centre, on the trailer behind the coupling.
// Invariant: shares of one group's axles add up to 1.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::simulator {

struct TrueTow {
  std::vector<double> places;      // of the axles, from the front
  std::vector<rig::Group> groups;  // likewise
  double wheelbase = 0;            // L
  double front = 0, rear = 0;      // F, R: unhitched, level
  double cg_height = 700;          // h
};

struct TrueTrailer {
  int axles = 1;
  rig::Suspension suspension = rig::Suspension::single;
  bool self_supporting = false;
  double mass = 0;         // M
  double coupling = 0;     // C, at the reference state's height
  double overhang = 0;     // o
  double to_axles = 1;     // D
  double to_jockey = 0;    // j
  double sensitivity = 0;  // S
};

struct TrueRig {
  TrueTow tow;
  std::optional<TrueTrailer> trailer;
};

/// Somebody aboard who should not be.
struct Person {
  rig::Vehicle vehicle = rig::Vehicle::tow;
  double mass = 0;
  double place = 0;
};

/// One arrangement as it truly stood.
struct TrueState {
  bool hitched = false;
  std::optional<rig::Support> support;
  double height_effect = 0;  // Cₖ − C
  double bars = 0;           // W
  double level = 0;          // q
  double stand = 0;      // mm behind the coupling: what holds an unhitched nose that no scale stands under
  double on_jockey = 0;  // kg that the jockey wheel still carries while hitched
  std::optional<Person> person;
  std::array<std::vector<double>, 2> share;  // of each axle in its group: tow vehicle, trailer
  std::array<std::vector<double>, 2> left;   // part of each axle's load on its left wheel end
};

/// Nothing special: even shares, level, no bars.
TrueState plain_state(const TrueRig& rig, bool hitched, std::optional<rig::Support> support = {});

struct Loads {
  std::array<std::vector<std::array<double, 2>>, 2> wheels;  // [vehicle][axle][side]
  double support = 0;                                        // J; 0 where hitched
  double static_coupling = 0;                                // Cₖ
  double net_coupling = 0;                                   // Nₖ; 0 where not hitched
};

Loads loads(const TrueRig& rig, const TrueState& state);

/// What rests there. Of the support positions: the support, whichever it is.
double load_at(const Loads& loads, const rig::Position& at);

/// The same rig with mass put on it, on the centre line and as high as its centre of gravity is. A
/// self-supporting trailer has no place to ask for.
TrueRig with_mass(TrueRig rig, rig::Vehicle vehicle, double place, double mass);

/// Mean place of the axles of a group, weighted by what each carries of it.
double group_place(const TrueTow& tow, const std::vector<double>& share, rig::Group group);

}  // namespace steelyard::simulator
