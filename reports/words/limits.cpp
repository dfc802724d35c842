// What each limit is called: in a sentence or a workbook's cell, and shorter for a terminal's table.
#include <algorithm>
#include <array>

#include "reports/words/terms.hpp"

namespace steelyard::reports {
namespace {

using rig::LimitKind;

// A region's own term for the rating stands in brackets after the words; empty where it has none. `briefest`
// is the short name with room for such a term.
struct Term {
  LimitKind kind;
  std::string_view words, brief, briefest;
  std::array<std::string_view, 4> own;  // Australia, Europe, North America, Southern Africa
};

constexpr std::array<std::string_view, 4> none{}, gross{"GVM", "MAM", "GVWR", "GVM"},
    axle_rating{"axle rating", "plated axle weight", "GAWR", "axle massload"};

constexpr std::array terms{
    Term{LimitKind::tow_gross, "Tow vehicle mass", "tow vehicle, total", "tow vehicle, total", gross},
    Term{LimitKind::tow_front, "Front axle load", "tow vehicle, front axles", "front axles", axle_rating},
    Term{LimitKind::tow_rear, "Rear axle load", "tow vehicle, rear axles", "rear axles", axle_rating},
    Term{LimitKind::tow_axle, "Tow vehicle axle", "tow vehicle, axle", "tow axle", axle_rating},
    Term{LimitKind::tow_front_minimum_share, "Front axle share, least", "front axles' share, at least",
         "front axles' share, at least", none},
    Term{LimitKind::combination,
         "Combination mass",
         "combination",
         "combination",
         {"GCM", "gross train weight", "GCWR", "GCM"}},
    Term{LimitKind::trailer_gross,
         "Trailer mass",
         "trailer mass",
         "trailer mass",
         {"ATM", "MTPLM", "GVWR", "GVM"}},
    Term{LimitKind::towed_mass, "Towed mass", "towed mass", "towed mass", none},
    Term{LimitKind::towed_mass_unbraked, "Towed mass, unbraked", "towed mass, unbraked",
         "towed mass, unbraked", none},
    Term{LimitKind::trailer_axles,
         "Trailer axle load, hitched",
         "trailer, all axles",
         "trailer, all axles",
         {"GTM", "axle mass", "GAWR", "axle massload"}},
    Term{LimitKind::trailer_axle, "Trailer axle", "trailer, axle", "trailer axle", axle_rating},
    Term{LimitKind::coupling, "Coupling load", "coupling load", "coupling load", none},
    Term{LimitKind::coupling_minimum, "Coupling load, least", "coupling load, at least",
         "coupling load, at least", none},
    Term{LimitKind::coupling_share_minimum, "Coupling share, least", "coupling share, at least",
         "coupling share, at least", none},
    Term{LimitKind::coupling_share_maximum, "Coupling share, most", "coupling share, at most",
         "coupling share, at most", none},
    Term{LimitKind::wheel, "Heavier wheel", "wheel end, axle", "wheel end, axle", none},
    Term{LimitKind::mass_ratio, "Trailer to tow vehicle mass", "trailer to tow vehicle",
         "trailer to tow vehicle", none},
    Term{LimitKind::front_axle_restoration_minimum, "Front restored, least", "front restoration, at least",
         "front restoration, at least", none},
    Term{LimitKind::front_axle_restoration_maximum, "Front restored, most", "front restoration, at most",
         "front restoration, at most", none},
    Term{LimitKind::side_difference, "Left-right difference", "left-right difference",
         "left-right difference", none},
    Term{LimitKind::d_value, "D-value of the coupling", "D-value", "D-value", none},
    Term{LimitKind::dc_value, "Dc-value of the coupling", "Dc-value", "Dc-value", none},
};

const Term& term_of(LimitKind kind) {
  return *std::find_if(terms.begin(), terms.end(), [kind](const Term& term) { return term.kind == kind; });
}

std::string_view own_term(const Term& term, Region region) {
  return region == Region::plain ? std::string_view() : term.own[static_cast<std::size_t>(region) - 1];
}

std::string in_brackets(std::string_view own) {
  return own.empty() ? std::string() : " (" + std::string(own) + ")";
}

bool several(const rig::Rig& rig, rig::Group group) {
  const auto& axles = rig.tow_vehicle.axles;
  return std::count_if(axles.begin(), axles.end(),
                       [group](const auto& axle) { return axle.group == group; }) > 1;
}

bool of_one_axle(LimitKind kind) {
  return kind == LimitKind::tow_axle || kind == LimitKind::trailer_axle;
}

std::string base_words(const rig::Limit& limit, const rig::Rig& rig, const Wording& wording) {
  std::string words = wording(term_of(limit.kind).words);
  if (of_one_axle(limit.kind)) words += ' ' + std::to_string(limit.axle);
  if (limit.kind == LimitKind::wheel)
    words += (limit.vehicle == rig::Vehicle::tow ? ", tow vehicle axle " : ", trailer axle ") +
             std::to_string(limit.axle);
  const bool group = (limit.kind == LimitKind::tow_front && several(rig, rig::Group::front)) ||
                     (limit.kind == LimitKind::tow_rear && several(rig, rig::Group::rear));
  if (group) words.replace(words.find("axle"), 4, "axle group");
  if (limit.basis == rig::Basis::axles) words += ", on its axles";
  return words;
}

}  // namespace

std::string limit_words(const rig::Limit& limit, const rig::Rig& rig, const Wording& wording) {
  std::string words = base_words(limit, rig, wording);
  words += in_brackets(own_term(term_of(limit.kind), wording.region));
  if (!limit.part.empty()) words += ": " + limit.part;
  return words;
}

std::string brief_limit_words(const rig::Limit& limit, const Wording& wording) {
  const Term& term = term_of(limit.kind);
  std::string words = wording(wording.plain() ? term.brief : term.briefest);
  if (limit.kind == LimitKind::wheel)
    words.insert(0, limit.vehicle == rig::Vehicle::tow ? "tow " : "trailer ");
  if (of_one_axle(limit.kind) || limit.kind == LimitKind::wheel) words += ' ' + std::to_string(limit.axle);
  words += in_brackets(own_term(term, wording.region));
  return limit.basis == rig::Basis::axles ? words + ", on axles" : words;
}

}  // namespace steelyard::reports
