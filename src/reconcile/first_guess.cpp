// First guesses of the unknowns: loads straight from the readings, lengths as given (model, section 2).
//
// A guess need not be good: it decides how many steps the solution takes, and for a blundered sheet whether
// it is found at all, never what it is.
#include <cmath>
#include <map>
#include <numeric>

#include "reconcile/rig_model.hpp"

namespace steelyard::reconcile {
namespace {

constexpr double guess_axle = 700, guess_coupling = 100, guess_overhang = 1200, guess_cg = 700;
constexpr double guess_to_axles = 4000, guess_to_jockey = 500;

using Loads = std::vector<std::optional<double>>;

class Guess {
 public:
  explicit Guess(const Layout& layout) : at_(layout), session_(*layout.session), z_(layout.count) {
    z_.setZero();
  }

  /// A rig that keeps to the statics whatever was read: loads of a usual size, shared evenly.
  adjust::Vector usual() {
    lengths();
    coupling_ = guess_coupling;
    z_[at_.front] = z_[at_.rear] = 2 * guess_axle;
    if (at_.has_trailer) z_[*at_.trailer] = 2 * guess_axle * session_.rig.trailer->axles;
    if (at_.coupled) {
      z_[*at_.coupling] = coupling_;
      if (at_.lever) z_[*at_.lever] = at_.lever_kind == Lever::moment ? coupling_ * overhang_ : overhang_;
    }
    const double arm = overhang_ / at_.wheelbase_mm;
    for (const StateLayout& place : at_.states) {
      const double on = at_.coupled && place.state->hitched ? coupling_ : 0;
      if (place.support)
        z_[*place.support] =
            place.state->support == rig::Support::jockey ? coupling_ / jockey_share() : coupling_;
      const auto share = [&](const AxleUnknowns& axle, double load) {
        z_[axle.first] = axle.split ? load / 2 : load;
        if (axle.split) z_[axle.second] = load / 2;
      };
      double count[2] = {0, 0};
      for (std::size_t a = 0; a < place.axles[0].size(); ++a) ++count[at_.in_rear(a) ? 1 : 0];
      for (std::size_t a = 0; a < place.axles[0].size(); ++a)
        share(place.axles[0][a], at_.in_rear(a) ? (z_[at_.rear] + on * (1 + arm)) / count[1]
                                                : (z_[at_.front] - on * arm) / count[0]);
      const double held = place.support ? z_[*place.support] : on;
      for (const AxleUnknowns& axle : place.axles[1])
        share(axle, (z_[*at_.trailer] - held) / static_cast<double>(place.axles[1].size()));
    }
    return z_;
  }

  adjust::Vector all() {
    lengths();
    for (std::size_t k = 0; k < at_.states.size(); ++k) read_state(k);
    for (std::size_t k = 0; k < at_.states.size(); ++k)
      for (std::size_t v = 0; v < 2; ++v)
        if (at_.states[k].read[v]) loads(k, v);
    coupling();
    tow_vehicle();
    trailer();
    return z_;
  }

 private:
  void lengths() {
    const auto given = [](const std::optional<rig::MeasuredLength>& length, double otherwise) {
      return length ? length->value.mm().value() : otherwise;
    };
    const rig::TowVehicle& tow = session_.rig.tow_vehicle;
    overhang_ = at_.lever_kind == Lever::held ? at_.held_overhang : given(tow.overhang, guess_overhang);
    z_[at_.wheelbase] = at_.wheelbase_mm;
    if (at_.to_axles) z_[*at_.to_axles] = given(session_.rig.trailer->coupling_to_axles, guess_to_axles);
    if (at_.to_jockey) z_[*at_.to_jockey] = given(session_.rig.trailer->coupling_to_jockey, guess_to_jockey);
    if (at_.cg_height) z_[*at_.cg_height] = given(tow.cg_height, guess_cg);
  }

  /// Mean of what was read at each position of a state.
  void read_state(std::size_t k) {
    std::map<rig::Position, std::pair<double, int>> sums;
    for (const ReadingRow& row : at_.rows) {
      if (row.state != k) continue;
      auto& [sum, count] = sums[row.reading->at];
      sum += row.reading->load.kg().value();
      ++count;
    }
    auto& means = means_.emplace_back();
    for (const auto& [at, entry] : sums) means[at] = entry.first / entry.second;
  }

  std::optional<double> mean(std::size_t k, const rig::Position& at) const {
    const auto found = means_[k].find(at);
    return found == means_[k].end() ? std::nullopt : std::optional(found->second);
  }

  /// Axle loads of a vehicle in a state: read, else shared out of the vehicle's total, else unknown.
  Loads axle_loads(std::size_t k, rig::Vehicle vehicle, std::size_t count) const {
    Loads out(count);
    double known = 0;
    std::size_t unknown = 0;
    for (std::size_t a = 0; a < count; ++a) {
      const int n = static_cast<int>(a + 1);
      const auto left = mean(k, rig::Position::wheel(vehicle, n, rig::Side::left));
      const auto right = mean(k, rig::Position::wheel(vehicle, n, rig::Side::right));
      out[a] = left && right ? std::optional(*left + *right) : mean(k, rig::Position::whole_axle(vehicle, n));
      if (!out[a] && (left || right)) out[a] = 2 * (left ? *left : *right);
      if (out[a])
        known += *out[a];
      else
        ++unknown;
    }
    const auto total = mean(k, rig::Position::whole(vehicle));
    if (total && unknown > 0)
      for (auto& load : out)
        if (!load) load = (*total - known) / static_cast<double>(unknown);
    return out;
  }

  void loads(std::size_t k, std::size_t v) {
    const auto vehicle = v == 0 ? rig::Vehicle::tow : rig::Vehicle::trailer;
    const auto& axles = at_.states[k].axles[v];
    const Loads read = axle_loads(k, vehicle, axles.size());
    for (std::size_t a = 0; a < axles.size(); ++a) {
      const double axle = read[a].value_or(guess_axle);
      if (!axles[a].split) {
        z_[axles[a].first] = axle;
        continue;
      }
      const int n = static_cast<int>(a + 1);
      const auto left = mean(k, rig::Position::wheel(vehicle, n, rig::Side::left));
      const auto right = mean(k, rig::Position::wheel(vehicle, n, rig::Side::right));
      z_[axles[a].first] = left ? *left : axle - *right;
      z_[axles[a].second] = right ? *right : axle - *left;
    }
  }

  double sum(std::size_t k, std::size_t v) const {
    double total = 0;
    for (const AxleUnknowns& axle : at_.states[k].axles[v])
      total += z_[axle.first] + (axle.split ? z_[axle.second] : 0);
    return total;
  }

  double jockey_share() const {
    const double share = 1 - (at_.to_jockey ? z_[*at_.to_jockey] / z_[*at_.to_axles] : 0);
    return share > 0.05 ? share : 1;
  }

  std::optional<double> coupling_from_support() const {
    for (std::size_t k = 0; k < at_.states.size(); ++k) {
      if (const auto load = mean(k, rig::Position::support_at_coupling())) return load;
      if (const auto load = mean(k, rig::Position::support_at_jockey())) return *load * jockey_share();
    }
    return std::nullopt;
  }

  std::optional<double> coupling_from_difference() const {
    std::optional<double> apart, together;
    for (std::size_t k = 0; k < at_.states.size(); ++k) {
      if (!at_.states[k].read[0]) continue;
      auto& total = at_.states[k].state->hitched ? together : apart;
      if (!total) total = sum(k, 0);
    }
    if (!apart || !together) return std::nullopt;
    return *together - *apart;
  }

  void coupling() {
    if (!at_.coupled) return;
    auto load = coupling_from_support();
    if (!load) load = coupling_from_difference();
    coupling_ = load.value_or(guess_coupling);
    if (std::abs(coupling_) < 1) coupling_ = 1;
    z_[*at_.coupling] = coupling_;
    if (at_.lever) z_[*at_.lever] = at_.lever_kind == Lever::moment ? coupling_ * overhang_ : overhang_;
    for (std::size_t k = 0; k < at_.states.size(); ++k) {
      if (!at_.states[k].support) continue;
      const bool jockey = at_.states[k].state->support == rig::Support::jockey;
      const auto read =
          mean(k, jockey ? rig::Position::support_at_jockey() : rig::Position::support_at_coupling());
      z_[*at_.states[k].support] = read ? *read : jockey ? coupling_ / jockey_share() : coupling_;
    }
  }

  void tow_vehicle() {
    std::optional<std::size_t> from;
    for (std::size_t k = 0; k < at_.states.size(); ++k)
      if (at_.states[k].read[0] &&
          (!from || (!at_.states[k].state->hitched && at_.states[*from].state->hitched)))
        from = k;
    if (!from) {
      z_[at_.front] = z_[at_.rear] = 2 * guess_axle;
      return;
    }
    double total = 0, moment = 0;
    const auto& axles = at_.states[*from].axles[0];
    for (std::size_t a = 0; a < axles.size(); ++a) {
      const double load = z_[axles[a].first] + (axles[a].split ? z_[axles[a].second] : 0);
      total += load;
      moment += load * (at_.axle_offset[a] + (at_.in_rear(a) ? at_.wheelbase_mm : 0));
    }
    double rear = moment / at_.wheelbase_mm, front = total - rear;
    if (at_.coupled && at_.states[*from].state->hitched) {
      rear -= coupling_ * (1 + overhang_ / at_.wheelbase_mm);
      front += coupling_ * overhang_ / at_.wheelbase_mm;
    }
    z_[at_.front] = front;
    z_[at_.rear] = rear;
  }

  void trailer() {
    if (!at_.has_trailer) return;
    z_[*at_.trailer] = 2 * guess_axle * session_.rig.trailer->axles;
    for (std::size_t k = at_.states.size(); k-- > 0;) {
      const StateLayout& place = at_.states[k];
      if (!place.read[1]) continue;
      if (!at_.coupled)
        z_[*at_.trailer] = sum(k, 1);
      else if (place.state->hitched)
        z_[*at_.trailer] = sum(k, 1) + coupling_;
      else if (place.support)
        z_[*at_.trailer] = sum(k, 1) + z_[*place.support];
    }
  }

  const Layout& at_;
  const rig::Session& session_;
  adjust::Vector z_;
  std::vector<std::map<rig::Position, double>> means_;
  double overhang_ = guess_overhang, coupling_ = 0;
};

}  // namespace

adjust::Vector first_guess(const Layout& layout) {
  return Guess(layout).all();
}
adjust::Vector usual_guess(const Layout& layout) {
  return Guess(layout).usual();
}

}  // namespace steelyard::reconcile
