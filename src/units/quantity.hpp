// Loads and lengths with their units in the type.
//
// Units: kilogram, pound, millimetre, inch. The crossings are exact by definition: 1 lb = 0.45359237 kg and
// 1 in = 25.4 mm (international yard and pound agreement, 1959; NIST Handbook 44, appendix C).
// A "load" here is the mass that a scale shows, never a force.
// Invariant: a Load or a Length keeps the figure as it was entered; kg() and mm() are one multiplication
// away, so that the same entry gives the same bits every time. No function here throws.
#pragma once

#include <compare>
#include <string_view>

namespace steelyard::units {

template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  constexpr explicit Quantity(double value) : value_(value) {}
  [[nodiscard]] constexpr double value() const { return value_; }

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator+(Quantity other) const { return Quantity(value_ + other.value_); }
  constexpr Quantity operator-(Quantity other) const { return Quantity(value_ - other.value_); }
  constexpr Quantity operator-() const { return Quantity(-value_); }
  constexpr Quantity operator*(double factor) const { return Quantity(value_ * factor); }
  constexpr Quantity operator/(double divisor) const { return Quantity(value_ / divisor); }
  constexpr double operator/(Quantity other) const { return value_ / other.value_; }

 private:
  double value_ = 0;
};

using Kilograms = Quantity<struct KilogramsTag>;
using Pounds = Quantity<struct PoundsTag>;
using Millimetres = Quantity<struct MillimetresTag>;
using Inches = Quantity<struct InchesTag>;

inline constexpr double kilograms_per_pound = 0.45359237;
inline constexpr double millimetres_per_inch = 25.4;

constexpr Kilograms to_kilograms(Pounds load) {
  return Kilograms(load.value() * kilograms_per_pound);
}
constexpr Pounds to_pounds(Kilograms load) {
  return Pounds(load.value() / kilograms_per_pound);
}
constexpr Millimetres to_millimetres(Inches length) {
  return Millimetres(length.value() * millimetres_per_inch);
}
constexpr Inches to_inches(Millimetres length) {
  return Inches(length.value() / millimetres_per_inch);
}

enum class LoadUnit { kilogram, pound };
enum class LengthUnit { millimetre, inch };

constexpr std::string_view symbol(LoadUnit unit) {
  return unit == LoadUnit::kilogram ? "kg" : "lb";
}
constexpr std::string_view symbol(LengthUnit unit) {
  return unit == LengthUnit::millimetre ? "mm" : "in";
}

/// A load as somebody entered it.
struct Load {
  double figure = 0;
  LoadUnit unit = LoadUnit::kilogram;

  [[nodiscard]] constexpr Kilograms kg() const {
    return unit == LoadUnit::kilogram ? Kilograms(figure) : to_kilograms(Pounds(figure));
  }
  bool operator==(const Load&) const = default;
};

/// A length as somebody entered it.
struct Length {
  double figure = 0;
  LengthUnit unit = LengthUnit::millimetre;

  [[nodiscard]] constexpr Millimetres mm() const {
    return unit == LengthUnit::millimetre ? Millimetres(figure) : to_millimetres(Inches(figure));
  }
  bool operator==(const Length&) const = default;
};

}  // namespace steelyard::units
