#include "reports/table/comparison_sections.hpp"

#include <map>
#include <set>
#include <vector>

#include "reports/table/limit_words.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/figures.hpp"
#include "reports/words/terms.hpp"

namespace steelyard::reports {
namespace {

using compare::LimitCompared;
using compare::LimitSide;
using Subject = ComparisonSubject;

constexpr std::size_t name_width = 34, was_width = 12, is_width = 12;
constexpr std::size_t check_width = 32, declared_width = 10, found_width = 10, beyond_width = 17;

std::string limit_name(const LimitCompared& row) {
  std::string out = limit_in_words(row.limit, {});
  return row.advice ? out + " (advice)" : out;
}

std::string rating(const Subject& subject, const LimitCompared& row, const std::optional<LimitSide>& side) {
  if (!side) return "none";
  if (!side->rating) return "?";
  const bool percent = shown_as_percent(row.limit);
  const std::string unit = subject.figures.unit(row.measure, percent);
  const bool plain = unit == subject.figures.unit(reconcile::Measure::kilogram);
  return subject.figures.rating(*side->rating, row.measure, percent) + (plain ? "" : " " + unit);
}

std::string outcome(const Subject& subject, const LimitCompared& row, const LimitSide& side) {
  std::string out(assess::in_words(side.outcome, row.minimum));
  if (side.margin)
    out += ", margin " + subject.figures.with_u(*side.margin, side.u, row.measure, shown_as_percent(row.limit));
  return out;
}

std::string one_limit(const Subject& subject, const LimitCompared& row) {
  std::string out = (row.changed() ? "≠ " : "  ") + pad_right(cut(limit_name(row), name_width - 1), name_width) +
                    pad_left(rating(subject, row, row.before), was_width) +
                    pad_left(rating(subject, row, row.after), is_width);
  out += row.added() ? "  added" : row.removed() ? "  removed" : row.rating_changed() ? "  other rating" : "";
  std::string more;
  if (const auto& state = row.state_after ? row.state_after : row.state_before) more += printable(*state) + "; ";
  if (row.before) more += "before: " + outcome(subject, row, *row.before);
  if (row.after) more += (row.before ? "; after: " : "after: ") + outcome(subject, row, *row.after);
  if (row.rating_changed() && !row.after->source.empty()) more += "; " + printable(row.after->source);
  return out + '\n' + paragraph("      ", more);
}

void modification_lines(const Subject& subject, std::string& out, std::string_view sign,
                        const std::vector<rig::Modification>& all) {
  const Figures& figures = subject.figures;
  using reconcile::Measure;
  for (const rig::Modification& one : all) {
    std::string text = printable(one.what);
    text += one.mass ? ", " + figures.rating(one.mass->kg().value(), Measure::kilogram) + ' ' +
                           figures.unit(Measure::kilogram)
                     : std::string(", no mass declared");
    if (one.at)
      text += ", " + figures.rating(one.at->mm().value(), Measure::millimetre) + ' ' +
              figures.unit(Measure::millimetre) + " behind the first axle";
    if (!one.certificate.empty()) text += ", certificate " + printable(one.certificate);
    out += paragraph(sign, text);
  }
}

std::string check_line(const Subject& subject, const compare::Fitted::Check& check) {
  const Figures& figures = subject.figures;
  constexpr auto kilogram = reconcile::Measure::kilogram;
  std::string out = "  " + pad_right(cut(quantity_words(check.name), check_width - 3), check_width - 2);
  out += pad_left(figures.alone(check.declared, check.beyond.u, kilogram), declared_width);
  out += pad_left(figures.alone(check.found.value, check.found.u, kilogram), found_width);
  out += pad_left(signed_difference(figures, check.beyond, kilogram), beyond_width);
  const auto significant = check.beyond.significant();
  return out + (!significant ? "" : *significant ? "  ≠ differs" : "  ≈ fits") + '\n';
}

std::string worth(const Subject& subject, const compare::Unlike& row) {
  if (!row.size) return printable(row.worth);
  constexpr auto kilogram = reconcile::Measure::kilogram;
  const Figures& figures = subject.figures;
  const std::string size = row.size->value == 0
                               ? "± " + figures.alone(2 * row.size->u, row.size->u, kilogram)
                               : signed_difference(figures, {row.size->value, row.size->u}, kilogram);
  return size + ' ' + figures.unit(kilogram) + ' ' + printable(row.worth);
}

}  // namespace

std::string differing_limits_section(const Subject& subject) {
  std::string changed, standing;
  int alike = 0;
  for (const LimitCompared& row : subject.all.limits) {
    if (row.changed())
      changed += one_limit(subject, row);
    else if (row.travels && !row.advice && row.after->outcome != assess::Outcome::pass)
      standing += one_limit(subject, row);
    else
      ++alike;
  }
  if (changed.empty() && standing.empty() && alike == 0) return {};
  std::string out = pad_right("Limits, " + subject.figures.unit(reconcile::Measure::kilogram), name_width + 2) +
                    pad_left("before", was_width) + pad_left("after", is_width) + '\n';
  out += changed.empty() ? std::string("  none was added, removed or rated otherwise, none comes out otherwise\n") : changed;
  out += standing;
  if (alike > 0)
    out += paragraph("  ", std::to_string(alike) + (changed.empty() && standing.empty() ? "" : " more") +
                               (alike == 1 ? " comes" : " come") + " out as before");
  return out;
}

std::string fitted_section(const Subject& subject) {
  const compare::Fitted& fitted = subject.all.fitted;
  if (fitted.nothing()) return {};
  std::string out = "Fitted and taken off, as declared\n";
  modification_lines(subject, out, "  + ", fitted.added);
  modification_lines(subject, out, "  − ", fitted.removed);
  if (!fitted.checks.empty()) {
    out += pad_right("  against the scales", check_width) + pad_left("declared", declared_width) +
           pad_left("found", found_width) + pad_left("beyond ± U", beyond_width) + '\n';
    for (const compare::Fitted::Check& check : fitted.checks) out += check_line(subject, check);
  }
  std::string note;
  if (fitted.without_mass > 0)
    note += std::to_string(fitted.without_mass) + " without a mass: what it weighs is not among the declared. ";
  if (fitted.without_place > 0)
    note += std::to_string(fitted.without_place) +
            " without a place: taken to be on the tow vehicle, and not split between its axles. ";
  if (!fitted.checks.empty())
    note += "A declared mass counts as exact; fuel, people and load that differ are in \"found\".";
  return note.empty() ? out : out + paragraph("  ", note);
}

std::string unlike_section(const Subject& subject) {
  if (subject.all.unlike.empty()) return {};
  std::string out = "Not comparable, or not known to be\n";
  const auto said = [](const std::optional<std::string>& text) { return text ? printable(*text) : "not given"; };
  for (const compare::Unlike& row : subject.all.unlike) {
    std::string text = printable(row.what) + ": ";
    text += row.before == row.after ? said(row.before) + (row.before ? "" : " at either")
                                    : "before " + said(row.before) + "; after " + said(row.after);
    if (!row.worth.empty()) text += " (" + worth(subject, row) + ')';
    out += paragraph("  - ", text);
  }
  return out;
}

std::string one_sided_section(const Subject& subject) {
  std::string out;
  std::map<std::string, std::vector<std::string>> by_reason;
  for (const compare::Compared& row : subject.all.quantities) {
    if (row.before.has_value() == row.after.has_value()) continue;
    std::string name = quantity_words(row.name);
    if (row.at) name += ", " + place_words(*row.at);
    const auto& state = row.before ? row.state_before : row.state_after;
    if (state) name += " (" + *state + ')';
    const bool before = row.before.has_value();
    by_reason[(before ? "only before; after: " : "only after; before: ") +
              (before ? row.reason_after : row.reason_before).value_or("")]
        .push_back(name);
  }
  for (const auto& [reason, names] : by_reason) {
    std::string text;
    for (const std::string& name : names) text += (text.empty() ? "" : "; ") + name;
    out += paragraph("  - ", printable(text)) + paragraph("      ", printable(reason));
  }
  return out.empty() ? "" : "Known on one side only\n" + out;
}

std::string common_section(const Subject& subject) {
  std::set<std::string> scales, others;
  for (const compare::CommonError& error : subject.all.common)
    if (!error.scale.empty())
      scales.insert(error.scale);
    else
      others.insert(observation_words(error.kind));
  std::string text;
  const auto add = [&](const std::set<std::string>& names) {
    for (const std::string& name : names) text += (text.empty() ? "" : ", ") + printable(name);
  };
  add(scales);
  add(others);
  if (text.empty())
    return paragraph("", "U of a difference: no error is known to be common to both weighings, so both count in full.");
  return paragraph("", "U of a difference: what is common to both weighings does not count twice: " + text + '.');
}

}  // namespace steelyard::reports
