// Session sheets: JSON text to a checked rig::Session, and back.
//
// Contract: steelyard-session/1; schema/steelyard-session-1.schema.json lists every field. Every fault is found at
// once, each with its place ("states[1].readings[3].load") and a remedy; a sheet with a fault gives no Session.
// Unknown and repeated keys are faults, save those beginning "x-", which are kept.
// Bad sheets never throw: they come back as faults.
#pragma once

#include <cstddef>
#include <istream>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::sheet {

/// "place: what and remedy"; place is empty for a fault of the whole text.
struct Fault {
  std::string place, what;
};
std::string to_text(const Fault& fault);

/// One sheet (a .json file or one line of a fleet file) may be this long.
inline constexpr std::size_t longest_sheet = 16u << 20;

struct Read {
  std::optional<rig::Session> session;  // present exactly when there are no faults
  std::vector<Fault> faults;
};

/// Reads one sheet. A session without an id gets one derived from its content (the same sheet, the same id,
/// whatever the order of keys or the blanks); readings without an id get r1, r2 … in order, passing over ids taken.
Read read(std::string_view text);

/// Checks a session made by other means (record): the same rules as a sheet. Empty when it is sound.
std::vector<Fault> check(const rig::Session& session);

/// The canonical sheet: compact JSON, keys sorted, shortest numbers, only what was given. Equal sessions give equal
/// bytes, and read(write(s)) gives s again where every reading has its id and check(s) finds nothing. A figure that is
/// not finite throws std::invalid_argument. Left out as defaults: empty texts and lists (but a state's readings),
/// false, revision 1, kg and mm, basis whole, one tyre, a reading's or limit's unit that is the sheet's.
std::string write(const rig::Session& session);

/// SHA-256 of write(session), 64 hexadecimal digits.
std::string content_hash(const rig::Session& session);

/// Where two sessions differ: "states[0].readings[1].load: 655 in the store, 656 in the sheet"; at most `most`, then
/// one line that counts the rest.
std::vector<std::string> differences(const rig::Session& stored, const rig::Session& sheet, std::size_t most = 10);

/// A fleet file (.jsonl): one sheet a line, read one at a time, however long the file. Blank lines are passed over.
class FleetReader {
 public:
  explicit FleetReader(std::istream& in) : in_(in) {}
  /// The next sheet, or nothing at the end. Faults of a line carry "line 12" before their place. A line above
  /// longest_sheet is a fault and is skipped without being kept.
  std::optional<Read> next();
  [[nodiscard]] std::size_t line() const { return line_; }

 private:
  std::istream& in_;
  std::size_t line_ = 0;
};

}  // namespace steelyard::sheet
