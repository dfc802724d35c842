#include "field/http/admission.hpp"

#include <algorithm>
#include <map>

namespace steelyard::field::http {
namespace {

/// The guest that has stood so for longest, among those of one standing (and of one peer where it is given).
std::optional<std::size_t> longest(std::span<const Guest> guests, Standing standing,
                                   std::optional<std::string_view> peer) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < guests.size(); ++i) {
    if (guests[i].standing != standing || (peer && guests[i].peer != *peer)) continue;
    if (!found || guests[i].since < guests[*found].since) found = i;
  }
  return found;
}

/// The peer with most connections that could be given up, and how many it has in all.
std::pair<std::string_view, std::size_t> greediest(std::span<const Guest> guests) {
  std::map<std::string_view, std::size_t> all;
  for (const Guest& guest : guests) ++all[guest.peer];
  std::pair<std::string_view, std::size_t> most{};
  for (const Guest& guest : guests) {
    if (guest.standing == Standing::moving && all[guest.peer] > most.second)
      most = {guest.peer, all[guest.peer]};
  }
  return most;
}

}  // namespace

Admission admission(std::span<const Guest> guests, std::string_view newcomer, std::size_t places,
                    std::size_t places_a_peer) {
  const auto own = static_cast<std::size_t>(
      std::ranges::count(guests, newcomer, [](const Guest& guest) { return guest.peer; }));
  if (own >= places_a_peer) {
    const auto idle = longest(guests, Standing::idle, newcomer);
    return {idle.has_value(), idle};
  }
  if (guests.size() < places) return {true, {}};
  if (const auto idle = longest(guests, Standing::idle, std::nullopt)) return {true, idle};
  const auto [peer, held] = greediest(guests);
  if (held <= own + 1) return {false, {}};
  return {true, longest(guests, Standing::moving, peer)};
}

}  // namespace steelyard::field::http
