#include "cli/command_attach.hpp"

#include <charconv>

#include "cli/input_file.hpp"
#include "cli/new_file.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

using reports::printable;

void write(reports::JsonText& out, const store::Attachment& one) {
  const auto maybe = [](const std::string& text) { return text.empty() ? std::nullopt : std::optional(text); };
  out.begin_object().field("number", one.number).field("limit", one.limit).field("reading", maybe(one.reading));
  out.field("what", maybe(one.what)).field("media_type", one.media_type).field("size", one.size);
  out.field("sha256", one.sha256).field("by", maybe(one.by)).field("at", one.at).field("there", one.there);
  out.end_object();
}

std::string size_words(std::int64_t bytes) {
  if (bytes < 1000) return std::to_string(bytes) + " bytes";
  if (bytes < 1000 * 1000) return std::to_string((bytes + 500) / 1000) + " kB";
  return std::to_string(bytes / 1000000) + "." + std::to_string(bytes / 100000 % 10) + " MB";
}

std::string in_words(const store::Attachment& one) {
  std::string text = one.what.empty() ? std::string("(nothing said)") : printable(one.what);
  if (one.limit) text += ", limit " + std::to_string(*one.limit);
  if (!one.reading.empty()) text += ", reading " + printable(one.reading);
  text += "; " + one.media_type + ", " + size_words(one.size) + ", " + one.at;
  if (!one.by.empty()) text += ", " + printable(one.by);
  if (!one.there) text += "; erased with the identity, only its hash is kept";
  return reports::paragraph(reports::pad_left(std::to_string(one.number), 4) + "  ", text) + "      SHA-256 " +
         one.sha256 + "\n";
}

}  // namespace

About CommandAttach::about() const {
  return {"attach",
          "SESSION [FILE [--limit N|--reading ID] [--what TEXT] [--by NAME]] [--get N --to FILE] [--store FILE] [--json]",
          "photographs and papers that belong to a session",
          "Keeps a file in the store with a session, or with one of its limits (counted from 1, as `steelyard show` "
          "lists them) or readings: a photograph of a plate, of a display. Its SHA-256 goes into the seal. At most 24 "
          "MiB a file; a file's own name is not kept, as it may name a person. Without FILE it lists what is there; "
          "--get N --to FILE writes one out."};
}

void CommandAttach::describe(po::options_description& options) {
  options.add_options()("limit", po::value<int>()->notifier([this](int n) { limit_ = n; })->value_name("N"),
                        "the limit that it shows the source of");
  options.add_options()("reading", po::value(&reading_)->value_name("ID"), "the reading whose display it shows");
  options.add_options()("what", po::value(&what_)->value_name("TEXT"), "what it shows");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who attaches it");
  options.add_options()("get", po::value<int>()->notifier([this](int n) { get_ = n; })->value_name("N"),
                        "write attachment N out");
  options.add_options()("to", po::value(&to_)->value_name("FILE"), "where to");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandAttach::take(const std::vector<std::string>& words) {
  expect(words, 1, 2);
  session_ = words[0];
  if (words.size() == 2) file_ = words[1];
  if (get_.has_value() == to_.empty()) throw wrong("--get N and --to FILE go together");
  if (get_ && !file_.empty()) throw wrong("--get goes without a file to attach");
  if (file_.empty() && (limit_ || !reading_.empty() || !what_.empty() || !by_.empty()))
    throw wrong("the file to attach is missing");
  if (limit_ && !reading_.empty()) throw wrong("--limit and --reading exclude each other: attach the file twice");
}

void CommandAttach::list(Streams& streams) const {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  const auto all = store.attachments(store.resolve(session_));
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_array();
    for (const store::Attachment& one : all) write(out, one);
    streams.out.line(out.end_array().text());
    return;
  }
  if (all.empty()) streams.out.line("nothing is attached");
  for (const store::Attachment& one : all) streams.out.write(in_words(one));
}

void CommandAttach::get(Streams& streams) const {
  const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
  write_new_file(to_, store.attached_bytes(store.resolve(session_), *get_));
  if (json_.wanted()) {
    reports::JsonText out;
    streams.out.line(out.begin_object().field("number", *get_).field("to", to_).end_object().text());
  } else {
    streams.out.line("wrote " + printable(to_));
  }
}

void CommandAttach::add(Streams& streams) const {
  const std::string bytes = read_attached_file(file_);
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  store::Attachment attachment;
  attachment.limit = limit_;
  attachment.reading = reading_;
  attachment.what = what_;
  attachment.by = by_;
  const store::Attachment added = store.attach(store.resolve(session_), attachment, bytes);
  if (json_.wanted()) {
    reports::JsonText out;
    write(out, added);
    streams.out.line(out.text());
  } else {
    streams.out.write("attached\n" + in_words(added));
  }
}

Exit CommandAttach::run(Streams& streams) {
  if (get_)
    get(streams);
  else if (file_.empty())
    list(streams);
  else
    add(streams);
  return Exit::done;
}

}  // namespace steelyard::cli
