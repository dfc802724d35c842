#include "sheet/object_out.hpp"

#include <algorithm>
#include <tuple>

#include "sheet/json_text.hpp"
#include "units/number.hpp"

namespace steelyard::sheet {

Writing::Writing(const rig::Session& session) : units(session.units) {
  for (const rig::Extra& extra : session.extras) extras.push_back(&extra);
  std::stable_sort(extras.begin(), extras.end(), [](const rig::Extra* a, const rig::Extra* b) {
    return std::tie(a->place, a->key) < std::tie(b->place, b->key);
  });
}

ObjectOut::ObjectOut(Writing& writing, const Place& place) : writing_(writing), place_(place) {
  writing_.text += '{';
  if (writing_.extras.empty()) return;
  const std::string here = place_.text();
  const auto by_place = [](const auto* extra, const std::string& text) { return extra->place < text; };
  const auto begin = writing_.extras.begin();
  const auto first = std::lower_bound(begin, writing_.extras.end(), here, by_place);
  const auto last =
      std::find_if(first, writing_.extras.end(), [&](const auto* extra) { return extra->place != here; });
  next_extra_ = static_cast<std::size_t>(first - begin);
  last_extra_ = static_cast<std::size_t>(last - begin);
}

void ObjectOut::write_key(std::string_view key) {
  if (!empty_) writing_.text += ',';
  empty_ = false;
  append_json_string(writing_.text, key);
  writing_.text += ':';
}

void ObjectOut::write_extras_before(std::string_view key) {
  while (next_extra_ < last_extra_ && (key.empty() || writing_.extras[next_extra_]->key < key)) {
    const rig::Extra& extra = *writing_.extras[next_extra_++];
    write_key(extra.key);
    writing_.text += extra.json;
    ++writing_.extras_written;
  }
}

std::size_t ObjectOut::start_key(std::string_view key) {
  write_extras_before(key);
  const std::size_t start = writing_.text.size();
  empty_before_ = empty_;
  write_key(key);
  return start;
}

void ObjectOut::undo(std::size_t start) {
  writing_.text.resize(start);
  empty_ = empty_before_;
}

void ObjectOut::finish() {
  write_extras_before({});
  writing_.text += '}';
}

void ObjectOut::text(std::string_view key, std::string_view value) {
  if (!value.empty()) word(key, value);
}

void ObjectOut::word(std::string_view key, std::string_view value) {
  start_key(key);
  append_json_string(writing_.text, value);
}

void ObjectOut::flag(std::string_view key, bool value) {
  if (value) truth(key, true);
}

void ObjectOut::truth(std::string_view key, bool value) {
  start_key(key);
  writing_.text += value ? "true" : "false";
}

void ObjectOut::number(std::string_view key, std::optional<double> value) {
  if (!value) return;
  start_key(key);
  writing_.text += units::shortest(*value);
}

void ObjectOut::load(std::string_view key, const std::optional<units::Load>& value) {
  if (value) number(key, value->figure);
}

void ObjectOut::length(std::string_view key, const std::optional<units::Length>& value) {
  if (value) number(key, value->figure);
}

void ObjectOut::measured(std::string_view key, double value, std::optional<double> u) {
  const std::size_t start = start_key(key);
  const Place place = place_[key];
  ObjectOut child(writing_, place);
  if (!u && child.next_extra_ == child.last_extra_) {  // a bare number, as it came
    undo(start);
    return number(key, value);
  }
  child.number("u", u);
  child.number("value", value);
  child.finish();
}

void ObjectOut::measured(std::string_view key, const std::optional<rig::MeasuredLength>& value) {
  if (value) measured(key, value->value.figure, value->u ? std::optional(value->u->figure) : std::nullopt);
}

void ObjectOut::measured(std::string_view key, const std::optional<rig::MeasuredSlope>& value) {
  if (value) measured(key, value->value, value->u);
}

void ObjectOut::names(std::string_view key, const std::vector<std::string>& names) {
  if (names.empty()) return;
  if (names.size() == 1) return word(key, names.front());
  start_key(key);
  char separator = '[';
  for (const std::string& name : names) {
    writing_.text += std::exchange(separator, ',');
    append_json_string(writing_.text, name);
  }
  writing_.text += ']';
}

}  // namespace steelyard::sheet
