// Sessions in the Tallow Creek Water Board's fleet that between them give every field of the contract.
#include "support.hpp"

namespace steelyard::test {
namespace {

using rig::Position;
using units::Length;
using units::LengthUnit;
using units::Load;
using units::LoadUnit;

Load lb(double figure) {
  return {figure, LoadUnit::pound};
}
Load kg(double figure) {
  return {figure, LoadUnit::kilogram};
}
Length in(double figure) {
  return {figure, LengthUnit::inch};
}
Length mm(double figure) {
  return {figure, LengthUnit::millimetre};
}

rig::Limit limit(std::string_view name) {
  return rig::parse_limit_name(name).value();
}

std::vector<rig::Limit> full_limits() {
  rig::Limit gross = limit("tow_gross");
  gross.load = kg(3150);
  gross.source = "compliance plate";
  gross.edition = "2021";
  gross.jurisdiction = "Tallow Creek";
  gross.read_by = "R. Okoye";
  rig::Limit coupling = limit("coupling");
  coupling.part = "towbar plate";
  coupling.load = lb(551.2);
  coupling.with_weight_distribution = false;
  rig::Limit share = limit("coupling_share_minimum");
  share.number = 0.05;
  share.advice = true;
  rig::Limit wheel = limit("wheel.trailer.2");
  wheel.load_index = 101;
  wheel.tyres = 2;
  rig::Limit ratio = limit("mass_ratio");
  ratio.number = 1;
  ratio.against = lb(5000.5);
  ratio.with_weight_distribution = true;
  rig::Limit towed = limit("towed_mass");
  towed.load = kg(2500);
  towed.basis = rig::Basis::axles;
  rig::Limit force = limit("d_value");
  force.number = 9.7;
  return {gross, coupling, share, wheel, ratio, towed, force};
}

rig::TowVehicle full_tow_vehicle() {
  rig::TowVehicle vehicle;
  vehicle.uid = "tcw-012";
  vehicle.label = "survey utility 12";
  vehicle.registration = "TCW 012";
  vehicle.vin = "TCWB0000000000012";
  vehicle.axles = {{in(0), rig::Group::front}, {mm(3085), rig::Group::rear}, {in(160.25), rig::Group::rear}};
  vehicle.wheelbase_u = mm(5);
  vehicle.overhang = rig::MeasuredLength{in(46.85), in(0.4)};
  vehicle.cg_height = rig::MeasuredLength{mm(700), std::nullopt};
  return vehicle;
}

rig::Trailer full_trailer() {
  rig::Trailer trailer;
  trailer.uid = "tcw-t03";
  trailer.label = "pump trailer 3";
  trailer.registration = "TCW T03";
  trailer.axles = 2;
  trailer.suspension = rig::Suspension::load_sharing;
  trailer.self_supporting = true;
  trailer.coupling_to_axles = rig::MeasuredLength{mm(3420), mm(10)};
  trailer.coupling_to_jockey = rig::MeasuredLength{mm(450), std::nullopt};
  return trailer;
}

std::vector<rig::Scale> full_scales() {
  rig::Scale full;
  full.id = "P1";
  full.uid = "scale-0417";
  full.serial = "0417";
  full.capacity = kg(1500);
  full.division = lb(0.5);
  full.repeatability = kg(1);
  full.zero_before = kg(-0.5);
  full.zero_after = lb(1);
  full.gain = -0.0004;
  full.gain_u = 0.0006;
  full.accuracy_class = rig::AccuracyClass::IIII;
  full.certificate = "K-2291";
  full.calibrated = "2026-02-11";
  full.due = "2027-02-11";
  full.check_weights = {{kg(500), lb(1102.5), "2026-10-03T08:30:00+02:00"}, {kg(20), kg(-0.5), ""}};
  rig::Scale bare;
  bare.id = "P2";
  rig::Scale third;
  third.id = "P3";
  third.accuracy_class = rig::AccuracyClass::III;
  return {full, bare, third};
}

rig::State apart() {
  rig::State state;
  state.name = "apart";
  state.support = rig::Support::jockey;
  state.coupling_height = rig::MeasuredLength{mm(442), mm(5)};
  state.slope = rig::MeasuredSlope{-1.5, 2};
  rig::Reading left = reading("r1", Position::wheel(rig::Vehicle::tow, 1, rig::Side::left), 641);
  left.scales = {"P1"};
  left.raised = mm(45);
  left.taken_at = "2026-10-03T08:51:10+02:00";
  rig::Reading both = reading("trailer axle", Position::whole_axle(rig::Vehicle::trailer, 1), 0);
  both.load = lb(1790.5);
  both.scales = {"P3", "P1"};
  state.readings = {left, both, reading("r3", Position::support_at_jockey(), 176.5)};
  return state;
}

rig::State driven() {
  rig::State state;
  state.name = "as driven";
  state.hitched = true;
  state.weight_distribution = true;
  state.travels = true;
  state.coupling_height = rig::MeasuredLength{in(17.4), std::nullopt};
  state.slope = rig::MeasuredSlope{0, std::nullopt};
  state.ride_heights = {{"front_left", mm(512)}, {"rear_left", in(20.5)}};
  rig::Reading struck = reading("r4", Position::whole(rig::Vehicle::tow), 1790);
  struck.struck = rig::Strike{"door open, man on the step", "R. Okoye", "2026-10-03T09:02:00+02:00"};
  state.readings = {struck};
  return state;
}

rig::State supported() {
  rig::State state;
  state.name = "nose on the scale";
  state.support = rig::Support::coupling;
  state.readings = {reading("r5", Position::support_at_coupling(), 0)};
  return state;
}

}  // namespace

rig::Reading reading(const std::string& id, const Position& at, double kilograms) {
  rig::Reading made;
  made.id = id;
  made.at = at;
  made.load = kg(kilograms);
  return made;
}

rig::Session full_session(const std::string& id) {
  rig::Session session;
  session.id = id;
  session.revision = 3;
  session.replaces = "the sheet of 2 October";
  session.revised = rig::Revised{"a limit was misread", "M. Adeyemi", "2026-10-04T08:00:00Z"};
  session.units = {LoadUnit::pound, LengthUnit::inch};
  session.weighed = {"2026-10-03T08:40:00+02:00", "Depot 4, north apron", "R. Okoye", "routine"};
  session.client = {"tcwb", "Tallow Creek Water Board", "WO-1182"};
  session.conditions = {"sealed, level", "calm", "dew"};
  session.carried = {75.5, 2, "survey kit aboard"};
  session.modifications = {{"long-range tank", lb(38), in(102.5), "M-7"}, {"side steps", {}, {}, ""}};
  session.placement_u = 0.002;
  session.assumptions = {1.0, in(0.7), 12, 0.003};
  session.scales = full_scales();
  session.rig.tow_vehicle = full_tow_vehicle();
  session.rig.trailer = full_trailer();
  session.rig.limits = full_limits();
  session.states = {apart(), driven(), supported()};
  session.extras = {{"", "x-sheet", R"({"a":[1,2]})"}, {"states[0].readings[2]", "x-photo", R"("p 3.jpg")"}};
  return session;
}

rig::Session small_session(const std::string& id) {
  rig::Session session;
  session.id = id;
  session.rig.tow_vehicle.axles = {{mm(0), rig::Group::front}, {mm(2900), rig::Group::rear}};
  rig::State state;
  state.name = "alone";
  state.readings = {reading("r1", Position::whole_axle(rig::Vehicle::tow, 1), 980),
                    reading("r2", Position::whole_axle(rig::Vehicle::tow, 2), 1120)};
  session.states = {state};
  return session;
}

}  // namespace steelyard::test
