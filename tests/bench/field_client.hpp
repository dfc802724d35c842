// What the bench of the page asks with: the program as a process of its own, one connection that posts, and pages that
// watch, all by plain sockets, so that what is measured is the program.
//
// Times of the steady clock. Errors: std::runtime_error.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace steelyard::bench {

using Instant = std::chrono::steady_clock::time_point;

/// `steelyard field` on a store; ended politely when this goes.
class Served {
 public:
  Served(const std::string& program, const std::filesystem::path& store);
  ~Served();
  Served(const Served&) = delete;
  Served& operator=(const Served&) = delete;
  [[nodiscard]] int port() const { return port_; }

 private:
  pid_t process_ = -1;
  int port_ = 0;
};

/// A connection of one's own on loopback; `source` is the last number of its address, 127.0.0.source.
class Line {
 public:
  explicit Line(int port, int source = 1);
  ~Line();
  Line(Line&& other) noexcept;
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;
  [[nodiscard]] int handle() const { return handle_; }
  void send(std::string_view text) const;

  /// Status of a POST of JSON, kept alive; waits for the whole answer.
  int post(const std::string& path, const std::string& body);

 private:
  int port_, handle_;
  std::string heard_ = {};
};

/// A page that watches a session and remembers when it first saw each of its readings, which come in a known order, in a
/// view with settled figures.
class Watching {
 public:
  Watching(int port, int source, const std::string& session, std::vector<std::string> readings);

  [[nodiscard]] int handle() const { return line_.handle(); }
  /// Takes what has come.
  void hear();
  /// When each reading was seen; those not seen yet are missing at the end.
  [[nodiscard]] const std::vector<Instant>& seen() const { return seen_; }
  [[nodiscard]] std::size_t views() const { return views_; }
  [[nodiscard]] std::size_t bytes() const { return bytes_; }

 private:
  void take(Instant now);
  void look_at(std::string_view event, Instant now);

  Line line_;
  std::vector<std::string> marks_;  // as they stand in a view: "id":"k7m2q-9xd0f"
  std::vector<Instant> seen_ = {};
  std::string heard_ = {};
  std::size_t views_ = 0, bytes_ = 0;
};

/// Waits until something comes to one of them, at most `wait`, and lets each hear what came to it.
void hear_all(std::vector<Watching>& pages, std::chrono::milliseconds wait);

}  // namespace steelyard::bench
