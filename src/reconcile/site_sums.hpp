// Sums of readings as the site gave them, each with what it owes to every observation.
//
// Internal to src/reconcile; for the cross-checks, apart from the adjustment. A SiteFigure's u follows from its
// derivatives, so that two figures from one scale share its gain. Units: kg, mm.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "reconcile/findings.hpp"
#include "rig/session.hpp"

namespace steelyard::reconcile {

/// A value and its derivatives by the observations, first order.
struct SiteFigure {
  double value = 0;
  std::map<std::size_t, double> by;  // index into Findings::observations

  /// this + factor·other
  [[nodiscard]] SiteFigure plus(const SiteFigure& other, double factor = 1) const;
  [[nodiscard]] SiteFigure minus(const SiteFigure& other) const { return plus(other, -1); }
  [[nodiscard]] SiteFigure times(double factor) const;
  [[nodiscard]] SiteFigure times(const SiteFigure& other) const;
  [[nodiscard]] SiteFigure over(const SiteFigure& other) const;  // other.value is not 0
  [[nodiscard]] double u(const std::vector<Observation>& observations) const;
};

class SiteSums {
 public:
  SiteSums(const rig::Session& session, const Findings& findings);

  /// Everything of a vehicle in a state: all its axles, or the vehicle read as a whole.
  [[nodiscard]] std::optional<SiteFigure> total(std::size_t state, rig::Vehicle vehicle) const;
  /// F of that state on level ground (model, section 2); every axle must have been read.
  [[nodiscard]] std::optional<SiteFigure> front(std::size_t state) const;
  /// What was read under the nose: J.
  [[nodiscard]] std::optional<SiteFigure> support(std::size_t state) const;
  /// The coupling load that J tells: by the jockey's lever where it stands there.
  [[nodiscard]] std::optional<SiteFigure> coupling(std::size_t state) const;
  /// What differing coupling heights may do to the coupling load, `to` less `from`: nothing by itself, with
  /// derivatives.
  [[nodiscard]] SiteFigure height_effect(std::size_t from, std::size_t to) const;
  /// The observation of that kind, of a state where it has one; nothing where there is none.
  [[nodiscard]] std::optional<SiteFigure> observed(ObservationKind kind, const std::string& state = {}) const;

  [[nodiscard]] const std::vector<Observation>& observations() const { return findings_.observations; }

 private:
  /// A mean of repeats with how far it stood above the others (f·t of the model), mm.
  struct Mean {
    SiteFigure load;
    double raised = 0;
  };
  [[nodiscard]] std::optional<Mean> mean(std::size_t state, const rig::Position& at) const;
  [[nodiscard]] std::optional<Mean> axle(std::size_t state, rig::Vehicle vehicle, int number) const;
  [[nodiscard]] std::optional<std::vector<Mean>> axles(std::size_t state, rig::Vehicle vehicle) const;
  /// Share of the tow vehicle that a reading lacks for a mm of f·t: h/L².
  [[nodiscard]] SiteFigure lift() const;

  struct Row {
    const rig::Reading* reading;
    SiteFigure load;
  };
  const rig::Session& session_;
  const Findings& findings_;
  std::vector<std::vector<Row>> rows_;  // by state
};

}  // namespace steelyard::reconcile
