// Who may come in when connections are many: plain values, so that it can be tested without a network.
#pragma once

#include <chrono>
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>

namespace steelyard::field::http {

/// What a connection is doing, as far as giving it up is concerned.
enum class Standing {
  idle,    // between requests
  moving,  // a handshake, a request or an answer is under way and takes the time its peer takes
  held     // a handler is at work, or events are streamed
};

struct Guest {
  std::string_view peer = {};
  Standing standing = Standing::idle;
  std::chrono::steady_clock::time_point since = {};
};

struct Admission {
  bool admitted = false;
  std::optional<std::size_t> displaced = {};  // which guest has to go first
};

/// Where a peer has its full number, its own longest idle connection goes. Where all places are taken, the
/// longest idle goes; where none is idle, the slowest of the peer that holds most, as long as it holds more
/// than the newcomer: nobody who keeps many connections busy shuts out somebody with few.
Admission admission(std::span<const Guest> guests, std::string_view newcomer, std::size_t places,
                    std::size_t places_a_peer);

}  // namespace steelyard::field::http
