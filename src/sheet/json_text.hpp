// JSON text to a tree and back, stricter than JSON asks: no repeated keys, bounded nesting.
//
// Refused with line, column and a remedy: broken syntax, text that is not UTF-8, lone surrogates, NaN,
// numbers that no double holds (1e309), nesting deeper than deepest_nesting. Source: RFC 8259; numbers as
// IEEE 754 doubles.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "sheet/faults.hpp"

namespace steelyard::sheet {

using json = nlohmann::json;

inline constexpr std::size_t deepest_nesting = 32;

/// The tree, or nothing when the text is not JSON. Repeated keys are faults too, but leave a tree (the last
/// value stands), so that the other faults can be found as well.
std::optional<json> parse_json(std::string_view text, Faults& faults);

/// Compact JSON: keys sorted, a number that is whole written without a point, other numbers shortest.
void append_json(std::string& out, const json& value);
void append_json_string(std::string& out, std::string_view text);

}  // namespace steelyard::sheet
