#include "reports/table/result_table.hpp"

#include <initializer_list>

#include "reports/table/sections.hpp"
#include "reports/words/terminal_text.hpp"
#include "reports/words/record.hpp"

namespace steelyard::reports {
namespace {

std::string outcome_line(const Subject& subject) {
  const assess::Assessment& assessment = subject.assessment;
  std::string text(assess::in_words(assessment.outcome));
  if (assessment.travels_in) text += "; travels as \"" + printable(*assessment.travels_in) + '"';
  text += "; " + std::to_string(assessment.assessed) + " limits assessed";
  if (assessment.not_assessed > 0) text += ", " + std::to_string(assessment.not_assessed) + " not";
  if (!subject.findings.suspects.empty()) text += "; a reading is suspect, see below";
  return paragraph("Outcome: ", text);
}

/// Sections with an empty line between them; empty ones are left out.
std::string joined(std::initializer_list<std::string> sections) {
  std::string out;
  for (const std::string& section : sections)
    if (!section.empty()) out += (out.empty() ? "" : "\n") + section;
  return out;
}

Subject subject_of(const rig::Session& session, const reconcile::Findings& findings,
                   const assess::Assessment& assessment, const Reader& reader,
                   const reconcile::MonteCarlo* monte_carlo) {
  const Wording wording(reader, session, &findings);
  const bool converted = wording.shown.load != session.units.load;
  return {session, findings, assessment, Figures(wording.shown, converted), wording, monte_carlo};
}

constexpr std::string_view cautions =
    "Holds only for the rig as presented and loaded; not a trade or enforcement weighing. Ratings are as "
    "read from "
    "the sources named; over a rating: do not tow until corrected and weighed again.";

}  // namespace

std::string vehicle_in_words(const std::string& label, const std::string& registration) {
  if (label.empty() && registration.empty()) return "unnamed";
  if (label.empty()) return printable(registration);
  return printable(label) + (registration.empty() ? "" : " (" + printable(registration) + ')');
}

std::string session_heading(const rig::Session& session, const rig::RecordNote* record) {
  const rig::Rig& rig = session.rig;
  std::string rig_words = vehicle_in_words(rig.tow_vehicle.label, rig.tow_vehicle.registration);
  if (rig.trailer) rig_words += " with " + vehicle_in_words(rig.trailer->label, rig.trailer->registration);
  std::string out = paragraph("", rig_words);
  std::string client = printable(session.client.name);
  if (!session.client.reference.empty())
    client += (client.empty() ? "" : ", ") + printable(session.client.reference);
  if (!client.empty()) out += paragraph("client   ", client);
  std::string weighed;
  for (const std::string* part : {&session.weighed.at, &session.weighed.place, &session.weighed.technician})
    if (!part->empty()) weighed += (weighed.empty() ? "" : ", ") + printable(*part);
  if (!weighed.empty()) out += paragraph("weighed  ", weighed);
  std::string id = printable(session.id) + ", revision " + std::to_string(session.revision);
  out += paragraph("session  ", id);
  // Two copies that contradict each other have one id and one revision: the name in the store tells them apart.
  if (record && !record->rivals.empty()) out += paragraph("name     ", printable(record->name));
  for (const RecordLine& line : record ? record_lines(*record) : amendment_lines(session))
    out += paragraph(pad_right(line.label, 9), printable(line.text));
  return out;
}

std::string result_table(const rig::Session& session, const reconcile::Findings& findings,
                         const assess::Assessment& assessment, const reconcile::MonteCarlo* monte_carlo,
                         bool detail, const rig::RecordNote* record, const Reader& reader) {
  const Subject subject = subject_of(session, findings, assessment, reader, monte_carlo);
  return joined({session_heading(session, record) + outcome_line(subject), suspicion_section(subject),
                 loads_section(subject), quantities_section(subject), limits_section(subject),
                 advice_section(subject), not_assessed_section(subject), unknown_section(subject),
                 trust_section(subject), scales_section(subject), cross_checks_section(subject),
                 monte_carlo_section(subject), detail ? statistics_section(subject) : std::string(), paragraph("", cautions)});
}

std::string result_summary(const rig::Session& session, const reconcile::Findings& findings,
                           const assess::Assessment& assessment, const Reader& reader) {
  const Subject subject = subject_of(session, findings, assessment, reader, nullptr);
  return joined(
      {outcome_line(subject), suspicion_section(subject), quantities_section(subject),
       limits_section(subject), trust_section(subject)});
}

}  // namespace steelyard::reports
