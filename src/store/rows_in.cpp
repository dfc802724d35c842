#include <algorithm>
#include <string>

#include "rig/words.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

Query& put(Query& row, const units::Load& load) {
  return row.put(load.kg().value()).put(load.figure).put(units::symbol(load.unit));
}

Query& put(Query& row, const units::Length& length) {
  return row.put(length.mm().value()).put(length.figure).put(units::symbol(length.unit));
}

template <class Quantity>
Query& put(Query& row, const std::optional<Quantity>& quantity) {
  return quantity ? put(row, *quantity) : row.put_null().put_null().put_null();
}

Query& put(Query& row, const std::optional<rig::MeasuredLength>& length) {
  put(row, length ? std::optional(length->value) : std::nullopt);
  return put(row, length ? length->u : std::nullopt);
}

/// A word of the contract, or NULL.
template <class Word>
Query& put_word(Query& row, const std::optional<Word>& word) {
  return word ? row.put(rig::to_text(*word)) : row.put_null();
}

std::int64_t write_session_row(Connection& connection, const rig::Session& session, std::string_view hash) {
  const std::string now = utc_now();
  Query row = connection.query(
      "INSERT INTO session (id, revision, replaces, revision_reason, revised_by, revised_at, import_hash, imported_at, load_unit, "
      "length_unit, weighed_at, weighed_ms, place, technician, purpose, client_uid, client_name, "
      "client_reference, "
      "surface, wind, conditions_note, fuel_percent, occupants, carried_note, placement_u, "
      "height_sensitivity_u, "
      "unmeasured_height_u_mm, unmeasured_height_u_figure, unmeasured_height_u_unit, raised_kg_per_mm, "
      "anonymous_gain_u) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
      "?, ?, "
      "?, ?)");
  const rig::Revised revised = session.revised.value_or(rig::Revised{});
  row.put(session.id).put(session.revision).put(session.replaces);
  row.put(revised.why).put(revised.by).put(revised.at).put(hash).put(now);
  row.put(units::symbol(session.units.load)).put(units::symbol(session.units.length));
  const rig::Weighed& weighed = session.weighed;
  row.put(weighed.at)
      .put(instant_ms(weighed.at))
      .put(weighed.place)
      .put(weighed.technician)
      .put(weighed.purpose);
  row.put(session.client.uid).put(session.client.name).put(session.client.reference);
  row.put(session.conditions.surface).put(session.conditions.wind).put(session.conditions.note);
  row.put(session.carried.fuel_percent).put(session.carried.occupants).put(session.carried.note);
  const rig::Assumptions& assumed = session.assumptions;
  row.put(session.placement_u).put(assumed.height_sensitivity_u);
  put(row, assumed.unmeasured_height_u).put(assumed.raised_kg_per_mm).put(assumed.anonymous_gain_u).run();
  return connection.last_key();
}

/// The number of an element in the sheet's list.
int number_of(std::size_t index) {
  return static_cast<int>(index) + 1;
}

}  // namespace

void write_modifications(Connection& connection, std::int64_t key, const std::vector<rig::Modification>& items,
                         std::size_t first) {
  for (std::size_t i = first; i < items.size(); ++i) {
    const rig::Modification& item = items[i];
    Query row = connection.query(
        "INSERT INTO modification (session, seq, what, mass_kg, mass_figure, mass_unit, at_mm, at_figure, "
        "at_unit, "
        "certificate) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    row.put(key).put(number_of(i)).put(item.what);
    put(row, item.mass);
    put(row, item.at).put(item.certificate).run();
  }
}

void write_check_weights(Connection& connection, std::int64_t key, int scale,
                         const std::vector<rig::CheckWeight>& weights, std::size_t first) {
  for (std::size_t i = first; i < weights.size(); ++i) {
    const rig::CheckWeight& weight = weights[i];
    Query row = connection.query(
        "INSERT INTO check_weight (session, scale, seq, mass_kg, mass_figure, mass_unit, load_kg, load_figure, "
        "load_unit, taken_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    row.put(key).put(scale).put(number_of(i));
    put(row, weight.mass);
    put(row, weight.load).put(weight.taken_at).run();
  }
}

void write_scales(Connection& connection, std::int64_t key, const std::vector<rig::Scale>& scales, std::size_t first) {
  for (std::size_t i = first; i < scales.size(); ++i) {
    const rig::Scale& scale = scales[i];
    Query row = connection.query(
        "INSERT INTO scale (session, seq, id, uid, serial, capacity_kg, capacity_figure, capacity_unit, "
        "division_kg, "
        "division_figure, division_unit, repeatability_kg, repeatability_figure, repeatability_unit, "
        "zero_before_kg, "
        "zero_before_figure, zero_before_unit, zero_after_kg, zero_after_figure, zero_after_unit, gain, "
        "gain_u, "
        "accuracy_class, certificate, calibrated, due) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
        "?, ?, ?, "
        "?, ?, ?, ?, ?, ?, ?, ?)");
    row.put(key).put(number_of(i)).put(scale.id).put(scale.uid).put(scale.serial);
    put(row, scale.capacity);
    put(row, scale.division);
    put(row, scale.repeatability);
    put(row, scale.zero_before);
    put(row, scale.zero_after).put(scale.gain).put(scale.gain_u);
    put_word(row, scale.accuracy_class).put(scale.certificate).put(scale.calibrated).put(scale.due).run();
    write_check_weights(connection, key, number_of(i), scale.check_weights, 0);
  }
}

namespace {

void write_tow_vehicle(Connection& connection, std::int64_t key, const rig::TowVehicle& vehicle) {
  Query row = connection.query(
      "INSERT INTO tow_vehicle (session, uid, label, registration, vin, wheelbase_u_mm, wheelbase_u_figure, "
      "wheelbase_u_unit, overhang_mm, overhang_figure, overhang_unit, overhang_u_mm, overhang_u_figure, "
      "overhang_u_unit, cg_height_mm, cg_height_figure, cg_height_unit, cg_height_u_mm, cg_height_u_figure, "
      "cg_height_u_unit) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  row.put(key).put(vehicle.uid).put(vehicle.label).put(vehicle.registration).put(vehicle.vin);
  put(row, vehicle.wheelbase_u);
  put(row, vehicle.overhang);
  put(row, vehicle.cg_height).run();
  int seq = 0;
  for (const rig::Axle& axle : vehicle.axles) {
    Query axle_row = connection.query(
        "INSERT INTO axle (session, seq, at_mm, at_figure, at_unit, axle_group) VALUES (?, ?, ?, ?, ?, ?)");
    axle_row.put(key).put(++seq);
    put(axle_row, axle.at).put(rig::to_text(axle.group)).run();
  }
}

void write_trailer(Connection& connection, std::int64_t key, const rig::Trailer& trailer) {
  Query row = connection.query(
      "INSERT INTO trailer (session, uid, label, registration, axles, suspension, self_supporting, "
      "coupling_to_axles_mm, coupling_to_axles_figure, coupling_to_axles_unit, coupling_to_axles_u_mm, "
      "coupling_to_axles_u_figure, coupling_to_axles_u_unit, coupling_to_jockey_mm, "
      "coupling_to_jockey_figure, "
      "coupling_to_jockey_unit, coupling_to_jockey_u_mm, coupling_to_jockey_u_figure, "
      "coupling_to_jockey_u_unit) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  row.put(key).put(trailer.uid).put(trailer.label).put(trailer.registration).put(trailer.axles);
  put_word(row, trailer.suspension).put(trailer.self_supporting);
  put(row, trailer.coupling_to_axles);
  put(row, trailer.coupling_to_jockey).run();
}

}  // namespace

void write_limits(Connection& connection, std::int64_t key, const std::vector<rig::Limit>& limits, std::size_t first) {
  for (std::size_t i = first; i < limits.size(); ++i) {
    const rig::Limit& limit = limits[i];
    const std::string name = rig::limit_name(limit);
    Query row = connection.query(
        "INSERT INTO rig_limit (session, seq, name, part, load_kg, load_figure, load_unit, number, "
        "load_index, tyres, "
        "against_kg, against_figure, against_unit, basis, with_weight_distribution, advice, source, edition, "
        "jurisdiction, read_by) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    row.put(key).put(number_of(i)).put(name).put(limit.part);
    put(row, limit.load).put(limit.number).put(limit.load_index).put(limit.tyres);
    put(row, limit.against)
        .put(rig::to_text(limit.basis))
        .put(limit.with_weight_distribution)
        .put(limit.advice);
    row.put(limit.source).put(limit.edition).put(limit.jurisdiction).put(limit.read_by).run();
  }
}

void write_state(Connection& connection, std::int64_t key, int seq, const rig::State& state) {
  Query row = connection.query(
      "INSERT INTO state (session, seq, name, hitched, weight_distribution, travels, support, "
      "coupling_height_mm, "
      "coupling_height_figure, coupling_height_unit, coupling_height_u_mm, coupling_height_u_figure, "
      "coupling_height_u_unit, slope, slope_u) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  row.put(key).put(seq).put(state.name).put(state.hitched).put(state.weight_distribution).put(state.travels);
  put_word(row, state.support);
  put(row, state.coupling_height);
  row.put(state.slope ? std::optional(state.slope->value) : std::nullopt);
  row.put(state.slope ? state.slope->u : std::nullopt).run();
  for (const RideHeight& height : state.ride_heights) write_ride_height(connection, key, seq, height);
}

void write_ride_height(Connection& connection, std::int64_t key, int state, const RideHeight& height) {
  Query row = connection.query(
      "INSERT INTO ride_height (session, state, name, height_mm, height_figure, height_unit) VALUES (?, ?, ?, ?, ?, "
      "?)");
  row.put(key).put(state).put(height.first);
  put(row, height.second).run();
}

void fill_in_zero_after(Connection& connection, std::int64_t key, int scale, const units::Load& load) {
  const Permitting filling(connection, Connection::Permission::filling);
  Query row = connection.query(
      "UPDATE scale SET zero_after_kg = ?, zero_after_figure = ?, zero_after_unit = ? WHERE session = ? AND seq = ?");
  put(row, load).put(key).put(scale).run();
}

void fill_in_coupling_height(Connection& connection, std::int64_t key, int state, const rig::MeasuredLength& height) {
  const Permitting filling(connection, Connection::Permission::filling);
  Query row = connection.query(
      "UPDATE state SET coupling_height_mm = ?, coupling_height_figure = ?, coupling_height_unit = ?, "
      "coupling_height_u_mm = ?, coupling_height_u_figure = ?, coupling_height_u_unit = ? WHERE session = ? AND "
      "seq = ?");
  put(row, std::optional(height)).put(key).put(state).run();
}

void fill_in_slope(Connection& connection, std::int64_t key, int state, const rig::MeasuredSlope& slope) {
  const Permitting filling(connection, Connection::Permission::filling);
  connection.query("UPDATE state SET slope = ?, slope_u = ? WHERE session = ? AND seq = ?")
      .put(slope.value)
      .put(slope.u)
      .put(key)
      .put(state)
      .run();
}

namespace {

std::string_view time_in(const std::map<std::string, std::string, std::less<>>& times, const std::string& id) {
  const auto found = times.find(id);
  return found == times.end() ? std::string_view() : std::string_view(found->second);
}

void write_states(Connection& connection, std::int64_t key, const rig::Session& session, const RecordedTimes& times) {
  ReadingPlace place{.session = key};
  for (const rig::State& state : session.states) {
    write_state(connection, key, ++place.state, state);
    for (const rig::Reading& reading : state.readings) {
      ++place.seq;
      place.recorded_at = time_in(times.readings, reading.id);
      place.strike_recorded_at = time_in(times.strikes, reading.id);
      write_reading(connection, place, reading, session.scales);
    }
  }
}

void write_extras(Connection& connection, std::int64_t key, const std::vector<rig::Extra>& extras) {
  int seq = 0;
  for (const rig::Extra& extra : extras)
    connection.query("INSERT INTO extra (session, seq, place, key, json) VALUES (?, ?, ?, ?, ?)")
        .put(key)
        .put(++seq)
        .put(extra.place)
        .put(extra.key)
        .put(extra.json)
        .run();
}

int number_of_scale(const Connection& connection, const std::vector<rig::Scale>& scales,
                    const std::string& id) {
  const auto found =
      std::find_if(scales.begin(), scales.end(), [&](const auto& scale) { return scale.id == id; });
  if (found == scales.end())
    throw Refused(about(connection.path(), "the session has no scale " + id +
                                               "; name one of its scales, or none where it is not known"));
  return static_cast<int>(found - scales.begin()) + 1;
}

Query& put_time(Query& row, std::string_view recorded_at) {
  return recorded_at.empty() ? row.put_null() : row.put(recorded_at);
}

}  // namespace

void write_strike(Connection& connection, std::int64_t session, int reading, const rig::Strike& strike,
                  std::string_view recorded_at) {
  Query row = connection.query(
      "INSERT INTO strike (session, reading, why, struck_by, struck_at, recorded_at) VALUES (?, ?, ?, ?, ?, "
      "?)");
  row.put(session).put(reading).put(strike.why).put(strike.by).put(strike.at);
  put_time(row, recorded_at).run();
}

void write_reading(Connection& connection, const ReadingPlace& place, const rig::Reading& reading,
                   const std::vector<rig::Scale>& scales) {
  const std::string position = rig::to_text(reading.at);
  {
    Query row = connection.query(
        "INSERT INTO reading (session, seq, state, id, position, load_kg, load_figure, load_unit, raised_mm, "
        "raised_figure, raised_unit, taken_at, recorded_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    row.put(place.session).put(place.seq).put(place.state).put(reading.id).put(position);
    put(row, reading.load);
    put(row, reading.raised).put(reading.taken_at);
    put_time(row, place.recorded_at).run();
  }
  int number = 0;
  for (const std::string& id : reading.scales)
    connection.query("INSERT INTO reading_scale (session, reading, scale, place) VALUES (?, ?, ?, ?)")
        .put(place.session)
        .put(place.seq)
        .put(number_of_scale(connection, scales, id))
        .put(++number)
        .run();
  if (reading.struck) write_strike(connection, place.session, place.seq, *reading.struck, place.strike_recorded_at);
}

RecordedTimes recorded_times(Connection& connection, std::int64_t session) {
  RecordedTimes times;
  Query row = connection.query(
      "SELECT r.id, r.recorded_at, s.recorded_at FROM reading AS r LEFT JOIN strike AS s ON s.session = r.session AND "
      "s.reading = r.seq WHERE r.session = ?");
  row.put(session);
  while (row.next()) {
    const std::string id(row.text());
    if (const auto at = row.optional_text(); !at.empty()) times.readings.emplace(id, at);
    if (const auto at = row.optional_text(); !at.empty()) times.strikes.emplace(id, at);
  }
  return times;
}

std::int64_t write_session(Connection& connection, const rig::Session& session, std::string_view hash,
                           const RecordedTimes& times) {
  const std::int64_t key = write_session_row(connection, session, hash);
  write_modifications(connection, key, session.modifications, 0);
  write_scales(connection, key, session.scales, 0);
  write_tow_vehicle(connection, key, session.rig.tow_vehicle);
  if (session.rig.trailer) write_trailer(connection, key, *session.rig.trailer);
  write_limits(connection, key, session.rig.limits, 0);
  write_states(connection, key, session, times);
  write_extras(connection, key, session.extras);
  return key;
}

}  // namespace steelyard::store
