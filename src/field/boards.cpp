#include "field/boards.hpp"

#include <algorithm>
#include <chrono>
#include <exception>
#include <utility>

#include "field/view.hpp"

namespace steelyard::field {
namespace {

constexpr std::size_t most_boards = 64;  // kept besides those that are watched

bool anything_to_solve(const rig::Session& session) {
  for (const rig::State& state : session.states)
    for (const rig::Reading& reading : state.readings)
      if (!reading.struck) return true;
  return false;
}

http::Response view_answer(std::shared_ptr<const std::string> text) {
  http::Response response;
  response.content_type = "application/json";
  response.kept_body = std::move(text);
  return response;
}

}  // namespace

std::shared_ptr<const std::string> event_text(std::string_view name, std::string_view data) {
  auto text = std::make_shared<std::string>("event: ");
  text->append(name).append("\ndata: ").append(data).append("\n\n");
  return text;
}

reports::Reader reader_in(reports::Region words) {
  return words == reports::Region::plain ? reports::Reader{} : reports::reader_of(words);
}

// From the clock, so that no state of an earlier run is taken for one of this.
Boards::Boards()
    : versions_(std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch())
                    .count()),
      thread_([this] { run(); }) {}

Boards::~Boards() {
  stop();
}

void Boards::publish(const rig::Session& session, const std::optional<rig::RecordNote>& seal) {
  {
    const std::scoped_lock lock(mutex_);
    Board& board = boards_[session.id];
    const bool sealed = seal.has_value(), was_sealed = board.seal.has_value();
    if (board.session && *board.session == session && sealed == was_sealed) return;
    board.session = std::make_shared<const rig::Session>(session);
    board.seal = seal;
    board.published = ++versions_;
    board.used = ++uses_;
    forget_some();
  }
  wake_.notify_one();
}

void Boards::answer(const std::string& session, reports::Region words, http::Reply reply) {
  const std::scoped_lock lock(mutex_);
  const auto found = boards_.find(session);
  if (found == boards_.end()) {
    reply(http::error_answer(404, "there is no such session; go back to the list"));
    return;
  }
  Board& board = found->second;
  board.used = ++uses_;
  if (board.shown == board.published)
    reply(view_answer(view_of(board, words)));
  else
    board.waiting.push_back({words, board.published, std::make_shared<http::Reply>(std::move(reply))});
}

void Boards::watch(const std::string& session, reports::Region words, std::shared_ptr<http::EventStream> stream) {
  const std::scoped_lock lock(mutex_);
  const auto found = boards_.find(session);
  if (found == boards_.end()) {
    stream->close();
    return;
  }
  Board& board = found->second;
  board.used = ++uses_;
  std::erase_if(board.watching, [](const auto& one) { return one.stream->closed(); });
  if (board.shown > 0) stream->send(event_text("view", *view_of(board, words)));
  board.watching.push_back({words, std::move(stream)});
}

std::shared_ptr<const rig::Session> Boards::session(const std::string& id) const {
  const std::scoped_lock lock(mutex_);
  const auto found = boards_.find(id);
  return found == boards_.end() ? nullptr : found->second.session;
}

std::int64_t Boards::version(const std::string& id) const {
  const std::scoped_lock lock(mutex_);
  const auto found = boards_.find(id);
  return found == boards_.end() ? 0 : found->second.published;
}

std::vector<std::string> Boards::after_a_change() {
  const std::scoped_lock lock(mutex_);
  std::erase_if(boards_, [](const auto& one) { return !is_in_use(one.second); });
  std::vector<std::string> ids;
  for (const auto& [id, board] : boards_) ids.push_back(id);
  return ids;
}

void Boards::stop() {
  {
    const std::scoped_lock lock(mutex_);
    stopping_ = true;
  }
  wake_.notify_one();
  if (thread_.joinable()) thread_.join();
}

void Boards::run() {
  const auto to_solve = [this] {
    return std::find_if(boards_.begin(), boards_.end(), [](const auto& one) { return one.second.shown < one.second.published; });
  };
  std::unique_lock lock(mutex_);
  while (true) {
    wake_.wait(lock, [&] { return stopping_ || to_solve() != boards_.end(); });
    if (stopping_) return;
    // Each of them once before any comes again, so that one that changes all the time keeps no other waiting.
    std::vector<std::string> ids;
    for (const auto& [id, board] : boards_)
      if (board.shown < board.published) ids.push_back(id);
    for (const std::string& id : ids) solve_one(lock, id);
  }
}

void Boards::solve_one(std::unique_lock<std::mutex>& lock, const std::string& id) {
  const auto found = boards_.find(id);
  if (stopping_ || found == boards_.end()) return;
  const auto session = found->second.session;
  const auto seal = found->second.seal;
  const std::int64_t version = found->second.published;
  lock.unlock();
  std::shared_ptr<const issued::Solved> solved;
  std::string why_not;
  if (anything_to_solve(*session)) {
    try {
      solved = std::make_shared<const issued::Solved>(issued::solve(*session));
    } catch (const std::exception& error) {  // NotSolved says why; nothing else may end this thread
      why_not = error.what();
    }
  }
  lock.lock();
  const auto again = boards_.find(id);  // it may have been forgotten meanwhile
  if (again == boards_.end()) return;
  Board& board = again->second;
  board.solved = std::move(solved);
  board.why_not = std::move(why_not);
  board.shown_session = session;
  board.shown_seal = seal;
  board.shown = version;
  board.views.clear();
  try {
    send(board);
  } catch (const std::exception&) {
    // A view that cannot be made must not end the program: whoever waits is told, and the next change tries again.
    for (const auto& one : board.waiting)
      (*one.reply)(http::error_answer(500, "the view of this session cannot be made; try again"));
    board.waiting.clear();
  }
}

Boards::Text Boards::view_of(Board& board, reports::Region words) {
  Text& view = board.views[words];
  if (!view)
    view = std::make_shared<const std::string>(
        view_json({*board.shown_session, board.solved.get(), board.why_not, board.shown_seal, board.shown}, reader_in(words)));
  return view;
}

void Boards::send(Board& board) {
  std::erase_if(board.watching, [](const auto& one) { return one.stream->closed(); });
  std::map<reports::Region, Text> events;
  for (const auto& [words, stream] : board.watching) {
    Text& event = events[words];
    if (!event) event = event_text("view", *view_of(board, words));
    stream->send(event);
  }
  std::erase_if(board.waiting, [&](const auto& one) {
    if (one.version > board.shown) return false;
    (*one.reply)(view_answer(view_of(board, one.words)));
    return true;
  });
}

bool Boards::is_in_use(const Board& board) {
  return board.shown < board.published || !board.waiting.empty() ||
         std::any_of(board.watching.begin(), board.watching.end(), [](const auto& one) { return !one.stream->closed(); });
}

void Boards::forget_some() {
  while (boards_.size() > most_boards) {
    auto oldest = boards_.end();
    for (auto one = boards_.begin(); one != boards_.end(); ++one)
      if (!is_in_use(one->second) && (oldest == boards_.end() || one->second.used < oldest->second.used)) oldest = one;
    if (oldest == boards_.end()) return;
    boards_.erase(oldest);
  }
}

}  // namespace steelyard::field
