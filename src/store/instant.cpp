#include "store/instant.hpp"

#include <chrono>
#include <ctime>

namespace steelyard::store {
namespace {

/// Takes what it recognises off the front of a text.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : rest_(text) {}

  bool take(char wanted) {
    if (rest_.empty() || rest_.front() != wanted) return false;
    rest_.remove_prefix(1);
    return true;
  }

  /// Exactly `digits` decimal digits between the bounds.
  std::optional<int> number(std::size_t digits, int least, int most) {
    if (rest_.size() < digits) return std::nullopt;
    int value = 0;
    for (const char c : rest_.substr(0, digits)) {
      if (c < '0' || c > '9') return std::nullopt;
      value = value * 10 + (c - '0');
    }
    rest_.remove_prefix(digits);
    return value < least || value > most ? std::nullopt : std::optional(value);
  }

  /// Decimals of a second, cut to milliseconds.
  int milliseconds() {
    int value = 0, digits = 0;
    for (; !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9'; rest_.remove_prefix(1), ++digits)
      if (digits < 3) value = value * 10 + (rest_.front() - '0');
    for (; digits < 3; ++digits) value *= 10;
    return value;
  }

  [[nodiscard]] bool at_end() const { return rest_.empty(); }

 private:
  std::string_view rest_;
};

std::optional<std::chrono::sys_days> day(Cursor& cursor) {
  const auto year_number = cursor.number(4, 1, 9999);
  if (!year_number || !cursor.take('-')) return std::nullopt;
  const auto month_number = cursor.number(2, 1, 12);
  if (!month_number || !cursor.take('-')) return std::nullopt;
  const auto day_number = cursor.number(2, 1, 31);
  if (!day_number) return std::nullopt;
  using namespace std::chrono;
  const year_month_day date = year{*year_number} / *month_number / *day_number;
  return date.ok() ? std::optional(sys_days(date)) : std::nullopt;
}

std::optional<std::chrono::milliseconds> time_of_day(Cursor& cursor) {
  const auto hour = cursor.number(2, 0, 23);
  if (!hour || !cursor.take(':')) return std::nullopt;
  const auto minute = cursor.number(2, 0, 59);
  if (!minute) return std::nullopt;
  std::chrono::milliseconds time = std::chrono::hours(*hour) + std::chrono::minutes(*minute);
  if (!cursor.take(':')) return time;
  const auto second = cursor.number(2, 0, 59);
  if (!second) return std::nullopt;
  time += std::chrono::seconds(*second);
  if (cursor.take('.')) time += std::chrono::milliseconds(cursor.milliseconds());
  return time;
}

std::optional<std::chrono::minutes> offset(Cursor& cursor) {
  if (cursor.take('Z')) return std::chrono::minutes(0);
  const bool west = cursor.take('-');
  if (!west && !cursor.take('+')) return std::nullopt;
  const auto hours = cursor.number(2, 0, 23);
  if (!hours || !cursor.take(':')) return std::nullopt;
  const auto minutes = cursor.number(2, 0, 59);
  if (!minutes) return std::nullopt;
  const auto total = std::chrono::minutes(*hours * 60 + *minutes);
  return west ? -total : total;
}

}  // namespace

std::optional<std::int64_t> instant_ms(std::string_view text) {
  Cursor cursor(text);
  const auto date = day(cursor);
  if (!date || !cursor.take('T')) return std::nullopt;
  const auto time = time_of_day(cursor);
  if (!time) return std::nullopt;
  const auto ahead = offset(cursor);
  if (!ahead || !cursor.at_end()) return std::nullopt;
  return std::chrono::milliseconds(date->time_since_epoch() + *time - *ahead).count();
}

std::string utc_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  gmtime_r(&now, &parts);
  char text[32];
  return {text, std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts)};
}

std::string utc_now_ms() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  const auto whole = std::chrono::floor<std::chrono::seconds>(since);
  const std::time_t seconds = whole.count();
  const auto ms = std::chrono::duration_cast<std::chrono::milliseconds>(since - whole).count();
  std::tm parts{};
  gmtime_r(&seconds, &parts);
  char text[32];
  std::string out(text, std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S.", &parts));
  out += std::to_string(1000 + ms).substr(1);
  return out += 'Z';
}

}  // namespace steelyard::store
