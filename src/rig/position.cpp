#include "rig/position.hpp"

#include <charconv>

namespace steelyard::rig {

std::string to_text(const Position& position) {
  if (position.extent == Extent::coupling) return "coupling";
  if (position.extent == Extent::jockey) return "jockey";
  std::string text = position.vehicle == Vehicle::tow ? "tow" : "trailer";
  if (position.extent == Extent::vehicle) return text;
  text += '.' + std::to_string(position.axle);
  if (position.extent == Extent::wheel) text += position.side == Side::left ? ".left" : ".right";
  return text;
}

std::optional<Position> parse_position(std::string_view text) {
  if (text == "coupling") return Position::support_at_coupling();
  if (text == "jockey") return Position::support_at_jockey();
  Position position;
  if (text.starts_with("trailer")) {
    position.vehicle = Vehicle::trailer;
    text.remove_prefix(7);
  } else if (text.starts_with("tow")) {
    text.remove_prefix(3);
  } else {
    return std::nullopt;
  }
  if (text.empty()) return position;
  if (text.front() != '.' || text.size() < 2 || text[1] < '1' || text[1] > '9') return std::nullopt;
  const auto [end, error] = std::from_chars(text.data() + 1, text.data() + text.size(), position.axle);
  if (error != std::errc() || position.axle > most_axles) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  position.extent = Extent::axle;
  if (text.empty()) return position;
  position.extent = Extent::wheel;
  if (text == ".left") return position;
  if (text != ".right") return std::nullopt;
  position.side = Side::right;
  return position;
}

std::string in_words(const Position& position) {
  if (position.extent == Extent::coupling) return "coupling";
  if (position.extent == Extent::jockey) return "jockey wheel";
  std::string text = position.vehicle == Vehicle::tow ? "tow vehicle" : "trailer";
  if (position.extent == Extent::vehicle) return text;
  text += " axle " + std::to_string(position.axle);
  if (position.extent == Extent::wheel) text += position.side == Side::left ? ", left" : ", right";
  return text;
}

}  // namespace steelyard::rig
