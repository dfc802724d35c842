// What was not the same at both weighings, said plainly, with what it may be worth.
#include <algorithm>
#include <cmath>

#include "compare/parts.hpp"
#include "units/number.hpp"

namespace steelyard::compare {
namespace {

using Text = std::optional<std::string>;

/// A coupling height given without its u (reconciliation model, section 4).
constexpr double bare_height_u = 5;  // mm

Text given(const std::string& text) {
  return text.empty() ? std::nullopt : Text(text);
}

std::string figure(double value, std::string_view unit) {
  return units::shortest(value) + ' ' + std::string(unit);
}

class Listing {
 public:
  Listing(const Side& before, const Side& after, Comparison& out) : before_(before), after_(after), out_(out) {}

  void all() {
    vehicles();
    readings();
    carried();
    states();
    scales();
    site();
  }

 private:
  Unlike& add(std::string kind, std::string what, Text before, Text after, std::string worth = {}) {
    return out_.unlike.emplace_back(
        Unlike{std::move(kind), std::move(what), std::move(before), std::move(after), std::move(worth), {}});
  }

  /// Listed where it differs.
  void text(std::string kind, std::string what, const std::string& before, const std::string& after,
            std::string worth) {
    if (before != after) add(std::move(kind), std::move(what), given(before), given(after), std::move(worth));
  }

  static Text named(const std::string& label, const std::string& registration, const std::string& uid) {
    std::string out = label;
    for (const std::string& mark : {registration, uid})
      if (!mark.empty()) out += (out.empty() ? "" : ", ") + mark;
    return given(out);
  }
  static Text trailer_of(const rig::Session& session) {
    const auto& trailer = session.rig.trailer;
    if (!trailer) return std::nullopt;
    const Text out = named(trailer->label, trailer->registration, trailer->uid);
    return out ? out : Text("a trailer");
  }

  void vehicles() {
    const rig::TowVehicle &one = before_.session.rig.tow_vehicle, &other = after_.session.rig.tow_vehicle;
    if (out_.tow_vehicle == Same::unknown)
      add("tow_vehicle", "whether it is the same tow vehicle", named(one.label, one.registration, one.uid),
          named(other.label, other.registration, other.uid),
          "give both sheets its uid or registration; until then no error of its lengths counts as common");
    if (out_.trailer == Same::unknown)
      add("trailer", "whether it is the same trailer", trailer_of(before_.session), trailer_of(after_.session),
          "give both sheets its uid or registration; until then no error of its lengths counts as common");
    if (out_.trailer != Same::no) return;
    const bool both = before_.session.rig.trailer && after_.session.rig.trailer;
    add("trailer", "trailer", trailer_of(before_.session), trailer_of(after_.session),
        both ? "what concerns the trailer is that of two trailers: its difference is no change of either"
             : "only one weighing had a trailer: what concerns it is not compared");
  }

  static Text agreement(const Side& side) {
    const auto& consistent = side.findings().fit.consistent;
    if (!consistent) return "nothing checks them";
    return *consistent ? "they agree" : "they do not agree";
  }
  void readings() {
    const auto bad = [](const Side& side) { return side.findings().fit.consistent == false; };
    if (bad(before_) || bad(after_))
      add("readings", "whether the readings agree with each other", agreement(before_), agreement(after_),
          "a reading is suspect: settle that first (steelyard reconcile), no difference is to be trusted before");
  }

  void carried() {
    const rig::Carried &one = before_.session.carried, &other = after_.session.carried;
    const auto percent = [](const std::optional<double>& fuel) { return fuel ? Text(figure(*fuel, "%")) : Text(); };
    if (one.fuel_percent != other.fuel_percent || !one.fuel_percent)
      add("fuel", "fuel", percent(one.fuel_percent), percent(other.fuel_percent),
          "10 litres weigh 7 to 8.5 kg (16 to 19 lb)");
    const auto people = [](const std::optional<int>& count) { return count ? Text(std::to_string(*count)) : Text(); };
    if (one.occupants != other.occupants || !one.occupants)
      add("occupants", "occupants", people(one.occupants), people(other.occupants),
          "a person weighs 50 to 130 kg (110 to 290 lb)");
    text("load_note", "what else was aboard", one.note, other.note,
         "what came aboard or left is part of every difference");
  }

  void states() {
    for (const MatchedState& match : out_.states) {
      const rig::State &one = before_.session.states[match.before], &other = after_.session.states[match.after];
      if (!match.alike || one.name != other.name)
        add("state", match.alike ? "the name of a state" : "how a state is arranged", arrangement(one),
            arrangement(other),
            match.alike ? "arranged alike, and taken to be the same"
                        : "part of every difference in this state is the arrangement's");
      height(one, other);
    }
    const auto alone = [&](const Side& side, auto index, bool first) {
      for (std::size_t i = 0; i < side.session.states.size(); ++i) {
        if (std::any_of(out_.states.begin(), out_.states.end(),
                        [&](const MatchedState& match) { return match.*index == i; }))
          continue;
        const Text words = arrangement(side.session.states[i]);
        add("state", "a state with no counterpart", first ? words : Text(), first ? Text() : words,
            "what was found in it is not compared");
      }
    };
    alone(before_, &MatchedState::before, true);
    alone(after_, &MatchedState::after, false);
  }

  static Text arrangement(const rig::State& state) {
    std::string out = "“" + state.name + "”, " + (state.hitched ? "hitched" : "not hitched");
    if (state.weight_distribution) out += ", weight distribution on";
    if (state.support) out += *state.support == rig::Support::coupling ? ", on the coupling" : ", on the jockey wheel";
    return out;
  }

  static Text height_of(const rig::State& state) {
    if (!state.coupling_height) return std::nullopt;
    const units::Length& value = state.coupling_height->value;
    return figure(value.figure, symbol(value.unit));
  }
  static double height_u(const rig::State& state) {
    const auto& u = state.coupling_height->u;
    return u ? u->mm().value() : bare_height_u;
  }

  void height(const rig::State& one, const rig::State& other) {
    const auto& trailer = after_.session.rig.trailer;
    if (!trailer || !before_.session.rig.trailer || trailer->self_supporting) return;
    if (!one.hitched && !one.support) return;
    const std::string what = "coupling height in state “" + other.name + "”";
    if (!one.coupling_height || !other.coupling_height) {
      add("coupling_height", what, height_of(one), height_of(other),
          "what it may be worth is part of the uncertainties");
      return;
    }
    const double apart = other.coupling_height->value.mm().value() - one.coupling_height->value.mm().value();
    if (!(std::abs(apart) > std::hypot(height_u(one), height_u(other)))) return;
    Unlike& row = add("coupling_height", what, height_of(one), height_of(other));
    if (out_.trailer == Same::no) return;
    worth_of_height(row, apart);
  }

  /// By the sensitivity that was found, the surer one of the two; else by what is supposed of such a trailer.
  void worth_of_height(Unlike& row, double apart) const {
    const reconcile::Quantity* found = nullptr;
    for (const Side* side : {&before_, &after_}) {
      const reconcile::Quantity* one = side->findings().find("height_sensitivity");
      if (one && one->determinable && (!found || one->u < found->u)) found = one;
    }
    if (found) {
      row.worth = "of coupling load, by the sensitivity to height that was found";
      row.size = Figure{found->value * apart, found->u * std::abs(apart)};
      return;
    }
    for (const reconcile::Observation& observation : after_.findings().observations)
      if (observation.kind == reconcile::ObservationKind::height_sensitivity) {
        row.worth = "of coupling load, by what is usual for such a suspension: no two heights were weighed";
        row.size = Figure{0, observation.u * std::abs(apart)};
      }
  }

  static std::string scale_words(const rig::Scale& scale) {
    std::string out = scale.uid.empty() ? "scale " + scale.id : scale.uid;
    if (!scale.calibrated.empty()) out += ", calibrated " + scale.calibrated;
    if (!scale.certificate.empty()) out += ", certificate " + scale.certificate;
    return out;
  }
  static const rig::Scale* by_uid(const rig::Session& session, const std::string& uid) {
    const auto found = std::find_if(session.scales.begin(), session.scales.end(),
                                    [&](const rig::Scale& scale) { return !uid.empty() && scale.uid == uid; });
    return found == session.scales.end() ? nullptr : &*found;
  }

  void scales() {
    for (const rig::Scale& scale : before_.session.scales) {
      const rig::Scale* then = by_uid(after_.session, scale.uid);
      if (!then)
        add("scale", scale.uid.empty() ? "a scale without a uid" : "a scale", scale_words(scale), std::nullopt,
            "its error is not a common one, and counts in full");
      else if (!same_calibration(scale, *then) || scale.gain != then->gain)
        add("scale", "calibration of a scale", scale_words(scale), scale_words(*then),
            "calibrated anew it has another error, and both count in full");
    }
    for (const rig::Scale& scale : after_.session.scales)
      if (!by_uid(before_.session, scale.uid))
        add("scale", scale.uid.empty() ? "a scale without a uid" : "a scale", std::nullopt, scale_words(scale),
            "its error is not a common one, and counts in full");
    const auto nameless = [](const Side& side) { return side.session.scales.empty(); };
    if (nameless(before_) || nameless(after_))
      add("scale", "which scales", nameless(before_) ? Text() : Text("named"), nameless(after_) ? Text() : Text("named"),
          "name the scales with their uid: what is common to both weighings then counts once");
  }

  void site() {
    const rig::Session &one = before_.session, &other = after_.session;
    text("place", "place", one.weighed.place, other.weighed.place, "the ground is level to another degree there");
    text("surface", "surface", one.conditions.surface, other.conditions.surface,
         "scales stand otherwise on another surface");
    const auto share = [](const std::optional<double>& u) { return u ? Text(units::shortest(*u)) : Text(); };
    if (one.placement_u != other.placement_u)
      add("placement", "how well a wheel is set down again (relative u)", share(one.placement_u),
          share(other.placement_u), "part of the uncertainties");
  }

  const Side &before_, &after_;
  Comparison& out_;
};

}  // namespace

void list_unlike(const Side& before, const Side& after, Comparison& out) {
  Listing(before, after, out).all();
}

}  // namespace steelyard::compare
