// Which errors are the same one before and after, and what they make of two quantities.
#include <algorithm>

#include "compare/parts.hpp"

namespace steelyard::compare {

using reconcile::Observation;
using reconcile::ObservationKind;

Same same_vehicle(const std::string& uid_a, const std::string& registration_a, const std::string& uid_b,
                  const std::string& registration_b) {
  if (!uid_a.empty() && !uid_b.empty()) return uid_a == uid_b ? Same::yes : Same::no;
  if (!registration_a.empty() && !registration_b.empty())
    return registration_a == registration_b ? Same::yes : Same::no;
  return Same::unknown;
}

Same same_tow_vehicle(const rig::Session& a, const rig::Session& b) {
  const rig::TowVehicle &one = a.rig.tow_vehicle, &other = b.rig.tow_vehicle;
  if (!one.vin.empty() && one.vin == other.vin) return Same::yes;
  return same_vehicle(one.uid, one.registration, other.uid, other.registration);
}

Same same_trailer(const rig::Session& a, const rig::Session& b) {
  if (!a.rig.trailer || !b.rig.trailer) return a.rig.trailer || b.rig.trailer ? Same::no : Same::yes;
  const rig::Trailer &one = *a.rig.trailer, &other = *b.rig.trailer;
  return same_vehicle(one.uid, one.registration, other.uid, other.registration);
}

bool same_calibration(const rig::Scale& a, const rig::Scale& b) {
  return a.calibrated == b.calibrated && a.certificate == b.certificate;
}

namespace {

bool same_scale(const Side& before, const Observation& a, const Side& after, const Observation& b) {
  if (a.scales.size() != 1 || b.scales.size() != 1) return false;  // the gain of scales not named
  const rig::Scale* one = rig::find_scale(before.session, a.scales[0]);
  const rig::Scale* other = rig::find_scale(after.session, b.scales[0]);
  return one && other && !one->uid.empty() && one->uid == other->uid && same_calibration(*one, *other) &&
         one->gain.value_or(0) == other->gain.value_or(0);
}

class Matcher {
 public:
  Matcher(const Side& before, const Side& after, Same tow_vehicle, Same trailer)
      : before_(before),
        after_(after),
        tow_(tow_vehicle == Same::yes),
        trailer_(trailer == Same::yes),
        one_session_(before.session.id == after.session.id) {}

  [[nodiscard]] bool same(const Observation& a, const Observation& b) const {
    if (a.kind != b.kind) return false;
    if (one_session_ && standing_alike(a, b)) return true;
    switch (a.kind) {
      case ObservationKind::gain:
        return same_scale(before_, a, after_, b);
      case ObservationKind::wheelbase:
      case ObservationKind::overhang:
      case ObservationKind::cg_height:
        return tow_ && a.value == b.value;
      case ObservationKind::coupling_to_axles:
      case ObservationKind::coupling_to_jockey:
      case ObservationKind::height_sensitivity:
        return trailer_ && a.value == b.value;
      default:
        return false;
    }
  }

 private:
  /// In two revisions of one session: observed once, and not altered since.
  static bool standing_alike(const Observation& a, const Observation& b) {
    return a.id == b.id && a.state == b.state && a.at == b.at && a.scales == b.scales && a.value == b.value;
  }

  const Side &before_, &after_;
  bool tow_, trailer_, one_session_;
};

}  // namespace

std::vector<CommonError> common_errors(const Side& before, const Side& after, Same tow_vehicle,
                                       Same trailer) {
  const Matcher matcher(before, after, tow_vehicle, trailer);
  const auto &left = before.findings().observations, &right = after.findings().observations;
  std::vector<CommonError> out;
  std::vector<bool> taken(right.size(), false);
  for (std::size_t i = 0; i < left.size(); ++i)
    for (std::size_t k = 0; k < right.size(); ++k) {
      if (taken[k] || !matcher.same(left[i], right[k])) continue;
      taken[k] = true;
      CommonError& error = out.emplace_back(CommonError{i, k, std::min(left[i].u, right[k].u), left[i].kind});
      if (error.kind == ObservationKind::gain && left[i].scales.size() == 1)
        error.scale = rig::find_scale(before.session, left[i].scales[0])->uid;
      break;
    }
  return out;
}

double covariance(const Side& before, const reconcile::Quantity& a, const Side& after,
                  const reconcile::Quantity& b, const std::vector<CommonError>& common) {
  if (common.empty()) return 0;
  const auto left = before.reconciliation.sensitivities(a), right = after.reconciliation.sensitivities(b);
  if (!left || !right) return 0;
  double sum = 0;
  for (const CommonError& error : common)
    sum += (*left)[error.before] * (*right)[error.after] * error.u * error.u;
  return sum;
}

}  // namespace steelyard::compare
