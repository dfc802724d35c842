#include <string>
#include <tuple>
#include <utility>

#include "rig/words.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

template <class Value>
Value known(Query& row, std::optional<Value> value, std::string_view what) {
  if (!value) row.connection().damaged("an unknown " + std::string(what));
  return *value;
}

units::Load load(Query& row) {
  const double kg = row.number();
  const double figure = row.number();
  const units::Load load{figure, known(row, rig::parse_load_unit(row.text()), "unit of load")};
  if (load.kg().value() != kg) row.connection().damaged("a load and its figure as entered disagree");
  return load;
}

units::Length length(Query& row) {
  const double mm = row.number();
  const double figure = row.number();
  const units::Length length{figure, known(row, rig::parse_length_unit(row.text()), "unit of length")};
  if (length.mm().value() != mm) row.connection().damaged("a length and its figure as entered disagree");
  return length;
}

std::optional<units::Load> optional_load(Query& row) {
  if (!row.is_null()) return load(row);
  row.skip(3);
  return std::nullopt;
}

std::optional<units::Length> optional_length(Query& row) {
  if (!row.is_null()) return length(row);
  row.skip(3);
  return std::nullopt;
}

std::optional<rig::MeasuredLength> measured_length(Query& row) {
  const auto value = optional_length(row);
  const auto u = optional_length(row);
  if (!value) return std::nullopt;
  return rig::MeasuredLength{*value, u};
}

void read_conditions(Query& row, rig::Session& session) {
  session.weighed = {std::string(row.text()), std::string(row.text()), std::string(row.text()),
                     std::string(row.text())};
  session.client = {std::string(row.text()), std::string(row.text()), std::string(row.text())};
  session.conditions = {std::string(row.text()), std::string(row.text()), std::string(row.text())};
  session.carried.fuel_percent = row.optional_number();
  session.carried.occupants = row.optional_small_integer();
  session.carried.note = row.text();
  session.placement_u = row.optional_number();
  session.assumptions.height_sensitivity_u = row.optional_number();
  session.assumptions.unmeasured_height_u = optional_length(row);
  session.assumptions.raised_kg_per_mm = row.optional_number();
  session.assumptions.anonymous_gain_u = row.optional_number();
}

rig::Session session_row(Connection& connection, std::int64_t key) {
  Query row = connection.query(
      "SELECT id, revision, replaces, revision_reason, revised_by, revised_at, load_unit, length_unit, weighed_at, place, technician, purpose, "
      "client_uid, "
      "client_name, client_reference, surface, wind, conditions_note, fuel_percent, occupants, carried_note, "
      "placement_u, height_sensitivity_u, unmeasured_height_u_mm, unmeasured_height_u_figure, "
      "unmeasured_height_u_unit, raised_kg_per_mm, anonymous_gain_u FROM session WHERE session = ?");
  if (!row.put(key).next()) connection.damaged("a session is missing");
  rig::Session session;
  session.id = row.text();
  session.revision = row.small_integer();
  session.replaces = row.text();
  rig::Revised revised{std::string(row.text()), std::string(row.text()), std::string(row.text())};
  if (revised != rig::Revised{}) session.revised = std::move(revised);
  session.units.load = known(row, rig::parse_load_unit(row.text()), "unit of load");
  session.units.length = known(row, rig::parse_length_unit(row.text()), "unit of length");
  read_conditions(row, session);
  return session;
}

void read_modifications(Connection& connection, std::int64_t key, rig::Session& session) {
  Query row = connection.query(
      "SELECT what, mass_kg, mass_figure, mass_unit, at_mm, at_figure, at_unit, certificate FROM "
      "modification "
      "WHERE session = ? ORDER BY seq");
  row.put(key);
  while (row.next()) {
    rig::Modification& item = session.modifications.emplace_back();
    item.what = row.text();
    item.mass = optional_load(row);
    item.at = optional_length(row);
    item.certificate = row.text();
  }
}

void read_scales(Connection& connection, std::int64_t key, rig::Session& session) {
  Query row = connection.query(
      "SELECT id, uid, serial, capacity_kg, capacity_figure, capacity_unit, division_kg, division_figure, "
      "division_unit, repeatability_kg, repeatability_figure, repeatability_unit, zero_before_kg, "
      "zero_before_figure, "
      "zero_before_unit, zero_after_kg, zero_after_figure, zero_after_unit, gain, gain_u, certificate, "
      "calibrated, "
      "due, accuracy_class FROM scale WHERE session = ? ORDER BY seq");
  row.put(key);
  while (row.next()) {
    rig::Scale& scale = session.scales.emplace_back();
    scale.id = row.text();
    scale.uid = row.text();
    scale.serial = row.text();
    scale.capacity = optional_load(row);
    scale.division = optional_load(row);
    scale.repeatability = optional_load(row);
    scale.zero_before = optional_load(row);
    scale.zero_after = optional_load(row);
    scale.gain = row.optional_number();
    scale.gain_u = row.optional_number();
    scale.certificate = row.text();
    scale.calibrated = row.text();
    scale.due = row.text();
    if (!row.is_null())
      scale.accuracy_class = known(row, rig::parse_accuracy_class(row.text()), "accuracy class");
  }
}

void read_check_weights(Connection& connection, std::int64_t key, std::vector<rig::Scale>& scales) {
  Query row = connection.query(
      "SELECT scale, mass_kg, mass_figure, mass_unit, load_kg, load_figure, load_unit, taken_at FROM check_weight "
      "WHERE session = ? ORDER BY scale, seq");
  row.put(key);
  while (row.next()) {
    const std::int64_t number = row.integer();
    if (number < 1 || number > std::ssize(scales)) connection.damaged("a check weight's scale is missing");
    rig::CheckWeight& weight = scales[static_cast<std::size_t>(number - 1)].check_weights.emplace_back();
    weight.mass = load(row);
    weight.load = load(row);
    weight.taken_at = row.text();
  }
}

void read_tow_vehicle(Connection& connection, std::int64_t key, rig::TowVehicle& vehicle) {
  Query row = connection.query(
      "SELECT uid, label, registration, vin, wheelbase_u_mm, wheelbase_u_figure, wheelbase_u_unit, "
      "overhang_mm, "
      "overhang_figure, overhang_unit, overhang_u_mm, overhang_u_figure, overhang_u_unit, cg_height_mm, "
      "cg_height_figure, cg_height_unit, cg_height_u_mm, cg_height_u_figure, cg_height_u_unit FROM "
      "tow_vehicle "
      "WHERE session = ?");
  if (!row.put(key).next()) connection.damaged("a session's tow vehicle is missing");
  vehicle.uid = row.text();
  vehicle.label = row.text();
  vehicle.registration = row.text();
  vehicle.vin = row.text();
  vehicle.wheelbase_u = optional_length(row);
  vehicle.overhang = measured_length(row);
  vehicle.cg_height = measured_length(row);
  Query axle_row = connection.query(
      "SELECT at_mm, at_figure, at_unit, axle_group FROM axle WHERE session = ? ORDER BY seq");
  axle_row.put(key);
  while (axle_row.next()) {
    rig::Axle& axle = vehicle.axles.emplace_back();
    axle.at = length(axle_row);
    axle.group = known(axle_row, rig::parse_group(axle_row.text()), "axle group");
  }
}

std::optional<rig::Trailer> read_trailer(Connection& connection, std::int64_t key) {
  Query row = connection.query(
      "SELECT uid, label, registration, axles, self_supporting, coupling_to_axles_mm, "
      "coupling_to_axles_figure, "
      "coupling_to_axles_unit, coupling_to_axles_u_mm, coupling_to_axles_u_figure, coupling_to_axles_u_unit, "
      "coupling_to_jockey_mm, coupling_to_jockey_figure, coupling_to_jockey_unit, coupling_to_jockey_u_mm, "
      "coupling_to_jockey_u_figure, coupling_to_jockey_u_unit, suspension FROM trailer WHERE session = ?");
  if (!row.put(key).next()) return std::nullopt;
  rig::Trailer trailer;
  trailer.uid = row.text();
  trailer.label = row.text();
  trailer.registration = row.text();
  trailer.axles = row.small_integer();
  trailer.self_supporting = row.flag();
  trailer.coupling_to_axles = measured_length(row);
  trailer.coupling_to_jockey = measured_length(row);
  if (!row.is_null()) trailer.suspension = known(row, rig::parse_suspension(row.text()), "suspension");
  return trailer;
}

void read_limits(Connection& connection, std::int64_t key, std::vector<rig::Limit>& limits) {
  Query row = connection.query(
      "SELECT name, part, load_kg, load_figure, load_unit, number, load_index, tyres, against_kg, "
      "against_figure, "
      "against_unit, basis, with_weight_distribution, advice, source, edition, jurisdiction, read_by FROM "
      "rig_limit "
      "WHERE session = ? ORDER BY seq");
  row.put(key);
  while (row.next()) {
    rig::Limit& limit = limits.emplace_back(known(row, rig::parse_limit_name(row.text()), "limit"));
    limit.part = row.text();
    limit.load = optional_load(row);
    limit.number = row.optional_number();
    limit.load_index = row.optional_small_integer();
    limit.tyres = row.small_integer();
    limit.against = optional_load(row);
    limit.basis = known(row, rig::parse_basis(row.text()), "basis");
    limit.with_weight_distribution = row.optional_flag();
    limit.advice = row.flag();
    limit.source = row.text();
    limit.edition = row.text();
    limit.jurisdiction = row.text();
    limit.read_by = row.text();
  }
}

rig::State& state_of_row(Query& row, rig::Session& session) {
  const std::int64_t number = row.integer();
  if (number < 1 || number > static_cast<std::int64_t>(session.states.size()))
    row.connection().damaged("a session's state is missing");
  return session.states[static_cast<std::size_t>(number - 1)];
}

void read_states(Connection& connection, std::int64_t key, rig::Session& session) {
  Query row = connection.query(
      "SELECT name, hitched, weight_distribution, travels, coupling_height_mm, coupling_height_figure, "
      "coupling_height_unit, coupling_height_u_mm, coupling_height_u_figure, coupling_height_u_unit, slope, "
      "slope_u, "
      "support FROM state WHERE session = ? ORDER BY seq");
  row.put(key);
  while (row.next()) {
    rig::State& state = session.states.emplace_back();
    state.name = row.text();
    state.hitched = row.flag();
    state.weight_distribution = row.flag();
    state.travels = row.flag();
    state.coupling_height = measured_length(row);
    const auto slope = row.optional_number();
    const auto slope_u = row.optional_number();
    if (slope) state.slope = rig::MeasuredSlope{*slope, slope_u};
    if (!row.is_null()) state.support = known(row, rig::parse_support(row.text()), "support");
  }
  Query height_row = connection.query(
      "SELECT state, name, height_mm, height_figure, height_unit FROM ride_height WHERE session = ? "
      "ORDER BY state, name");
  height_row.put(key);
  while (height_row.next()) {
    rig::State& state = state_of_row(height_row, session);
    std::string name(height_row.text());
    state.ride_heights.emplace_back(std::move(name), length(height_row));
  }
}

rig::Reading reading_of_row(Query& row) {
  rig::Reading reading;
  reading.id = row.text();
  reading.at = known(row, rig::parse_position(row.text()), "position");
  reading.load = load(row);
  reading.raised = optional_length(row);
  reading.taken_at = row.text();
  return reading;
}

/// Names the scales of a reading, which are rows of their own in the order of the readings.
class ScalesOfReadings {
 public:
  ScalesOfReadings(Connection& connection, std::int64_t key, const std::vector<rig::Scale>& scales)
      : row_(connection.query(
            "SELECT reading, scale FROM reading_scale WHERE session = ? ORDER BY reading, place")),
        scales_(scales) {
    more_ = row_.put(key).next();
    if (more_) reading_ = row_.integer();
  }

  std::vector<std::string> of(std::int64_t reading) {
    std::vector<std::string> ids;
    while (more_ && reading_ == reading) {
      const std::int64_t number = row_.integer();
      if (number < 1 || number > static_cast<std::int64_t>(scales_.size()))
        row_.connection().damaged("a reading's scale is missing");
      ids.push_back(scales_[static_cast<std::size_t>(number - 1)].id);
      more_ = row_.next();
      if (more_) reading_ = row_.integer();
    }
    return ids;
  }

 private:
  Query row_;
  const std::vector<rig::Scale>& scales_;
  bool more_ = false;
  std::int64_t reading_ = 0;
};

void read_readings(Connection& connection, std::int64_t key, rig::Session& session) {
  ScalesOfReadings scales(connection, key, session.scales);
  Query row = connection.query(
      "SELECT r.seq, r.state, r.id, r.position, r.load_kg, r.load_figure, r.load_unit, r.raised_mm, "
      "r.raised_figure, "
      "r.raised_unit, r.taken_at, s.why, s.struck_by, s.struck_at FROM reading AS r LEFT JOIN strike AS s "
      "ON s.session = r.session AND s.reading = r.seq WHERE r.session = ? ORDER BY r.seq");
  row.put(key);
  while (row.next()) {
    const std::int64_t seq = row.integer();
    rig::State& state = state_of_row(row, session);
    rig::Reading& reading = state.readings.emplace_back(reading_of_row(row));
    if (!row.is_null())
      reading.struck = rig::Strike{std::string(row.text()), std::string(row.text()), std::string(row.text())};
    reading.scales = scales.of(seq);
  }
}

void read_extras(Connection& connection, std::int64_t key, std::vector<rig::Extra>& extras) {
  Query row = connection.query("SELECT place, key, json FROM extra WHERE session = ? ORDER BY seq");
  row.put(key);
  while (row.next()) {
    rig::Extra& extra = extras.emplace_back();
    extra.place = row.text();
    extra.key = row.text();
    extra.json = row.text();
  }
}

}  // namespace

rig::Session read_session(Connection& connection, std::int64_t key) {
  rig::Session session = session_row(connection, key);
  read_modifications(connection, key, session);
  read_scales(connection, key, session);
  read_check_weights(connection, key, session.scales);
  read_tow_vehicle(connection, key, session.rig.tow_vehicle);
  session.rig.trailer = read_trailer(connection, key);
  read_limits(connection, key, session.rig.limits);
  read_states(connection, key, session);
  read_readings(connection, key, session);
  read_extras(connection, key, session.extras);
  return session;
}

}  // namespace steelyard::store
