// The checks that people make with a pencil, each a plain sentence, and what raising the coupling does.
#include <cmath>

#include "reconcile/cross_checks.hpp"
#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using reconcile::CrossCheck;
using reconcile::Measure;
using Way = CrossCheck::Way;

constexpr double z95 = 1.959964;  // as the model prints it

/// "4809 kg"; a difference or a ratio in the decimals its u deserves.
std::string figure(const Subject& subject, double value, double u, Measure measure) {
  const std::string unit = subject.figures.unit(measure);
  return subject.figures.alone(value, u, measure) + (unit.empty() ? "" : ' ' + unit);
}

std::string named(const std::string& state) {
  return '"' + printable(state) + '"';
}

/// Whose value it is, where two of three are named.
std::string_view whose(Way way) {
  switch (way) {
    case Way::tow_gain:
      return "the tow vehicle's";
    case Way::support:
      return "the coupling's";
    case Way::jockey:
      return "the jockey wheel's";
    case Way::trailer_loss:
      return "the trailer's";
    default:
      return "";
  }
}

/// "they agree (3 kg apart, up to 14 expected)." Every figure of a check has the decimals of its difference.
std::string verdict(const Subject& subject, const CrossCheck& check) {
  std::string out = check.agrees ? "they agree (" : "they do NOT agree (";
  if (check.values.size() > 2) {
    out += subject.wording(whose(check.values.at(check.one).way));
    out += " and ";
    out += subject.wording(whose(check.values.at(check.other).way));
    out += " are the least alike: ";
  }
  return out + figure(subject, std::abs(check.difference), check.u, check.measure) + " apart, up to " +
         subject.figures.alone(z95 * check.u, check.u, check.measure) + " expected).";
}

std::string combination(const Subject& subject, const CrossCheck& check) {
  return "Vehicle and trailer weighed apart make " +
         figure(subject, check.values[1].value, check.u, check.measure) + ", hitched (" +
         named(check.states[0]) + ") " + figure(subject, check.values[0].value, check.u, check.measure) +
         ": ";
}

std::string_view way_words(Way way) {
  switch (way) {
    case Way::tow_gain:
      return "by what the tow vehicle gains";
    case Way::support:
      return "as read under the coupling";
    case Way::jockey:
      return "from the jockey wheel by its lever";
    case Way::trailer_loss:
      return "by what the trailer's axles lose";
    default:
      return "";
  }
}

/// ", 50 mm higher": how a state's coupling height differs from another's, where both are known.
std::string height_apart(const Subject& subject, const std::string& state, const std::string& from) {
  const rig::State *here = rig::find_state(subject.session, state),
                   *there = rig::find_state(subject.session, from);
  if (!here || !there || !here->coupling_height || !there->coupling_height) return {};
  const double apart = here->coupling_height->value.mm().value() - there->coupling_height->value.mm().value();
  if (apart == 0) return {};
  return ", " + figure(subject, std::abs(apart), 5, Measure::millimetre) + (apart > 0 ? " higher" : " lower");
}

std::string coupling_load(const Subject& subject, const CrossCheck& check) {
  std::string out = subject.wording("The coupling load in ") + named(check.states[0]);
  const char* before = " is ";
  for (const CrossCheck::Value& value : check.values) {
    out += before + figure(subject, value.value, check.u, check.measure) + ' ' +
           subject.wording(way_words(value.way));
    if (value.way == Way::support || value.way == Way::jockey)
      out += " (" + named(check.states[1]) + height_apart(subject, check.states[1], check.states[0]) + ')';
    before = ", ";
  }
  return out + ": ";
}

std::string overhang(const Subject& subject, const CrossCheck& check) {
  return "What the front axle loses in " + named(check.states[0]) + " means an overhang of " +
         figure(subject, check.values[0].value, check.u, check.measure) + ", the tape says " +
         figure(subject, check.values[1].value, check.u, check.measure) + ": ";
}

std::string weight_distribution(const Subject& subject, const CrossCheck& check) {
  return subject.wording("Weight distribution in ") + named(check.states[0]) + " gives the front axle back " +
         figure(subject, check.values[0].value, check.u, check.measure) +
         " times what the trailer's axles gain, the lengths say " +
         figure(subject, check.values[1].value, check.u, check.measure) + ": ";
}

std::string sentence(const Subject& subject, const CrossCheck& check) {
  switch (check.kind) {
    case CrossCheck::Kind::combination:
      return combination(subject, check) + verdict(subject, check);
    case CrossCheck::Kind::coupling_load:
      return coupling_load(subject, check) + verdict(subject, check);
    case CrossCheck::Kind::overhang:
      return overhang(subject, check) + verdict(subject, check);
    case CrossCheck::Kind::weight_distribution:
      return weight_distribution(subject, check) + verdict(subject, check);
  }
  return {};
}

/// What raising the coupling does, and whether the suspension would. Statics of springs: an independently
/// sprung group takes the moment of a raised nose on its axles and loads the coupling, the others let it
/// turn.
std::string height(const Subject& subject) {
  const reconcile::Quantity* found = subject.findings.find("height_sensitivity");
  if (!found || !found->determinable || !subject.session.rig.trailer) return {};
  const bool inches = subject.wording.shown.length == units::LengthUnit::inch;
  const double step = inches ? 4 * units::millimetres_per_inch : 100;
  const std::string by = inches ? "4 in" : "100 mm";
  const auto load = [&](double value) { return figure(subject, value, found->u * step, Measure::kilogram); };
  if (std::abs(found->value) <= z95 * found->u)
    return "Raising the coupling by " + by + " changes its load by less than can be told (" +
           subject.figures.with_u(found->value * step, found->u * step, Measure::kilogram) + ' ' +
           subject.figures.unit(Measure::kilogram) + ").";
  const rig::Trailer& trailer = *subject.session.rig.trailer;
  const bool independent = trailer.suspension_or_default() == rig::Suspension::independent;
  const bool adds = found->value > 0;
  std::string out = "Raising the coupling by " + by + (adds ? " adds " : " takes ") +
                    load(std::abs(found->value) * step) + (adds ? " there, as " : " off, as ") +
                    (adds ? "an independently sprung pair does" : "a single axle or load-sharing group does");
  if (adds == independent) return out + '.';
  const std::string entered = trailer.suspension ? "entered" : "assumed, as none was entered,";
  return out + ". The suspension " + entered +
         " would do the opposite: check the suspension and the heights.";
}

}  // namespace

std::string cross_checks_section(const Subject& subject) {
  std::string body;
  bool all_agree = true;
  for (const CrossCheck& check : reconcile::cross_checks(subject.session, subject.findings)) {
    body += paragraph("  ", sentence(subject, check));
    all_agree = all_agree && check.agrees;
  }
  if (!all_agree && subject.findings.fit.consistent.value_or(false))
    body += paragraph("  ", "One check in twenty disagrees by chance; all readings taken together agree.");
  const std::string raised = height(subject);
  if (!raised.empty()) body += paragraph("  ", raised);
  return body.empty() ? "" : "Checks with a pencil, straight from the readings\n" + body;
}

}  // namespace steelyard::reports
