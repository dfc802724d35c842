// What was fitted or taken off, by its declared mass, against what the axles show.
#include <algorithm>
#include <cmath>

#include "compare/parts.hpp"

namespace steelyard::compare {
namespace {

using rig::Modification;

/// Apart by no more than figures that were converted between kg and lb, or mm and in.
bool alike(double a, double b) {
  return std::abs(a - b) <= 1e-9 * std::max(std::abs(a), std::abs(b));
}

bool same_thing(const Modification& a, const Modification& b) {
  return a.what == b.what && a.certificate == b.certificate && a.mass.has_value() == b.mass.has_value() &&
         (!a.mass || alike(a.mass->kg().value(), b.mass->kg().value())) && a.at.has_value() == b.at.has_value() &&
         (!a.at || alike(a.at->mm().value(), b.at->mm().value()));
}

/// Those of `all` that `others` has not; of equal ones as many as there are more.
std::vector<Modification> more(const std::vector<Modification>& all, std::vector<Modification> others) {
  std::vector<Modification> out;
  for (const Modification& one : all) {
    const auto found =
        std::find_if(others.begin(), others.end(), [&](const Modification& other) { return same_thing(one, other); });
    if (found == others.end())
      out.push_back(one);
    else
      others.erase(found);
  }
  return out;
}

/// Behind the first axle, mm: the centre of the front axles, and that of the rear ones.
std::pair<double, double> group_centres(const rig::TowVehicle& vehicle) {
  double sum[2] = {0, 0};
  int count[2] = {0, 0};
  for (const rig::Axle& axle : vehicle.axles) {
    const std::size_t group = axle.group == rig::Group::front ? 0 : 1;
    sum[group] += axle.at.mm().value() - vehicle.axles.front().at.mm().value();
    ++count[group];
  }
  return {sum[0] / count[0], sum[1] / count[1]};
}

class Checking {
 public:
  explicit Checking(Comparison& out) : out_(out), fitted_(out.fitted) {}

  void add(const std::vector<Modification>& all, double sign) {
    for (const Modification& one : all) {
      if (!one.mass) {
        ++fitted_.without_mass;
        continue;
      }
      const double mass = sign * one.mass->kg().value();
      mass_ += mass;
      any_ = true;
      if (one.at)
        moment_ += mass * one.at->mm().value();
      else if (mass != 0)
        ++fitted_.without_place;
    }
  }

  void check(const rig::Session& after) {
    if (!any_) return;
    fitted_.mass = mass_;
    if (fitted_.without_place == 0) fitted_.moment = moment_;
    hold("tow_unhitched_total", mass_);
    if (fitted_.moment) {
      const auto [front, rear] = group_centres(after.rig.tow_vehicle);
      const double on_rear = (moment_ - mass_ * front) / (rear - front);  // moments about the front axles' centre
      hold("tow_unhitched_front", mass_ - on_rear);
      hold("tow_unhitched_rear", on_rear);
    }
    if (!after.rig.trailer || out_.trailer == Same::no) return;
    hold("trailer_mass", 0);
    hold("combination_mass", mass_);
  }

 private:
  void hold(std::string_view name, double declared) {
    const Compared* found = out_.find(name);
    if (!found || !found->difference) return;
    Difference beyond = *found->difference;
    beyond.value -= declared;
    if (beyond.en) beyond.en = beyond.value / (2 * beyond.u);
    fitted_.checks.push_back({std::string(name), declared, *found->difference, beyond});
  }

  Comparison& out_;
  Fitted& fitted_;
  double mass_ = 0, moment_ = 0;
  bool any_ = false;
};

}  // namespace

void check_fitted(const Side& before, const Side& after, Comparison& out) {
  out.fitted.added = more(after.session.modifications, before.session.modifications);
  out.fitted.removed = more(before.session.modifications, after.session.modifications);
  Checking checking(out);
  checking.add(out.fitted.added, 1);
  checking.add(out.fitted.removed, -1);
  checking.check(after.session);
}

}  // namespace steelyard::compare
