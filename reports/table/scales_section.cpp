// What the session says against its own scales; nothing where it says nothing.
#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/scales.hpp"

namespace steelyard::reports {

std::string scales_section(const Subject& subject) {
  std::string out, not_calibrated;
  for (const assess::ScaleCheck& check : assess::scale_checks(subject.session)) {
    const rig::Scale& scale = subject.session.scales.at(check.scale);
    for (const assess::ScaleFlag& flag : check.flags) {
      if (flag.kind == assess::ScaleFlagKind::not_calibrated)
        not_calibrated += (not_calibrated.empty() ? "" : ", ") + scale.id;
      else
        out += paragraph("  - ",
                         printable(scale_name(scale) + (check.used ? "" : ", not used") + ": " +
                                   scale_flag_words(subject.session, check, flag, subject.wording.shown)));
    }
  }
  if (!not_calibrated.empty())
    out += paragraph("  - ", "No day of calibration is given: " + printable(not_calibrated));
  return out.empty() ? out : "Scales\n" + out;
}

}  // namespace steelyard::reports
