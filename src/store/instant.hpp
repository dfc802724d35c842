// Times as text: the instant that a sheet's time means, and this moment.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace steelyard::store {

/// Milliseconds since 1970-01-01T00:00Z of "2026-10-03T08:40[:00[.123]]" with "Z" or "+02:00"; nothing for
/// any other text. Only for sorting: the text is what is kept.
std::optional<std::int64_t> instant_ms(std::string_view text);

/// "2026-10-03T06:40:00Z".
std::string utc_now();

/// "2026-10-03T06:40:00.123Z": where two notes in a second must not be taken for one.
std::string utc_now_ms();

}  // namespace steelyard::store
