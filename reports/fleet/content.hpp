// The sheets of a fleet's audit, one function a sheet; what they share. Inside reports/fleet only.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "audit/fleet.hpp"
#include "reports/document/cells.hpp"
#include "reports/fleet/fleet.hpp"

namespace steelyard::reports::fleet {

/// What the sheets have in common; rows that are made as they are written keep a copy.
struct Source {
  const FleetSubject& subject;
  const FleetOptions& options;
  audit::Totals totals;
  std::shared_ptr<const std::vector<audit::Breach>> all_breaches;

  [[nodiscard]] const std::vector<audit::Breach>& breaches() const { return *all_breaches; }

  [[nodiscard]] const audit::Entry& entry(std::size_t index) const { return subject.entries[index]; }
  [[nodiscard]] const std::vector<audit::Entry>& entries() const { return subject.entries; }
};

/// Counts what the sheets, the table and the JSON have in common.
Source source_of(const FleetSubject& subject, const FleetOptions& options);

SheetContent summary(const Source& source);
std::vector<SheetContent> breaches(const Source& source);
SheetContent rates(const Source& source);
SheetContent trend(const Source& source);
SheetContent distributions(const Source& source);
SheetContent again(const Source& source);
SheetContent not_assessed(const Source& source);
SheetContent doubts(const Source& source);
std::vector<SheetContent> register_sheets(const Source& source);
SheetContent method(const Source& source);

/// "1 weighing", "12 weighings".
std::string counted(std::size_t number, std::string_view one, std::string_view several);
/// "2.9 %", and "2.9 % (95 %: 2.0 to 4.1 %)".
std::string percent(double share, int decimals = 1);
std::string rate_words(const audit::Rate& rate);
/// "Rear axle load (axle rating)".
std::string rated_words(std::string_view of, std::string_view part, Region region);
std::string outcome_in_words(assess::RigOutcome outcome);
/// "survey utility 12 (TCW 012) with pump trailer 3".
std::string rig_words(const audit::Entry& entry);
std::string known(std::string_view text);  // the text, or "not given"

/// Value, rating and used of a rating, as cells with their units.
Cell value_cell(const Source& source, const audit::Rated& rated);
Cell rating_cell(const Source& source, const audit::Rated& rated);
Cell used_cell(const audit::Rated& rated);
Cell share_cell(double share, int decimals = 1);

/// A picture of rates with their intervals, a row each.
Picture whiskers(std::string title, const std::vector<audit::GroupRate>& rates, std::string note);

/// `rows` rows cut into sheets of at most options.most_rows each: name, name 2, ….
std::vector<SheetContent> long_sheets(const Source& source, SheetContent sheet, LongTable table);

}  // namespace steelyard::reports::fleet
