// The sheet Room: what else may be loaded and where, and which limit ends it.
#include "assess/room.hpp"

#include <algorithm>
#include <cmath>

#include "reports/client/content.hpp"
#include "reports/words/room.hpp"

namespace steelyard::reports::client {
namespace {

using assess::Room;

/// Rounded down to a whole one: what may be added is never said to be more than it is.
Cell at_most(const Source& source, double kg) {
  constexpr double noise = 1e-4;  // kg: what arithmetic leaves of a whole figure
  const double whole = std::floor(convert(kg + noise, reconcile::Measure::kilogram, source.shown));
  return {.value = Number{.value = std::max(0.0, whole),
                          .unit = unit_word(reconcile::Measure::kilogram, source.shown)}};
}

TableRow room_row(const Source& source, const Room& room) {
  TableRow row;
  row.cells.resize(5);
  row.cells[0] = text(clipped(place_name_words(room.place, source.session.rig, source.shown), 80));
  if (room.sure) row.cells[1] = at_most(source, room.sure->kg);
  if (room.most) {
    row.cells[2] = at_most(source, room.most->kg);
    row.cells[3] = text(row_words(source, source.assessment.rows.at(room.most->row)));
  } else {
    row.cells[3] = text(room.unlimited ? "none" : "not known");
  }
  row.cells[4] = text(
      clipped(room_words(room, source.session, source.assessment, source.shown, source.options.words), 600));
  return row;
}

}  // namespace

SheetContent room(const Source& source) {
  SheetContent sheet{.name = "Room",
                     .title = "What else may be loaded, and where",
                     .landscape = true,
                     .grid = {33, 14, 14, 32, 74}};
  auto rooms = assess::room_to_load(source.session, source.findings, source.assessment,
                                    assess::places_to_load(source.session, source.findings));
  // The chart shows those that end somewhere: they come first.
  std::stable_partition(rooms.begin(), rooms.end(), [](const Room& one) { return one.most.has_value(); });
  Table table{.title = "Each place by itself: the most that may be added there",
              .columns = {{"Place"},
                          {"Surely within, up to", 1, true},
                          {"At the edge from", 1, true},
                          {"Which rating ends it"},
                          {"In words"}},
              .when_empty = "No place can be named: the lengths along the rig are not known."};
  Columns columns{.title = "Until a rating is reached", .category_column = 0, .value_column = 2};
  for (const Room& one : rooms) {
    table.rows.push_back(room_row(source, one));
    if (one.most) ++columns.rows;
  }
  columns.description =
      "Columns: the most that may be added at each place by itself before a rating is reached.";
  const bool some =
      std::any_of(rooms.begin(), rooms.end(), [](const Room& one) { return one.most && one.most->kg > 0; });
  sheet.blocks.emplace_back(std::move(table));
  if (some) sheet.blocks.emplace_back(std::move(columns));
  sheet.blocks.emplace_back(Heading{"What this rests on"});
  for (const std::string& one : {room_method_words(),
                                 std::string("Computed by statics on level ground from this weighing; "
                                             "nothing was loaded and nothing measured."),
                                 std::string("Load lowers the vehicle and changes the height of the coupling "
                                             "and the pull of weight distribution: "
                                             "weigh the rig again once it is loaded."),
                                 std::string("“Surely within” keeps the uncertainty U of every rating in "
                                             "hand. The figures are rounded down.")})
    sheet.blocks.emplace_back(Paragraph{source.wording(one), Paragraph::Kind::bullet});
  return sheet;
}

}  // namespace steelyard::reports::client
