#include "field_client.hpp"

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <utility>

namespace steelyard::bench {
namespace {

std::string host(int port) {
  return "127.0.0.1:" + std::to_string(port);
}

sockaddr_in loopback(int last, int port) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(0x7f000000u + static_cast<unsigned>(last));
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  return address;
}

/// What comes within 30 s; throws where nothing does.
std::string some(int handle) {
  pollfd waiting{handle, POLLIN, 0};
  std::array<char, 1 << 16> buffer;
  if (poll(&waiting, 1, 30'000) <= 0) throw std::runtime_error("nothing came for 30 s");
  const ssize_t got = recv(handle, buffer.data(), buffer.size(), 0);
  if (got <= 0) throw std::runtime_error("the connection ended");
  return {buffer.data(), static_cast<std::size_t>(got)};
}

}  // namespace

Served::Served(const std::string& program, const std::filesystem::path& store) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
  process_ = fork();
  if (process_ == 0) {
    dup2(ends[1], STDOUT_FILENO);
    close(ends[0]);
    execl(program.c_str(), program.c_str(), "field", "--port", "0", "--json", "--store", store.c_str(), nullptr);
    _exit(127);
  }
  close(ends[1]);
  std::string said;
  for (char one = 0; read(ends[0], &one, 1) == 1 && one != '\n';) said += one;
  close(ends[0]);
  const auto at = said.find("\"port\":");
  if (at == said.npos) throw std::runtime_error("the program does not serve: " + said);
  port_ = std::atoi(said.c_str() + at + 7);
}

Served::~Served() {
  kill(process_, SIGTERM);
  waitpid(process_, nullptr, 0);
}

Line::Line(int port, int source) : port_(port), handle_(socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  const sockaddr_in from = loopback(source, 0), to = loopback(1, port);
  const int one = 1;
  setsockopt(handle_, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one);
  if (bind(handle_, reinterpret_cast<const sockaddr*>(&from), sizeof from) != 0 ||
      connect(handle_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0)
    throw std::runtime_error("no connection to " + host(port));
}

Line::~Line() {
  if (handle_ >= 0) close(handle_);
}

Line::Line(Line&& other) noexcept
    : port_(other.port_), handle_(std::exchange(other.handle_, -1)), heard_(std::move(other.heard_)) {}

void Line::send(std::string_view text) const {
  while (!text.empty()) {
    const ssize_t sent = ::send(handle_, text.data(), text.size(), MSG_NOSIGNAL);
    if (sent <= 0) throw std::runtime_error("the connection ended");
    text.remove_prefix(static_cast<std::size_t>(sent));
  }
}

int Line::post(const std::string& path, const std::string& body) {
  send("POST " + path + " HTTP/1.1\r\nHost: " + host(port_) + "\r\nOrigin: http://" + host(port_) +
       "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
  while (true) {
    const auto end = heard_.find("\r\n\r\n");
    if (end != heard_.npos) {
      const auto at = heard_.find("Content-Length: ");
      const std::size_t length = at < end ? static_cast<std::size_t>(std::atoi(heard_.c_str() + at + 16)) : 0;
      if (heard_.size() >= end + 4 + length) {
        const int status = std::atoi(heard_.c_str() + 9);
        heard_.erase(0, end + 4 + length);
        return status;
      }
    }
    heard_ += some(handle_);
  }
}

Watching::Watching(int port, int source, const std::string& session, std::vector<std::string> readings)
    : line_(port, source), marks_(std::move(readings)) {
  for (std::string& mark : marks_) mark = "\"id\":\"" + mark + '"';
  line_.send("GET /api/sessions/" + session + "/events?words=plain HTTP/1.1\r\nHost: " + host(port) + "\r\n\r\n");
  const std::string end = "\r\n\r\n";
  while (heard_.find(end) == heard_.npos) heard_ += some(handle());
  if (!heard_.starts_with("HTTP/1.1 200")) throw std::runtime_error("no stream: " + heard_.substr(0, 300));
  heard_.erase(0, heard_.find(end) + end.size());
  take(std::chrono::steady_clock::now());  // the view at the start may have come with it
  while (views_ == 0) hear();
}

void Watching::hear() {
  const std::string more = some(handle());
  const Instant now = std::chrono::steady_clock::now();
  bytes_ += more.size();
  heard_ += more;
  take(now);
}

void Watching::take(Instant now) {
  for (auto end = heard_.find("\n\n"); end != heard_.npos; end = heard_.find("\n\n")) {
    look_at(std::string_view(heard_).substr(0, end), now);
    heard_.erase(0, end + 2);
  }
}

void Watching::look_at(std::string_view event, Instant now) {
  if (event.find("event: view\n") == event.npos) return;
  ++views_;
  if (event.find("\"found\":{\"solved\":true") == event.npos) return;
  while (seen_.size() < marks_.size() && event.find(marks_[seen_.size()]) != event.npos) seen_.push_back(now);
}

void hear_all(std::vector<Watching>& pages, std::chrono::milliseconds wait) {
  std::vector<pollfd> waiting;
  for (const Watching& page : pages) waiting.push_back({page.handle(), POLLIN, 0});
  if (poll(waiting.data(), waiting.size(), static_cast<int>(wait.count())) <= 0) return;
  for (std::size_t i = 0; i < pages.size(); ++i)
    if (waiting[i].revents != 0) pages[i].hear();
}

}  // namespace steelyard::bench
