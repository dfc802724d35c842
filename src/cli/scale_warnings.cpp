#include "cli/scale_warnings.hpp"

#include "assess/scale_checks.hpp"
#include "reports/words/scales.hpp"

namespace steelyard::cli {
namespace {

constexpr std::size_t most = 20;  // of a whole fleet; a screen holds as many

}  // namespace

void ScaleWarnings::add(const rig::Session& session, const rig::Scale& scale) {
  const std::string name = reports::scale_name(scale);
  const auto [found, added] = known_.emplace(std::pair(name, scale.due), warnings_.size());
  if (added)
    warnings_.push_back({"scale " + name + ' ' + reports::out_of_date_words(scale, session), session.id});
  else if (warnings_[found->second].session != session.id)
    ++warnings_[found->second].more;
}

void ScaleWarnings::look_at(const rig::Session& session) {
  for (const assess::ScaleCheck& check : assess::scale_checks(session))
    if (check.used && check.out_of_date.value_or(false)) add(session, session.scales[check.scale]);
}

void ScaleWarnings::look_at(const rig::Session& session, const rig::Reading& reading) {
  for (const std::string& id : reading.scales) {
    const rig::Scale* const scale = rig::find_scale(session, id);
    if (scale && assess::is_out_of_date(*scale, session)) add(session, *scale);
  }
}

void ScaleWarnings::say(Messages& messages) const {
  for (std::size_t i = 0; i < warnings_.size() && i < most; ++i) {
    const Warning& warning = warnings_[i];
    messages.warn(warning.words + " (session " + warning.session +
                  (warning.more > 0 ? " and " + std::to_string(warning.more) + " more" : "") + ')');
  }
  if (warnings_.size() > most)
    messages.warn(std::to_string(warnings_.size() - most) + " more scales were used out of date");
}

}  // namespace steelyard::cli
