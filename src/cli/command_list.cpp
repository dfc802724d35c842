#include "cli/command_list.hpp"

#include <algorithm>
#include <array>

#include "reports/result/json_text.hpp"
#include "reports/table/terminal_text.hpp"
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
  out.field("weighed_at", maybe(session.weighed_at)).field("place", maybe(session.place));
  out.field("client", maybe(session.client)).field("tow_vehicle", maybe(session.tow_vehicle));
  out.field("trailer", maybe(session.trailer)).field("states", session.states);
  out.field("readings", session.readings).field("struck", session.struck);
  return out.end_object().text();
}

struct Widths {
  std::size_t id, client, tow, trailer;
};

constexpr std::size_t date_width = 10, readings_width = 8;

Widths widths_for(std::size_t id) {
  const std::size_t rest = reports::table_width - id - date_width - readings_width - 5;
  return {id, rest / 3, rest / 3, rest - 2 * (rest / 3)};
}

std::string line(const Widths& widths, const std::array<std::string, 6>& cells) {
  return pad_right(cells[0], widths.id) + ' ' + pad_right(cells[1], date_width) + ' ' +
         pad_right(cells[2], widths.client) + ' ' + pad_right(cells[3], widths.tow) + ' ' +
         pad_right(cells[4], widths.trailer) + ' ' + pad_left(cells[5], readings_width);
}

}  // namespace

About CommandList::about() const {
  return {"list", "[--store FILE] [--json]", "the sessions of the store",
          "The sessions of the store, in order of weighing. A session may be named by as much of its id as "
          "is shown."};
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
  const std::size_t id_width = prefix_length(sessions);
  const Widths widths = widths_for(id_width);
  streams.out.line(line(widths, {"session", "weighed", "client", "tow vehicle", "trailer", "readings"}));
  for (const store::Summary& one : sessions)
    streams.out.line(
        line(widths, {printable(one.id.substr(0, id_width)), printable(one.weighed_at.substr(0, date_width)),
                      printable(one.client), printable(one.tow_vehicle), printable(one.trailer),
                      std::to_string(one.readings)}));
  return Exit::done;
}

}  // namespace steelyard::cli
