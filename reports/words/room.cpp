#include "reports/words/room.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <vector>

#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using reconcile::Measure;

constexpr double noise = 1e-4;  // kg: what arithmetic leaves of a whole figure

/// A limit in the middle of a sentence: "rear axle load"; a D-value keeps its letter.
std::string in_sentence(const rig::Limit& limit, const rig::Rig& rig, Region region) {
  std::string words = limit_words(limit, rig, region);
  const bool letter = words.starts_with("D-") || words.starts_with("Dc-");
  if (!letter && !words.empty())
    words[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(words[0])));
  return words;
}

class Sentences {
 public:
  Sentences(const rig::Session& session, const assess::Assessment& assessment, const ShownUnits& shown,
          Region region)
      : session_(session), assessment_(assessment), shown_(shown), region_(region) {}

  [[nodiscard]] std::string room(const assess::Room& room) const {
    if (!room.reason.empty()) return "cannot be told: " + room.reason;
    std::string out = room.already_outside ? outside(room) : inside(room);
    if (supposed(room)) out += "; if axles and wheels share it as they share their load now";
    const bool earlier = room.advice && (!room.most || room.advice->kg < room.most->kg);
    if (earlier && room.advice->kg == 0)
      out += "; outside guidance already: " + plain(room.advice->limit);
    else if (earlier)
      out += "; guidance ends at " + down(room.advice->kg) + ": " + plain(room.advice->limit);
    return out + left_out(room);
  }

 private:
  [[nodiscard]] std::string whole(double figure) const {
    return units::fixed(figure, 0) + ' ' + unit_word(Measure::kilogram, shown_);
  }
  [[nodiscard]] std::string down(double kg) const {
    return whole(std::floor(convert(kg + noise, Measure::kilogram, shown_)));
  }
  [[nodiscard]] std::string up_to(double kg) const {
    const bool whole_one = convert(kg + noise, Measure::kilogram, shown_) >= 1;
    return whole_one ? "up to " + down(kg) : "less than " + whole(1);
  }
  [[nodiscard]] std::string up(double kg) const {
    return whole(std::ceil(convert(std::max(0.0, kg - noise), Measure::kilogram, shown_)));
  }
  [[nodiscard]] std::string plain(std::size_t limit) const {
    return in_sentence(session_.rig.limits.at(limit), session_.rig, region_);
  }
  [[nodiscard]] std::string with_source(std::size_t limit) const {
    const std::string& source = session_.rig.limits.at(limit).source;
    return source.empty() ? plain(limit) : plain(limit) + " (" + source + ")";
  }

  [[nodiscard]] std::string inside(const assess::Room& room) const {
    if (room.unlimited) return "no rating on the sheet ends what may be added here" + surely(room);
    return up_to(room.most->kg) + ", then " + with_source(room.most->limit) + " binds" + surely(room);
  }

  /// Named where another limit is the one that is too close to be sure of.
  [[nodiscard]] std::string surely(const assess::Room& room) const {
    if (!room.sure) return {};
    const bool other = !room.most || room.most->limit != room.sure->limit;
    const std::string by = other ? " (" + plain(room.sure->limit) + ")" : std::string();
    if (room.sure->kg == 0) return "; already too close to be sure" + by;
    const std::string which = room.left_out.empty() ? " every rating" : " every rating looked at";
    return "; " + up_to(room.sure->kg) + which + " is surely kept" + by;
  }

  [[nodiscard]] std::string outside(const assess::Room& room) const {
    std::string out = "nothing: ";
    for (std::size_t i = 0; i < room.outside.size(); ++i) {
      const assess::Outside& one = room.outside[i];
      out += (i ? ", " : "") + with_source(one.limit);
      out += assessment_.rows.at(one.row).minimum ? " is below already" : " is over already";
    }
    if (room.mended) {
      out += "; from " + up(room.mended->from_kg) + " added here on " +
             (room.outside.size() > 1 ? "all are" : "it is") + " within";
      if (const auto& until = room.mended->until)
        out += ", until " + down(until->kg) + ", then " + with_source(until->limit) + " binds";
      return out;
    }
    const auto mends = [](const assess::Outside& one) { return one.mends; };
    const bool all = std::all_of(room.outside.begin(), room.outside.end(), mends);
    return all ? out + (room.outside.size() > 1 ? "; mass here brings them nearer, not within"
                                                : "; mass here brings it nearer, not within")
               : out;
  }

  [[nodiscard]] static bool supposed(const assess::Room& room) {
    if (!room.already_outside)
      return (room.most && room.most->supposed) || (room.sure && room.sure->supposed);
    if (!room.mended) return false;
    const auto any = [](const assess::Outside& one) { return one.supposed; };
    return (room.mended->until && room.mended->until->supposed) ||
           std::any_of(room.outside.begin(), room.outside.end(), any);
  }

  /// Ratings only: guidance that cannot be looked at is no gap.
  [[nodiscard]] std::string left_out(const assess::Room& room) const {
    std::vector<std::string> names;
    for (const assess::LeftOut& one : room.left_out) {
      if (assessment_.rows.at(one.row).advice) continue;
      const std::string name = plain(one.limit);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    std::string out;
    for (const std::string& name : names)
      out += (out.empty() ? "; not looked at, and may bind earlier: " : ", ") + name;
    return out;
  }

  const rig::Session& session_;
  const assess::Assessment& assessment_;
  const ShownUnits& shown_;
  Region region_;
};

}  // namespace

std::string place_name_words(const assess::Place& place, const rig::Rig& rig, const ShownUnits& shown) {
  const bool tow = place.vehicle == rig::Vehicle::tow;
  const std::string vehicle = tow ? "tow vehicle, " : "trailer, ";
  if (!place.name.empty()) {
    const bool says = !tow && place.name.find("trailer") != std::string::npos;
    return says ? place.name : vehicle + place.name;
  }
  const auto& axles = rig.tow_vehicle.axles;
  const bool several = axles.size() > 1 && axles[1].group == rig::Group::front;
  const std::string origin = !tow ? "the coupling" : several ? "the front axles' middle" : "the front axle";
  const double figure = convert(std::abs(place.at_mm), Measure::millimetre, shown);
  return vehicle + units::fixed(figure, shown.length == units::LengthUnit::inch ? 1 : 0) + ' ' +
         unit_word(Measure::millimetre, shown) + (place.at_mm < 0 ? " ahead of " : " behind ") + origin;
}

std::string room_words(const assess::Room& room, const rig::Session& session,
                       const assess::Assessment& assessment, const ShownUnits& shown, Region region) {
  return Sentences(session, assessment, shown, region).room(room);
}

std::string room_method_words() {
  return "Each place by itself, on the centre line, in the state the rig travels in; weight distribution as "
         "it "
         "was set. How well the place and the added mass are known is not included: weigh again once loaded.";
}

}  // namespace steelyard::reports
