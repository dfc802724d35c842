#include "reports/words/wording.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <span>

#include "units/number.hpp"

namespace steelyard::reports {
namespace {

struct Turn {
  std::string_view plain, own;
};

// A longer phrase stands before a shorter one that it begins with. Nothing says "tow-ball" or "tongue" of a
// fifth wheel, which has neither.
constexpr Turn australia[]{{"weight distribution on", "weight distribution hitch on"},
                           {"weight distribution", "the weight distribution hitch"},
                           {"weight-distribution moment", "moment of the weight distribution hitch"},
                           {"weight distribution moment", "moment of the weight distribution hitch"},
                           {"no weight distribution", "no weight distribution hitch"},
                           {"with weight distribution on", "with the weight distribution hitch on"},
                           {"coupling load", "tow-ball mass"},
                           {"coupling share", "tow-ball mass share"}};
constexpr Turn europe[]{{"weight distribution", "load levelling"},
                        {"weight-distribution moment", "load-levelling moment"},
                        {"weight distribution moment", "load-levelling moment"},
                        {"coupling load", "noseweight"},
                        {"coupling share", "noseweight share"}};
constexpr Turn north_america[]{{"weight distribution on", "weight-distributing hitch on"},
                               {"weight distribution", "the weight-distributing hitch"},
                               {"weight-distribution moment", "moment of the weight-distributing hitch"},
                               {"weight distribution moment", "moment of the weight-distributing hitch"},
                               {"no weight distribution", "no weight-distributing hitch"},
                               {"with weight distribution on", "with the weight-distributing hitch on"},
                               {"jockey wheel", "tongue jack"},
                               {"coupling load", "tongue weight"},
                               {"coupling share", "tongue weight share"}};
constexpr Turn southern_africa[]{{"coupling load", "nose weight"}, {"coupling share", "nose weight share"}};
constexpr Turn fifth_wheel_north_america[]{{"jockey wheel", "landing gear"},
                                           {"coupling load", "pin weight"},
                                           {"coupling share", "pin weight share"}};

std::span<const Turn> turns_of(Region region, bool fifth_wheel) {
  switch (region) {
    case Region::australia:
      return fifth_wheel ? std::span<const Turn>() : australia;
    case Region::europe:
      return fifth_wheel ? std::span<const Turn>() : europe;
    case Region::north_america:
      if (fifth_wheel) return fifth_wheel_north_america;
      return north_america;
    case Region::southern_africa:
      return fifth_wheel ? std::span<const Turn>() : southern_africa;
    case Region::plain:
      break;
  }
  return {};
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         static_cast<unsigned char>(c) >= 0x80;
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

/// `text` begins with `phrase`, in small letters or its first in a capital.
bool begins(std::string_view text, std::string_view phrase) {
  return text.size() >= phrase.size() && upper(text[0]) == upper(phrase[0]) &&
         text.substr(1, phrase.size() - 1) == phrase.substr(1);
}

/// A word ends at the end, a space or a sign, typographic quotes and apostrophes among them.
bool ends_word(std::string_view rest) {
  return rest.empty() || !is_letter(rest[0]) || rest.starts_with("’") || rest.starts_with("”");
}

/// Two digits that count, whole from 10 in on; what is a least is rounded up.
std::string inches(double millimetres, bool least) {
  const double value = units::to_inches(units::Millimetres(millimetres)).value();
  if (least) return units::fixed(std::ceil(value), 0) + " in";
  const int places = value >= 10 ? 0 : std::clamp(1 - static_cast<int>(std::floor(std::log10(value))), 0, 3);
  const double ten = std::pow(10.0, places);
  return units::shortest(std::round(value * ten) / ten) + " in";
}

/// Turns one text, from its start to its end.
class Turning {
 public:
  Turning(const Wording& wording, std::string_view text)
      : turns_(turns_of(wording.region, wording.fifth_wheel)),
        inches_(!wording.plain() && wording.shown.length == units::LengthUnit::inch),
        text_(text) {}

  std::string all() {
    while (at_ < text_.size())
      if (!word_starts() || !(phrase() || (inches_ && length()))) out_ += text_[at_++];
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool word_starts() const { return at_ == 0 || !is_letter(text_[at_ - 1]); }

  bool phrase() {
    const std::string_view rest = text_.substr(at_);
    const Turn* longest = nullptr;
    for (const Turn& turn : turns_)
      if (begins(rest, turn.plain) && ends_word(rest.substr(turn.plain.size())) &&
          (!longest || turn.plain.size() > longest->plain.size()))
        longest = &turn;
    if (!longest) return false;
    std::string_view own = longest->own;
    // A label needs no article.
    if (longest->plain.size() == text_.size() && own.starts_with("the ")) own.remove_prefix(4);
    out_ += is_upper(rest[0]) ? upper(own[0]) : own[0];
    out_ += own.substr(1);
    at_ += longest->plain.size();
    return true;
  }

  /// "10 mm", and not "2 mm per m".
  bool length() {
    const std::string_view rest = text_.substr(at_);
    const auto digits =
        static_cast<std::size_t>(std::find_if_not(rest.begin(), rest.end(), is_digit) - rest.begin());
    const std::string_view after = rest.substr(digits);
    if (digits == 0 || (at_ > 0 && text_[at_ - 1] == '.') || !after.starts_with(" mm") ||
        !ends_word(after.substr(3)) || after.starts_with(" mm per m"))
      return false;
    double value = 0;
    const auto read = std::from_chars(rest.data(), rest.data() + digits, value);
    if (read.ec != std::errc() || value <= 0) return false;
    out_ += inches(value, text_.substr(0, at_).ends_with("at least "));
    at_ += digits + 3;
    return true;
  }

  std::span<const Turn> turns_;
  bool inches_;
  std::string_view text_;
  std::size_t at_ = 0;
  std::string out_;
};

constexpr std::string_view opening = "“", closing = "”";

/// Bytes of `text`, which begins with “, up to the end of what is quoted; a state's name may hold quotes
/// itself.
std::size_t quoted_bytes(std::string_view text, const rig::Session& session) {
  std::size_t longest = 0;
  for (const rig::State& state : session.states) {
    const std::string whole = std::string(opening) + state.name + std::string(closing);
    if (text.starts_with(whole)) longest = std::max(longest, whole.size());
  }
  if (longest > 0) return longest;
  const std::size_t end = text.find(closing);
  return end == std::string_view::npos ? text.size() : end + closing.size();
}

}  // namespace

Reader reader_of(Region region) {
  return {region, units_of(region)};
}

bool is_fifth_wheel(const rig::Session& session, const reconcile::Findings* findings) {
  if (!session.rig.trailer || session.rig.trailer->self_supporting) return false;
  if (const auto& taped = session.rig.tow_vehicle.overhang) return taped->value.mm().value() <= 0;
  return findings &&
         std::any_of(findings->quantities.begin(), findings->quantities.end(), [](const auto& quantity) {
           return quantity.name == "overhang" && quantity.determinable && quantity.value <= 0;
         });
}

Wording::Wording(const Reader& reader, const rig::Session& session, const reconcile::Findings* findings)
    : region(reader.words),
      shown(reader.units.value_or(ShownUnits{session.units.load, session.units.length})),
      fifth_wheel(is_fifth_wheel(session, findings)) {}

std::string Wording::operator()(std::string_view own) const {
  if (plain()) return std::string(own);
  return Turning(*this, own).all();
}

std::string Wording::around_names(std::string_view text, const rig::Session& session) const {
  std::string out;
  while (!text.empty()) {
    const std::size_t quote = std::min(text.find(opening), text.size());
    out += (*this)(text.substr(0, quote));
    text.remove_prefix(quote);
    if (text.empty()) break;
    const std::size_t bytes = quoted_bytes(text, session);
    out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out;
}

}  // namespace steelyard::reports
