// The fields of one JSON object of a sheet, taken one by one with their types checked.
//
// Every key asked for is a key allowed; finish() reports the others and keeps those that begin with "x-". A
// value of the wrong type is a fault and counts as absent; what a value may be is for check.hpp to judge.
// Loads and lengths take the sheet's units.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "sheet/json_text.hpp"

namespace steelyard::sheet {

/// What the decoding of one sheet shares.
struct Decoding {
  Faults& faults;
  rig::SheetUnits units;
  std::vector<rig::Extra> extras;
};

class Fields {
 public:
  /// Where `value` is no object that is a fault, and every field is absent.
  Fields(Decoding& decoding, json& value, const Place& place);
  Fields(const Fields&) = delete;
  Fields& operator=(const Fields&) = delete;

  // Each gives the field, or nothing when it is absent or of a wrong type.
  std::string text(std::string_view key);  // empty for nothing; moved out of the tree
  std::optional<bool> truth(std::string_view key);
  std::optional<double> number(std::string_view key);
  std::optional<int> whole(std::string_view key);
  std::optional<units::Load> load(std::string_view key);
  std::optional<units::Length> length(std::string_view key);
  std::optional<rig::MeasuredLength> measured_length(std::string_view key);
  std::optional<rig::MeasuredSlope> measured_slope(std::string_view key);

  /// A word that `parse` knows; `allowed` names them for the remedy.
  template <class Parse>
  auto word(std::string_view key, Parse parse, std::string_view allowed) -> decltype(parse(key)) {
    const std::string* found = text_at(key);
    if (!found) return std::nullopt;
    auto value = parse(*found);
    if (!value) fault(key, "must be " + std::string(allowed) + ", is " + in_quotes(*found));
    return value;
  }

  /// Calls each(element, place) for the elements of a list; an absent list has none.
  template <class Each>
  void list(std::string_view key, Each each) {
    json* const found = find(key);
    if (!found) return;
    if (!found->is_array()) return wrong_type(key, "a list in [ ]", *found);
    const Place place = place_[key];
    std::size_t index = 0;
    for (json& element : *found) each(element, place[index++]);
  }

  /// Each object of a list, decoded by decode_one(fields) and added to `values`.
  template <class Value, class Decode>
  void list_of(std::string_view key, std::vector<Value>& values, Decode decode_one) {
    list(key, [&](json& element, const Place& place) {
      Fields inner(decoding_, element, place);
      values.push_back(decode_one(inner));
      inner.finish();
    });
  }

  /// Calls inner(fields) for an object within this one and finishes it; an absent one is passed over.
  template <class Inner>
  void object(std::string_view key, Inner inner) {
    json* const found = find(key);
    if (!found) return;
    const Place place = place_[key];
    Fields fields(decoding_, *found, place);
    inner(fields);
    fields.finish();
  }

  /// The value as it stands, for a field of several types; a null pointer when it is absent.
  json* find(std::string_view key);
  /// find(), and a fault that says what belongs there when it is absent.
  bool require(std::string_view key, std::string_view allowed);

  void fault(std::string_view key, std::string what);
  void wrong_type(std::string_view key, std::string_view wanted, const json& value);
  void keep_extra(std::string_view key, const json& value);

  /// Members of the object itself, for one whose keys are the user's own.
  json::object_t& members() { return *members_; }
  [[nodiscard]] const Place& place() const { return place_; }
  [[nodiscard]] Decoding& decoding() { return decoding_; }

  /// Reports the keys nobody asked for.
  void finish();

 private:
  const std::string* text_at(std::string_view key);

  Decoding& decoding_;
  const Place& place_;
  json::object_t none_;  // stands in for the members of what is no object
  json::object_t* members_;
  std::array<std::string_view, 24> known_;
  std::size_t known_count_ = 0, found_count_ = 0;
  bool is_object_;
};

/// "the text \"12\"", "12", "true", "null", "a list", "an object": a value as a message names it.
std::string in_words(const json& value);

}  // namespace steelyard::sheet
