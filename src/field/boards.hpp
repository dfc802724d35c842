// The sessions that somebody looks at: what each shows, kept up to date and sent to everybody who watches.
//
// A session comes in whole each time it changed (`publish`), is solved in a thread of its own, and goes out as one view a
// kind of reader. Where changes come faster than they can be solved, those in between are passed over: every view is a
// whole state, and the last one always comes. Nothing here touches the store. No errors.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "field/http/reply.hpp"
#include "issued/solve.hpp"
#include "reports/words/wording.hpp"
#include "rig/record.hpp"
#include "rig/session.hpp"

namespace steelyard::field {

class Boards {
 public:
  Boards();
  ~Boards();  // stops
  Boards(const Boards&) = delete;
  Boards& operator=(const Boards&) = delete;

  /// What the store holds now of a session; solved and sent when it differs from what is shown.
  void publish(const rig::Session& session, const std::optional<rig::RecordNote>& seal);

  /// Answers with the view, no older than what was published last. Only after a publish of that session.
  void answer(const std::string& session, reports::Region words, http::Reply reply);
  /// Sends the view now and after every change, until the stream closes. Only after a publish of that session.
  void watch(const std::string& session, reports::Region words, std::shared_ptr<http::EventStream> stream);

  /// The session as published last; null where none was.
  [[nodiscard]] std::shared_ptr<const rig::Session> session(const std::string& id) const;
  /// Of what was published last; 0 where nothing was. No two published states have the same, not after a restart either.
  [[nodiscard]] std::int64_t version(const std::string& id) const;
  /// Another program changed the store: gives the sessions that somebody watches, to be published anew, and forgets the
  /// others.
  std::vector<std::string> after_a_change();

  void stop();

 private:
  using Text = std::shared_ptr<const std::string>;

  struct Board {
    std::shared_ptr<const rig::Session> session;
    std::optional<rig::RecordNote> seal;
    std::int64_t published = 0, shown = 0;  // versions
    std::shared_ptr<const issued::Solved> solved;
    std::string why_not;
    std::shared_ptr<const rig::Session> shown_session;  // what `solved` belongs to
    std::optional<rig::RecordNote> shown_seal;
    std::map<reports::Region, Text> views;  // of `shown`
    struct Watching {
      reports::Region words;
      std::shared_ptr<http::EventStream> stream;
    };
    std::vector<Watching> watching;
    struct Waiting {
      reports::Region words;
      std::int64_t version;
      std::shared_ptr<http::Reply> reply;
    };
    std::vector<Waiting> waiting;
    std::int64_t used = 0;  // for forgetting those not looked at
  };

  void run();
  void solve_one(std::unique_lock<std::mutex>& lock, const std::string& id);
  Text view_of(Board& board, reports::Region words);
  void send(Board& board);
  static bool is_in_use(const Board& board);
  void forget_some();

  mutable std::mutex mutex_;
  std::condition_variable wake_;
  std::map<std::string, Board> boards_;
  std::int64_t uses_ = 0;
  std::int64_t versions_;  // the last that was given
  bool stopping_ = false;
  std::thread thread_;
};

/// "event: view\ndata: …\n\n": one event of a stream.
std::shared_ptr<const std::string> event_text(std::string_view name, std::string_view data);

/// Words of a region and its units; in plain words the session's own units.
reports::Reader reader_in(reports::Region words);

}  // namespace steelyard::field
