#include "cli/command_settings.hpp"

#include <fstream>
#include <iterator>

#include "cli/near.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

using reports::pad_right;
using reports::printable;

constexpr std::size_t name_width = 19, client_width = 12;

std::string line_of(const store::Setting& one) {
  const auto end_of_line = one.value.find('\n');
  const std::string first = one.value.substr(0, end_of_line) + (end_of_line == std::string::npos ? "" : " …");
  const std::size_t rest = reports::table_width - name_width - client_width - 2;
  return pad_right(printable(one.name), name_width) + " " +
         pad_right(reports::cut(one.client.empty() ? "all" : printable(one.client), client_width), client_width) + " " +
         reports::cut(printable(first), rest) + "\n";
}

std::string as_json(const store::Setting& one) {
  reports::JsonText out;
  out.begin_object().field("setting", one.name);
  if (one.client.empty())
    out.key("client").null();
  else
    out.field("client", one.client);
  out.field("value", one.value).field("by", one.by).field("at", one.at).end_object();
  return out.text();
}

std::string whole_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  if (in.bad() || !in) throw Refusal(path + ": it cannot be read; name a file of the setting's text");
  return text;
}

}  // namespace

About CommandSettings::about() const {
  return {"settings", "[NAME VALUE|NAME --from FILE] [--client UID] [--by NAME] [--store FILE] [--json]",
          "who issues the reports, in whose words, on which paper",
          "Without words it shows what is set. NAME VALUE sets one: provider.name, provider.address, provider.contact, "
          "provider.identity (who issues the reports: they print it), words (au, uk, us, za, plain) and paper (a4, letter), "
          "both also for one client with --client, and overload_bands (with --from a CSV file), by which an audit sorts what "
          "is over a rating. An empty VALUE takes a setting back. Settings stay in this store: a merge leaves them alone."};
}

void CommandSettings::describe(po::options_description& options) {
  options.add_options()("client", po::value(&client_)->value_name("UID"), "for this client alone");
  options.add_options()("from", po::value(&from_)->value_name("FILE"), "the value is this file's text");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who chooses");
  store_.describe(options);
  json_.describe(options, "what is set in JSON, one setting a line");
}

Usage CommandSettings::wrong_value(const std::string& why) const {
  return wrong(name_ + ": " + why);
}

void CommandSettings::take(const std::vector<std::string>& words) {
  expect(words, 0, 2);
  if (words.empty()) {
    if (!from_.empty() || !client_.empty()) throw wrong("--from and --client go with a setting's name");
    return;
  }
  name_ = words[0];
  const SettingKind* kind = find_setting_kind(name_);
  if (!kind) {
    std::vector<std::string> names;
    for (const SettingKind& one : setting_kinds()) names.emplace_back(one.name);
    throw wrong("there is no setting " + name_ + suggestion(name_, names));
  }
  if ((words.size() == 2) == !from_.empty()) throw wrong("give a value or --from FILE, one of the two");
  if (!client_.empty() && !kind->for_a_client) throw wrong(name_ + " is not set for one client alone; leave --client out");
  if (words.size() == 2) {
    value_ = words[1];
    if (const std::string fault = value_.empty() ? "" : kind->fault(value_); !fault.empty()) throw wrong_value(fault);
  }
}

Exit CommandSettings::choose(Streams& streams) {
  if (!from_.empty()) {
    value_ = whole_file(from_);
    if (const std::string fault = find_setting_kind(name_)->fault(value_); !fault.empty())
      throw Refusal(from_ + ": " + fault);
  }
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  store.choose({{.name = name_, .client = client_, .value = value_, .by = by_, .at = {}}});
  const std::string whose = client_.empty() ? "" : " for client " + printable(client_);
  if (json_.wanted()) return show(streams);
  streams.out.line(value_.empty() ? "took back " + name_ + whose : "set " + name_ + whose);
  return Exit::done;
}

Exit CommandSettings::show(Streams& streams) {
  const auto all = store::Store::open(store_.path(), store::Access::read_only).settings();
  if (json_.wanted()) {
    for (const store::Setting& one : all) streams.out.line(as_json(one));
    return Exit::done;
  }
  if (!all.empty()) streams.out.write(pad_right("setting", name_width) + " " + pad_right("client", client_width) + " value\n");
  for (const store::Setting& one : all) streams.out.write(line_of(one));
  bool any = false;
  for (const SettingKind& kind : setting_kinds()) {
    if (StoredSettings(all).value(kind.name)) continue;
    if (!any) streams.out.line((all.empty() ? std::string() : "\n") + "Not set");
    any = true;
    streams.out.write("  " + pad_right(kind.name, name_width) + std::string(kind.meaning) + "\n");
  }
  return Exit::done;
}

Exit CommandSettings::run(Streams& streams) {
  return name_.empty() ? show(streams) : choose(streams);
}

}  // namespace steelyard::cli
