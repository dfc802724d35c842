// The inside of the service: what its files share. Inside src/field only.
#pragma once

#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "field/access.hpp"
#include "field/boards.hpp"
#include "field/service.hpp"
#include "field/worker.hpp"
#include "sheet/sheet.hpp"
#include "store/store.hpp"

namespace steelyard::field {

/// The part of a path after /api/sessions/: "ID" and "readings", "report.xlsx", … or "".
struct SessionPath {
  std::string id, rest;
};

/// What came in, and where the answer goes: shared, since jobs are copied.
struct Call {
  http::Request request;
  http::Reply reply;
  SessionPath path = {};
};
using CallPtr = std::shared_ptr<Call>;

struct Service::Impl {
  /// Gives the answer, which goes out once what it did is kept.
  using EntryJob = http::Response (Impl::*)(Call&);
  struct WaitingEntry {
    CallPtr call;
    EntryJob job;
  };

  explicit Impl(ServiceOptions given);
  ~Impl();

  void handle(http::Request request, http::Reply reply);

  // Any thread.
  [[nodiscard]] static std::optional<reports::Region> words_asked(const http::Request& request);
  /// Looks into the store's settings where nothing was asked for: not on the network thread.
  [[nodiscard]] reports::Region words_for(const std::optional<reports::Region>& asked) const;

  http::Response enter(const http::Request& request);

  // Where the network thread hands over.
  void start_session_call(const CallPtr& call);
  void send_desk(const CallPtr& call);
  void send_report(const CallPtr& call, std::string form);
  void watch_line(const CallPtr& call);

  // The store's thread (service_entries.cpp).
  void add_session(Call& call);
  http::Response add_reading(Call& call);
  http::Response add_strike(Call& call);
  http::Response add_state(Call& call);
  http::Response add(Call& call);
  http::Response complete(Call& call);
  void keep_entries();
  void correct(Call& call);
  void seal(Call& call);
  void send_sheet(Call& call);
  void publish(const std::string& id);
  void look_for_changes();
  void on_store(CallPtr call, std::function<void(Call&)> job);
  void on_entry(CallPtr call, EntryJob job);

  ServiceOptions options;
  store::Store store;
  std::int64_t changes_seen = 0;
  std::unique_ptr<Access> access;
  Boards boards;
  std::mutex entries_mutex;
  std::deque<WaitingEntry> entries;  // to be kept together
  std::mutex line_mutex;
  std::shared_ptr<const std::string> line_text;  // the last news, as an event
  std::vector<std::shared_ptr<http::EventStream>> line_streams;
  Worker papers;
  Worker keeper;  // last: its jobs use all of the above
};

http::Response faults_answer(std::string_view what, const std::vector<sheet::Fault>& faults);

/// Says why something that threw was not done: 404, 409, 503 or 500.
http::Response answer_for_error(const std::exception& error);

}  // namespace steelyard::field
