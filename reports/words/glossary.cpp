#include "reports/words/glossary.hpp"

#include <array>

#include "reports/words/wording.hpp"

namespace steelyard::reports {
namespace {

struct Named {
  std::string_view term, stands_for = {};
};

struct Thing {
  std::string_view canonical;
  std::array<Named, 5> named;  // in the order of Region
  std::string_view meaning;
};

constexpr std::array things{
    Thing{"tow_gross",
          {Named{"rated tow vehicle mass"}, Named{"GVM", "gross vehicle mass"},
           Named{"MAM", "maximum authorised mass; in the EU the technically permissible maximum laden mass"},
           Named{"GVWR", "gross vehicle weight rating"}, Named{"GVM", "gross vehicle mass"}},
          "The most that the tow vehicle may weigh with everything aboard, the coupling load included. A "
          "rating, "
          "not what was weighed."},
    Thing{
        "combination",
        {Named{"rated combination mass"}, Named{"GCM", "gross combination mass"}, Named{"gross train weight"},
         Named{"GCWR", "gross combination weight rating"}, Named{"GCM", "gross combination mass"}},
        "The most that the tow vehicle and its trailer may weigh together."},
    Thing{"trailer_gross",
          {Named{"rated trailer mass"}, Named{"ATM", "aggregate trailer mass"},
           Named{"MTPLM", "maximum technically permissible laden mass"},
           Named{"GVWR (trailer)", "gross vehicle weight rating, of the trailer"},
           Named{"GVM (trailer)", "gross vehicle mass, of the trailer"}},
          "The most that the trailer may weigh altogether: what its axles carry and the coupling load."},
    Thing{"trailer_axles",
          {Named{"rated trailer axle load"}, Named{"GTM", "gross trailer mass"}, Named{"axle mass"},
           Named{"GAWR (trailer)", "gross axle weight rating, of the trailer"},
           Named{"axle massload (trailer)"}},
          "The most that all of the trailer’s axles may carry together while it is coupled: its mass without "
          "the "
          "coupling load."},
    Thing{"tow_axle, tow_front, tow_rear, trailer_axle",
          {Named{"rated axle load"}, Named{"axle rating"}, Named{"plated axle weight"},
           Named{"GAWR", "gross axle weight rating"}, Named{"axle massload"}},
          "The most that one axle, or a group of axles, may carry."},
    Thing{
        "coupling_load, coupling",
        {Named{"coupling load"}, Named{"tow-ball mass"}, Named{"noseweight", "marked S on plates"},
         Named{"tongue weight"}, Named{"nose weight"}},
        "What the trailer puts on the tow vehicle through the coupling. It is measured, and held against the "
        "lowest rating of what carries it."},
    Thing{"coupling_load, coupling",
          {Named{}, Named{}, Named{}, Named{"pin weight"}, Named{}},
          "The coupling load of a fifth wheel, whose coupling lies ahead of the rear axle or above it."},
    Thing{"coupling_share",
          {Named{"coupling share"}, Named{"tow-ball mass share"}, Named{"noseweight share"},
           Named{"tongue weight share"}, Named{"nose weight share"}},
          "The coupling load as a part of the trailer’s mass, in per cent."},
    Thing{"jockey",
          {Named{"jockey wheel"}, Named{"jockey wheel"}, Named{"jockey wheel"}, Named{"tongue jack"},
           Named{"jockey wheel"}},
          "What carries the front of the trailer when it is not coupled."},
    Thing{"",
          {Named{"towbar"}, Named{"tow bar"}, Named{"towbar"}, Named{"hitch receiver"}, Named{"tow bar"}},
          "What is fixed to the tow vehicle to take the coupling; its plate bears ratings of its own."},
    Thing{"weight_distribution",
          {Named{"weight distribution"}, Named{"weight distribution hitch"}, Named{"load levelling"},
           Named{"weight-distributing hitch"}, Named{"weight distribution"}},
          "Spring bars at the coupling that give load back to the front axle. The masses of the trailer and "
          "of the "
          "combination stay as they were."},
    Thing{
        "overhang",
        {Named{"overhang"}, Named{"overhang"}, Named{"overhang"}, Named{"overhang"}, Named{"overhang"}},
        "How far the coupling lies behind the centre of the rear axles: the lever by which the coupling load "
        "takes load off the front axle."},
    Thing{"d_value, dc_value",
          {Named{"D-value, Dc-value"}, Named{"D-value, Dc-value"}, Named{"D-value, Dc-value"},
           Named{"D-value, Dc-value"}, Named{"D-value, Dc-value"}},
          "The pull that a coupling has to stand, in kN, computed from the ratings of both vehicles (UN "
          "Regulation "
          "55)."},
    Thing{"u",
          {Named{"U, ±"}, Named{"U, ±"}, Named{"U, ±"}, Named{"U, ±"}, Named{"U, ±"}},
          "The expanded uncertainty, twice the standard uncertainty u: the true value lies within ± U of the "
          "figure about 95 times in 100."},
    Thing{"",
          {Named{}, Named{}, Named{}, Named{"lb, in", "pound, inch"}, Named{}},
          "1 lb is 0.45359237 kg and 1 in is 25.4 mm, exactly; sheets and results keep kg and mm inside."},
};

}  // namespace

std::vector<GlossaryEntry> glossary(Region region) {
  Wording wording;
  wording.region = region;
  std::vector<GlossaryEntry> entries;
  for (const Thing& thing : things) {
    const Named& named = thing.named.at(static_cast<std::size_t>(region));
    if (!named.term.empty())
      entries.push_back({std::string(named.term), std::string(named.stands_for), wording(thing.meaning),
                         std::string(thing.canonical)});
  }
  return entries;
}

}  // namespace steelyard::reports
