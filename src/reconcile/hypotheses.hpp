// The blunders that may have been made in a session, each as what it would do to the observations.
//
// A hypothesis either replaces loads by what they would have been (edits), or adds unknowns of a free size to
// the fitted readings (columns), or says that a state was arranged otherwise than the sheet has it. Sizes: the trade's (common practice,
// no source). Internal to src/reconcile.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "reconcile/solve_rig.hpp"

namespace steelyard::reconcile {

struct Hypothesis {
  struct Edit {
    Index row = 0;
    units::Load meant;
  };
  /// One unknown more: what a unit of it adds to the fitted value of each reading named.
  struct Column {
    std::vector<std::pair<Index, double>> effect;
    double scale = 100;  // its typical size
  };
  /// What is supposed of the columns beforehand: Σ weight·column = value ± u.
  struct Prior {
    std::vector<double> weight;
    double u = 1;
    double value = 0;
  };
  Blunder kind = Blunder::digits_swapped;
  std::optional<std::size_t> state;  // index into the layout's states
  std::optional<std::string> scale;
  std::optional<rig::Vehicle> vehicle;  // of somebody aboard
  std::vector<Edit> edits;
  std::vector<Column> columns;
  std::vector<Prior> priors;
  std::vector<double> size;            // the size is Σ size·column
  /// The size has to lie between them, within twice its u; of weight distribution what it puts back at the front
  /// axle.
  double least = 0, most = 0;
  bool either_sign = false;            // or between −most and −least
  std::vector<Index> corrects;         // rows whose load would have been less by the effect of the columns
  /// The state was arranged otherwise than the sheet says, so that the session has to be solved anew: bars on
  /// (weight_distribution_mislabelled), or the support under the jockey wheel (jockey_taken_for_coupling).
  bool rearranged = false;
  std::vector<Index> moved;  // readings at the coupling, whose scale stood under the jockey wheel
};

/// Whether the scales of a reading can show so much, by their capacities; true where one of them has none given.
bool bears(const rig::Session& session, const rig::Reading& reading, double kg);

/// Every blunder that touches one of the rows in `suspects`, and those that change the rig itself in a state.
/// `sound` are unknowns near the truth, for the arms of levers.
std::vector<Hypothesis> hypotheses(const SolvedRig& solved, const adjust::Vector& sound,
                                   const std::vector<Index>& suspects);

}  // namespace steelyard::reconcile
