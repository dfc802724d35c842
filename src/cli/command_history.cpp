#include "cli/command_history.hpp"

#include <algorithm>

#include "cli/solve.hpp"
#include "reconcile/reconcile.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/figures.hpp"

namespace steelyard::cli {
namespace {

using reports::pad_left;
using reports::pad_right;
using reports::printable;

struct Weighing {
  store::Summary summary;
  std::optional<Solved> solved;  // none where the readings give no solution
};

const reconcile::Quantity* find(const Weighing& one, std::string_view name) {
  if (!one.solved) return nullptr;
  const auto& all = one.solved->findings.quantities;
  const auto found = std::find_if(all.begin(), all.end(), [&](const reconcile::Quantity& quantity) {
    return quantity.name == name && !quantity.state && quantity.determinable;
  });
  return found == all.end() ? nullptr : &*found;
}

std::string figure(const Weighing& one, std::string_view name) {
  const reconcile::Quantity* const quantity = find(one, name);
  if (!quantity) return "not known";
  const rig::SheetUnits units = one.solved->session.units;
  return reports::in_figures(quantity->value, quantity->u, quantity->measure, {units.load, units.length});
}

std::string outcome(const Weighing& one) {
  return one.solved ? std::string(assess::to_text(one.solved->assessment.outcome)) : "no solution";
}

void write_figure(reports::JsonText& out, const Weighing& one, std::string_view name) {
  const reconcile::Quantity* const quantity = find(one, name);
  out.key(name);
  if (quantity)
    out.begin_object().field("value", quantity->value).field("u", quantity->u).field("unit", "kg").end_object();
  else
    out.null();
}

std::string as_json(const Weighing& one) {
  const auto maybe = [](const std::string& text) { return text.empty() ? std::nullopt : std::optional(text); };
  reports::JsonText out;
  out.begin_object().field("session", one.summary.id).field("revision", one.summary.revision);
  out.field("sealed", one.summary.sealed).field("weighed_at", maybe(one.summary.weighed_at));
  out.field("place", maybe(one.summary.place)).field("tow_vehicle", maybe(one.summary.tow_vehicle));
  out.field("trailer", maybe(one.summary.trailer));
  out.field("outcome", one.solved ? std::optional(outcome(one)) : std::nullopt);
  for (const std::string_view name : {"combination_mass", "coupling_load"}) write_figure(out, one, name);
  return out.end_object().text();
}

std::string in_words(const Weighing& one) {
  const store::Summary& summary = one.summary;
  std::string with = printable(summary.tow_vehicle);
  if (!summary.trailer.empty()) with += " with " + printable(summary.trailer);
  std::string first = printable(summary.weighed_at.substr(0, 10)) + "  " + printable(summary.id.substr(0, 8)) + "@" +
                      std::to_string(summary.revision) + (summary.sealed ? " sealed" : "") + "  " + outcome(one);
  std::string out = reports::cut(first, reports::table_width) + "\n";
  out += reports::paragraph("            ", with + (summary.place.empty() ? "" : ", at " + printable(summary.place)));
  return out + "            combination " + figure(one, "combination_mass") + ", coupling load " +
         figure(one, "coupling_load") + "\n";
}

}  // namespace

About CommandHistory::about() const {
  return {"history", "UID [--store FILE] [--json]", "the weighings of one vehicle, trailer, scale or client",
          "Every session in which a tow vehicle, trailer, scale or client of that uid took part, in order of weighing, "
          "with the outcome, the combination's mass and the coupling load as they are computed now."};
}

void CommandHistory::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "one JSON object a line");
}

void CommandHistory::take(const std::vector<std::string>& words) {
  expect(words, 1, 1);
  uid_ = words[0];
}

Exit CommandHistory::run(Streams& streams) {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  std::vector<store::Summary> all;
  for (const auto kind : {store::RegisterKind::tow_vehicle, store::RegisterKind::trailer, store::RegisterKind::scale,
                          store::RegisterKind::client})
    if (all.empty()) all = store.history(kind, uid_);
  if (all.empty())
    throw Refusal("no session has a vehicle, trailer, scale or client with the uid " + printable(uid_) +
                  "; steelyard register shows those there are");
  for (const store::Summary& summary : all) {
    Weighing one{summary, {}};
    try {
      one.solved = solve(store.load(summary.id));
    } catch (const reconcile::NotSolved&) {
      // The line says so; the other weighings go on.
    }
    if (json_.wanted())
      streams.out.line(as_json(one));
    else
      streams.out.write(in_words(one));
  }
  return Exit::done;
}

}  // namespace steelyard::cli
