#include "simulator/blunder.hpp"

#include <algorithm>
#include <cmath>

#include "simulator/blunder_digits.hpp"

namespace steelyard::simulator {
namespace {

struct Place {
  std::size_t state = 0, reading = 0;
};

/// Makes one blunder on a copy of the session and notes what it changed.
class Maker {
 public:
  Maker(const Simulation& simulation, BlunderKind kind, Random& random) : from_(simulation), random_(random) {
    out_.session = simulation.session;
    out_.kind = kind;
  }

  std::optional<Blundered> make() {
    if (!done()) return std::nullopt;
    for (std::size_t k = 0; k < from_.session.states.size(); ++k)
      for (std::size_t i = 0; i < from_.session.states[k].readings.size(); ++i) note({k, i});
    if (out_.changed.empty()) return std::nullopt;
    if (out_.state.empty()) out_.state = out_.changed.front().state;
    return std::move(out_);
  }

 private:
  bool done() {
    switch (out_.kind) {
      case BlunderKind::digits_swapped:
        return slip(swap_two_digits);
      case BlunderKind::digit_dropped:
        return slip(drop_a_digit);
      case BlunderKind::digit_doubled:
        return slip(double_a_digit);
      case BlunderKind::pounds_for_kilograms:
        return pounds();
      case BlunderKind::sides_swapped:
        return sides();
      case BlunderKind::axles_swapped:
        return axles();
      case BlunderKind::states_swapped:
        return states();
      case BlunderKind::scale_not_zeroed:
        return not_zeroed();
      case BlunderKind::jockey_still_loaded:
        return still_loaded();
      case BlunderKind::jockey_taken_for_coupling:
        return taken_for_coupling();
      case BlunderKind::person_aboard:
        return person();
      case BlunderKind::tyre_off_scale:
        return off_scale();
      case BlunderKind::weight_distribution_mislabelled:
        return mislabelled();
    }
    return false;
  }

  rig::Reading& at(Place place) { return out_.session.states[place.state].readings[place.reading]; }

  void note(Place place) {
    const rig::State& state = from_.session.states[place.state];
    const rig::Reading& before = state.readings[place.reading];
    const rig::Reading& after = at(place);
    if (after.load == before.load) return;
    out_.changed.push_back(
        {before.id, state.name, before.load, after.load, load_at(from_.loads[place.state], before.at)});
  }

  template <class Wanted>
  std::vector<Place> places(Wanted&& wanted) {
    std::vector<Place> out;
    for (std::size_t k = 0; k < out_.session.states.size(); ++k)
      for (std::size_t i = 0; i < out_.session.states[k].readings.size(); ++i)
        if (wanted(at({k, i}))) out.push_back({k, i});
    return out;
  }
  template <class T>
  std::optional<T> any(const std::vector<T>& all) {
    if (all.empty()) return std::nullopt;
    return all[random_.below(all.size())];
  }

  template <class Slip>
  bool slip(Slip&& slipped) {
    const auto place = any(places([](const rig::Reading&) { return true; }));
    if (!place) return false;
    const auto figure = slipped(at(*place).load.figure, random_);
    if (figure) at(*place).load.figure = *figure;
    return figure.has_value();
  }

  bool pounds() {
    const auto place =
        any(places([](const rig::Reading& r) { return r.load.unit == units::LoadUnit::kilogram; }));
    if (!place) return false;
    units::Load& load = at(*place).load;
    load.figure = std::round(units::to_pounds(load.kg()).value());
    return true;
  }

  /// Exchanges what was entered at two places that the second finds for the first.
  template <class Other>
  bool exchange(Other&& other) {
    struct Pair {
      Place one, two;
    };
    std::vector<Pair> pairs;
    const auto all = places([](const rig::Reading&) { return true; });
    for (std::size_t i = 0; i < all.size(); ++i)
      for (std::size_t k = i + 1; k < all.size(); ++k)
        if (other(all[i], all[k]) && at(all[i]).load != at(all[k]).load &&
            at(all[i]).load.unit == at(all[k]).load.unit)
          pairs.push_back({all[i], all[k]});
    const auto pair = any(pairs);
    if (!pair) return false;
    std::swap(at(pair->one).load, at(pair->two).load);
    return true;
  }

  /// How many times the position was read in its state before: one pass over the rig reads each once.
  std::size_t pass(Place place) {
    std::size_t before = 0;
    for (std::size_t i = 0; i < place.reading; ++i)
      if (at({place.state, i}).at == at(place).at) ++before;
    return before;
  }

  bool sides() {
    return exchange([this](Place a, Place b) {
      const rig::Position &x = at(a).at, &y = at(b).at;
      return a.state == b.state && pass(a) == pass(b) && x.extent == rig::Extent::wheel &&
             y.extent == rig::Extent::wheel && x.vehicle == y.vehicle && x.axle == y.axle && x.side != y.side;
    });
  }

  /// Of one vehicle, the same side or the whole of both.
  bool axles() {
    return exchange([this](Place a, Place b) {
      const rig::Position &x = at(a).at, &y = at(b).at;
      const bool has_axle = x.extent == rig::Extent::wheel || x.extent == rig::Extent::axle;
      return a.state == b.state && pass(a) == pass(b) && has_axle && x.extent == y.extent &&
             x.vehicle == y.vehicle && x.axle != y.axle && x.side == y.side;
    });
  }

  bool states() {
    return exchange([this](Place a, Place b) {
      return a.state != b.state && pass(a) == pass(b) && at(a).at == at(b).at;
    });
  }

  bool not_zeroed() {
    const auto place = any(places([](const rig::Reading& r) { return !r.scales.empty(); }));
    if (!place) return false;
    const std::string scale = any(at(*place).scales).value();
    const double offset = random_.uniform(ranges::not_zeroed) * random_.pick({-1.0, 1.0});
    out_.scale = scale;
    out_.size = offset;
    for (rig::Reading& reading : out_.session.states[place->state].readings) {
      if (std::find(reading.scales.begin(), reading.scales.end(), scale) == reading.scales.end()) continue;
      const rig::Scale& on = *rig::find_scale(out_.session, scale);
      const double unit = units::Load{1, reading.load.unit}.kg().value(), division = on.division->figure;
      reading.load.figure += std::round(offset / unit / division) * division;
      if (!(reading.load.figure > 0)) return false;
    }
    return true;
  }

  /// Every reading of the state anew, with the loads that really were there.
  bool weigh_again(std::size_t k, const TrueState& truly) {
    const Loads on_site = loads(from_.rig, truly);
    for (std::size_t i = 0; i < out_.session.states[k].readings.size(); ++i)
      at({k, i}).load = indicated(from_, k, i, on_site);
    out_.state = from_.session.states[k].name;
    return true;
  }

  [[nodiscard]] bool coupled() const { return from_.rig.trailer && !from_.rig.trailer->self_supporting; }

  template <class Wanted>
  std::optional<std::size_t> any_state(Wanted&& wanted) {
    std::vector<std::size_t> all;
    for (std::size_t k = 0; k < from_.session.states.size(); ++k)
      if (!from_.session.states[k].readings.empty() && wanted(from_.session.states[k])) all.push_back(k);
    return any(all);
  }

  bool still_loaded() {
    const auto k = any_state([](const rig::State& s) { return s.hitched; });
    if (!k || !coupled()) return false;
    TrueState truly = from_.states[*k];
    out_.size = truly.on_jockey = random_.uniform(ranges::still_on_jockey);
    return weigh_again(*k, truly);
  }

  bool taken_for_coupling() {
    const auto k = any_state([](const rig::State& s) {
      return s.support == rig::Support::coupling &&
             std::any_of(s.readings.begin(), s.readings.end(),
                         [](const rig::Reading& r) { return r.at.extent == rig::Extent::coupling; });
    });
    if (!k) return false;
    TrueState truly = from_.states[*k];
    truly.support = rig::Support::jockey;
    return weigh_again(*k, truly);
  }

  bool person() {
    const auto k = any_state([](const rig::State&) { return true; });
    if (!k) return false;
    TrueState truly = from_.states[*k];
    Person aboard;
    aboard.mass = random_.uniform(ranges::person);
    aboard.place = random_.uniform(ranges::seat) * from_.rig.tow.wheelbase;
    if (coupled() && random_.chance(0.5)) {
      aboard.vehicle = rig::Vehicle::trailer;
      aboard.place = random_.uniform(ranges::seat) * from_.rig.trailer->to_axles;
    }
    out_.size = aboard.mass;
    truly.person = aboard;
    return weigh_again(*k, truly);
  }

  bool off_scale() {
    const auto place = any(places([](const rig::Reading& r) { return r.at.extent == rig::Extent::wheel; }));
    if (!place) return false;
    rig::Reading& reading = at(*place);
    const rig::Scale* scale =
        reading.scales.empty() ? nullptr : rig::find_scale(out_.session, reading.scales[0]);
    const double division = scale ? scale->division->figure : 1;
    const double stays = reading.load.figure * (1 - random_.uniform(ranges::off_scale));
    reading.load.figure = std::max(1.0, std::round(stays / division)) * division;
    return true;
  }

  bool mislabelled() {
    const auto k = any_state([](const rig::State& s) { return s.hitched && !s.weight_distribution; });
    if (!k || !coupled()) return false;
    const TrueTrailer& trailer = *from_.rig.trailer;
    TrueState truly = from_.states[*k];
    const double at_front = random_.uniform(ranges::bars_at_front);
    truly.bars = at_front * from_.rig.tow.wheelbase / (1 + trailer.overhang / trailer.to_axles);
    out_.size = truly.bars;
    return weigh_again(*k, truly);
  }

  const Simulation& from_;
  Random& random_;
  Blundered out_;
};

}  // namespace

std::string_view to_text(BlunderKind kind) {
  switch (kind) {
    case BlunderKind::digits_swapped:
      return "digits_swapped";
    case BlunderKind::digit_dropped:
      return "digit_dropped";
    case BlunderKind::digit_doubled:
      return "digit_doubled";
    case BlunderKind::pounds_for_kilograms:
      return "pounds_for_kilograms";
    case BlunderKind::sides_swapped:
      return "sides_swapped";
    case BlunderKind::axles_swapped:
      return "axles_swapped";
    case BlunderKind::states_swapped:
      return "states_swapped";
    case BlunderKind::scale_not_zeroed:
      return "scale_not_zeroed";
    case BlunderKind::jockey_still_loaded:
      return "jockey_still_loaded";
    case BlunderKind::jockey_taken_for_coupling:
      return "jockey_taken_for_coupling";
    case BlunderKind::person_aboard:
      return "person_aboard";
    case BlunderKind::tyre_off_scale:
      return "tyre_off_scale";
    case BlunderKind::weight_distribution_mislabelled:
      return "weight_distribution_mislabelled";
  }
  return {};
}

std::optional<Blundered> blunder(const Simulation& simulation, BlunderKind kind, Random random) {
  return Maker(simulation, kind, random).make();
}

}  // namespace steelyard::simulator
