#include "field/access.hpp"

#include <algorithm>
#include <list>
#include <mutex>
#include <stdexcept>
#include <unordered_map>
#include <utility>
#include <vector>

#include "digest/digest.hpp"

namespace steelyard::field {
namespace {

using std::chrono::seconds;
using Instant = Access::Instant;

// Neither 0 O, 1 I L nor 2 Z, 5 S, 8 B, U V together. 27 of them to the eighth is 2^38.04.
constexpr std::string_view code_letters = "23456789ACDEFGHJKMNPQRTVWXY";
constexpr std::size_t code_length = 8;
constexpr std::size_t token_bytes = 16;

constexpr seconds counted_for{10 * 60};
constexpr std::size_t wrong_before_waiting = 10;
constexpr int wrong_from_anywhere = 100;
constexpr seconds first_wait{60};
constexpr seconds longest_wait{15 * 60};
constexpr seconds peer_kept{60 * 60};
constexpr seconds token_kept{24 * 60 * 60};

std::string bytes_of(const digest::Sha256& hash) {
  return {hash.begin(), hash.end()};
}

std::string hashed(std::string_view text) {
  return bytes_of(digest::sha256(text));
}

seconds whole_seconds(Instant::duration left) {
  return std::max(seconds(1), std::chrono::ceil<seconds>(left));
}

struct Peer {
  std::string address;
  Instant used = {};
  std::vector<Instant> wrong = {};  // within the last ten minutes
  seconds next_wait = first_wait;
  Instant free_at = {};
};

/// Those who failed, the one that tried longest ago first.
class Peers {
 public:
  explicit Peers(std::size_t most) : most_(std::max<std::size_t>(most, 1)) {}

  Peer* find(std::string_view address, Instant now) {
    while (!in_order_.empty() && now - in_order_.front().used > peer_kept) drop(in_order_.begin());
    const auto found = by_address_.find(std::string(address));
    if (found == by_address_.end()) return nullptr;
    return &*found->second;
  }

  Peer& used(std::string_view address, Instant now) {
    Peer* const known = find(address, now);
    if (known == nullptr) {
      if (in_order_.size() >= most_) drop(in_order_.begin());
      in_order_.push_back({.address = std::string(address), .used = now});
      by_address_.emplace(address, std::prev(in_order_.end()));
      return in_order_.back();
    }
    const auto at = by_address_.at(known->address);
    in_order_.splice(in_order_.end(), in_order_, at);
    known->used = now;
    return *known;
  }

  void forget(std::string_view address) {
    const auto found = by_address_.find(std::string(address));
    if (found != by_address_.end()) drop(found->second);
  }

 private:
  void drop(std::list<Peer>::iterator peer) {
    by_address_.erase(peer->address);
    in_order_.erase(peer);
  }

  std::size_t most_;
  std::list<Peer> in_order_;
  std::unordered_map<std::string, std::list<Peer>::iterator> by_address_;
};

struct Token {
  std::string hash;
  Instant used = {};
};

bool is_token(std::string_view text) {
  return text.size() == 2 * token_bytes && std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

}  // namespace

std::string new_code() {
  // Bytes from here on are drawn again: with them some letters would come more often than others.
  constexpr unsigned fair = 256 - 256 % code_letters.size();
  std::string code;
  while (code.size() < code_length + 1) {
    if (code.size() == code_length / 2) code += '-';
    for (const char drawn : digest::random_bytes(1)) {
      const auto value = static_cast<unsigned char>(drawn);
      if (value < fair) code += code_letters[value % code_letters.size()];
    }
  }
  return code;
}

std::string folded_code(std::string_view typed) {
  constexpr std::string_view taken_for = "SBZU";
  constexpr std::string_view meant = "582V";
  std::string folded;
  for (char c : typed) {
    if (c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '-') continue;
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    const std::size_t alike = taken_for.find(c);
    folded += alike == std::string_view::npos ? c : meant[alike];
  }
  return folded;
}

struct Access::Impl {
  Clock clock;
  AccessBounds bounds;
  std::string code_hash;
  std::mutex mutex = {};
  Peers peers;
  std::vector<Token> tokens = {};
  Instant all_counted_from = {};
  int all_wrong = 0;

  [[nodiscard]] bool slowed(Instant now) const {
    return all_wrong >= wrong_from_anywhere && now - all_counted_from <= counted_for;
  }

  void count_wrong(std::string_view address, Instant now) {
    if (now - all_counted_from > counted_for) all_wrong = 0;
    if (all_wrong == 0) all_counted_from = now;
    // From the hundredth on it is counted from the latest: who keeps trying keeps those who fail waiting.
    if (all_wrong < wrong_from_anywhere) ++all_wrong;
    if (all_wrong == wrong_from_anywhere) all_counted_from = now;

    Peer& peer = peers.used(address, now);
    const bool waited_already = peer.next_wait > first_wait;
    if (!waited_already) {
      std::erase_if(peer.wrong, [&](Instant at) { return now - at > counted_for; });
      peer.wrong.push_back(now);
    }
    if (waited_already || peer.wrong.size() >= wrong_before_waiting) {
      peer.free_at = now + peer.next_wait;
      peer.next_wait = std::min(2 * peer.next_wait, longest_wait);
    } else if (slowed(now)) {
      peer.free_at = now + first_wait;
    }
  }

  std::string grant(Instant now) {
    forget_old_tokens(now);
    if (tokens.size() >= std::max<std::size_t>(bounds.tokens, 1))
      tokens.erase(std::min_element(tokens.begin(), tokens.end(),
                                    [](const Token& a, const Token& b) { return a.used < b.used; }));
    std::string token = digest::random_hex(token_bytes);
    tokens.push_back({.hash = hashed(token), .used = now});
    return token;
  }

  void forget_old_tokens(Instant now) {
    std::erase_if(tokens, [&](const Token& token) { return now - token.used > token_kept; });
  }
};

Access::Access(std::string_view code, Clock clock, AccessBounds bounds) {
  const std::string folded = folded_code(code);
  if (folded.size() < code_length)
    throw std::invalid_argument(
        "the access code is too short to keep anybody out; give 8 letters and digits or more");
  impl_.reset(new Impl{.clock = std::move(clock),
                       .bounds = bounds,
                       .code_hash = hashed(folded),
                       .peers = Peers(bounds.peers)});
}

Access::~Access() = default;

Entered Access::enter(std::string_view peer, std::string_view typed) {
  // Longer than any code with its blanks; what is hashed under the lock stays small.
  constexpr std::size_t longest_typed = 200;
  const std::lock_guard lock(impl_->mutex);
  const Instant now = impl_->clock();
  if (const Peer* const known = impl_->peers.find(peer, now); known != nullptr && now < known->free_at)
    return WaitFirst{whole_seconds(known->free_at - now)};
  if (!digest::same_bytes(hashed(folded_code(typed.substr(0, longest_typed))), impl_->code_hash)) {
    impl_->count_wrong(peer, now);
    return WrongCode{};
  }
  impl_->peers.forget(peer);
  return Granted{impl_->grant(now)};
}

bool Access::allowed(std::string_view token) {
  if (!is_token(token)) return false;
  const std::string hash = hashed(token);
  const std::lock_guard lock(impl_->mutex);
  const Instant now = impl_->clock();
  impl_->forget_old_tokens(now);
  // All of them are looked at, so that the time does not say which one came near.
  Token* found = nullptr;
  for (Token& kept : impl_->tokens)
    if (digest::same_bytes(kept.hash, hash)) found = &kept;
  if (found == nullptr) return false;
  found->used = now;
  return true;
}

std::string cookie_text(std::string_view token, bool tls) {
  std::string text(cookie_name);
  text += '=';
  text += token;
  text += "; HttpOnly; SameSite=Strict; Path=/";
  if (tls) text += "; Secure";
  return text;
}

std::string token_in_cookies(std::string_view header) {
  while (!header.empty()) {
    const std::size_t end = std::min(header.find(';'), header.size());
    std::string_view pair = header.substr(0, end);
    header.remove_prefix(std::min(end + 1, header.size()));
    while (!pair.empty() && pair.front() == ' ') pair.remove_prefix(1);
    while (!pair.empty() && pair.back() == ' ') pair.remove_suffix(1);
    if (!pair.starts_with(cookie_name)) continue;
    pair.remove_prefix(cookie_name.size());
    if (pair.empty() || pair.front() != '=') continue;
    pair.remove_prefix(1);
    if (is_token(pair)) return std::string(pair);
  }
  return {};
}

}  // namespace steelyard::field
