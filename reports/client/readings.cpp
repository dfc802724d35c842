// The sheet Readings: everything that was measured or told, as it was entered, nothing computed.
#include <algorithm>

#include "reports/client/content.hpp"
#include "reports/words/scales.hpp"
#include "units/number.hpp"

namespace steelyard::reports::client {
namespace {

std::string measured(const std::optional<rig::MeasuredLength>& length) {
  if (!length) return "not measured";
  return as_entered(length->value) + (length->u ? " (u " + as_entered(*length->u) + ")" : "");
}

std::string slope_words(const std::optional<rig::MeasuredSlope>& slope) {
  if (!slope) return "not measured";
  return units::shortest(slope->value) + " mm/m" +
         (slope->u ? " (u " + units::shortest(*slope->u) + ")" : "");
}

/// "front left" for front_left: the name of a ride height, as people say it.
std::string spoken(const std::string& name) {
  std::string words = clipped(name, 40);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string ride_heights(const rig::State& state) {
  std::string words;
  for (const auto& [name, height] : state.ride_heights)
    words += (words.empty() ? "" : ", ") + spoken(name) + " " + as_entered(height);
  return words;
}

Cell entered(const std::optional<units::Load>& load) {
  return load ? text(as_entered(*load)) : Cell{};
}

Table states(const Source& source) {
  Table table{.title = "States, as arranged for weighing",
              .columns = {{"State"},
                          {"Arrangement", 4},
                          {"Coupling height", 2},
                          {"Slope, nose-up"},
                          {"Ride heights", 2}},
              .when_empty = "No state was recorded."};
  const rig::State* travels = source.travels();
  for (const rig::State& state : source.session.states)
    table.rows.push_back(
        {{text(clipped(state.name)),
          text(state_words(state, source.wording) + (&state == travels ? "; the rig travels so" : "")),
          text(measured(state.coupling_height)), text(slope_words(state.slope)), text(ride_heights(state))}});
  return table;
}

/// In date, out of date or unknown, on the day of weighing at the place.
Cell due_cell(const Source& source, const rig::Scale& scale, const assess::ScaleCheck& check) {
  const std::string day = day_of(source.session.weighed.at);
  Cell cell;
  std::string words;
  if (scale.due.empty()) {
    words = "no due date given";
  } else if (day.empty()) {
    words = "due " + clipped(scale.due, 20) + "; the day of weighing is not known";
  } else if (day_of(scale.due).empty() || scale.due.substr(0, 10) < day) {
    // A due date that cannot be read is not taken for a good one.
    words = "✕ due " + clipped(scale.due, 20) + ": OUT OF DATE on the day of weighing";
    cell.tone = Tone::over;
  } else {
    words = "due " + clipped(scale.due, 20) + ", in date";
  }
  if (scale.gain) words += "; gain error " + units::shortest(100 * *scale.gain) + " %, corrected";
  if (scale.gain_u) words += "; gain u " + units::shortest(100 * *scale.gain_u) + " %";
  if (scale.repeatability) words += "; repeatability " + as_entered(*scale.repeatability);
  // What a flag says in its own words below is not said twice.
  const bool off = check.zero && check.zero->beyond, moved = check.zero_drift && check.zero_drift->beyond;
  if (scale.zero_before && !off && !moved) words += "; unloaded, before: " + as_entered(*scale.zero_before);
  if (scale.zero_after && !moved) words += "; unloaded, after: " + as_entered(*scale.zero_after);
  for (const assess::ScaleFlag& flag : check.flags) {
    if (flag.kind != assess::ScaleFlagKind::zero_off && flag.kind != assess::ScaleFlagKind::zero_drift) continue;
    words += "; ✕ " + scale_flag_words(source.session, check, flag, source.shown);
    cell.tone = Tone::over;
  }
  cell.value = std::move(words);
  return cell;
}

Table scales(const Source& source) {
  Table table{.title = "Scales",
              .columns = {{"Scale"},
                          {"Serial, identity"},
                          {"Capacity", 2},
                          {"Division"},
                          {"Class"},
                          {"Certificate"},
                          {"Calibrated"},
                          {"Due, and what was checked", 2}},
              .when_empty = "No scale was named: each reading counts as made on an unknown one."};
  for (const assess::ScaleCheck& check : assess::scale_checks(source.session)) {
    const rig::Scale& scale = source.session.scales[check.scale];
    std::string identity = clipped(scale.serial, 60);
    if (!scale.uid.empty() && scale.uid != scale.serial)
      identity += (identity.empty() ? "" : ", ") + clipped(scale.uid, 60);
    static constexpr std::string_view classes[] = {"I", "II", "III", "IIII"};
    table.rows.push_back(
        {{text(clipped(scale.id)), text(identity), entered(scale.capacity), entered(scale.division),
          text(scale.accuracy_class ? std::string(classes[static_cast<std::size_t>(*scale.accuracy_class)])
                                    : std::string()),
          text(clipped(scale.certificate)),
          text(scale.calibrated.empty() ? "not given" : clipped(scale.calibrated, 30)),
          due_cell(source, scale, check)}});
  }
  return table;
}

Cell three_digit_cell(double kg, const ShownUnits& shown, bool show_sign) {
  const double value = convert(kg, reconcile::Measure::kilogram, shown);
  return {.value = Number{.value = value,
                          .decimals = std::min(three_digits(value), 3),
                          .unit = unit_word(reconcile::Measure::kilogram, shown),
                          .show_sign = show_sign}};
}

TableRow check_weight_row(const Source& source, const rig::Scale& scale, std::size_t i,
                          const assess::WeightCheck& check) {
  const rig::CheckWeight& weight = scale.check_weights[i];
  TableRow row;
  row.cells = {text(clipped(scale_name(scale))),
               text(as_entered(weight.mass)),
               text(as_entered(weight.load)),
               three_digit_cell(check.difference.value, source.shown, true),
               three_digit_cell(check.difference.allowed, source.shown, false),
               text(check_rule_words(scale, check.rule) + (scale.gain ? ", after its known gain" : "")),
               text(check.difference.beyond ? "✕ beyond" : "within"),
               text(clipped(weight.taken_at, 40))};
  if (check.difference.beyond) row.cells[6].tone = Tone::over;
  return row;
}

/// Only where there are any: known masses put on the scales, and what these showed.
void add_check_weights(const Source& source, std::vector<Block>& blocks) {
  Table table{.title = "Check weights",
              .columns = {{"Scale"},
                          {"Known mass"},
                          {"Showed", 2},
                          {"Difference", 1, true},
                          {"Allowed", 1, true},
                          {"By which rule"},
                          {"Remark"},
                          {"Taken at", 2}}};
  for (const assess::ScaleCheck& check : assess::scale_checks(source.session)) {
    const rig::Scale& scale = source.session.scales[check.scale];
    for (std::size_t i = 0; i < check.check_weights.size(); ++i)
      table.rows.push_back(check_weight_row(source, scale, i, check.check_weights[i]));
  }
  if (!table.rows.empty()) blocks.emplace_back(std::move(table));
}

Facts circumstances(const Source& source) {
  const auto& session = source.session;
  const auto& carried = session.carried;
  Facts facts;
  const auto add = [&](std::string label, std::string words) {
    facts.facts.push_back({std::move(label), std::move(words)});
  };
  add("Place and time", given(session.weighed.place) + "; " + time_words(session.weighed.at));
  add("Purpose †", given(session.weighed.purpose));
  add("Surface", given(session.conditions.surface));
  add("Wind", given(session.conditions.wind));
  if (!session.conditions.note.empty()) add("Remark on the site", clipped(session.conditions.note, 600));
  std::string aboard =
      carried.fuel_percent ? "fuel " + units::shortest(*carried.fuel_percent) + " %" : "fuel not given";
  aboard += carried.occupants ? ", occupants " + std::to_string(*carried.occupants) : ", occupants not given";
  if (!carried.note.empty()) aboard += "; " + clipped(carried.note, 600);
  add("Carried †", aboard);
  const auto& tow = session.rig.tow_vehicle;
  add("Overhang, by tape", measured(tow.overhang));
  if (session.rig.trailer) add("Coupling to trailer axles", measured(session.rig.trailer->coupling_to_axles));
  return facts;
}

Table modifications(const Source& source) {
  Table table{.title = "Modifications †",
              .columns = {{"What", 2}, {"Declared mass", 3}, {"Behind first axle", 2}, {"Certificate", 3}},
              .when_empty = "None were declared."};
  for (const auto& modification : source.session.modifications)
    table.rows.push_back(
        {{text(clipped(modification.what, 300)), entered(modification.mass),
          modification.at ? text(as_entered(*modification.at)) : Cell{},
          text(modification.certificate.empty() ? "none given" : clipped(modification.certificate, 300))}});
  return table;
}

std::string strike_words(const rig::Strike& strike) {
  return clipped(strike.why, 1000) + " (" + given(strike.by) + ", " + time_words(strike.at) + ")";
}

TableRow reading_row(const Source& source, const rig::State& state, const rig::Reading& reading) {
  std::string scales;
  for (const auto& scale : reading.scales) scales += (scales.empty() ? "" : " + ") + clipped(scale, 40);
  TableRow row;
  row.cells = {text(clipped(state.name)),
               text(source.wording(rig::in_words(reading.at))),
               {.value = Number{.value = reading.load.figure, .decimals = -1}},
               text(std::string(units::symbol(reading.load.unit))),
               text(scales.empty() ? "unknown" : scales),
               reading.raised ? text(as_entered(*reading.raised)) : Cell{},
               text(reading.taken_at.empty() ? std::string() : clipped(reading.taken_at, 40)),
               text(reading.struck ? "set aside" : "used"),
               text(reading.struck ? strike_words(*reading.struck) : std::string()),
               text(clipped(reading.id, 60))};
  for (std::size_t i = 0; i < 6; ++i) row.cells[i].struck = reading.struck.has_value();
  return row;
}

Table all_readings(const Source& source) {
  Table table{.title = "Readings, as entered",
              .columns = {{"State"},
                          {"Position"},
                          {"Figure", 1, true},
                          {"Unit"},
                          {"Scale"},
                          {"Raised"},
                          {"Taken at"},
                          {"Use"},
                          {"Why set aside, by whom, when"},
                          {"Id"}},
              .when_empty = "No reading was recorded.",
              .repeat_head = true};
  for (const rig::State& state : source.session.states)
    for (const rig::Reading& reading : state.readings)
      table.rows.push_back(reading_row(source, state, reading));
  return table;
}

}  // namespace

SheetContent readings(const Source& source) {
  SheetContent sheet{.name = "Readings",
                     .title = "Readings and circumstances",
                     .landscape = true,
                     .grid = {15, 21, 9, 6, 11, 12, 24, 13, 30, 7}};
  sheet.blocks.emplace_back(circumstances(source));
  sheet.blocks.emplace_back(states(source));
  sheet.blocks.emplace_back(scales(source));
  add_check_weights(source, sheet.blocks);
  sheet.blocks.emplace_back(modifications(source));
  sheet.blocks.emplace_back(
      Paragraph{"† As the client stated it; not verified by this weighing.", Paragraph::Kind::note});
  sheet.blocks.emplace_back(all_readings(source));
  return sheet;
}

}  // namespace steelyard::reports::client
