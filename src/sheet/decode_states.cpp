#include "rig/words.hpp"
#include "sheet/decode.hpp"
#include "sheet/formats.hpp"

namespace steelyard::sheet {
namespace {

std::vector<std::string> decode_scale_names(Fields& fields) {
  constexpr std::string_view wanted = "a scale's id in double quotes, or a list of them";
  json* const found = fields.find("scale");
  if (!found) return {};
  std::vector<std::string> names;
  if (found->is_string()) {
    names.push_back(std::move(found->get_ref<std::string&>()));
  } else if (!found->is_array()) {
    fields.wrong_type("scale", wanted, *found);
  } else {
    for (json& name : *found) {
      if (name.is_string())
        names.push_back(std::move(name.get_ref<std::string&>()));
      else
        fields.wrong_type("scale", wanted, name);
    }
  }
  return names;
}

rig::Reading decode_reading(Fields& fields) {
  rig::Reading reading;
  reading.id = fields.text("id");
  fields.require("at", "where the scale stood, such as \"tow.1.left\"");
  reading.at = fields
                   .word("at", rig::parse_position,
                         "a position: tow.1.left (a wheel end), tow.1 (an axle), tow, the same with trailer, "
                         "coupling or jockey")
                   .value_or(reading.at);
  fields.require("load", "what the scale showed, a number");
  const auto sheet_unit = fields.decoding().units.load;
  const auto figure = fields.number("load");
  reading.load = {figure.value_or(0),
                  fields.word("unit", rig::parse_load_unit, "kg or lb").value_or(sheet_unit)};
  reading.scales = decode_scale_names(fields);
  reading.raised = fields.length("raised");
  reading.taken_at = fields.text("taken_at");
  fields.object("struck", [&](Fields& in) {
    in.require("why", "why the reading was set aside");
    reading.struck = rig::Strike{in.text("why"), in.text("by"), in.text("at")};
  });
  return reading;
}

void decode_ride_heights(Fields& fields, rig::State& state) {
  const auto unit = fields.decoding().units.length;
  for (auto& [name, height] : fields.members()) {
    if (is_extra_key(name))
      fields.keep_extra(name, height);
    else if (!height.is_number())
      fields.wrong_type(name, "a number", height);
    else
      state.ride_heights.emplace_back(name, units::Length{height.get<double>() + 0.0, unit});
  }
}

}  // namespace

rig::State decode_state(Fields& fields) {
  rig::State state;
  fields.require("name", "a name of its own for this state, such as \"as driven\"");
  state.name = fields.text("name");
  fields.require("hitched", "true or false");
  state.hitched = fields.truth("hitched").value_or(false);
  state.weight_distribution = fields.truth("weight_distribution").value_or(false);
  state.travels = fields.truth("travels").value_or(false);
  state.support = fields.word("support", rig::parse_support, "coupling or jockey");
  state.coupling_height = fields.measured_length("coupling_height");
  state.slope = fields.measured_slope("slope");
  if (json* const heights = fields.find("ride_heights")) {
    const Place place = fields.place()["ride_heights"];
    Fields inner(fields.decoding(), *heights, place);
    decode_ride_heights(inner, state);
  }
  fields.require("readings", "the list of readings; [] where none was taken");
  fields.list_of("readings", state.readings, decode_reading);
  return state;
}

}  // namespace steelyard::sheet
