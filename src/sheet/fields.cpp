#include "sheet/fields.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "sheet/formats.hpp"

namespace steelyard::sheet {

std::string in_words(const json& value) {
  if (value.is_string()) return "the text " + in_quotes(value.get_ref<const std::string&>());
  if (value.is_array()) return "a list";
  if (value.is_object()) return "an object";
  return shown(value.dump());
}

Fields::Fields(Decoding& decoding, json& value, const Place& place)
    : decoding_(decoding), place_(place), is_object_(value.is_object()) {
  members_ = is_object_ ? &value.get_ref<json::object_t&>() : &none_;
  if (!is_object_) decoding_.faults.add(place_, "must be an object in { }, is " + in_words(value));
}

json* Fields::find(std::string_view key) {
  known_.at(known_count_++) = key;
  const auto member = members_->find(key);
  if (member == members_->end()) return nullptr;
  ++found_count_;
  return &member->second;
}

bool Fields::require(std::string_view key, std::string_view allowed) {
  if (members_->contains(key)) return true;
  if (is_object_) fault(key, "is missing; write " + std::string(allowed));
  return false;
}

void Fields::fault(std::string_view key, std::string what) {
  decoding_.faults.add(place_[key], std::move(what));
}

void Fields::wrong_type(std::string_view key, std::string_view wanted, const json& value) {
  std::string what = "must be " + std::string(wanted) + ", is " + in_words(value);
  if (value.is_null()) what += "; leave the key out where there is nothing to say";
  if (value.is_string() && wanted.find("number") != std::string_view::npos)
    what += "; write it without quotes";
  fault(key, std::move(what));
}

const std::string* Fields::text_at(std::string_view key) {
  const json* const found = find(key);
  if (!found) return nullptr;
  if (found->is_string()) return found->get_ptr<const std::string*>();
  wrong_type(key, "a text in double quotes", *found);
  return nullptr;
}

std::string Fields::text(std::string_view key) {
  json* const found = find(key);
  if (!found) return {};
  if (found->is_string()) return std::move(found->get_ref<std::string&>());
  wrong_type(key, "a text in double quotes", *found);
  return {};
}

std::optional<bool> Fields::truth(std::string_view key) {
  const json* const found = find(key);
  if (!found) return std::nullopt;
  if (found->is_boolean()) return found->get<bool>();
  wrong_type(key, "true or false (without quotes)", *found);
  return std::nullopt;
}

std::optional<double> Fields::number(std::string_view key) {
  const json* const found = find(key);
  if (!found) return std::nullopt;
  if (found->is_number()) return found->get<double>() + 0.0;  // + 0.0: no negative zero
  wrong_type(key, "a number", *found);
  return std::nullopt;
}

std::optional<int> Fields::whole(std::string_view key) {
  const json* const found = find(key);
  if (!found) return std::nullopt;
  if (found->is_number()) {
    const double value = found->get<double>();
    if (std::trunc(value) == value && std::abs(value) <= 1e9) return static_cast<int>(value);
  }
  wrong_type(key, "a whole number", *found);
  return std::nullopt;
}

std::optional<units::Load> Fields::load(std::string_view key) {
  const auto figure = number(key);
  if (!figure) return std::nullopt;
  return units::Load{*figure, decoding_.units.load};
}

std::optional<units::Length> Fields::length(std::string_view key) {
  const auto figure = number(key);
  if (!figure) return std::nullopt;
  return units::Length{*figure, decoding_.units.length};
}

namespace {

/// Value and u of {"value", "u"}; `found` is neither that nor a number: nothing.
std::optional<std::pair<double, std::optional<double>>> value_and_u(Fields& fields) {
  fields.require("value", "the measured number");
  const auto value = fields.number("value");
  const auto u = fields.number("u");
  if (!value) return std::nullopt;
  return std::pair(*value, u);
}

}  // namespace

std::optional<rig::MeasuredLength> Fields::measured_length(std::string_view key) {
  const auto unit = decoding_.units.length;
  const auto slope = measured_slope(key);  // the same two shapes
  if (!slope) return std::nullopt;
  rig::MeasuredLength measured{{slope->value, unit}, {}};
  if (slope->u) measured.u = units::Length{*slope->u, unit};
  return measured;
}

std::optional<rig::MeasuredSlope> Fields::measured_slope(std::string_view key) {
  json* const found = find(key);
  if (!found) return std::nullopt;
  if (found->is_number()) return rig::MeasuredSlope{found->get<double>() + 0.0, {}};
  if (!found->is_object()) {
    wrong_type(key, "a number, or {\"value\", \"u\"} with its standard uncertainty", *found);
    return std::nullopt;
  }
  const Place place = place_[key];
  Fields inner(decoding_, *found, place);
  const auto both = value_and_u(inner);
  inner.finish();
  if (!both) return std::nullopt;
  return rig::MeasuredSlope{both->first, both->second};
}

void Fields::keep_extra(std::string_view key, const json& value) {
  rig::Extra extra{place_.text(), std::string(key), {}};
  append_json(extra.json, value);
  decoding_.extras.push_back(std::move(extra));
}

void Fields::finish() {
  if (found_count_ == members_->size()) return;
  const std::span known(known_.data(), known_count_);
  for (const auto& [key, value] : *members_) {
    if (is_extra_key(key)) {
      keep_extra(key, value);
      continue;
    }
    if (std::find(known.begin(), known.end(), key) != known.end()) continue;
    if (decoding_.faults.more_than_kept()) {  // it will only be counted
      fault(key, {});
      continue;
    }
    std::string what = "is not a key of this contract; ";
    if (const auto meant = nearest(key, known); !meant.empty()) {
      what += "did you mean " + in_quotes(meant) + "?";
    } else {
      what += "allowed here:";
      for (const auto name : known) what.append(" ").append(name);
      what += ", and keys that begin with x-";
    }
    fault(key, std::move(what));
  }
}

}  // namespace steelyard::sheet
