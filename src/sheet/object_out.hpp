// One JSON object being written in canonical form: keys in ascending order, only what was given, extras in
// between.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "sheet/place.hpp"

namespace steelyard::sheet {

/// The text of one sheet and the extras that have yet to find their object.
struct Writing {
  explicit Writing(const rig::Session& session);

  std::string text;
  rig::SheetUnits units;
  std::vector<const rig::Extra*> extras;  // by place, then key
  std::size_t extras_written = 0;
};

/// Invariant: keys are written in ascending order of their bytes; whoever calls sees to it, tests look after
/// it.
class ObjectOut {
 public:
  ObjectOut(Writing& writing, const Place& place);

  // Each writes nothing where there is nothing to say.
  void text(std::string_view key, std::string_view value);
  void word(std::string_view key, std::string_view value);  // one of the contract's own, never empty
  void flag(std::string_view key, bool value);              // true alone is written
  void number(std::string_view key, std::optional<double> value);
  void load(std::string_view key, const std::optional<units::Load>& value);
  void length(std::string_view key, const std::optional<units::Length>& value);
  void measured(std::string_view key, const std::optional<rig::MeasuredLength>& value);
  void measured(std::string_view key, const std::optional<rig::MeasuredSlope>& value);
  void truth(std::string_view key, bool value);  // true and false are both written

  /// Calls inner(object); an object in which nothing was written leaves no trace.
  template <class Inner>
  void object(std::string_view key, Inner inner) {
    const std::size_t start = start_key(key);
    const Place place = place_[key];
    ObjectOut child(writing_, place);
    inner(child);
    child.finish();
    if (child.empty_) undo(start);
  }

  /// One object for each element, written by each(object, element); an empty list leaves no trace unless
  /// `always`.
  template <class Values, class Each>
  void list(std::string_view key, const Values& values, Each each, bool always = false) {
    if (values.empty() && !always) return;
    start_key(key);
    const Place list = place_[key];
    writing_.text += '[';
    std::size_t index = 0;
    for (const auto& value : values) {
      if (index > 0) writing_.text += ',';
      const Place place = list[index++];
      ObjectOut child(writing_, place);
      each(child, value);
      child.finish();
    }
    writing_.text += ']';
  }

  /// One name as a text, several as a list.
  void names(std::string_view key, const std::vector<std::string>& names);

  void finish();

 private:
  std::size_t start_key(std::string_view key);  // gives where the text was before
  void write_key(std::string_view key);
  void undo(std::size_t start);
  void write_extras_before(std::string_view key);
  void measured(std::string_view key, double value, std::optional<double> u);

  Writing& writing_;
  const Place& place_;
  std::size_t next_extra_ = 0, last_extra_ = 0;  // those of this object
  bool empty_ = true, empty_before_ = true;
};

}  // namespace steelyard::sheet
