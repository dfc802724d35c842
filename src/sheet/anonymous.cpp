#include "sheet/anonymous.hpp"

#include <string>

#include "digest/digest.hpp"

namespace steelyard::sheet {
namespace {

std::string pseudonym(std::string_view salt, std::string_view kind, const std::string& name) {
  if (name.empty()) return {};
  std::string text(salt);
  ((text += kind) += ':') += name;
  return std::string(kind) + "-" + digest::sha256_hex(text).substr(0, 12);
}

}  // namespace

rig::Session anonymous(const rig::Session& session, std::string_view salt) {
  rig::Session out = session;
  out.id = pseudonym(salt, "session", session.id);
  // What it replaces is told by a hash, which could be looked up in the store.
  if (!out.replaces.empty()) out.replaces = "an earlier revision";
  if (out.revised) out.revised->by.clear();
  out.weighed.place.clear();
  out.weighed.technician.clear();
  out.client = {};
  out.conditions.note.clear();
  out.carried.note.clear();
  for (rig::Modification& item : out.modifications) item.certificate.clear();
  for (rig::Scale& scale : out.scales) {
    scale.uid = pseudonym(salt, "scale", scale.uid);
    scale.serial.clear();
    scale.certificate.clear();
  }
  rig::TowVehicle& vehicle = out.rig.tow_vehicle;
  vehicle.uid = pseudonym(salt, "vehicle", vehicle.uid);
  vehicle.label.clear();
  vehicle.registration.clear();
  vehicle.vin.clear();
  if (out.rig.trailer) {
    out.rig.trailer->uid = pseudonym(salt, "trailer", out.rig.trailer->uid);
    out.rig.trailer->label.clear();
    out.rig.trailer->registration.clear();
  }
  for (rig::Limit& limit : out.rig.limits) limit.read_by.clear();
  for (rig::State& state : out.states)
    for (rig::Reading& reading : state.readings)
      if (reading.struck) reading.struck->by.clear();
  out.extras.clear();
  return out;
}

}  // namespace steelyard::sheet
