// steelyard-audit/1: the audit's findings for other programs. Canonical names, kg and mm, shortest round-trip figures.
#include "audit/fleet.hpp"
#include "reports/fleet/content.hpp"
#include "reports/result/json_text.hpp"

namespace steelyard::reports {
namespace {

using fleet::Source;

std::optional<std::string> or_null(std::string_view text) {
  return text.empty() ? std::nullopt : std::optional(std::string(text));
}

std::int64_t whole(std::size_t number) {
  return static_cast<std::int64_t>(number);
}

void put_rate(JsonText& out, const audit::Rate& rate) {
  out.field("weighed", whole(rate.weighed)).field("assessed", whole(rate.assessed)).field("outside", whole(rate.outside));
  out.field("too_close", whole(rate.too_close));
  const bool any = rate.assessed > 0;
  out.field("rate", any ? std::optional(rate.share()) : std::nullopt);
  out.key("interval");
  if (!any)
    out.null();
  else
    out.begin_array().value(rate.low).value(rate.high).end_array();
}

void put_rates(JsonText& out, std::string_view name, const Source& source, audit::Division division) {
  out.key(name).begin_array();
  for (const audit::GroupRate& one : audit::rates_by(source.entries(), division)) {
    out.begin_object().field("name", or_null(one.name));
    put_rate(out, one.rate);
    out.end_object();
  }
  out.end_array();
}

void put_trend(JsonText& out, const Source& source) {
  const audit::Trend trend = audit::trend_of(source.entries());
  out.key("trend").begin_object();
  out.field("period", trend.period == audit::Period::month     ? "month"
                      : trend.period == audit::Period::quarter ? "quarter"
                                                               : "year");
  out.key("periods").begin_array();
  for (const audit::PeriodRate& one : trend.periods) {
    out.begin_object().field("name", one.name);
    put_rate(out, one.rate);
    out.end_object();
  }
  out.end_array().field("undated", whole(trend.undated)).end_object();
}

void put_breaches(JsonText& out, const Source& source) {
  out.key("breaches").begin_array();
  for (const audit::Breach& breach : source.breaches()) {
    const audit::Entry& entry = source.entry(breach.entry);
    const audit::Rated& rated = entry.ratings[breach.rating];
    out.begin_object().field("session", entry.id).field("revision", entry.revision).field("weighed_on", or_null(entry.day));
    out.field("of", rated.of).field("part", or_null(rated.part)).field("rating", rated.rating).field("value", rated.value);
    out.field("u", rated.u).field("unit", reconcile::symbol(rated.measure)).field("outcome", assess::to_text(rated.outcome));
    out.field("used", rated.used < 1e9 ? std::optional(rated.used) : std::nullopt);
    out.field("band", breach.band ? std::optional(breach.band->name) : std::nullopt).field("suspect", rated.suspect);
    out.end_object();
  }
  out.end_array();
}

template <std::size_t Bins>
void put_counts(JsonText& out, const std::array<std::size_t, Bins>& counts) {
  out.key("counts").begin_array();
  for (const std::size_t one : counts) out.value(whole(one));
  out.end_array();
}

void put_distributions(JsonText& out, const Source& source) {
  out.key("utilisation").begin_array();
  for (const audit::Utilisation& one : audit::utilisation_of(source.entries())) {
    out.begin_object().field("of", one.of).field("weighings", whole(one.count)).field("outside", whole(one.outside));
    out.field("median", one.median).field("ninetieth", one.ninetieth);
    put_counts(out, one.counts);
    out.end_object();
  }
  out.end_array();
  const audit::ShareDistribution shares = audit::coupling_shares_of(source.entries());
  out.key("coupling_share").begin_object().field("weighings", whole(shares.count));
  const bool any = shares.count > 0;
  out.field("tenth", any ? std::optional(shares.tenth) : std::nullopt);
  out.field("median", any ? std::optional(shares.median) : std::nullopt);
  out.field("ninetieth", any ? std::optional(shares.ninetieth) : std::nullopt);
  put_counts(out, shares.counts);
  out.end_object();
}

void put_offenders(JsonText& out, const Source& source) {
  out.key("outside_again").begin_array();
  for (const audit::Offender& one : audit::offenders_of(source.entries())) {
    out.begin_object().field("tow_vehicle", or_null(one.tow)).field("trailer", or_null(one.trailer));
    out.field("weighed", whole(one.weighings)).field("outside", whole(one.outside));
    out.field("worst", source.entry(one.worst_entry).id).field("last", source.entry(one.last_entry).id).end_object();
  }
  out.end_array();
}

void put_doubts(JsonText& out, const Source& source) {
  out.key("not_assessed").begin_array();
  for (const audit::NotAssessed& one : audit::not_assessed_of(source.entries()))
    out.begin_object()
        .field("of", one.of)
        .field("reason", or_null(one.reason))
        .field("sessions", whole(one.sessions))
        .end_object();
  out.end_array().key("not_weighed").begin_array();
  for (const NotWeighed& one : source.subject.not_weighed)
    out.begin_object()
        .field("what", one.what)
        .field("uid", or_null(one.uid))
        .field("label", or_null(one.label))
        .field("last_weighed", or_null(one.last_day))
        .end_object();
  out.end_array().key("suspect_sessions").begin_array();
  for (const audit::Entry& entry : source.entries())
    if (entry.suspect) out.value(entry.id);
  out.end_array().key("not_solved").begin_array();
  for (const audit::Entry& entry : source.entries())
    if (!entry.not_solved.empty()) out.value(entry.id);
  out.end_array().key("scales_out_of_date").begin_array();
  for (const audit::ScaleUse& one : audit::scales_out_of_date_of(source.entries()))
    out.begin_object()
        .field("uid", or_null(one.uid))
        .field("name", or_null(one.name))
        .field("due", or_null(one.due))
        .field("sessions", whole(one.sessions))
        .end_object();
  out.end_array();
}

}  // namespace

std::string audit_json(const FleetSubject& subject, const FleetOptions& options) {
  const Source source = fleet::source_of(subject, options);
  const audit::Totals& totals = source.totals;
  JsonText out;
  out.begin_object().field("format", "steelyard-audit/1").field("engine", options.engine).field("number", options.number);
  out.key("total").begin_object();
  put_rate(out, totals.rate);
  out.field("rigs", whole(totals.rigs)).field("clients", whole(totals.clients)).field("suspect", whole(totals.suspect));
  out.field("untested", whole(totals.untested)).field("incomplete", whole(totals.incomplete));
  out.field("without_rating", whole(totals.without_rating)).field("not_solved", whole(totals.not_solved));
  out.field("first_day", or_null(totals.first_day)).field("last_day", or_null(totals.last_day)).end_object();
  put_breaches(out, source);
  put_rates(out, "by_client", source, audit::Division::client);
  put_rates(out, "by_place", source, audit::Division::place);
  put_rates(out, "by_kind_of_rig", source, audit::Division::rig_kind);
  put_rates(out, "by_technician", source, audit::Division::technician);
  put_rates(out, "by_purpose", source, audit::Division::purpose);
  put_trend(out, source);
  put_distributions(out, source);
  put_offenders(out, source);
  put_doubts(out, source);
  out.end_object();
  return out.text();
}

}  // namespace steelyard::reports
