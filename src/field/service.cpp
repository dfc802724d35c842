#include "field/service.hpp"

#include <exception>
#include <map>
#include <mutex>
#include <utility>

#include "field/desk.hpp"
#include "field/entries.hpp"
#include "field/gzip.hpp"
#include "field/http/target.hpp"
#include "field/page_files.hpp"
#include "field/service_parts.hpp"
#include "reports/result/json_text.hpp"

namespace steelyard::field {
namespace {

using http::error_answer;
using http::json_answer;
using http::Request;
using http::Response;

constexpr std::string_view sessions_path = "/api/sessions";

/// An id is one segment: what a path cannot hold of it is escaped once more, as "depot%2F12" (page/api.js).
SessionPath split(std::string_view path) {
  path.remove_prefix(sessions_path.size());
  if (path.starts_with('/')) path.remove_prefix(1);
  const auto slash = path.find('/');
  SessionPath parts;
  parts.id = http::percent_decoded(path.substr(0, slash)).value_or("");  // no session has an empty one
  if (slash != path.npos) parts.rest = std::string(path.substr(slash + 1));
  return parts;
}

/// A file of the page as it is sent: packed once for those that take it so.
Response page_answer(const Request& request) {
  const PageFile* const file = find_page_file(request.path == "/" ? "/index.html" : std::string_view(request.path));
  if (!file) return error_answer(404, "there is nothing at this address; the page is at /");
  if (request.method != "GET") return error_answer(405, "this is only to be read");
  std::string tag(file->tag);
  if (request.takes_gzip) tag.insert(tag.size() - 1, "-gzip");  // other bytes, another tag
  Response response;
  response.headers = {{"ETag", tag}, {"Cache-Control", "no-cache"}, {"Vary", "Accept-Encoding"}};
  if (http::names_tag(request.if_none_match, tag)) {
    response.status = 304;
    return response;
  }
  response.content_type = std::string(file->type);
  if (request.takes_gzip) {
    static std::mutex mutex;
    static std::map<std::string_view, std::shared_ptr<const std::string>> packed;
    const std::scoped_lock lock(mutex);
    auto& bytes = packed[file->path];
    if (!bytes) bytes = std::make_shared<const std::string>(gzip(file->bytes));
    response.kept_body = bytes;
    response.headers.emplace_back("Content-Encoding", "gzip");
  } else {
    response.body = std::string(file->bytes);
  }
  return response;
}

/// Letters and digits of a name, the rest as single dashes: fit for every file system and every header.
std::string plain_name(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (plain)
      out += c;
    else if (!out.empty() && out.back() != '-')
      out += '-';
    if (out.size() == 40) break;
  }
  if (out.ends_with('-')) out.pop_back();
  return out;
}

/// "Tallow-Creek-Water-Board-TCW-012-2026-10-03.xlsx".
std::string report_file_name(const rig::Session& session, std::string_view form) {
  std::string name;
  for (const std::string& part : {session.client.name, session.rig.tow_vehicle.registration, session.weighed.at.substr(0, 10)})
    if (const std::string plain = plain_name(part); !plain.empty()) name += (name.empty() ? "" : "-") + plain;
  return (name.empty() ? "weighing" : name) + '.' + std::string(form);
}

std::string line_json(const LineNews& news) {
  reports::JsonText out;
  out.begin_object();
  if (const auto* load = std::get_if<LineLoad>(&news)) {
    out.field("load", load->load).field("unit", units::symbol(load->unit)).field("stable", load->stable);
    out.field("why", std::optional<std::string>());
  } else {
    const auto& trouble = std::get<LineTrouble>(news);
    out.key("load").null().key("unit").null().field("stable", false).field("why", trouble.what);
  }
  return out.end_object().text();
}

}  // namespace

Response faults_answer(std::string_view what, const std::vector<sheet::Fault>& faults) {
  reports::JsonText out;
  out.begin_object().field("error", what).key("faults").begin_array();
  for (const sheet::Fault& fault : faults)
    out.begin_object().field("place", fault.place).field("what", fault.what).end_object();
  return json_answer(422, out.end_array().end_object().text());
}

Response answer_for_error(const std::exception& error) {
  if (dynamic_cast<const store::Absent*>(&error)) return error_answer(404, error.what());
  if (dynamic_cast<const store::Conflict*>(&error) || dynamic_cast<const store::Closed*>(&error))
    return error_answer(409, error.what());
  if (dynamic_cast<const store::Refused*>(&error)) return error_answer(503, error.what());
  return error_answer(500, "something went wrong inside; try again, and look at the terminal of the laptop");
}

Service::Impl::Impl(ServiceOptions given)
    : options(std::move(given)),
      store(store::Store::open(options.store, store::Access::read_write)),
      changes_seen(store.changes()),
      access(options.code ? std::make_unique<Access>(*options.code) : nullptr),
      keeper([this] { look_for_changes(); }) {}

Service::Impl::~Impl() {
  keeper.stop();
  papers.stop();
  boards.stop();
}

std::optional<reports::Region> Service::Impl::words_asked(const Request& request) {
  const auto found = request.query.find("words");
  return found == request.query.end() ? std::nullopt : reports::parse_region(found->second);
}

reports::Region Service::Impl::words_for(const std::optional<reports::Region>& asked) const {
  if (asked) return *asked;
  return options.words.value_or(options.words_of ? options.words_of("") : reports::Region::plain);
}

void Service::Impl::handle(Request request, http::Reply reply) {
  if (!request.path.starts_with("/api/")) {
    reply(page_answer(request));
    return;
  }
  if (request.method == "POST" && request.content_type != "application/json") {
    reply(error_answer(415, "send application/json"));
    return;
  }
  if (request.path == "/api/enter") {
    reply(enter(request));
    return;
  }
  if (access && !access->allowed(request.cookie(cookie_name).value_or(""))) {
    reply(error_answer(401, "enter the code that stands in the terminal of the laptop"));
    return;
  }
  const auto call = std::make_shared<Call>(Call{std::move(request), std::move(reply)});
  const std::string& path = call->request.path;
  const bool reads = call->request.method == "GET";
  if (path == "/api/desk" && reads)
    send_desk(call);
  else if (path == "/api/line/events" && reads)
    watch_line(call);
  else if (path == sessions_path && !reads)
    on_store(call, [this](Call& one) { add_session(one); });
  else if (path.starts_with(sessions_path) && path.size() > sessions_path.size() && path[sessions_path.size()] == '/')
    start_session_call(call);
  else
    call->reply(error_answer(404, "there is nothing at this address"));
}

Response Service::Impl::enter(const Request& request) {
  if (request.method != "POST") return error_answer(405, "send the code by POST");
  if (!access) return {.status = 204};
  const Entered entered = access->enter(request.peer, text_in_body(request.body, "code"));
  if (const auto* granted = std::get_if<Granted>(&entered)) {
    Response response{.status = 204};
    response.headers.emplace_back("Set-Cookie", cookie_text(granted->token, request.secure));
    return response;
  }
  if (const auto* wait = std::get_if<WaitFirst>(&entered)) {
    const std::string seconds = std::to_string(wait->wait.count());
    Response response =
        error_answer(429, "too many wrong codes from this device: wait " + seconds + " s, then try again");
    response.headers.emplace_back("Retry-After", seconds);
    return response;
  }
  return error_answer(403, "this is not the code; it stands in the terminal of the laptop");
}

void Service::Impl::start_session_call(const CallPtr& call) {
  call->path = split(call->request.path);
  const std::string& rest = call->path.rest;
  if (call->path.id.empty() || call->path.id.find('@') != std::string::npos) {
    call->reply(error_answer(404, "name a session by its whole id"));
    return;
  }
  if (call->request.method == "GET") {
    const auto words = words_asked(call->request);
    if (rest.empty())
      on_store(call, [this, words](Call& one) {
        look_for_changes();
        if (!boards.session(one.path.id)) publish(one.path.id);
        boards.answer(one.path.id, words_for(words), std::move(one.reply));
      });
    else if (rest == "events")
      on_store(call, [this, words](Call& one) {
        look_for_changes();
        if (!boards.session(one.path.id)) publish(one.path.id);
        boards.watch(one.path.id, words_for(words), one.reply.stream());
      });
    else if (rest == "sheet")
      on_store(call, [this](Call& one) { send_sheet(one); });
    else if (rest.starts_with("report."))
      send_report(call, rest.substr(7));
    else
      call->reply(error_answer(404, "there is nothing at this address"));
    return;
  }
  constexpr std::pair<std::string_view, EntryJob> entry_jobs[] = {{"readings", &Impl::add_reading},
                                                                  {"strikes", &Impl::add_strike},
                                                                  {"states", &Impl::add_state},
                                                                  {"additions", &Impl::add},
                                                                  {"completions", &Impl::complete}};
  for (const auto& [name, job] : entry_jobs)
    if (rest == name) {
      on_entry(call, job);
      return;
    }
  if (rest == "corrections")
    on_store(call, [this](Call& one) { correct(one); });
  else if (rest == "seal")
    on_store(call, [this](Call& one) { seal(one); });
  else
    call->reply(error_answer(404, "there is nothing at this address"));
}

void Service::Impl::on_store(CallPtr call, std::function<void(Call&)> job) {
  keeper.post([call = std::move(call), job = std::move(job)] {
    try {
      job(*call);
    } catch (const std::exception& error) {
      call->reply(answer_for_error(error));
    }
  });
}

void Service::Impl::on_entry(CallPtr call, EntryJob job) {
  {
    const std::scoped_lock lock(entries_mutex);
    entries.push_back({std::move(call), job});
  }
  keeper.post([this] { keep_entries(); });
}

void Service::Impl::send_desk(const CallPtr& call) {
  const auto words = words_asked(call->request);
  papers.post([this, call, words] {
    try {
      const auto reading = store::Store::open(options.store, store::Access::read_only);
      call->reply(json_answer(200, desk_json(reading, {options.engine, options.store.filename().string(),
                                                       options.now(), words_for(words), words_for({}), options.line})));
    } catch (const std::exception& error) {
      call->reply(answer_for_error(error));
    }
  });
}

void Service::Impl::send_report(const CallPtr& call, std::string form) {
  if (form != "xlsx" && form != "html" && form != "txt") {
    call->reply(error_answer(404, "a report ends in .xlsx, .html or .txt"));
    return;
  }
  const auto words = words_asked(call->request);
  papers.post([this, call, words, form = std::move(form)] {
    try {
      const auto reading = store::Store::open(options.store, store::Access::read_only);
      const rig::Session session = reading.load(call->path.id);
      Response response;
      response.body = options.report(call->path.id, form, words_for(words));
      response.content_type = form == "xlsx" ? "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
                              : form == "html" ? "text/html; charset=utf-8"
                                               : "text/plain; charset=utf-8";
      response.headers.emplace_back("Content-Disposition",
                                    "attachment; filename=\"" + report_file_name(session, form) + '"');
      call->reply(std::move(response));
    } catch (const std::exception& error) {
      call->reply(answer_for_error(error));
    }
  });
}

void Service::Impl::watch_line(const CallPtr& call) {
  if (!options.line) {
    call->reply(error_answer(404, "no scale is on a line; start with --line DEVICE"));
    return;
  }
  auto stream = call->reply.stream();
  const std::scoped_lock lock(line_mutex);
  std::erase_if(line_streams, [](const auto& one) { return one->closed(); });
  if (line_text) stream->send(line_text);
  line_streams.push_back(std::move(stream));
}

Service::Service(ServiceOptions options) : impl_(std::make_unique<Impl>(std::move(options))) {}
Service::~Service() = default;

void Service::handle(Request request, http::Reply reply) {
  impl_->handle(std::move(request), std::move(reply));
}

void Service::line_news(const LineNews& news) {
  const auto text = event_text("load", line_json(news));
  const std::scoped_lock lock(impl_->line_mutex);
  impl_->line_text = text;
  std::erase_if(impl_->line_streams, [](const auto& stream) { return stream->closed(); });
  for (const auto& stream : impl_->line_streams) stream->send(text);
}

void Service::stop() {
  impl_->keeper.stop();
  {
    const std::scoped_lock lock(impl_->entries_mutex);
    impl_->entries.clear();
  }
  impl_->papers.stop();
  impl_->boards.stop();
}

}  // namespace steelyard::field
