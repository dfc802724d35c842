#include "cli/command_register.hpp"

#include <algorithm>
#include <array>

#include "cli/clock.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

using reports::cut;
using reports::pad_right;
using reports::printable;
using store::RegisterEntry;
using store::RegisterKind;

/// The words of the command line for a kind, the heading of its table, and what is told beside the uid.
struct Shown {
  RegisterKind kind;
  std::string_view word, heading;
  std::vector<std::pair<std::string_view, std::string RegisterEntry::*>> columns;
};

const std::vector<Shown>& all_shown() {
  static const std::vector<Shown> all{
      {RegisterKind::client, "client", "Clients", {{"name", &RegisterEntry::name}, {"contact", &RegisterEntry::contact}}},
      {RegisterKind::tow_vehicle,
       "vehicle",
       "Tow vehicles",
       {{"label", &RegisterEntry::label}, {"registration", &RegisterEntry::registration}, {"VIN", &RegisterEntry::vin}}},
      {RegisterKind::trailer,
       "trailer",
       "Trailers",
       {{"label", &RegisterEntry::label}, {"registration", &RegisterEntry::registration}}},
      {RegisterKind::scale,
       "scale",
       "Scales",
       {{"serial", &RegisterEntry::serial}, {"certificate", &RegisterEntry::certificate}, {"due", &RegisterEntry::due}}}};
  return all;
}

std::string today() {
  return local_time_now().substr(0, 10);
}

bool out_of_date(const RegisterEntry& one) {
  return one.kind == RegisterKind::scale && !one.due.empty() && one.due < today();
}

constexpr std::size_t uid_width = 14, last_width = 10, count_width = 8;

std::string row(const std::string& uid, const std::vector<std::string>& cells, const std::string& count,
                const std::string& last) {
  const std::size_t rest = reports::table_width - uid_width - last_width - count_width - 3;
  const std::size_t each = rest / cells.size() - 1;
  std::string line = pad_right(cut(uid, uid_width), uid_width);
  for (const std::string& cell : cells) line += " " + pad_right(cut(cell, each), each);
  return line + " " + reports::pad_left(count, count_width) + " " + last + "\n";
}

std::string table(const Shown& shown, const std::vector<RegisterEntry>& entries) {
  std::string out = std::string(shown.heading) + "\n";
  std::vector<std::string> heads;
  for (const auto& [name, member] : shown.columns) heads.emplace_back(name);
  out += row("  uid", heads, "sessions", "last");
  for (const RegisterEntry& one : entries) {
    std::vector<std::string> cells;
    for (const auto& [name, member] : shown.columns) cells.push_back(printable(one.*member));
    out += row("  " + printable(one.uid), cells, std::to_string(one.sessions), printable(one.last_at.substr(0, 10)));
    if (out_of_date(one)) out += "    ! out of date since " + printable(one.due) + ": have it calibrated before it is used\n";
    if (!one.note.empty()) out += reports::paragraph("    note: ", printable(one.note));
  }
  return out;
}

std::string as_json(const RegisterEntry& one) {
  const auto maybe = [](const std::string& text) { return text.empty() ? std::nullopt : std::optional(text); };
  reports::JsonText out;
  out.begin_object().field("kind", store::to_text(one.kind)).field("uid", one.uid);
  for (const Shown& shown : all_shown())
    if (shown.kind == one.kind)
      for (const auto& [name, member] : shown.columns) out.field(name == "VIN" ? "vin" : name, maybe(one.*member));
  if (one.kind == RegisterKind::scale) out.field("calibrated", maybe(one.calibrated)).field("out_of_date", out_of_date(one));
  out.field("note", maybe(one.note)).field("sessions", one.sessions);
  return out.field("first_at", maybe(one.first_at)).field("last_at", maybe(one.last_at)).end_object().text();
}

constexpr std::array fields{"name", "contact", "label", "registration", "vin", "serial", "certificate", "calibrated",
                            "due", "note"};

const Shown* find_shown(std::string_view word) {
  for (const Shown& shown : all_shown())
    if (shown.word == word) return &shown;
  return nullptr;
}

bool is_date(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  return std::count_if(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; }) == 8;
}

}  // namespace

About CommandRegister::about() const {
  return {"register",
          "[client|vehicle|trailer|scale [UID --name|--contact|--label|--registration|--vin|--serial|--certificate|"
          "--calibrated|--due|--note TEXT] [--by NAME]] [--store FILE] [--json]",
          "clients, vehicles, trailers and scales",
          "What is known of every client, tow vehicle, trailer and scale that has a uid in a sheet: the latest of what "
          "sessions say and of what was noted here. A scale whose calibration has run out is marked.\n"
          "With a kind and a UID it notes something: of a client --name, --contact, --note; of a vehicle --label, "
          "--registration, --vin, --note; of a trailer the same without --vin; of a scale --serial, --certificate, "
          "--calibrated, --due (dates), --note. An empty text takes a note back. Notes change no session."};
}

void CommandRegister::describe(po::options_description& options) {
  fields_.clear();
  for (const char* field : fields) fields_.emplace_back(field, std::nullopt);
  for (auto& [name, value] : fields_)
    options.add_options()(name.c_str(),
                          po::value<std::string>()->notifier([&value](const std::string& text) { value = text; })->value_name("TEXT"),
                          "note this of it");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who notes it");
  store_.describe(options);
  json_.describe(options, "one JSON object a line");
}

void CommandRegister::take(const std::vector<std::string>& words) {
  expect(words, 0, 2);
  if (!words.empty()) kind_ = words[0];
  if (words.size() == 2) uid_ = words[1];
  if (!kind_.empty() && !find_shown(kind_)) throw wrong("the register has client, vehicle, trailer and scale, not " + kind_);
  const bool noting =
      std::any_of(fields_.begin(), fields_.end(), [](const auto& field) { return field.second.has_value(); });
  if (noting && uid_.empty()) throw wrong("say of whom: a kind and a uid");
  if (!noting && !uid_.empty()) throw wrong("say what to note of " + uid_ + "; steelyard history shows its weighings");
  for (const auto& [name, value] : fields_)
    if ((name == "due" || name == "calibrated") && value && !value->empty() && !is_date(*value))
      throw wrong("--" + name + " must be a date, YYYY-MM-DD, is " + *value);
}

void CommandRegister::note(Streams& streams) const {
  std::vector<store::RegisterNote> notes;
  for (const auto& [name, value] : fields_)
    if (value) notes.push_back({find_shown(kind_)->kind, uid_, name, *value, by_});
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  store.note(notes);
  for (const RegisterEntry& one : store.register_of(find_shown(kind_)->kind)) {
    if (one.uid != uid_) continue;
    if (json_.wanted())
      streams.out.line(as_json(one));
    else
      streams.out.write(table(*find_shown(kind_), {one}));
  }
}

void CommandRegister::show(Streams& streams) const {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  std::string out;
  for (const Shown& shown : all_shown()) {
    if (!kind_.empty() && shown.word != kind_) continue;
    const std::vector<RegisterEntry> entries = store.register_of(shown.kind);
    if (json_.wanted()) {
      for (const RegisterEntry& one : entries) streams.out.line(as_json(one));
    } else if (!entries.empty()) {
      if (!out.empty()) out += "\n";
      out += table(shown, entries);
    }
  }
  if (out.empty() && !json_.wanted()) out = "nothing yet; sheets whose clients, vehicles and scales have a uid bring it\n";
  streams.out.write(out);
}

Exit CommandRegister::run(Streams& streams) {
  if (uid_.empty())
    show(streams);
  else
    note(streams);
  return Exit::done;
}

}  // namespace steelyard::cli
