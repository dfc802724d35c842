#include "reports/table/limit_words.hpp"

#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
std::string limit_in_words(const rig::Limit& limit, const assess::Row& row, const Wording& wording) {
  std::string words = brief_limit_words(limit, wording);
  if (!limit.part.empty()) words += ", " + printable(limit.part);
  if (limit.kind == rig::LimitKind::side_difference && !row.at.empty())
    words += ", " + place_in_words(row.at, wording);
  return words;
}

bool shown_as_percent(const rig::Limit& limit) {
  return rig::measure_of(limit.kind) == rig::Measure::ratio;
}

std::string place_in_words(const std::string& at, const Wording& wording) {
  const auto position = rig::parse_position(at);
  return position ? wording(rig::in_words(*position)) : printable(at);
}

}  // namespace steelyard::reports
