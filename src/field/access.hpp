// Who may use the field page: a code that is read off the terminal, and tokens for those who typed it.
//
// Wrong codes are counted by peer address: ten within ten minutes, then one try after a wait of 60 s, which
// doubles with every further wrong code up to 15 minutes. A right code, or an hour without a try, clears the
// count. After 100 wrong codes within ten minutes from anywhere, every further wrong code makes its peer wait
// 60 s; a peer that has not failed is never made to wait. Codes and tokens are kept as SHA-256 only and
// compared in constant time. What is kept is bounded: the peers and tokens that were used longest ago are
// dropped. Errors: std::invalid_argument for a code of fewer than 8 characters.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <variant>

namespace steelyard::field {

/// A new code as shown, "7K3M-Q9XD": 38 bits from 27 letters and digits that are not taken for each other.
std::string new_code();

/// A code as compared: upper case, without blanks and dashes; a typed S is 5, B is 8, Z is 2, U is V, which
/// stand in no new code.
std::string folded_code(std::string_view typed);

struct Granted {
  std::string token = {};  ///< 128 random bits, 32 hexadecimal digits
};
struct WrongCode {};
struct WaitFirst {
  std::chrono::seconds wait{0};  ///< at least 1; the code was not looked at
};
using Entered = std::variant<Granted, WrongCode, WaitFirst>;

struct AccessBounds {
  std::size_t peers = 10'000;
  std::size_t tokens = 1'000;
};

/// All members may be called from several threads at once.
class Access {
 public:
  using Instant = std::chrono::steady_clock::time_point;
  using Clock = std::function<Instant()>;

  explicit Access(std::string_view code, Clock clock = &std::chrono::steady_clock::now,
                  AccessBounds bounds = {});
  ~Access();
  Access(const Access&) = delete;
  Access& operator=(const Access&) = delete;

  /// `peer` is an address without its port; another text for the same peer is another peer.
  Entered enter(std::string_view peer, std::string_view typed);

  /// True for a token that was granted and used within the last 24 h; this use counts.
  bool allowed(std::string_view token);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

inline constexpr std::string_view cookie_name = "steelyard_field";

/// The value of Set-Cookie: "steelyard_field=TOKEN; HttpOnly; SameSite=Strict; Path=/", with "; Secure" over
/// TLS.
std::string cookie_text(std::string_view token, bool tls);

/// The token in the value of a Cookie header; empty where there is none of 32 hexadecimal digits.
std::string token_in_cookies(std::string_view header);

}  // namespace steelyard::field
