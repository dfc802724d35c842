// The parts of the client's report, one function a sheet; what they share. Inside reports/client only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "reports/client/client.hpp"
#include "reports/document/cells.hpp"

namespace steelyard::reports::client {

/// Everything that a part looks at.
struct Source {
  const rig::Session& session;
  const reconcile::Findings& findings;
  const assess::Assessment& assessment;
  const ClientOptions& options;
  ShownUnits shown;
  std::string number;  // of the report
  Wording wording;     // the words of the reader's region, and `shown` again

  /// The determinable quantity of that name (and state), or null.
  [[nodiscard]] const reconcile::Quantity* known(std::string_view name, std::string_view state = {}) const;
  /// The state that the rig travels in, or null.
  [[nodiscard]] const rig::State* travels() const;
};

SheetContent summary(const Source& source);
SheetContent readings(const Source& source);
SheetContent results(const Source& source);
SheetContent fit(const Source& source);
SheetContent limits(const Source& source);
SheetContent advice(const Source& source);
SheetContent room(const Source& source);
SheetContent glossary_sheet(const Source& source);  // of a region's words
SheetContent method(const Source& source);

/// The ratings or the guidance of the sheet, each with its source.
Table limit_table(const Source& source, bool advice);

/// What the weighing did otherwise than the method asks, one sentence each; one that says so where there is nothing.
std::vector<std::string> departures(const Source& source);
/// Of the scales used that a check speaks against, in one line; empty where there is none.
std::string doubtful_scale_words(const rig::Session& session);

/// The rig from the side as the lever it is; nothing where no load of a hitched rig is known.
std::optional<Picture> rig_picture(const Source& source);

/// The rig from above with the loads of its wheel ends, and their table; nothing where only whole axles were read.
void add_left_and_right(const Source& source, std::vector<Block>& blocks);

/// "Tallow Creek Weighing · 4 Depot Road · 555 0117 · licence 88-204"; empty where nothing of the provider is given.
std::string provider_words(const rig::Provider& provider);

/// What the record says of this revision, and without one what its sheet says of an amendment; made fit for a page.
std::vector<Fact> record_facts(const Source& source);

/// The limit of a row, in words.
std::string row_words(const Source& source, const assess::Row& row);
/// "1830 kg ± 10 kg", "8.6 % ± 0.2 %": the row's value, its margin, its rating.
std::string row_value(const Source& source, const assess::Row& row);
std::string row_rating(const Source& source, const assess::Row& row);
/// "20 kg left", "12 kg over", "30 kg above the least", "5 kg short".
std::string row_margin(const Source& source, const assess::Row& row);
/// "each 100 kg on the coupling puts 139 kg on the rear axle and takes 39 kg off the front axle"; nothing
/// where the ratios are not known.
std::optional<std::string> transfer_words(const Source& source);

}  // namespace steelyard::reports::client
