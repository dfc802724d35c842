#include "reports/result/scales_json.hpp"

#include "assess/scale_checks.hpp"

namespace steelyard::reports {
namespace {

std::optional<std::string> if_given(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

void write_held(JsonText& out, std::string_view name, const std::optional<assess::HeldAgainst>& figure) {
  out.key(name);
  if (!figure) {
    out.null();
    return;
  }
  out.begin_object().field("value", figure->value).field("allowed", figure->allowed);
  out.field("beyond", figure->beyond).end_object();
}

void write_check_weight(JsonText& out, const assess::WeightCheck& check) {
  out.begin_object().field("mass", check.mass).field("load", check.load);
  out.field("difference", check.difference.value).field("allowed", check.difference.allowed);
  out.field("rule", check.rule == assess::CheckRule::class_in_service ? "class_in_service" : "uncertainty");
  out.field("beyond", check.difference.beyond).end_object();
}

}  // namespace

void write_scales(JsonText& out, const rig::Session& session) {
  out.key("scales").begin_array();
  for (const assess::ScaleCheck& check : assess::scale_checks(session)) {
    const rig::Scale& scale = session.scales.at(check.scale);
    out.begin_object().field("id", scale.id).field("uid", if_given(scale.uid)).field("used", check.used);
    out.field("calibrated", if_given(scale.calibrated)).field("due", if_given(scale.due));
    out.field("out_of_date", check.out_of_date);
    write_held(out, "zero", check.zero);
    write_held(out, "zero_drift", check.zero_drift);
    out.key("check_weights").begin_array();
    for (const assess::WeightCheck& one : check.check_weights) write_check_weight(out, one);
    out.end_array().end_object();
  }
  out.end_array();
}

}  // namespace steelyard::reports
