#include "cli/audit_filter.hpp"

#include <algorithm>

#include "reports/workbook/workbook.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

bool holds(std::string_view text, const std::string& part) {
  return part.empty() || lower(text).find(lower(part)) != std::string::npos;
}

bool is_text(std::string_view text, const std::string& whole) {
  return !whole.empty() && lower(text) == lower(whole);
}

}  // namespace

void AuditFilter::describe(po::options_description& options) {
  const auto add = [&options](const char* name, std::string& to, const char* value, const char* what) {
    options.add_options()(name, po::value(&to)->value_name(value), what);
  };
  add("client", client_, "TEXT", "of this client: its uid, or a part of its name");
  add("from", from_, "DATE", "weighed on this day or later, YYYY-MM-DD");
  add("until", until_, "DATE", "weighed on this day or earlier, YYYY-MM-DD");
  add("place", place_, "TEXT", "weighed there: a part of the place's name");
  add("technician", technician_, "TEXT", "by this technician: a part of the name");
  add("purpose", purpose_, "TEXT", "for this purpose: a part of it");
  add("vehicle", vehicle_, "TEXT", "with this vehicle or trailer: uid, registration or a part of its label");
}

std::string AuditFilter::fault() const {
  for (const auto& [name, date] : {std::pair{"--from", from_}, std::pair{"--until", until_}})
    if (!date.empty() && (date.size() != 10 || !reports::midnight_of(date)))
      return std::string(name) + " takes a day as YYYY-MM-DD, not \"" + date + '"';
  if (!from_.empty() && !until_.empty() && until_ < from_) return "--until is before --from: no day is in between";
  return {};
}

bool AuditFilter::passes_but_for_date(const store::Summary& session) const {
  const bool client = client_.empty() || is_text(session.client_uid, client_) || holds(session.client, client_);
  const bool vehicle = vehicle_.empty() || is_text(session.tow_uid, vehicle_) || is_text(session.trailer_uid, vehicle_) ||
                       is_text(session.tow_registration, vehicle_) || is_text(session.trailer_registration, vehicle_) ||
                       holds(session.tow_vehicle, vehicle_) || holds(session.trailer, vehicle_);
  return client && vehicle && holds(session.place, place_) && holds(session.technician, technician_) &&
         holds(session.purpose, purpose_);
}

bool AuditFilter::passes(const store::Summary& session) const {
  if (!passes_but_for_date(session)) return false;
  if (from_.empty() && until_.empty()) return true;
  const std::string day = session.weighed_at.substr(0, 10);
  return day.size() == 10 && (from_.empty() || day >= from_) && (until_.empty() || day <= until_);
}

std::vector<reports::Fact> AuditFilter::in_words() const {
  std::vector<reports::Fact> words;
  for (const auto& [label, text] : {std::pair{"Client", client_}, std::pair{"From", from_}, std::pair{"Until", until_},
                                    std::pair{"Place", place_}, std::pair{"Technician", technician_},
                                    std::pair{"Purpose", purpose_}, std::pair{"Vehicle", vehicle_}})
    if (!text.empty()) words.push_back({std::string("Filter: ") + label, text});
  return words;
}

}  // namespace steelyard::cli
