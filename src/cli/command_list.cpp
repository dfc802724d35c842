#include "cli/command_list.hpp"

#include <algorithm>
#include <array>

#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "store/store.hpp"

namespace steelyard::cli {
namespace {

using reports::pad_left;
using reports::pad_right;
using reports::printable;

constexpr std::size_t shortest_shown = 8;

std::size_t shared(std::string_view a, std::string_view b) {
  return static_cast<std::size_t>(std::mismatch(a.begin(), a.end(), b.begin(), b.end()).first - a.begin());
}

/// As much of each id as tells it from the others, so that it can be typed back.
std::size_t prefix_length(const std::vector<store::Summary>& sessions) {
  std::vector<std::string_view> ids;
  for (const store::Summary& session : sessions) ids.emplace_back(session.id);
  std::sort(ids.begin(), ids.end());
  std::size_t length = shortest_shown;
  for (std::size_t i = 1; i < ids.size(); ++i) length = std::max(length, shared(ids[i - 1], ids[i]) + 1);
  return std::min<std::size_t>(length, 20);
}

std::string as_json(const store::Summary& session) {
  const auto maybe = [](const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(text);
  };
  reports::JsonText out;
  out.begin_object().field("session", session.id).field("revision", session.revision);
  out.field("sealed", session.sealed).field("rivals", session.rivals);
  out.field("weighed_at", maybe(session.weighed_at)).field("place", maybe(session.place));
  out.field("client", maybe(session.client)).field("tow_vehicle", maybe(session.tow_vehicle));
  out.field("trailer", maybe(session.trailer)).field("states", session.states);
  out.field("readings", session.readings).field("struck", session.struck);
  return out.end_object().text();
}

struct Widths {
  std::size_t id, seal, client, tow, trailer;
};

constexpr std::size_t date_width = 10, readings_width = 8;

bool any_rivals(const std::vector<store::Summary>& sessions) {
  return std::any_of(sessions.begin(), sessions.end(), [](const auto& one) { return one.rivals > 0; });
}

/// As much of the id as tells it from the others, with the revision where it is not the first.
std::string shown_id(const store::Summary& session, std::size_t prefix) {
  std::string id = session.id.substr(0, prefix);
  if (session.revision > 1) id += '@' + std::to_string(session.revision);
  return printable(id);
}

Widths widths_for(const std::vector<store::Summary>& sessions, std::size_t prefix) {
  std::size_t id = prefix;
  for (const store::Summary& one : sessions) id = std::max(id, reports::display_width(shown_id(one, prefix)));
  const std::size_t seal = any_rivals(sessions) ? 7 : 6;
  const std::size_t rest = reports::table_width - id - date_width - seal - readings_width - 6;
  return {id, seal, rest / 3, rest / 3, rest - 2 * (rest / 3)};
}

std::string line(const Widths& widths, const std::array<std::string, 7>& cells) {
  return pad_right(cells[0], widths.id) + ' ' + pad_right(cells[1], date_width) + ' ' +
         pad_right(cells[2], widths.seal) + ' ' + pad_right(cells[3], widths.client) + ' ' +
         pad_right(cells[4], widths.tow) + ' ' + pad_right(cells[5], widths.trailer) + ' ' +
         pad_left(cells[6], readings_width);
}

std::string seal_words(const store::Summary& session) {
  return std::string(session.sealed ? "sealed" : "open") + (session.rivals > 0 ? "!" : "");
}

}  // namespace

About CommandList::about() const {
  return {"list", "[--store FILE] [--json]", "the sessions of the store",
          "The sessions of the store, in order of weighing, each as its highest revision says. A session may be "
          "named by as much of its id as is shown; @2 names its second revision."};
}

void CommandList::describe(boost::program_options::options_description& options) {
  store_.describe(options);
  json_.describe(options, "one JSON object a line");
}

void CommandList::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
}

Exit CommandList::run(Streams& streams) {
  const auto sessions = store::Store::open(store_.path(), store::Access::read_only).list();
  if (json_.wanted()) {
    for (const store::Summary& session : sessions) streams.out.line(as_json(session));
    return Exit::done;
  }
  if (sessions.empty()) {
    streams.out.line("no sessions yet; `steelyard import` brings sheets in");
    return Exit::done;
  }
  const std::size_t prefix = prefix_length(sessions);
  const Widths widths = widths_for(sessions, prefix);
  streams.out.line(line(widths, {"session", "weighed", "seal", "client", "tow vehicle", "trailer", "readings"}));
  for (const store::Summary& one : sessions)
    streams.out.line(
        line(widths, {shown_id(one, prefix), printable(one.weighed_at.substr(0, date_width)), seal_words(one),
                      printable(one.client), printable(one.tow_vehicle), printable(one.trailer),
                      std::to_string(one.readings)}));
  if (any_rivals(sessions))
    streams.out.write(reports::paragraph(
        "", "! Merged stores hold other content of the same revision beside this: `steelyard show SESSION` names it, and "
            "`steelyard amend` decides."));
  return Exit::done;
}

}  // namespace steelyard::cli
