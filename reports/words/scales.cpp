#include "reports/words/scales.hpp"

#include <algorithm>
#include <cmath>

#include "rig/words.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

std::string in_three_digits(double kg, const ShownUnits& shown) {
  const double value = std::abs(convert(kg, reconcile::Measure::kilogram, shown));
  const double ten = std::pow(10.0, three_digits(value));
  return units::shortest(std::round(value * ten) / ten) + ' ' +
         unit_word(reconcile::Measure::kilogram, shown);
}

std::string zero_words(const rig::Scale& scale, const assess::ScaleFlag& flag, const ShownUnits& shown) {
  const std::string allowed = in_three_digits(*flag.allowed, shown);
  if (flag.kind == assess::ScaleFlagKind::zero_off)
    return "showed " + as_entered(*scale.zero_before) + " unloaded before the weighing, where " + allowed +
           " is usual: zero it and weigh again";
  return "showed " + as_entered(*scale.zero_before) + " unloaded before the weighing and " +
         as_entered(*scale.zero_after) + " after: its zero moved by " + in_three_digits(*flag.figure, shown) +
         ", where " + allowed + " is usual";
}

}  // namespace

int three_digits(double figure) {
  if (figure == 0) return 0;
  return std::clamp(2 - static_cast<int>(std::floor(std::log10(std::abs(figure)))), 0, 9);
}

std::string check_rule_words(const rig::Scale& scale, assess::CheckRule rule) {
  if (rule == assess::CheckRule::class_in_service)
    return "OIML R 76-1, class " + std::string(rig::to_text(*scale.accuracy_class)) + " in service";
  return "2u of its gain, division and repeatability";
}

std::string scale_name(const rig::Scale& scale) {
  if (!scale.serial.empty()) return scale.id + " (serial " + scale.serial + ")";
  return scale.uid.empty() ? scale.id : scale.id + " (" + scale.uid + ")";
}

std::string out_of_date_words(const rig::Scale& scale, const rig::Session& session) {
  return "was due " + scale.due + ", before the weighing of " + session.weighed.at.substr(0, 10) +
         ": its calibration no longer held; have it calibrated, and weigh again if it was off";
}

std::string check_weight_words(const rig::Scale& scale, const assess::ScaleCheck& check, std::size_t weight,
                               const ShownUnits& shown) {
  const rig::CheckWeight& given = scale.check_weights.at(weight);
  const assess::WeightCheck& found = check.check_weights.at(weight);
  std::string words = "check weight " + as_entered(given.mass) + " showed " + as_entered(given.load);
  if (found.difference.value == 0) return words + ": nothing off";
  words += ": " + in_three_digits(found.difference.value, shown) +
           (found.difference.value > 0 ? " too much" : " too little");
  if (scale.gain.value_or(0) != 0) words += " after its known gain";
  return words + ", " + in_three_digits(found.difference.allowed, shown) + " allowed (" +
         check_rule_words(scale, found.rule) + ")";
}

std::string scale_flag_words(const rig::Session& session, const assess::ScaleCheck& check,
                             const assess::ScaleFlag& flag, const ShownUnits& shown) {
  const rig::Scale& scale = session.scales.at(check.scale);
  switch (flag.kind) {
    case assess::ScaleFlagKind::out_of_date:
      return out_of_date_words(scale, session);
    case assess::ScaleFlagKind::not_calibrated:
      return "no day of calibration is given";
    case assess::ScaleFlagKind::check_weight:
      return check_weight_words(scale, check, flag.check_weight, shown);
    case assess::ScaleFlagKind::zero_off:
    case assess::ScaleFlagKind::zero_drift:
      break;
  }
  return zero_words(scale, flag, shown);
}

}  // namespace steelyard::reports
