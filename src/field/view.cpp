#include "field/view.hpp"

#include <algorithm>
#include <set>

#include "assess/scale_checks.hpp"
#include "field/next_place.hpp"
#include "reports/words/scales.hpp"
#include "reports/words/terms.hpp"
#include "rig/words.hpp"

namespace steelyard::field {
namespace {

using reports::JsonText;
using reports::Wording;

std::optional<double> millimetres(const std::optional<rig::MeasuredLength>& length) {
  return length ? std::optional(length->value.mm().value()) : std::nullopt;
}

void write_load(JsonText& out, std::string_view key, const std::optional<units::Load>& load) {
  out.key(key);
  if (!load) {
    out.null();
    return;
  }
  out.begin_object().field("load", load->figure).field("unit", units::symbol(load->unit)).end_object();
}

void write_units(JsonText& out, units::LoadUnit load, units::LengthUnit length) {
  out.key("units").begin_object().field("load", units::symbol(load));
  out.field("length", units::symbol(length)).end_object();
}

void write_session(JsonText& out, const Seen& seen) {
  const rig::Session& session = seen.session;
  out.key("session").begin_object().field("id", session.id).field("revision", session.revision);
  out.field("title", rig_title(session.rig)).field("client", session.client.name);
  out.field("client_reference", session.client.reference).field("place", session.weighed.place);
  out.field("technician", session.weighed.technician).field("purpose", session.weighed.purpose);
  out.field("weighed_at", session.weighed.at);
  write_units(out, session.units.load, session.units.length);
  out.key("sealed");
  if (seen.sealed) {
    out.begin_object().field("head", seen.sealed->seal_head).field("number", seen.sealed->seal_number);
    out.field("by", seen.sealed->sealed_by).field("at", seen.sealed->sealed_at).end_object();
  } else {
    out.null();
  }
  out.field("changeable", !seen.sealed).end_object();
}

void write_rig(JsonText& out, const rig::Rig& rig) {
  const rig::TowVehicle& tow = rig.tow_vehicle;
  const auto in_group = [&](rig::Group group) {
    return std::count_if(tow.axles.begin(), tow.axles.end(), [&](const rig::Axle& axle) { return axle.group == group; });
  };
  out.key("rig").begin_object().key("tow").begin_object();
  out.field("label", tow.label).field("registration", tow.registration).key("axles").begin_array();
  for (std::size_t i = 0; i < tow.axles.size(); ++i) {
    const rig::Axle& axle = tow.axles[i];
    std::string words = axle.group == rig::Group::front ? "front axle" : "rear axle";
    if (in_group(axle.group) > 1) words = "axle " + std::to_string(i + 1);
    out.begin_object().field("at", axle.at.mm().value()).field("group", rig::to_text(axle.group));
    out.field("words", words).end_object();
  }
  out.end_array().field("overhang", millimetres(tow.overhang)).end_object().key("trailer");
  if (rig.trailer) {
    const rig::Trailer& trailer = *rig.trailer;
    out.begin_object().field("label", trailer.label).field("registration", trailer.registration);
    out.field("axles", trailer.axles).field("coupling_to_axles", millimetres(trailer.coupling_to_axles));
    out.field("coupling_to_jockey", millimetres(trailer.coupling_to_jockey)).end_object();
  } else {
    out.null();
  }
  out.end_object();
}

void write_scales(JsonText& out, const rig::Session& session, const Wording& wording) {
  const auto checks = assess::scale_checks(session);
  out.key("scales").begin_array();
  for (std::size_t i = 0; i < session.scales.size(); ++i) {
    const rig::Scale& scale = session.scales[i];
    out.begin_object().field("id", scale.id).field("serial", scale.serial);
    write_load(out, "capacity", scale.capacity);
    write_load(out, "division", scale.division);
    write_load(out, "zero_before", scale.zero_before);
    write_load(out, "zero_after", scale.zero_after);
    out.key("check_weights").begin_array();
    for (const rig::CheckWeight& one : scale.check_weights) {
      out.begin_object();
      write_load(out, "mass", one.mass);
      write_load(out, "load", one.load);
      out.field("taken_at", one.taken_at).end_object();
    }
    out.end_array();
    out.key("warnings").begin_array();
    for (const assess::ScaleCheck& check : checks)
      if (check.scale == i)
        for (const assess::ScaleFlag& flag : check.flags)
          if (flag.kind != assess::ScaleFlagKind::not_calibrated)
            out.value(reports::scale_flag_words(session, check, flag, wording.shown));
    out.end_array().end_object();
  }
  out.end_array();
}

/// Ids of the readings that may be the one that does not fit.
std::set<std::string, std::less<>> suspects_of(const issued::Solved* solved) {
  std::set<std::string, std::less<>> ids;
  if (!solved) return ids;
  for (const auto& set : solved->findings.suspects)
    for (const auto& member : set.members)
      if (const auto& id = solved->findings.observations.at(member.observation).id) ids.insert(*id);
  return ids;
}

/// Everything that one state's places need.
class StateWriter {
 public:
  StateWriter(JsonText& out, const Seen& seen, const Wording& wording)
      : out_(out), seen_(seen), wording_(wording), suspects_(suspects_of(seen.solved)) {}

  void write(const rig::State& state) {
    out_.begin_object().field("name", state.name).field("words", reports::state_words(state, wording_));
    out_.field("hitched", state.hitched).field("weight_distribution", state.weight_distribution);
    out_.field("support", state.support ? std::optional(rig::to_text(*state.support)) : std::nullopt);
    out_.field("travels", state.travels).key("needs").begin_array();
    if (seen_.session.rig.trailer && !state.coupling_height) out_.value("coupling_height");
    if (!state.slope) out_.value("slope");
    out_.end_array().key("ride_heights").begin_array();
    for (const auto& [where, height] : state.ride_heights)
      out_.begin_object().field("at", where).field("text", reports::as_entered(height)).end_object();
    out_.end_array().key("places").begin_array();
    for (const Place& place : places_of(seen_.session.rig, state)) write_place(state, place);
    out_.end_array().key("axles").begin_array();
    write_axles(state, rig::Vehicle::tow, static_cast<int>(seen_.session.rig.tow_vehicle.axles.size()));
    if (const auto& trailer = seen_.session.rig.trailer) write_axles(state, rig::Vehicle::trailer, trailer->axles);
    out_.end_array().key("coupling");
    if (const auto text = figure(state, rig::Position::support_at_coupling()); text && seen_.session.rig.trailer) {
      out_.begin_object().field("words", wording_("Coupling load")).field("text", text).end_object();
    } else {
      out_.null();
    }
    out_.end_object();
  }

 private:
  [[nodiscard]] const reconcile::Quantity* quantity_at(const rig::State& state, const rig::Position& at) const {
    const reconcile::Findings& findings = seen_.solved->findings;
    const std::string word = rig::to_text(at);
    switch (at.extent) {
      case rig::Extent::wheel:
        return findings.find("wheel_load", state.name, word);
      case rig::Extent::axle:
        return findings.find("axle_load", state.name, word);
      case rig::Extent::vehicle:
        return at.vehicle == rig::Vehicle::tow ? findings.find_for_limit("tow_load", state.name)
                                               : findings.find("group_load", state.name, word);
      case rig::Extent::coupling:
        return findings.find("coupling_load_at_height", state.name);
      case rig::Extent::jockey:
        break;
    }
    return nullptr;
  }

  [[nodiscard]] std::optional<std::string> figure(const rig::State& state, const rig::Position& at) const {
    if (!seen_.solved) return std::nullopt;
    const reconcile::Quantity* quantity = quantity_at(state, at);
    if (!quantity || !quantity->determinable) return std::nullopt;
    return reports::in_figures(quantity->value, quantity->u, quantity->measure, wording_.shown);
  }

  void write_place(const rig::State& state, const Place& place) {
    const rig::Position& at = place.at;
    bool suspect = false, read = false;
    for (const rig::Reading& reading : state.readings)
      if (reading.at == at) {
        read = true;
        suspect = suspect || suspects_.contains(reading.id);
      }
    const bool support = at.extent == rig::Extent::coupling || at.extent == rig::Extent::jockey;
    const std::string word = rig::to_text(at);
    out_.begin_object().field("at", word).field("words", reports::place_words(word, wording_));
    out_.field("vehicle", support ? std::string_view("trailer") : rig::to_text(at.vehicle));
    out_.field("axle", at.axle > 0 ? std::optional(at.axle) : std::nullopt);
    out_.field("side", at.extent == rig::Extent::wheel ? std::optional(rig::to_text(at.side)) : std::nullopt);
    out_.field("extent", extent_word(at.extent)).field("usual", place.usual || read);
    out_.field("figure", figure(state, at)).field("suspect", suspect).key("readings").begin_array();
    for (const rig::Reading& reading : state.readings)
      if (reading.at == at) write_reading(reading);
    out_.end_array().end_object();
  }

  static std::string_view extent_word(rig::Extent extent) {
    switch (extent) {
      case rig::Extent::wheel:
        return "wheel";
      case rig::Extent::axle:
        return "axle";
      case rig::Extent::vehicle:
        return "vehicle";
      case rig::Extent::coupling:
        return "coupling";
      case rig::Extent::jockey:
        break;
    }
    return "jockey";
  }

  void write_reading(const rig::Reading& reading) {
    out_.begin_object().field("id", reading.id).field("text", reports::as_entered(reading.load));
    out_.field("load", reading.load.figure).field("unit", units::symbol(reading.load.unit));
    out_.key("scale").begin_array();
    for (const std::string& scale : reading.scales) out_.value(scale);
    out_.end_array().field("raised",
                           reading.raised ? std::optional(reports::as_entered(*reading.raised)) : std::nullopt);
    out_.field("taken_at", reading.taken_at.empty() ? std::nullopt : std::optional(reading.taken_at));
    out_.field("suspect", suspects_.contains(reading.id)).key("struck");
    if (reading.struck) {
      out_.begin_object().field("why", reading.struck->why).field("by", reading.struck->by);
      out_.field("at", reading.struck->at).end_object();
    } else {
      out_.null();
    }
    out_.end_object();
  }

  void write_axles(const rig::State& state, rig::Vehicle vehicle, int axles) {
    for (int axle = 1; axle <= axles; ++axle) {
      const rig::Position at = rig::Position::whole_axle(vehicle, axle);
      out_.begin_object().field("vehicle", rig::to_text(vehicle)).field("axle", axle);
      out_.field("words", reports::place_words(rig::to_text(at), wording_)).field("text", figure(state, at)).end_object();
    }
  }

  JsonText& out_;
  const Seen& seen_;
  const Wording& wording_;
  std::set<std::string, std::less<>> suspects_;
};

void write_next(JsonText& out, const Seen& seen, const Wording& wording) {
  out.key("next");
  const auto next = seen.sealed ? std::nullopt
                                : next_place(seen.session, seen.solved ? &seen.solved->findings : nullptr);
  if (!next) {
    out.null();
    return;
  }
  const std::string at = rig::to_text(next->at);
  out.begin_object().field("state", next->state).field("at", at);
  out.field("words", reports::place_words(at, wording) + ", in “" + next->state + "”").field("why", next->why).end_object();
}

}  // namespace

std::string rig_title(const std::string& tow, const std::optional<std::string>& trailer) {
  const std::string first = tow.empty() ? "unnamed vehicle" : tow;
  return trailer ? first + " with " + (trailer->empty() ? "unnamed trailer" : *trailer) : first;
}

std::string rig_title(const rig::Rig& rig) {
  const auto name = [](const std::string& label, const std::string& registration) {
    return label.empty() ? registration : label;
  };
  return rig_title(name(rig.tow_vehicle.label, rig.tow_vehicle.registration),
                   rig.trailer ? std::optional(name(rig.trailer->label, rig.trailer->registration)) : std::nullopt);
}

std::string view_json(const Seen& seen, const reports::Reader& reader) {
  const Wording wording(reader, seen.session, seen.solved ? &seen.solved->findings : nullptr);
  JsonText out;
  out.begin_object().field("version", seen.version).field("words", reports::region_code(reader.words));
  write_units(out, wording.shown.load, wording.shown.length);
  write_session(out, seen);
  write_rig(out, seen.session.rig);
  write_scales(out, seen.session, wording);
  out.key("states").begin_array();
  StateWriter states(out, seen, wording);
  for (const rig::State& state : seen.session.states) states.write(state);
  out.end_array();
  write_next(out, seen, wording);
  out.key("found");
  write_found(out, seen, wording);
  return out.end_object().text();
}

}  // namespace steelyard::field
