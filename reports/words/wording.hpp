// How one report speaks to its reader: the words of one region, and the units.
//
// The project's own phrases are written in plain words ("coupling load", "jockey wheel") and turned here,
// whole words only. Names that people typed must never come through here; sentences that quote such names
// (what to weigh for a figure) go through around_names(), which leaves what stands in “ ” alone. In plain
// words every text comes back as it was. Source of the words: the trade's table of words by region. No
// errors.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "reconcile/findings.hpp"
#include "reports/words/region.hpp"
#include "rig/session.hpp"

namespace steelyard::reports {

/// What the reader chose; nothing chosen is plain words in the sheet's own units.
struct Reader {
  Region words = Region::plain;
  std::optional<ShownUnits> units = {};
};

/// A region's words and units.
Reader reader_of(Region region);

struct Wording {
  Wording() = default;
  /// Plain words in these units.
  Wording(const ShownUnits& units) : shown(units) {}
  /// A region's words and units without a session; in plain words kg and mm.
  Wording(Region words) : region(words), shown(units_of(words).value_or(ShownUnits{})) {}
  /// For a reader of this session; a coupling that is not behind the rear axle is a fifth wheel's.
  Wording(const Reader& reader, const rig::Session& session, const reconcile::Findings* findings = nullptr);

  Region region = Region::plain;
  ShownUnits shown;
  bool fifth_wheel = false;

  [[nodiscard]] bool plain() const { return region == Region::plain; }
  /// A phrase or a sentence of the project's own: "Coupling load" is "Tongue weight", "10 mm" is "0.39 in"
  /// for a reader of inches.
  [[nodiscard]] std::string operator()(std::string_view own) const;
  /// The same for a sentence of the engine, which names the session's states in “ ”.
  [[nodiscard]] std::string around_names(std::string_view text, const rig::Session& session) const;
};

/// True where the coupling lies ahead of the rear axle or above it: by its tape, else as the weights have it.
bool is_fifth_wheel(const rig::Session& session, const reconcile::Findings* findings = nullptr);

}  // namespace steelyard::reports
