#include "cli/clock.hpp"

#include <array>
#include <ctime>
#include <stdexcept>
#include <string_view>

namespace steelyard::cli {

std::string local_time_now() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  std::array<char, 40> text{};
  if (!localtime_r(&now, &local) ||
      std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S%z", &local) == 0)
    throw std::runtime_error("the system gives no local time");
  // strftime writes +0200; ISO 8601's extended form is +02:00.
  const std::string_view time(text.data());
  const std::size_t minutes = time.size() - 2;
  std::string extended(time.substr(0, minutes));
  extended += ':';
  extended += time.substr(minutes);
  return extended;
}

}  // namespace steelyard::cli
