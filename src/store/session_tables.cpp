#include "store/canonical.hpp"

namespace steelyard::store {
namespace {

// Columns in the order of the canonical content, which is that of schema/: never changed, only added to by a later form.
constexpr Column session_columns[] = {
    {"id"}, {"revision"}, {"replaces"}, {"revision_reason"}, {"revised_by"}, {"revised_at"}, {"import_hash"},
    {"imported_at", Role::local}, {"load_unit"}, {"length_unit"}, {"weighed_at"}, {"weighed_ms"}, {"place",
    Role::identity}, {"technician"}, {"purpose"}, {"client_uid"}, {"client_name", Role::identity},
    {"client_reference", Role::identity}, {"surface"}, {"wind"}, {"conditions_note"}, {"fuel_percent"},
    {"occupants"}, {"carried_note"}, {"placement_u"}, {"height_sensitivity_u"}, {"unmeasured_height_u_mm"},
    {"unmeasured_height_u_figure"}, {"unmeasured_height_u_unit"}, {"raised_kg_per_mm"}, {"anonymous_gain_u"}};
constexpr Column modification_columns[] = {
    {"seq"}, {"what"}, {"mass_kg"}, {"mass_figure"}, {"mass_unit"}, {"at_mm"}, {"at_figure"}, {"at_unit"},
    {"certificate"}};
constexpr Column scale_columns[] = {
    {"seq"}, {"id"}, {"uid"}, {"serial"}, {"capacity_kg"}, {"capacity_figure"}, {"capacity_unit"}, {"division_kg"},
    {"division_figure"}, {"division_unit"}, {"repeatability_kg"}, {"repeatability_figure"}, {"repeatability_unit"},
    {"zero_before_kg"}, {"zero_before_figure"}, {"zero_before_unit"}, {"zero_after_kg"}, {"zero_after_figure"},
    {"zero_after_unit"}, {"gain"}, {"gain_u"}, {"accuracy_class"}, {"certificate"}, {"calibrated"}, {"due"}};
constexpr Column check_weight_columns[] = {
    {"scale"}, {"seq"}, {"mass_kg"}, {"mass_figure"}, {"mass_unit"}, {"load_kg"}, {"load_figure"}, {"load_unit"},
    {"taken_at"}};
constexpr Column tow_vehicle_columns[] = {
    {"uid"}, {"label"}, {"registration", Role::identity}, {"vin", Role::identity}, {"wheelbase_u_mm"},
    {"wheelbase_u_figure"}, {"wheelbase_u_unit"}, {"overhang_mm"}, {"overhang_figure"}, {"overhang_unit"},
    {"overhang_u_mm"}, {"overhang_u_figure"}, {"overhang_u_unit"}, {"cg_height_mm"}, {"cg_height_figure"},
    {"cg_height_unit"}, {"cg_height_u_mm"}, {"cg_height_u_figure"}, {"cg_height_u_unit"}};
constexpr Column axle_columns[] = {
    {"seq"}, {"at_mm"}, {"at_figure"}, {"at_unit"}, {"axle_group"}};
constexpr Column trailer_columns[] = {
    {"uid"}, {"label"}, {"registration", Role::identity}, {"axles"}, {"suspension"}, {"self_supporting"},
    {"coupling_to_axles_mm"}, {"coupling_to_axles_figure"}, {"coupling_to_axles_unit"}, {"coupling_to_axles_u_mm"},
    {"coupling_to_axles_u_figure"}, {"coupling_to_axles_u_unit"}, {"coupling_to_jockey_mm"},
    {"coupling_to_jockey_figure"}, {"coupling_to_jockey_unit"}, {"coupling_to_jockey_u_mm"},
    {"coupling_to_jockey_u_figure"}, {"coupling_to_jockey_u_unit"}};
constexpr Column rig_limit_columns[] = {
    {"seq"}, {"name"}, {"part"}, {"load_kg"}, {"load_figure"}, {"load_unit"}, {"number"}, {"load_index"}, {"tyres"},
    {"against_kg"}, {"against_figure"}, {"against_unit"}, {"basis"}, {"with_weight_distribution"}, {"advice"},
    {"source"}, {"edition"}, {"jurisdiction"}, {"read_by"}};
constexpr Column state_columns[] = {
    {"seq"}, {"name"}, {"hitched"}, {"weight_distribution"}, {"travels"}, {"support"}, {"coupling_height_mm"},
    {"coupling_height_figure"}, {"coupling_height_unit"}, {"coupling_height_u_mm"}, {"coupling_height_u_figure"},
    {"coupling_height_u_unit"}, {"slope"}, {"slope_u"}};
constexpr Column ride_height_columns[] = {
    {"state"}, {"name"}, {"height_mm"}, {"height_figure"}, {"height_unit"}};
constexpr Column reading_columns[] = {
    {"seq"}, {"state"}, {"id"}, {"position"}, {"load_kg"}, {"load_figure"}, {"load_unit"}, {"raised_mm"},
    {"raised_figure"}, {"raised_unit"}, {"taken_at"}, {"recorded_at"}};
constexpr Column reading_scale_columns[] = {
    {"reading"}, {"scale"}, {"place"}};
constexpr Column strike_columns[] = {
    {"reading"}, {"why"}, {"struck_by"}, {"struck_at"}, {"recorded_at"}};
constexpr Column extra_columns[] = {
    {"seq"}, {"place"}, {"key"}, {"json"}};
constexpr Column attachment_columns[] = {
    {"seq"}, {"rig_limit"}, {"reading"}, {"what"}, {"media_type"}, {"size"}, {"sha256"}, {"attached_by"},
    {"attached_at"}};
constexpr SessionTable tables[] = {
    {"session", "", session_columns},
    {"modification", "seq", modification_columns},
    {"scale", "seq", scale_columns},
    {"check_weight", "scale, seq", check_weight_columns},
    {"tow_vehicle", "", tow_vehicle_columns},
    {"axle", "seq", axle_columns},
    {"trailer", "", trailer_columns},
    {"rig_limit", "seq", rig_limit_columns},
    {"state", "seq", state_columns},
    {"ride_height", "state, name", ride_height_columns},
    {"reading", "seq", reading_columns},
    {"reading_scale", "reading, scale", reading_scale_columns},
    {"strike", "reading", strike_columns},
    {"extra", "seq", extra_columns},
    {"attachment", "seq", attachment_columns},
};

}  // namespace

std::span<const SessionTable> session_tables() {
  return tables;
}

}  // namespace steelyard::store
