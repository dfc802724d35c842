#include "reconcile/site_sums.hpp"

#include <cmath>
#include <utility>

namespace steelyard::reconcile {
namespace {

/// The gains of a reading's scales, as indices of observations; the unnamed scales' gain where it names none.
std::vector<std::size_t> gains_of(const rig::Reading& reading, const std::vector<Observation>& observations) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    if (observations[i].kind != ObservationKind::gain) continue;
    const std::vector<std::string>& scales = observations[i].scales;
    if (reading.scales.empty() && scales.empty()) out.push_back(i);
    for (const std::string& id : reading.scales)
      if (!scales.empty() && id == scales.front()) out.push_back(i);
  }
  return out;
}

/// State and place of the reading that was observed.
std::optional<std::pair<std::size_t, std::size_t>> find(const rig::Session& session,
                                                        const Observation& observed) {
  if (observed.kind != ObservationKind::reading || !observed.id) return std::nullopt;
  for (std::size_t k = 0; k < session.states.size(); ++k)
    for (std::size_t i = 0; i < session.states[k].readings.size(); ++i)
      if (session.states[k].readings[i].id == *observed.id) return std::pair{k, i};
  return std::nullopt;
}

}  // namespace

SiteFigure SiteFigure::plus(const SiteFigure& other, double factor) const {
  SiteFigure out = *this;
  out.value += factor * other.value;
  for (const auto& [observation, derivative] : other.by) out.by[observation] += factor * derivative;
  return out;
}

SiteFigure SiteFigure::times(double factor) const {
  return SiteFigure{}.plus(*this, factor);
}

SiteFigure SiteFigure::times(const SiteFigure& other) const {
  SiteFigure out = times(other.value).plus(other, value);
  out.value = value * other.value;
  return out;
}

SiteFigure SiteFigure::over(const SiteFigure& other) const {
  SiteFigure out = times(1 / other.value).plus(other, -value / (other.value * other.value));
  out.value = value / other.value;
  return out;
}

double SiteFigure::u(const std::vector<Observation>& observations) const {
  double sum = 0;
  for (const auto& [observation, derivative] : by) {
    const double part = derivative * observations.at(observation).u;
    sum += part * part;
  }
  return std::sqrt(sum);
}

SiteSums::SiteSums(const rig::Session& session, const Findings& findings)
    : session_(session), findings_(findings), rows_(session.states.size()) {
  for (std::size_t i = 0; i < findings.observations.size(); ++i) {
    const Observation& observed = findings.observations[i];
    const auto found = find(session, observed);
    if (!found) continue;
    const rig::Reading& reading = session.states[found->first].readings[found->second];
    Row& row = rows_[found->first].emplace_back(Row{&reading, {observed.value, {{i, 1.0}}}});
    const auto gains = gains_of(reading, findings.observations);
    for (const std::size_t gain : gains)
      row.load.by[gain] -= observed.value / static_cast<double>(gains.size());
  }
}

std::optional<SiteFigure> SiteSums::observed(ObservationKind kind, const std::string& state) const {
  for (std::size_t i = 0; i < findings_.observations.size(); ++i) {
    const Observation& one = findings_.observations[i];
    if (one.kind == kind && one.state.value_or("") == state) return SiteFigure{one.value, {{i, 1.0}}};
  }
  return std::nullopt;
}

std::optional<SiteSums::Mean> SiteSums::mean(std::size_t state, const rig::Position& at) const {
  // What an independently sprung axle carries above the others is hardly known; level readings go before.
  const bool trailer = at.vehicle == rig::Vehicle::trailer;
  bool level = false;
  for (const Row& row : rows_[state]) level = level || (row.reading->at == at && !row.reading->raised);
  Mean out;
  double count = 0;
  for (const Row& row : rows_[state]) {
    const rig::Reading& reading = *row.reading;
    if (!(reading.at == at) || (trailer && level && reading.raised)) continue;
    out.load = out.load.plus(row.load);
    if (reading.raised && at.vehicle == rig::Vehicle::tow && at.extent != rig::Extent::vehicle)
      out.raised += reading.raised->mm().value() * (at.extent == rig::Extent::axle ? 1 : 0.5);
    ++count;
  }
  if (count == 0) return std::nullopt;
  return Mean{out.load.times(1 / count), out.raised / count};
}

std::optional<SiteSums::Mean> SiteSums::axle(std::size_t state, rig::Vehicle vehicle, int number) const {
  if (auto whole = mean(state, rig::Position::whole_axle(vehicle, number))) return whole;
  const auto left = mean(state, rig::Position::wheel(vehicle, number, rig::Side::left)),
             right = mean(state, rig::Position::wheel(vehicle, number, rig::Side::right));
  if (!left || !right) return std::nullopt;
  return Mean{left->load.plus(right->load), left->raised + right->raised};
}

std::optional<std::vector<SiteSums::Mean>> SiteSums::axles(std::size_t state, rig::Vehicle vehicle) const {
  const int count = vehicle == rig::Vehicle::tow ? static_cast<int>(session_.rig.tow_vehicle.axles.size())
                                                 : session_.rig.trailer->axles;
  std::vector<Mean> out;
  for (int number = 1; number <= count; ++number) {
    auto one = axle(state, vehicle, number);
    if (!one) return std::nullopt;
    out.push_back(std::move(*one));
  }
  return out;
}

SiteFigure SiteSums::lift() const {
  const auto height = observed(ObservationKind::cg_height), length = observed(ObservationKind::wheelbase);
  if (!height || !length) return {};
  return height->over(length->times(*length));
}

std::optional<SiteFigure> SiteSums::total(std::size_t state, rig::Vehicle vehicle) const {
  const auto each = axles(state, vehicle);
  if (!each) {
    const auto whole = mean(state, rig::Position::whole(vehicle));
    return whole ? std::optional(whole->load) : std::nullopt;
  }
  SiteFigure sum;
  double raised = 0;
  for (const Mean& one : *each) {
    sum = sum.plus(one.load);
    raised += one.raised;
  }
  if (raised == 0) return sum;
  // Every reading lacks its share of the total: sum = total·(1 − Σf·t·h/L²).
  return sum.over(SiteFigure{1, {}}.plus(lift(), -raised));
}

std::optional<SiteFigure> SiteSums::front(std::size_t state) const {
  const auto each = axles(state, rig::Vehicle::tow);
  const auto length = observed(ObservationKind::wheelbase);
  if (!each || !length) return std::nullopt;
  const auto& axles = session_.rig.tow_vehicle.axles;
  double centre[2] = {0, 0}, count[2] = {0, 0};
  for (const rig::Axle& one : axles) {
    const std::size_t group = one.group == rig::Group::front ? 0 : 1;
    centre[group] += one.at.mm().value();
    ++count[group];
  }
  const SiteFigure whole = *total(state, rig::Vehicle::tow);
  SiteFigure out;
  for (std::size_t a = 0; a < axles.size(); ++a) {
    const std::size_t group = axles[a].group == rig::Group::front ? 0 : 1;
    const SiteFigure load = (*each)[a].load.plus(whole.times(lift()), (*each)[a].raised);
    const double offset = axles[a].at.mm().value() - centre[group] / count[group];
    if (group == 0) out = out.plus(load);
    out = out.minus(load.times(offset).over(*length));
  }
  const auto level = observed(ObservationKind::level, session_.states[state].name);
  return level ? out.plus(whole.times(*level).over(*length)) : out;
}

std::optional<SiteFigure> SiteSums::support(std::size_t state) const {
  const auto& stands = session_.states[state].support;
  if (!stands) return std::nullopt;
  const auto read = mean(state, *stands == rig::Support::coupling ? rig::Position::support_at_coupling()
                                                                  : rig::Position::support_at_jockey());
  return read ? std::optional(read->load) : std::nullopt;
}

std::optional<SiteFigure> SiteSums::coupling(std::size_t state) const {
  const auto load = support(state);
  if (!load || session_.states[state].support == rig::Support::coupling) return load;
  const auto reach = observed(ObservationKind::coupling_to_axles),
             back = observed(ObservationKind::coupling_to_jockey);
  if (!reach || !back) return std::nullopt;
  return load->times(reach->minus(*back)).over(*reach);
}

SiteFigure SiteSums::height_effect(std::size_t from, std::size_t to) const {
  const rig::State &here = session_.states[from], &there = session_.states[to];
  SiteFigure out;
  if (from == to) return out;
  if (here.coupling_height && there.coupling_height)
    if (const auto sensitivity = observed(ObservationKind::height_sensitivity))
      out = sensitivity->times(there.coupling_height->value.mm().value() -
                               here.coupling_height->value.mm().value());
  if (const auto e = observed(ObservationKind::coupling_height, there.name)) out = out.plus(*e);
  if (const auto e = observed(ObservationKind::coupling_height, here.name)) out = out.minus(*e);
  return out;
}

}  // namespace steelyard::reconcile
