#include "reports/result/suspects_json.hpp"

#include <string>

namespace steelyard::reports {
namespace {

using reconcile::Explanation;
using reconcile::Findings;

void write_member(JsonText& out, const Findings& findings, const reconcile::SuspectSet& set, std::size_t i) {
  const reconcile::SuspectMember& member = set.members[i];
  const reconcile::Observation& observation = findings.observations.at(member.observation);
  out.begin_object();
  out.field("kind", reconcile::to_text(observation.kind)).field("id", observation.id);
  out.field("state", observation.state).field("at", observation.at);
  out.field("estimated_error", member.estimated_error).field("likeliest", i == set.likeliest);
  out.key("without");
  if (member.main_figure_without) {
    out.begin_object();
    out.field("value", member.main_figure_without->first).field("u", member.main_figure_without->second);
    out.end_object();
  } else {
    out.null();
  }
  out.end_object();
}

void write_correction(JsonText& out, const Findings& findings, const Explanation::Correction& correction) {
  const reconcile::Observation& observation = findings.observations.at(correction.observation);
  out.field("id", observation.id).field("state", observation.state).field("at", observation.at);
  out.field("read", correction.read.kg().value()).field("meant", correction.meant.kg().value());
}

void write_explanation(JsonText& out, const Findings& findings, const Explanation& explanation) {
  const std::optional<double> none;
  const std::optional<std::string> no_text;
  out.begin_object();
  out.field("kind", reconcile::to_text(explanation.kind));
  if (explanation.corrections.empty()) {
    const auto aboard = [&]() -> std::optional<std::string> {
      if (!explanation.vehicle) return std::nullopt;
      return rig::to_text(rig::Position::whole(*explanation.vehicle));
    };
    out.field("id", no_text).field("state", explanation.state).field("at", aboard());
    out.field("read", none).field("meant", none);
  } else {
    write_correction(out, findings, explanation.corrections.front());
  }
  out.field("p_value", explanation.p_value).field("chi_square", explanation.chi_square);
  out.field("size", explanation.size).field("size_u", explanation.size_u);
  const bool moment = explanation.kind == reconcile::Blunder::weight_distribution_mislabelled;
  out.field("size_unit", explanation.size ? std::optional<std::string>(moment ? "kg·mm" : "kg") : no_text);
  out.field("scale", explanation.scale).field("exact", explanation.exact).field("tied", explanation.tied);
  out.key("with").begin_array();
  for (std::size_t i = 1; i < explanation.corrections.size(); ++i) {
    out.begin_object();
    write_correction(out, findings, explanation.corrections[i]);
    out.end_object();
  }
  out.end_array();
  out.end_object();
}

}  // namespace

void write_suspects(JsonText& out, const Findings& findings) {
  out.key("suspects").begin_array();
  for (const reconcile::SuspectSet& set : findings.suspects) {
    out.begin_object().key("set").begin_array();
    for (std::size_t i = 0; i < set.members.size(); ++i) write_member(out, findings, set, i);
    out.end_array();
    out.key("explanations").begin_array();
    for (const Explanation& explanation : set.explanations) write_explanation(out, findings, explanation);
    out.end_array();
    write_next_reading(out, set.next_reading, "suspects_after");
    out.end_object();
  }
  out.end_array();
}

void write_next_reading(JsonText& out, const std::optional<reconcile::NextReading>& next,
                        std::string_view after) {
  out.key("next_reading");
  if (!next) {
    out.null();
    return;
  }
  const bool reading = next->kind == reconcile::NextReading::Kind::reading;
  out.begin_object();
  out.field("kind", std::string_view(reading ? "reading" : "overhang"));
  out.field("state", reading ? std::optional(next->state) : std::nullopt);
  out.field("at", next->at ? std::optional(rig::to_text(*next->at)) : std::nullopt);
  out.key("scale").begin_array();
  for (const std::string& scale : next->scales) out.value(scale);
  out.end_array();
  out.field("again", next->again).field("new_state", next->new_state).field(after, next->after);
  out.end_object();
}

}  // namespace steelyard::reports
