// What changes the store: each job keeps first and acknowledges then.
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "field/entries.hpp"
#include "field/received.hpp"
#include "field/service_parts.hpp"
#include "issued/issued.hpp"
#include "reports/result/json_text.hpp"
#include "store/together.hpp"

namespace steelyard::field {
namespace {

using http::error_answer;
using http::json_answer;

constexpr std::size_t most_together = 16;  // so that the first of them does not wait long for the last
constexpr std::string_view not_stored = "nothing was stored; mend what is named";

bool is_blank(const std::string& text) {
  return text.find_first_not_of(' ') == std::string::npos;
}

rig::RecordNote seal_note(const store::Record& record) {
  rig::RecordNote note;
  note.sealed = true;
  note.seal_head = record.seal->head;
  note.seal_number = record.seal->number;
  note.sealed_by = record.seal->by;
  note.sealed_at = record.seal->at;
  return note;
}

http::Response kept(bool already, const std::string& id) {
  reports::JsonText out;
  out.begin_object().field("id", id).field("already", already).end_object();
  return json_answer(already ? 200 : 201, out.text());
}

http::Response sealed_answer(int status, const store::Seal& seal, const std::string& not_solved) {
  reports::JsonText out;
  out.begin_object().field("head", seal.head).field("number", seal.number).field("by", seal.by).field("at", seal.at);
  out.field("not_solved", not_solved.empty() ? std::nullopt : std::optional(not_solved));
  return json_answer(status, out.end_object().text());
}

/// True where this very correction was made last, as when its answer got lost.
bool is_corrected(const rig::Session& standing, rig::Session corrected, const std::string& why, const std::string& by) {
  if (!standing.revised || standing.revised->why != why || standing.revised->by != by) return false;
  corrected.revision = standing.revision;
  corrected.replaces = standing.replaces;
  corrected.revised = standing.revised;
  return corrected == standing;
}

}  // namespace

void Service::Impl::publish(const std::string& id) {
  const rig::Session session = store.load(id);
  const store::Record record = store.record_of(id);
  boards.publish(session, record.seal ? std::optional(seal_note(record)) : std::nullopt);
}

void Service::Impl::look_for_changes() {
  const std::int64_t now = store.changes();
  if (now == changes_seen) return;
  bool all = true;
  for (const std::string& id : boards.after_a_change()) try {
      publish(id);
    } catch (const store::Refused&) {  // another program writes just now: again at the next look
      all = false;
    }
  if (all) changes_seen = now;
}

void Service::Impl::add_session(Call& call) {
  sheet::Read read = sheet::read(call.request.body);
  if (!read.session) {
    call.reply(faults_answer(not_stored, read.faults));
    return;
  }
  auto import = store.begin_import();
  const auto added = import.add(*read.session, sheet::content_hash(*read.session));
  import.commit();
  publish(read.session->id);
  call.reply(kept(added == store::Store::Added::already_there, read.session->id));
}

http::Response Service::Impl::add_reading(Call& call) {
  const rig::Session session = store.load(call.path.id);
  const Entry entry = with_reading(session, call.request.body);
  if (!entry.session) return faults_answer(not_stored, entry.faults);
  const std::string state = text_in_body(call.request.body, "state"), id = text_in_body(call.request.body, "id");
  for (const rig::State& one : entry.session->states)
    for (const rig::Reading& reading : one.readings)
      if (one.name == state && reading.id == id) {
        const auto added = store.record_once(call.path.id, state, reading);
        return kept(added == store::Store::Added::already_there, id);
      }
  throw std::logic_error("field: an entry without its reading");
}

http::Response Service::Impl::add_strike(Call& call) {
  std::vector<sheet::Fault> faults;
  const auto body = object_of(call.request.body, faults);
  if (!body) return faults_answer(not_stored, faults);
  const std::string reading = text_in(*body, "reading");
  const rig::Strike strike{text_in(*body, "why"), text_in(*body, "by"),
                           is_blank(text_in(*body, "at")) ? options.now() : text_in(*body, "at")};
  if (is_blank(reading)) faults.push_back({"reading", "must name the reading by its id"});
  if (is_blank(strike.why)) faults.push_back({"why", "must say why the reading does not count"});
  // The sheet's rules for a strike hold here as well.
  rig::Session struck = store.load(call.path.id);
  bool there = false;
  for (rig::State& state : struck.states)
    for (rig::Reading& one : state.readings)
      if (one.id == reading) {
        there = true;
        if (!one.struck) one.struck = strike;
      }
  if (faults.empty() && !there)
    return error_answer(404, "the session has no reading " + reading + "; look at it again");
  if (faults.empty()) faults = sheet::check(struck);
  for (sheet::Fault& fault : faults)
    if (const auto at = fault.place.rfind(".struck."); at != fault.place.npos) fault.place.erase(0, at + 8);
  if (!faults.empty()) return faults_answer(not_stored, faults);
  const auto done = store.strike_once(call.path.id, reading, strike);
  return kept(done.added == store::Store::Added::already_there, reading);
}

http::Response Service::Impl::add_state(Call& call) {
  const rig::Session session = store.load(call.path.id);
  const Entry entry = with_state(session, call.request.body);
  if (!entry.session) return faults_answer(not_stored, entry.faults);
  const rig::State& added = entry.session->states.back();
  const rig::State* const there = rig::find_state(session, added.name);
  if (there) {
    // The same state again is fine, whatever was read in it since.
    rig::State bare = *there;
    bare.readings.clear();
    if (bare == added) return kept(true, added.name);
    return error_answer(409, "there is a state \"" + added.name +
                                 "\" already, arranged otherwise; give this one another name");
  }
  store.extend(call.path.id, *entry.session);
  return kept(false, added.name);
}

http::Response Service::Impl::add(Call& call) {
  const rig::Session session = store.load(call.path.id);
  const Entry entry = with_additions(session, call.request.body);
  if (!entry.session) return faults_answer(not_stored, entry.faults);
  return kept(store.extend(call.path.id, *entry.session) == session, call.path.id);
}

http::Response Service::Impl::complete(Call& call) {
  const Entry entry = with_completions(store.load(call.path.id), call.request.body);
  if (!entry.session) return faults_answer(not_stored, entry.faults);
  store.extend(call.path.id, *entry.session);
  return kept(true, call.path.id);  // nothing new is there: something has got its value
}

/// Whatever waits, by one commit: on a slow disk entries come faster than it is written.
void Service::Impl::keep_entries() {
  std::vector<WaitingEntry> taken;
  {
    const std::scoped_lock lock(entries_mutex);
    for (; !entries.empty() && taken.size() < most_together; entries.pop_front()) taken.push_back(std::move(entries.front()));
  }
  if (taken.empty()) return;
  std::vector<http::Response> answers;
  try {
    store::Together together(store);
    for (WaitingEntry& one : taken) try {
        answers.push_back((this->*one.job)(*one.call));
      } catch (const std::exception& error) {
        answers.push_back(answer_for_error(error));
      }
    together.commit();
  } catch (const std::exception& error) {
    answers.assign(taken.size(), answer_for_error(error));
  }
  std::set<std::string> changed;
  for (std::size_t i = 0; i < taken.size(); ++i) {
    if (answers[i].status < 300) changed.insert(taken[i].call->path.id);
    taken[i].call->reply(std::move(answers[i]));
  }
  for (const std::string& id : changed) try {
      publish(id);
    } catch (const store::Refused&) {
      changes_seen = -1;  // another program is at the store just now: again at the next look
    }
}

void Service::Impl::correct(Call& call) {
  std::vector<sheet::Fault> faults;
  const auto body = object_of(call.request.body, faults);
  if (body && (!body->contains("sheet") || !(*body)["sheet"].is_object()))
    faults.push_back({"sheet", "must be the whole sheet as corrected"});
  if (body && is_blank(text_in(*body, "why"))) faults.push_back({"why", "must say what is corrected, and why"});
  std::optional<rig::Session> corrected;
  if (faults.empty()) {
    sheet::Read read = sheet::read((*body)["sheet"].dump());
    faults = std::move(read.faults);
    corrected = std::move(read.session);
    if (corrected && corrected->id != call.path.id) faults.push_back({"id", "must be the session's own"});
  }
  // What the correction was made from: whoever has not seen what came since must not undo it.
  std::optional<rig::Session> seen;
  if (faults.empty() && body->contains("base")) seen = sheet::read((*body)["base"].dump()).session;
  if (faults.empty() && !seen) faults.push_back({"base", "must be the sheet as it was when the correction was made"});
  if (!faults.empty()) {
    call.reply(faults_answer(not_stored, faults));
    return;
  }
  const rig::Session standing = store.load(call.path.id);
  const std::string why = text_in(*body, "why"), by = text_in(*body, "by");
  const bool already = is_corrected(standing, *corrected, why, by);
  const int revision = already ? standing.revision : store.revise(*seen, *corrected, why, by).revision;
  if (!already) publish(call.path.id);
  reports::JsonText out;
  out.begin_object().field("id", call.path.id).field("revision", revision).end_object();
  call.reply(json_answer(already ? 200 : 201, out.text()));
}

void Service::Impl::seal(Call& call) {
  std::vector<sheet::Fault> faults;
  const auto body = object_of(call.request.body, faults);
  const std::string by = body ? text_in(*body, "by") : std::string();
  if (body && is_blank(by)) faults.push_back({"by", "must say who seals"});
  if (!faults.empty()) {
    call.reply(faults_answer(not_stored, faults));
    return;
  }
  const rig::Session session = store.load(call.path.id);
  const std::string receiver = text_in(*body, "received_by");
  if (const auto there = store.record_of(call.path.id).seal) {
    if (there->by != by || (!is_blank(receiver) && !has_receipt(store, session.id, receiver)))
      call.reply(error_answer(409, "the session is sealed already, by " + there->by +
                                       "; what changed since goes into a correction"));
    else
      call.reply(sealed_answer(200, *there, ""));
    return;
  }
  // What is sealed is what was looked at.
  const auto looked_at = body->find("version");
  publish(call.path.id);
  if (looked_at != body->end() && *looked_at != boards.version(call.path.id)) {
    call.reply(error_answer(409, "something came in since these findings were shown; look at them again, then seal"));
    return;
  }
  const issued::Issue issue = issued::issue(session);
  if (!is_blank(receiver)) attach_receipt(store, session, receiver, by, options.now());
  auto sealing = store.begin_sealing();
  const store::Seal seal = sealing.add(session, by, {issue.engine, issue.build, issue.result});
  sealing.commit();
  publish(call.path.id);
  call.reply(sealed_answer(201, seal, issue.not_solved));
}

void Service::Impl::send_sheet(Call& call) {
  call.reply(json_answer(200, sheet::write(store.load(call.path.id))));
}

}  // namespace steelyard::field
