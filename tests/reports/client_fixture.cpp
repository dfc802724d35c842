#include "client_fixture.hpp"

#include <cmath>
#include <stdexcept>

namespace steelyard::test {
namespace {

using assess::Outcome;
using assess::RigOutcome;
using reconcile::Measure;
using rig::Position;
using rig::Side;
using rig::Vehicle;
using units::Length;
using units::Load;

constexpr double F = 1212, R = 1590, C = 171.42, M = 1868.3, L = 3085, o = 1190;

rig::Reading reading(const std::string& id, Position at, double load, std::vector<std::string> scales) {
  rig::Reading made;
  made.id = id;
  made.at = at;
  made.load = {load, units::LoadUnit::kilogram};
  made.scales = std::move(scales);
  made.taken_at = "2026-10-03T08:51:10+02:00";
  return made;
}

rig::Limit limit(rig::LimitKind kind, double value, const std::string& source) {
  rig::Limit made;
  made.kind = kind;
  made.source = source;
  if (rig::measure_of(kind) == rig::Measure::load)
    made.load = Load{value, units::LoadUnit::kilogram};
  else
    made.number = value;
  return made;
}

rig::Scale scale(const std::string& id, const std::string& due) {
  rig::Scale made;
  made.id = id;
  made.uid = "scale-" + id;
  made.serial = "04" + id;
  made.capacity = Load{1500, units::LoadUnit::kilogram};
  made.division = Load{1, units::LoadUnit::kilogram};
  made.gain_u = 0.0006;
  made.certificate = "K-2291";
  made.calibrated = "2026-02-11";
  made.due = due;
  made.zero_before = Load{0, units::LoadUnit::kilogram};
  made.zero_after = Load{1, units::LoadUnit::kilogram};
  return made;
}

std::vector<rig::State> states() {
  rig::State apart;
  apart.name = "apart";
  apart.support = rig::Support::coupling;
  apart.coupling_height = rig::MeasuredLength{{442, {}}, Length{5, {}}};
  apart.slope = rig::MeasuredSlope{0, 2.0};
  apart.readings = {reading("r1", Position::wheel(Vehicle::tow, 1, Side::left), 603, {"P1"}),
                    reading("r2", Position::wheel(Vehicle::tow, 1, Side::right), 609, {"P2"}),
                    reading("r3", Position::whole_axle(Vehicle::tow, 2), 1590, {"P1", "P2"}),
                    reading("r4", Position::whole_axle(Vehicle::trailer, 1), 846, {"P1", "P2"}),
                    reading("r5", Position::whole_axle(Vehicle::trailer, 2), 851, {"P1", "P2"}),
                    reading("r6", Position::support_at_coupling(), 171.5, {"N1"})};
  rig::State together;
  together.name = "together";
  together.hitched = true;
  together.coupling_height = rig::MeasuredLength{{442, {}}, {}};
  together.readings = {reading("r7", Position::whole_axle(Vehicle::tow, 1), 1146, {"P1", "P2"}),
                       reading("r8", Position::whole_axle(Vehicle::tow, 2), 1790, {"P1", "P2"}),
                       reading("r9", Position::whole_axle(Vehicle::tow, 2), 1828, {"P1", "P2"})};
  together.readings[1].struck =
      rig::Strike{"door open, man on the step", "R. Okoye", "2026-10-03T09:02:00+02:00"};
  rig::State driven;
  driven.name = "as driven";
  driven.hitched = driven.travels = true;
  driven.ride_heights = {{"front_left", {512, {}}}, {"rear_left", {498, {}}}};
  driven.readings = {reading("r10", Position::wheel(Vehicle::tow, 2, Side::left), 902, {"P1"}),
                     reading("r11", Position::wheel(Vehicle::tow, 2, Side::right), 925, {"P2"}),
                     reading("r12", Position::whole_axle(Vehicle::trailer, 1), 846, {})};
  driven.readings[0].raised = Length{45, {}};
  return {apart, together, driven};
}

rig::Session session() {
  rig::Session made;
  made.id = "7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11";
  made.weighed = {"2026-10-03T08:40:00+02:00", "Depot 4, north apron", "R. Okoye", "routine"};
  made.client = {"tcwb", "Tallow Creek Water Board", "WO-1182"};
  made.conditions = {"sealed, level", "calm", ""};
  made.carried = {75, 2, "survey kit aboard"};
  made.modifications = {{"long-range tank", Load{38, {}}, Length{2600, {}}, ""}};
  made.scales = {scale("P1", "2027-02-11"), scale("P2", "2027-02-11"), scale("N1", "2027-02-11")};
  made.rig.tow_vehicle.uid = "tcw-012";
  made.rig.tow_vehicle.label = "survey utility 12";
  made.rig.tow_vehicle.registration = "TCW 012";
  made.rig.tow_vehicle.axles = {{{0, {}}, rig::Group::front}, {{L, {}}, rig::Group::rear}};
  made.rig.tow_vehicle.overhang = rig::MeasuredLength{{o, {}}, Length{10, {}}};
  rig::Trailer trailer;
  trailer.label = "pump trailer 3";
  trailer.registration = "TCW T03";
  trailer.axles = 2;
  trailer.coupling_to_axles = rig::MeasuredLength{{3420, {}}, Length{10, {}}};
  made.rig.trailer = trailer;
  made.states = states();
  return made;
}

void add(reconcile::Findings& findings, const std::string& name, double value, double u,
         std::optional<std::string> state = {}, std::optional<std::string> at = {},
         Measure measure = Measure::kilogram) {
  findings.quantities.push_back({.name = name,
                                 .state = std::move(state),
                                 .at = std::move(at),
                                 .measure = measure,
                                 .determinable = true,
                                 .value = value,
                                 .u = u,
                                 .interval = {},
                                 .needs = {}});
}

void add_unknown(reconcile::Findings& findings, const std::string& name, const std::string& needs) {
  reconcile::Quantity unknown;
  unknown.name = name;
  unknown.needs.emplace().text = needs;
  findings.quantities.push_back(std::move(unknown));
}

void add_tow_alone(reconcile::Findings& findings) {
  add(findings, "tow_unhitched_front", F, 2.1);
  add(findings, "tow_unhitched_rear", R, 2.6);
  add(findings, "tow_unhitched_total", F + R, 3.4);
}

void add_observations(reconcile::Findings& findings) {
  const auto observe = [&](reconcile::ObservationKind kind, std::optional<std::string> id,
                           std::optional<std::string> state, std::optional<std::string> at, double value,
                           double u, double fitted, double redundancy) {
    reconcile::Observation made{.kind = kind,
                                .id = std::move(id),
                                .state = std::move(state),
                                .at = std::move(at),
                                .scales = {"P1"},
                                .value = value,
                                .u = u,
                                .fitted = fitted,
                                .residual = value - fitted,
                                .redundancy = redundancy,
                                .normalised_residual = {},
                                .smallest_detectable = {}};
    if (redundancy >= 0.01) {
      made.normalised_residual = (value - fitted) / (u * std::sqrt(redundancy));
      made.smallest_detectable = 4.1 * u / std::sqrt(redundancy);
    }
    findings.observations.push_back(std::move(made));
  };
  using Kind = reconcile::ObservationKind;
  observe(Kind::reading, "r1", "apart", "tow.1.left", 603, 1.9, 603.4, 0.005);
  observe(Kind::reading, "r9", "together", "tow.2", 1828, 4.1, 1827.5, 0.42);
  observe(Kind::reading, "r10", "as driven", "tow.2.left", 902, 2.4, 899.7, 0.31);
  observe(Kind::overhang, {}, {}, {}, 1190, 10, 1188.2, 0.62);
  observe(Kind::gain, {}, {}, {}, 0, 0.0006, 0.00011, 0.12);
  observe(Kind::level, {}, "apart", {}, 0, 1.4, 0.1, 0.2);
}

reconcile::Findings findings() {
  reconcile::Findings made;
  made.session = "7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11";
  made.fit = {.observations = 31,
              .unknowns = 26,
              .degrees_of_freedom = 5,
              .chi_square = 4.31,
              .p_value = 0.5059,
              .consistent = true,
              .iterations = 4};
  add_tow_alone(made);
  add(made, "coupling_load", C, 2.31);
  add(made, "load_transfer_ratio", 1 + o / L, 0.0061, {}, {}, Measure::one);
  add(made, "front_relief_ratio", o / L, 0.0061, {}, {}, Measure::one);
  add(made, "overhang", o, 8.1, {}, {}, Measure::millimetre);
  add(made, "inferred_transfer_ratio", 1.3861, 0.0121, {}, {}, Measure::one);
  made.quantities.back().interval = {1.3627, 1.4103};
  for (const char* state : {"together", "as driven"}) {
    add(made, "tow_hitched_front", F - C * o / L, 2.9, state);
    add(made, "tow_hitched_rear", R + C * (1 + o / L), 5.2, state);
    add(made, "tow_hitched_total", F + R + C, 4.4, state);
    add(made, "trailer_axles_hitched", M - C, 5.1, state);
  }
  add(made, "trailer_mass", M, 5.3);
  add(made, "combination_mass", F + R + M, 7.7);
  add(made, "coupling_share", C / M, 0.00122, {}, {}, Measure::one);
  add(made, "wheel_load", 902.4, 2.2, "as driven", "tow.2.left");
  add(made, "axle_load", 846.1, 3.0, "as driven", "trailer.1");
  add(made, "axle_load", 850.8, 3.1, "as driven", "trailer.2");
  add(made, "side_difference", -22.7, 3.4, "as driven", "tow.2");
  add_unknown(made, "height_sensitivity", "weigh the coupling at a second height, 100 mm higher or lower");
  add_observations(made);
  return made;
}

void assess_row(Case& one, rig::Limit limit, std::optional<std::string> state, std::optional<double> value,
                double u, bool governs = true) {
  assess::Row row;
  row.limit = one.session.rig.limits.size();
  row.of = rig::limit_name(limit);
  if (!limit.part.empty()) row.part = limit.part;
  row.state = std::move(state);
  row.minimum = rig::is_minimum(limit.kind);
  row.advice = limit.advice;
  row.measure = rig::measure_of(limit.kind) == rig::Measure::load    ? Measure::kilogram
                : rig::measure_of(limit.kind) == rig::Measure::ratio ? Measure::one
                                                                     : Measure::kilonewton;
  row.rating = limit.load ? std::optional(limit.load->kg().value()) : limit.number;
  row.governs = governs;
  row.travels = !row.state || *row.state == "as driven";
  row.source = limit.source;
  if (value) {
    row.value = value;
    row.u = u;
    row.margin = row.minimum ? *value - *row.rating : *row.rating - *value;
    row.p_breach = u > 0 ? 0.5 * std::erfc(*row.margin / u / std::sqrt(2.0)) : (*row.margin < 0 ? 1.0 : 0.0);
    row.outcome = *row.margin >= 2 * u    ? Outcome::pass
                  : *row.margin >= 0      ? Outcome::conditional_pass
                  : *row.margin >= -2 * u ? Outcome::conditional_fail
                                          : Outcome::fail;
    ++one.assessment.assessed;
  } else {
    row.reason = "the trailer’s mass is not known: weigh every trailer axle in one state";
    ++one.assessment.not_assessed;
  }
  one.session.rig.limits.push_back(std::move(limit));
  one.assessment.rows.push_back(std::move(row));
}

void assess_all(Case& one, double rear_rating, bool trailer_known) {
  using rig::LimitKind;
  const auto known = [trailer_known](double value) {
    return trailer_known ? std::optional(value) : std::nullopt;
  };
  assess_row(one, limit(LimitKind::tow_gross, 3150, "compliance plate"), "as driven", F + R + C, 4.4);
  assess_row(one, limit(LimitKind::tow_front, 1400, "compliance plate"), "as driven", F - C * o / L, 2.9);
  auto rear = limit(LimitKind::tow_rear, rear_rating, "compliance plate");
  rear.edition = "2024";
  rear.read_by = "R. Okoye";
  assess_row(one, rear, "as driven", R + C * (1 + o / L), 5.2);
  auto plate = limit(LimitKind::coupling, 250, "towbar plate");
  plate.part = "towbar plate";
  assess_row(one, plate, "as driven", C, 2.31);
  auto head = limit(LimitKind::coupling, 300, "coupling head, stamped");
  head.part = "coupling head";
  assess_row(one, head, "as driven", C, 2.31, false);
  assess_row(one, limit(LimitKind::trailer_gross, 2000, "trailer plate"), {}, known(M), 5.3);
  assess_row(one, limit(LimitKind::combination, 5500, "handbook"), {}, known(F + R + M), 7.7);
  auto share = limit(LimitKind::coupling_share_minimum, 0.05, "operator's policy");
  share.advice = true;
  assess_row(one, share, {}, known(C / M), 0.00122);
  auto ratio = limit(LimitKind::mass_ratio, 0.85, "national towing guidance");
  ratio.advice = true;
  assess_row(one, ratio, {}, known(M / (F + R)), 0.0021);
  one.assessment.travels_in = "as driven";
}

}  // namespace

Case whole_case() {
  Case one{session(), findings(), {}};
  assess_all(one, 1834, true);
  one.assessment.outcome = RigOutcome::conditional_pass;
  return one;
}

Case over_case() {
  Case one{session(), findings(), {}};
  assess_all(one, 1790, true);
  one.assessment.outcome = RigOutcome::fail;
  one.findings.fit.consistent = false;
  one.findings.fit.chi_square = 21.31;
  one.findings.fit.p_value = 0.0007;
  reconcile::SuspectSet& set = one.findings.suspects.emplace_back();
  set.members = {{2, -90.1}, {1, 88.0}};
  for (auto& row : one.assessment.rows) row.suspect = row.state == "as driven";
  one.session.scales[1].due = "2026-01-31";
  one.session.replaces = "7c1a52f0-6a5e-4f0e-9a51-2f5b8f0f9d11 revision 1";
  one.session.revision = 2;
  return one;
}

Case sealed_case() {
  Case one = whole_case();
  rig::Session& session = one.session;
  session.revision = 2;
  session.replaces = session.id + "@1";
  session.revised = rig::Revised{"jockey reading was on the other card", "R. Okoye", "2026-10-05T09:10:00+02:00"};
  session.scales[0].check_weights = {{Load{500, {}}, Load{500.5, {}}, "2026-10-03T08:20:00+02:00"},
                                     {Load{1000, {}}, Load{1009, {}}, ""}};
  session.scales[1].zero_before = Load{0, {}};
  session.scales[1].zero_after = Load{4, {}};
  one.provider = {"Tallow Creek Weighing", "4 Depot Road\nTallow Creek", "555 0117", "licence 88-204"};
  rig::RecordNote& record = one.record.emplace();
  record.name = session.id + "@2";
  record.revision = 2;
  record.replaces = session.replaces;
  record.why = session.revised->why;
  record.by = session.revised->by;
  record.at = session.revised->at;
  record.sealed = true;
  record.content_hash = std::string(32, 'c') + std::string(32, '0');
  record.seal_head = std::string(32, 'a') + std::string(32, '1');
  record.sealed_by = "M. Adeyemi";
  record.sealed_at = "2026-10-05T07:30:00Z";
  record.seal_origin = record.chain_origin = "0f1e2d3c4b5a69780f1e2d3c4b5a6978";
  record.seal_number = 3;
  record.chain_head = std::string(32, 'b') + std::string(32, '2');
  record.chain_seals = 12;
  record.attachments = {{"compliance plate", "limit 1", std::string(64, 'd'), "R. Okoye", "2026-10-03T07:00:00Z"},
                        {"scale display", "reading r4", std::string(64, 'e'), "", "", false}};
  return one;
}

Case conflict_case() {
  Case one = whole_case();
  rig::RecordNote& record = one.record.emplace();
  record.name = one.session.id + "@1.aaaa1111";
  record.rivals = {one.session.id + "@1.bbbb2222"};
  record.content_hash = std::string(64, 'a');
  record.redacted = true;
  return one;
}

Case incomplete_case() {
  Case one{session(), findings(), {}};
  auto& quantities = one.findings.quantities;
  std::erase_if(quantities, [](const auto& quantity) {
    return quantity.name.starts_with("trailer") || quantity.name == "combination_mass" ||
           quantity.name == "coupling_share";
  });
  add_unknown(one.findings, "trailer_mass", "weigh every trailer axle in one state");
  add_unknown(one.findings, "combination_mass", "weigh every trailer axle in one state");
  assess_all(one, 1850, false);
  one.assessment.outcome = RigOutcome::incomplete;
  return one;
}

Case alone_case() {
  Case one{session(), {}, {}};
  one.session.rig.trailer.reset();
  one.session.rig.tow_vehicle.overhang.reset();
  one.session.states = {one.session.states.front()};
  one.session.states.front().support.reset();
  std::erase_if(one.session.states.front().readings,
                [](const rig::Reading& reading) { return reading.id > "r3"; });
  add_tow_alone(one.findings);
  one.findings.fit = {.observations = 3, .unknowns = 3, .p_value = {}, .consistent = {}};
  assess_row(one, limit(rig::LimitKind::tow_gross, 3150, "compliance plate"), "apart", F + R, 3.4);
  one.assessment.rows.back().travels = true;
  one.assessment.travels_in = "apart";
  one.assessment.outcome = RigOutcome::pass;
  return one;
}

Case hostile_case() {
  Case one = whole_case();
  auto& session = one.session;
  session.client.name = "=1+1";
  session.client.reference = "<b>bold</b> & \"quoted\"";
  session.weighed.place =
      "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d \xe2\x80\xae"
      "evil";  // Hebrew, then a character that turns the rest
  session.weighed.technician = std::string("nul\0bell\a", 9) + "\xff\xfe broken";
  session.rig.tow_vehicle.label = std::string(1u << 20, 'W');
  session.rig.tow_vehicle.registration = "@SUM(A1)";
  session.conditions.surface = "</style><script>alert(1)</script>";
  session.conditions.note = "_x0041_ stays, +cmd|' /C calc'!A0";
  session.states[2].name = "=HYPERLINK(\"http://example.invalid\")";
  session.scales[0].certificate = "\t=2+3";
  one.provider = {"=1+1", "</title><script>", "\" onload=\"x", "\x1b]0;evil\a"};
  one.record.emplace().sealed = true;
  one.record->why = "=why\x1b" + std::string(1u << 16, 'W');
  one.record->sealed_by = "&P \xff" + std::string(300, 'W');
  one.record->seal_head = "not a hash";
  one.record->rivals = {std::string(5000, 'r') + "@1.&P"};
  one.record->attachments = {{"<i>\xff", "=1+1", std::string(64, 'f'), "\a", "never"}};
  session.rig.limits[0].source = "&P &N &[Page] \xf0\x9f\x9a\x9a";
  return one;
}

Case pounds_case() {
  Case one = whole_case();
  one.session.units = {units::LoadUnit::pound, units::LengthUnit::inch};
  return one;
}

Case named_case(const std::string& name) {
  if (name == "whole") return whole_case();
  if (name == "over") return over_case();
  if (name == "sealed") return sealed_case();
  if (name == "conflict") return conflict_case();
  if (name == "incomplete") return incomplete_case();
  if (name == "alone") return alone_case();
  if (name == "hostile") return hostile_case();
  if (name == "pounds") return pounds_case();
  throw std::invalid_argument("no case of this name: " + name);
}

}  // namespace steelyard::test
