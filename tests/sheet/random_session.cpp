#include <algorithm>

#include "sheets.hpp"

namespace steelyard::tests {
namespace {

/// Draws that stay within the sheet's bounds.
class Draw {
 public:
  Draw(std::mt19937_64& random, rig::SheetUnits units) : random_(random), units_(units) {}

  bool yes(double share = 0.5) { return std::uniform_real_distribution<>(0, 1)(random_) < share; }
  int whole(int least, int most) { return std::uniform_int_distribution<>(least, most)(random_); }
  double real(double least, double most) {
    const double value = std::uniform_real_distribution<>(least, most)(random_);
    return yes() ? value : std::max(least, static_cast<double>(static_cast<long>(value)));
  }
  template <class Value>
  std::optional<Value> maybe(Value value) {
    return yes() ? std::optional(value) : std::nullopt;
  }
  std::optional<double> maybe_real(double least, double most) { return maybe(real(least, most)); }
  units::Load load(double least, double most) { return {real(least, most), units_.load}; }
  units::Length length(double least, double most) { return {real(least, most), units_.length}; }
  rig::MeasuredLength measured(double least, double most) {
    return {length(least, most), maybe(length(0.01, 50))};
  }
  std::string text() {
    static const std::vector<std::string> some{"",
                                               "",
                                               "plain",
                                               "a \"quoted\" word",
                                               "back\\slash",
                                               "Kõrvemaa, 3 °C",
                                               "秤",
                                               "x",
                                               "\xF0\x9F\x9A\x9A lorry"};
    return some[static_cast<std::size_t>(whole(0, static_cast<int>(some.size()) - 1))];
  }
  std::string name() { return std::to_string(next_name_++) + text() + "."; }

 private:
  std::mt19937_64& random_;
  rig::SheetUnits units_;
  int next_name_ = 0;
};

rig::Scale random_scale(Draw& draw) {
  rig::Scale scale;
  scale.id = draw.name();
  scale.uid = draw.text();
  scale.serial = draw.text();
  scale.capacity = draw.maybe(draw.load(50'000, 80'000));
  scale.division = draw.maybe(draw.load(0.1, 20));
  scale.repeatability = draw.maybe(draw.load(0, 5));
  scale.zero_before = draw.maybe(draw.load(-3, 3));
  scale.zero_after = draw.maybe(draw.load(-3, 3));
  scale.gain = draw.maybe_real(-0.01, 0.01);
  scale.gain_u = draw.maybe(0.0006);
  scale.accuracy_class = draw.maybe(static_cast<rig::AccuracyClass>(draw.whole(0, 3)));
  if (draw.yes()) scale.calibrated = "2026-02-11";
  if (draw.yes()) scale.due = "2028-02-29";
  for (int i = draw.yes(0.7) ? 0 : draw.whole(1, 3); i > 0; --i) {
    const units::LoadUnit unit = draw.yes(0.8) ? draw.load(0, 1).unit : units::LoadUnit::pound;
    scale.check_weights.push_back({{draw.real(1, 20'000), unit},
                                   {draw.real(0, 20'000), unit},
                                   draw.yes() ? "2026-10-03T08:20:00+02:00" : ""});
  }
  return scale;
}

rig::TowVehicle random_tow_vehicle(Draw& draw) {
  rig::TowVehicle vehicle;
  vehicle.uid = draw.text();
  vehicle.label = draw.text();
  vehicle.registration = draw.text();
  vehicle.vin = draw.text();
  const int front = draw.whole(1, 2), rear = draw.whole(1, 3);
  double at = draw.real(-500, 500);
  for (int i = 0; i < front + rear; ++i) {
    vehicle.axles.push_back(
        {units::Length{at, draw.length(0, 1).unit}, i < front ? rig::Group::front : rig::Group::rear});
    at += draw.real(200, 800);
  }
  vehicle.wheelbase_u = draw.maybe(draw.length(0.5, 10));
  vehicle.overhang = draw.maybe(draw.measured(-300, 1500));
  vehicle.cg_height = draw.maybe(draw.measured(20, 300));
  return vehicle;
}

rig::Trailer random_trailer(Draw& draw) {
  rig::Trailer trailer;
  trailer.label = draw.text();
  trailer.axles = draw.whole(1, 3);
  trailer.suspension = draw.maybe(draw.yes() ? rig::Suspension::independent : rig::Suspension::load_sharing);
  trailer.self_supporting = draw.yes(0.2);
  trailer.coupling_to_axles = draw.maybe(draw.measured(700, 2000));
  trailer.coupling_to_jockey = draw.maybe(draw.measured(0, 500));
  return trailer;
}

rig::Limit random_limit(Draw& draw, const rig::Rig& rig) {
  using enum rig::LimitKind;
  rig::Limit limit;
  limit.kind = static_cast<rig::LimitKind>(draw.whole(0, static_cast<int>(dc_value)));
  const bool of_trailer =
      limit.kind == trailer_gross || limit.kind == trailer_axles || limit.kind == trailer_axle;
  if (of_trailer && !rig.trailer) limit.kind = tow_axle;
  if (limit.kind == tow_axle || limit.kind == wheel)
    limit.axle = draw.whole(1, static_cast<int>(rig.tow_vehicle.axles.size()));
  if (limit.kind == trailer_axle) limit.axle = draw.whole(1, rig.trailer->axles);
  const units::LoadUnit unit = draw.yes(0.8) ? draw.load(0, 1).unit : units::LoadUnit::pound;
  if (limit.kind == wheel && draw.yes()) {
    limit.load_index = draw.whole(60, 150);
    limit.tyres = draw.whole(1, 2);
  } else if (rig::measure_of(limit.kind) == rig::Measure::load) {
    limit.load = units::Load{draw.real(1, 20'000), unit};
  } else {
    limit.number = draw.real(0.01, 1);
  }
  if (limit.kind == mass_ratio && draw.yes()) limit.against = units::Load{draw.real(100, 9'000), unit};
  if (limit.kind == trailer_gross && draw.yes()) limit.basis = rig::Basis::axles;
  if (limit.kind == coupling) limit.part = draw.text();
  limit.with_weight_distribution = draw.maybe(draw.yes());
  limit.advice = draw.yes();
  limit.source = draw.text();
  limit.edition = draw.text();
  return limit;
}

rig::Position random_position(Draw& draw, const rig::Session& session, const rig::State& state) {
  if (state.support && draw.yes(0.2))
    return *state.support == rig::Support::coupling ? rig::Position::support_at_coupling()
                                                    : rig::Position::support_at_jockey();
  const auto vehicle = session.rig.trailer && draw.yes() ? rig::Vehicle::trailer : rig::Vehicle::tow;
  const int axles = vehicle == rig::Vehicle::tow ? static_cast<int>(session.rig.tow_vehicle.axles.size())
                                                 : session.rig.trailer->axles;
  if (draw.yes(0.1)) return rig::Position::whole(vehicle);
  const int axle = draw.whole(1, axles);
  if (draw.yes(0.2)) return rig::Position::whole_axle(vehicle, axle);
  return rig::Position::wheel(vehicle, axle, draw.yes() ? rig::Side::left : rig::Side::right);
}

rig::Reading random_reading(Draw& draw, const rig::Session& session, const rig::State& state) {
  rig::Reading reading;
  reading.id = draw.name();
  reading.at = random_position(draw, session, state);
  reading.load = {draw.real(0, 20'000), draw.yes(0.8) ? session.units.load : units::LoadUnit::pound};
  for (const rig::Scale& scale : session.scales)
    if (draw.yes(0.4)) reading.scales.push_back(scale.id);
  const bool on_support =
      reading.at.extent == rig::Extent::coupling || reading.at.extent == rig::Extent::jockey;
  if (!on_support && draw.yes(0.2)) reading.raised = draw.length(0.5, 80);
  if (draw.yes(0.3)) reading.taken_at = "2026-10-03T08:51:10+02:00";
  if (draw.yes(0.2))
    reading.struck =
        rig::Strike{"why\nso" + draw.text(), draw.text(), draw.yes() ? "2026-10-03T09:00:00Z" : ""};
  return reading;
}

rig::State random_state(Draw& draw, const rig::Session& session) {
  rig::State state;
  state.name = draw.name();
  const auto& trailer = session.rig.trailer;
  state.hitched = trailer && draw.yes();
  if (trailer && !trailer->self_supporting) {
    if (state.hitched)
      state.weight_distribution = draw.yes(0.3);
    else
      state.support = draw.maybe(draw.yes() ? rig::Support::coupling : rig::Support::jockey);
  }
  state.coupling_height = draw.maybe(draw.measured(10, 350));
  if (draw.yes()) state.slope = rig::MeasuredSlope{draw.real(-20, 20), draw.maybe(2.5)};
  for (int i = draw.whole(0, 3); i > 0; --i)
    state.ride_heights.emplace_back(draw.name(), draw.length(0, 300));
  std::sort(state.ride_heights.begin(), state.ride_heights.end(),
            [](const auto& a, const auto& b) { return a.first < b.first; });
  for (int i = draw.whole(0, 12); i > 0; --i) state.readings.push_back(random_reading(draw, session, state));
  return state;
}

void random_heading(Draw& draw, rig::Session& session) {
  session.id = draw.name();
  if (draw.yes(0.3)) {
    session.revision = draw.whole(2, 9);
    session.replaces = draw.text();
    if (draw.yes())
      session.revised = rig::Revised{"why\nso" + draw.text(), draw.text(), draw.yes() ? "2026-10-05T09:00:00Z" : ""};
  }
  if (draw.yes()) session.weighed.at = "2026-10-03T08:40:00-03:30";
  session.weighed.place = draw.text();
  session.client = {draw.text(), draw.text(), draw.text()};
  session.conditions = {draw.text(), draw.text(), draw.text() + "\n" + draw.text()};
  session.carried = {draw.maybe_real(0, 100), draw.maybe(draw.whole(0, 99)), draw.text()};
  for (int i = draw.whole(0, 2); i > 0; --i)
    session.modifications.push_back(
        {draw.name(), draw.maybe(draw.load(-50, 50)), draw.maybe(draw.length(-10, 99)), draw.text()});
  session.placement_u = draw.maybe_real(0, 0.01);
  session.assumptions = {draw.maybe(1.25), draw.maybe(draw.length(1, 20)), draw.maybe_real(0, 20),
                         draw.maybe(0.003)};
}

}  // namespace

rig::Session random_session(std::mt19937_64& random) {
  rig::Session session;
  if (random() % 2) session.units.load = units::LoadUnit::pound;
  if (random() % 2) session.units.length = units::LengthUnit::inch;
  Draw draw(random, session.units);
  random_heading(draw, session);
  for (int i = draw.whole(0, 4); i > 0; --i) session.scales.push_back(random_scale(draw));
  session.rig.tow_vehicle = random_tow_vehicle(draw);
  if (draw.yes(0.8)) session.rig.trailer = random_trailer(draw);
  for (int i = draw.whole(0, 8); i > 0; --i) session.rig.limits.push_back(random_limit(draw, session.rig));
  for (int i = draw.whole(1, 4); i > 0; --i) session.states.push_back(random_state(draw, session));
  if (draw.yes(0.3)) session.states.front().travels = true;
  if (draw.yes(0.3))
    session.extras = {{"", "x-a", "[1,{\"b\":null}]"},
                      {"conditions", "x-c", "\"\\u0001\""},
                      {"rig.tow_vehicle.axles[0]", "x-d", "0.1"},
                      {"states[0]", "x-", "true"}};
  return session;
}

}  // namespace steelyard::tests
