// The time of day as records keep it: local time with its offset, ISO 8601 ("2026-10-03T09:02:00+02:00").
// Errors: std::runtime_error where the system gives no local time.
#pragma once

#include <string>

namespace steelyard::cli {

std::string local_time_now();

}  // namespace steelyard::cli
