#include "reconcile/further.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "reconcile/statics.hpp"
#include "reconcile/trust.hpp"

namespace steelyard::reconcile {
namespace {

using adjust::Vector;
using rig::Position;

class Collector {
 public:
  Collector(const SolvedRig& solved, const Vector& z)
      : solved_(solved), layout_(*solved.layout), session_(*layout_.session), z_(z), rig_(layout_, z_) {}

  std::vector<Further> all() {
    for (const ReadingRow& row : layout_.rows) again(row);
    for (std::size_t k = 0; k < layout_.states.size(); ++k) {
      passed_over(k);
      vehicle_not_read(k);
      support(k);
    }
    if (layout_.coupled) {
      coupling_by_itself();
      tape();
    }
    return std::move(out_);
  }

 private:
  /// A place: once, whatever is said of it first.
  Further* start(std::size_t k, const Position& at, std::vector<std::string> scales, bool again) {
    if (!seen_.insert({k, at}).second) return nullptr;
    Further& out = out_.emplace_back();
    out.reading.state = layout_.states[k].state->name;
    out.reading.at = at;
    out.reading.scales = std::move(scales);
    out.reading.again = again;
    out.gradient = Vector::Zero(layout_.count);
    return &out;
  }

  void again(const ReadingRow& row) {
    Further* out = start(row.state, row.reading->at, row.reading->scales, true);
    if (!out) return;
    double load = 0;
    for (const Index x : row.loads) load += z_[x];
    if (row.raised != 0) load -= rig_.tow_total(row.state) * lift(row);
    for (const Index x : row.loads) out->gradient[x] += 1;
    if (row.raised != 0) {
      rig_.add_tow_total(row.state, [&](Index i, double d) { out->gradient[i] += d; }, -lift(row));
      out->gradient[*layout_.cg_height] -= rig_.tow_total(row.state) * lift(row) / z_[*layout_.cg_height];
      out->gradient[layout_.wheelbase] += 2 * rig_.tow_total(row.state) * lift(row) / rig_.wheelbase();
    }
    finish(*out, *row.reading, load);
  }

  [[nodiscard]] double lift(const ReadingRow& row) const {
    return row.raised * z_[*layout_.cg_height] / (rig_.wheelbase() * rig_.wheelbase());
  }

  /// Uncertainty as a reading of that load on those scales has it, and the part of their gains.
  void finish(Further& out, const rig::Reading& like, double load) const {
    out.expected = load;
    const Figure figure = as_observed(session_, like, std::max(load, 0.0));
    out.u = std::hypot(out.u, figure.u);
    const auto& scales = out.reading.scales;
    if (scales.empty()) {
      // Without another reading on an unnamed scale its gain is no unknown, but an error of its own.
      if (layout_.anonymous_gain)
        out.gradient[*layout_.anonymous_gain] += load;
      else
        out.u = std::hypot(out.u, usual_gain_u * load);
      return;
    }
    for (const std::string& id : scales)
      for (std::size_t s = 0; s < session_.scales.size(); ++s)
        if (session_.scales[s].id == id) out.gradient[layout_.gains[s]] += load / static_cast<double>(scales.size());
  }

  void finish(Further& out, double load) const {
    rig::Reading like;
    like.at = *out.reading.at;
    like.scales = out.reading.scales;
    finish(out, like, load);
  }

  /// What the same place was read on in another state, else its like in this one.
  [[nodiscard]] std::vector<std::string> scales_for(std::size_t k, const Position& at) const {
    for (const ReadingRow& row : layout_.rows)
      if (row.reading->at == at) return row.reading->scales;
    for (const ReadingRow& row : layout_.rows)
      if (row.state == k && row.reading->at.extent == at.extent) return row.reading->scales;
    for (const ReadingRow& row : layout_.rows)
      if (row.reading->at.extent == at.extent) return row.reading->scales;
    return {};
  }

  void passed_over(std::size_t k) {
    for (const rig::Vehicle vehicle : {rig::Vehicle::tow, rig::Vehicle::trailer}) {
      const auto& axles = layout_.states[k].axles[vehicle == rig::Vehicle::tow ? 0 : 1];
      for (std::size_t a = 0; a < axles.size(); ++a) {
        const int n = static_cast<int>(a + 1);
        const auto place = [&](const Position& at, Index x) {
          if (Further* out = start(k, at, scales_for(k, at), false)) {
            out->gradient[x] += 1;
            finish(*out, z_[x]);
          }
        };
        if (!axles[a].split) {
          place(Position::whole_axle(vehicle, n), axles[a].first);
          continue;
        }
        place(Position::wheel(vehicle, n, rig::Side::left), axles[a].first);
        place(Position::wheel(vehicle, n, rig::Side::right), axles[a].second);
      }
    }
  }

  /// A unit that nobody weighed in this state: its single axles follow from statics, the level apart.
  void vehicle_not_read(std::size_t k) {
    const StateLayout& place = layout_.states[k];
    if (!place.read[0] && layout_.axle_offset.size() == 2)
      for (const bool rear : {false, true}) {
        const Position at = Position::whole_axle(rig::Vehicle::tow, rear ? 2 : 1);
        Further* out = start(k, at, scales_for(k, at), false);
        if (!out) continue;
        const auto add = [&](Index i, double d) { out->gradient[i] += d; };
        rear ? rig_.add_tow_rear(k, add, 1) : rig_.add_tow_front(k, add, 1);
        out->u = rig_.tow_total(k) * usual_level_u / rig_.wheelbase();
        finish(*out, rear ? rig_.tow_rear(k) : rig_.tow_front(k));
      }
    const bool weighs_trailer = !layout_.coupled || place.state->hitched;
    if (!layout_.has_trailer || place.read[1] || !weighs_trailer || session_.rig.trailer->axles != 1) return;
    const Position at = Position::whole_axle(rig::Vehicle::trailer, 1);
    if (Further* out = start(k, at, scales_for(k, at), false)) {
      out->gradient[*layout_.trailer] += 1;
      rig_.add_net(k, [&](Index i, double d) { out->gradient[i] += d; }, -1);
      finish(*out, rig_.trailer() - rig_.net(k));
    }
  }

  void support(std::size_t k) {
    const StateLayout& place = layout_.states[k];
    if (!place.support) return;
    const Position at = place.state->support == rig::Support::jockey ? Position::support_at_jockey()
                                                                     : Position::support_at_coupling();
    if (Further* out = start(k, at, scales_for(k, at), false)) {
      out->gradient[*place.support] += 1;
      finish(*out, z_[*place.support]);
    }
  }

  /// The trailer apart, its coupling on a scale at the reference height, measured.
  void coupling_by_itself() {
    if (!layout_.reference) return;
    for (const StateLayout& place : layout_.states)
      if (place.state->support == rig::Support::coupling) return;
    Further& out = out_.emplace_back();
    const Position at = Position::support_at_coupling();
    out.reading.state = "trailer alone";
    for (int n = 2; rig::find_state(session_, out.reading.state); ++n)
      out.reading.state = "trailer alone " + std::to_string(n);
    out.reading.at = at;
    out.reading.new_state = true;
    out.reading.scales = scales_for(0, at);
    out.gradient = Vector::Zero(layout_.count);
    out.gradient[*layout_.coupling] = 1;
    out.gradient[*layout_.states[*layout_.reference].height] = -1;
    double sensitivity_u = 0;
    for (const Observation& o : solved_.observed)
      if (o.kind == ObservationKind::height_sensitivity) sensitivity_u = o.u;
    out.u = sensitivity_u * bare_height_u;
    finish(out, rig_.coupling());
  }

  void tape() {
    if (!layout_.lever) return;
    const auto& taped = session_.rig.tow_vehicle.overhang;
    Further& out = out_.emplace_back();
    out.reading.kind = NextReading::Kind::overhang;
    out.reading.again = taped.has_value();
    out.gradient = Vector::Zero(layout_.count);
    rig_.add_overhang([&](Index i, double d) { out.gradient[i] += d; }, 1);
    out.u = taped && taped->u ? taped->u->mm().value() : usual_tape_u;
    out.expected = rig_.overhang();
  }

  // Defaults of the model's section 4: a level with u 2 mm/m at 700 mm, a bare height, a tape, an unnamed scale.
  static constexpr double usual_level_u = 1.4, bare_height_u = 5, usual_tape_u = 10, usual_gain_u = 0.003;

  const SolvedRig& solved_;
  const Layout& layout_;
  const rig::Session& session_;
  const Vector& z_;
  Statics rig_;
  std::set<std::pair<std::size_t, Position>> seen_;
  std::vector<Further> out_;
};

/// What a candidate would do to the residuals, in units of u.
class Update {
 public:
  Update(const adjust::Solution& at, const adjust::Observed& given, const Further& candidate)
      : at_(at), given_(given) {
    const Vector arm = at.covariance_root.transpose() * candidate.gradient / candidate.u;
    grown_ = 1 + arm.squaredNorm();
    shared_ = at.fitted_root * arm;
  }

  /// Sizes and separation of the suspect set that is left if observation `culprit` alone is off and the further
  /// reading then shows `surprise` more than fits now, in its u.
  struct Left {
    double size = 0, lead = 0;
  };
  [[nodiscard]] Left if_off(std::size_t culprit, double surprise) const {
    const auto c = static_cast<Index>(culprit);
    const double own = surprise * surprise / grown_;
    double largest = own, rest = own, mine = 0;
    std::vector<double> squares;
    squares.reserve(static_cast<std::size_t>(at_.redundancy.size()) + 1);
    squares.push_back(own);
    for (Index i = 0; i < at_.redundancy.size(); ++i) {
      if (at_.redundancy[i] <= 0) continue;  // set aside, or all that determines something
      const double left = at_.redundancy[i] + shared_[i] * shared_[i] / grown_;
      if (left < least_redundancy) continue;
      const double then = residual(i) - shared_[i] * surprise / grown_;
      squares.push_back(then * then / left);
      largest = std::max(largest, squares.back());
      if (i == c)
        mine = squares.back();
      else
        rest = std::max(rest, squares.back());
    }
    const auto members = std::count_if(squares.begin(), squares.end(), [&](double square) {
      return square >= largest - apart_in_chi_square;
    });
    return {static_cast<double>(members), mine - rest};
  }

 private:
  [[nodiscard]] double residual(Index i) const { return at_.residuals[i] / given_.u[i]; }

  const adjust::Solution& at_;
  const adjust::Observed& given_;
  double grown_;
  Vector shared_;
};

/// How a candidate promises to do.
struct Promise {
  const Further* candidate;
  double size, lead;
};

constexpr double same_size = 1e-9;

bool better(const Promise& a, const Promise& b) {
  if (std::abs(a.size - b.size) > same_size) return a.size < b.size;
  return a.lead > b.lead;
}

/// What the rig would be if one member of the set alone were off.
struct Truth {
  std::size_t culprit;
  Vector unknowns;
};

std::vector<Truth> truths_of(const SolvedRig& solved, const adjust::Observed& given, const Vector& near,
                             const SuspectSet& set) {
  const RigModel model(*solved.layout, solved.observed, solved.bounded);
  std::vector<Truth> out;
  for (const SuspectMember& member : set.members) {
    adjust::Observed without = given;
    without.set_aside.push_back(static_cast<Index>(member.observation));
    adjust::Solution solution = adjust::solve(model, without, near, solved.layout->scale(), near_options());
    if (solution.converged) out.push_back({member.observation, std::move(solution.unknowns)});
  }
  return out;
}

}  // namespace

std::vector<Further> further_readings(const SolvedRig& solved, const Vector& z) {
  return Collector(solved, z).all();
}

std::optional<NextReading> separating(const SolvedRig& solved, const adjust::Observed& given,
                                      const Vector& near, const std::vector<Further>& candidates,
                                      const SuspectSet& set) {
  const adjust::Solution as_read =
      given.set_aside.empty() ? solved.solution : solve_again(solved, given, near);
  if (!as_read.converged) return std::nullopt;
  const std::vector<Truth> truths = truths_of(solved, given, near, set);
  std::vector<Promise> promises;
  for (const Further& candidate : candidates) {
    if (!as_read.determinable(candidate.gradient)) continue;
    const Update update(as_read, given, candidate);
    Promise& promise = promises.emplace_back(Promise{&candidate, 0, 0});
    for (const Truth& truth : truths) {
      const double surprise = candidate.gradient.dot(truth.unknowns - as_read.unknowns) / candidate.u;
      const Update::Left left = update.if_off(truth.culprit, surprise);
      promise.size += left.size / static_cast<double>(truths.size());
      promise.lead += left.lead;
    }
  }
  if (promises.empty() || truths.empty()) return std::nullopt;
  const Promise best = *std::min_element(promises.begin(), promises.end(), better);
  NextReading out = best.candidate->reading;
  out.after = best.size;
  return out;
}

std::optional<NextReading> sharpening(const std::vector<Further>& candidates, const adjust::Solution& at,
                                      const Vector& gradient) {
  if (!at.determinable(gradient)) return std::nullopt;
  const Vector wanted = at.covariance_root.transpose() * gradient;
  const Further* best = nullptr;
  double most = 0;
  for (const Further& candidate : candidates) {
    if (!at.determinable(candidate.gradient)) continue;
    const Vector arm = at.covariance_root.transpose() * candidate.gradient;
    const double shared = wanted.dot(arm);
    const double taken = shared * shared / (candidate.u * candidate.u + arm.squaredNorm());
    if (taken <= most) continue;
    most = taken;
    best = &candidate;
  }
  if (!best) return std::nullopt;
  NextReading out = best->reading;
  out.after = std::sqrt(std::max(wanted.squaredNorm() - most, 0.0));
  return out;
}

}  // namespace steelyard::reconcile
