#include "reports/fleet/audit_table.hpp"

#include "reports/fleet/content.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/figures.hpp"

namespace steelyard::reports {
namespace {

using fleet::counted;
using fleet::Source;

constexpr std::size_t most_breaches = 10, most_groups = 5;

std::string heading(const Source& source) {
  const audit::Totals& totals = source.totals;
  std::string out = paragraph("", "audit " + source.options.number + ": " +
                                      counted(totals.rate.weighed, "weighing", "weighings") + " of " +
                                      counted(totals.rigs, "rig", "rigs") + ", " +
                                      counted(totals.clients, "client", "clients") +
                                      (totals.first_day.empty() ? std::string()
                                                                : ", " + std::string(totals.first_day) + " to " +
                                                                      std::string(totals.last_day)));
  for (const Fact& one : source.subject.filter) out += paragraph("  ", printable(one.label + ": " + one.text));
  out += paragraph("", "outside a rating: " + std::to_string(totals.rate.outside) + " of " +
                           std::to_string(totals.rate.assessed) + " assessed, " + fleet::rate_words(totals.rate) +
                           (totals.rate.too_close > 0 ? "; " + std::to_string(totals.rate.too_close) +
                                                            " of these by less than the uncertainty"
                                                      : ""));
  return out;
}

std::string in_short(const Source& source, const audit::Rated& rated) {
  if (!rated.value) return "unknown";
  if (rated.measure == reconcile::Measure::one) return fleet::percent(*rated.value);
  const std::string all = in_figures(*rated.value, rated.u, rated.measure, source.options.units);
  return all.substr(0, all.find(" ± "));
}

std::string worst_lines(const Source& source) {
  if (source.breaches().empty()) return "\nNothing is outside a rating.\n";
  std::string out = "\nWorst first\n";
  std::size_t shown = 0;
  for (const audit::Breach& breach : source.breaches()) {
    if (shown++ == most_breaches) break;
    const audit::Entry& entry = source.entry(breach.entry);
    const audit::Rated& rated = entry.ratings[breach.rating];
    const std::string used = rated.used < 1e9 ? fleet::percent(rated.used) : "beyond";
    const std::string words = printable(fleet::rated_words(rated.of, rated.part, source.options.words));
    out += "  " + pad_right(printable(entry.day), 10) + " " + pad_right(cut(printable(fleet::rig_words(entry)), 28), 28) + " " +
           pad_right(cut(words, 20), 20) + " " + pad_left(in_short(source, rated), 8) + " " + pad_left(used, 7) + "\n";
  }
  if (source.breaches().size() > most_breaches)
    out += "  and " + std::to_string(source.breaches().size() - most_breaches) + " more: --to FILE.xlsx lists them all\n";
  return out;
}

std::string rate_lines(const Source& source, std::string_view title, audit::Division division) {
  const auto groups = audit::rates_by(source.entries(), division);
  if (groups.size() < 2) return {};
  std::string out = "\n" + std::string(title) + "\n";
  std::size_t shown = 0;
  for (const audit::GroupRate& one : groups) {
    if (shown++ == most_groups) break;
    out += "  " + pad_right(cut(printable(fleet::known(one.name)), 30), 30) + " " +
           pad_left(std::to_string(one.rate.outside) + " of " + std::to_string(one.rate.assessed), 14) + "  " +
           fleet::rate_words(one.rate) + "\n";
  }
  if (groups.size() > most_groups) out += "  and " + std::to_string(groups.size() - most_groups) + " more\n";
  return out;
}

std::string doubt_lines(const Source& source) {
  const audit::Totals& totals = source.totals;
  std::string out;
  const auto say = [&out](const std::string& words) { out += paragraph("  ", words); };
  if (totals.suspect > 0) say(counted(totals.suspect, "session has", "sessions have") + " readings that do not fit");
  if (totals.untested > 0) say(counted(totals.untested, "session has", "sessions have") + " nothing that checks its readings");
  if (totals.incomplete + totals.without_rating > 0)
    say(counted(totals.incomplete + totals.without_rating, "session has", "sessions have") + " ratings not assessed");
  if (totals.not_solved > 0) say(counted(totals.not_solved, "session has", "sessions have") + " no solution");
  const auto scales = audit::scales_out_of_date_of(source.entries());
  if (!scales.empty()) say(counted(scales.size(), "scale was", "scales were") + " used after being due");
  const auto offenders = audit::offenders_of(source.entries());
  if (!offenders.empty()) say(counted(offenders.size(), "rig was", "rigs were") + " outside a rating more than once");
  if (!source.subject.not_weighed.empty())
    say(counted(source.subject.not_weighed.size(), "known vehicle", "known vehicles") + " not weighed in this audit");
  return out.empty() ? out : "\nWhat else to know\n" + out;
}

}  // namespace

std::string audit_table(const FleetSubject& subject, const FleetOptions& options) {
  const Source source = fleet::source_of(subject, options);
  return heading(source) + worst_lines(source) + rate_lines(source, "By client", audit::Division::client) +
         rate_lines(source, "By place", audit::Division::place) + rate_lines(source, "By kind of rig", audit::Division::rig_kind) +
         rate_lines(source, "By technician", audit::Division::technician) + doubt_lines(source) +
         "\n" + paragraph("", "Each figure holds only for the rig as it was weighed; local law, makers and insurers come first.");
}

}  // namespace steelyard::reports
