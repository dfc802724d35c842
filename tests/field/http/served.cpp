// A small server for the tests beside it: answers in the ways a service may, and takes limits as words
// NAME=VALUE. Prints its port; ends when its standard input does, and says how long that took.
#include <sys/resource.h>

#include <atomic>
#include <chrono>
#include <iostream>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "field/http/server.hpp"

namespace http = steelyard::field::http;

namespace {

struct Published {
  std::mutex mutex;
  std::vector<std::shared_ptr<http::EventStream>> streams;
  std::atomic<int> closed{0};
};

Published published;
std::mutex held_mutex;
std::vector<http::Reply> held;

std::string seen(const http::Request& request) {
  nlohmann::json told = {{"method", request.method},     {"path", request.path},
                         {"query", request.query},       {"body", request.body},
                         {"peer", request.peer},         {"host", request.host},
                         {"type", request.content_type}, {"tag", request.if_none_match},
                         {"cookies", request.cookies},   {"secure", request.secure}};
  return told.dump();
}

void publish(const http::Request& request) {
  const int count = std::stoi(request.query.at("count"));
  const std::string filling(static_cast<std::size_t>(std::stoi(request.query.at("size"))), 'x');
  const std::lock_guard lock(published.mutex);
  for (int i = 0; i < count; ++i) {
    auto text = std::make_shared<const std::string>("event: view\ndata: " + std::to_string(i) + " " +
                                                    filling + "\n\n");
    for (const auto& stream : published.streams) stream->send(text);
  }
}

std::string counted() {
  const std::lock_guard lock(published.mutex);
  std::size_t open = 0, dropped = 0;
  for (const auto& stream : published.streams) {
    if (!stream->closed()) ++open;
    dropped += stream->dropped();
  }
  return nlohmann::json{{"open", open}, {"dropped", dropped}, {"closed", published.closed.load()}}.dump();
}

void open_stream(http::Reply reply) {
  auto stream = reply.stream([] { ++published.closed; }, {{"X-Kind", "events"}});
  stream->send(std::make_shared<const std::string>("event: view\ndata: first\n\n"));
  const std::lock_guard lock(published.mutex);
  published.streams.push_back(std::move(stream));
}

void end_streams() {
  const std::lock_guard lock(published.mutex);
  for (const auto& stream : published.streams) stream->close();
}

void serve(http::Request request, http::Reply reply) {
  static const auto big = std::make_shared<const std::string>(8u << 20, 'b');
  const std::string& path = request.path;
  if (path == "/late") {
    std::thread([reply = std::move(reply)]() mutable {
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
      reply(http::json_answer(200, R"("late")"));
    }).detach();
  } else if (path == "/hold") {
    const std::lock_guard lock(held_mutex);
    held.push_back(std::move(reply));
  } else if (path == "/throw") {
    throw std::runtime_error("on purpose");
  } else if (path == "/events") {
    open_stream(std::move(reply));
  } else if (path == "/publish") {
    publish(request);
    reply(http::json_answer(200, counted()));
  } else if (path == "/end-streams") {
    end_streams();
    reply(http::json_answer(200, counted()));
  } else if (path == "/count") {
    reply(http::json_answer(200, counted()));
  } else if (path == "/big") {
    http::Response response;
    response.kept_body = big;
    response.headers = {{"Cache-Control", "max-age=60"}};
    reply(std::move(response));
  } else if (path == "/split") {
    http::Response response = http::json_answer(200, "1");
    response.headers = {{"Set-Cookie", "a=b\r\nX-Forged: 1"}};
    reply(std::move(response));
  } else if (path == "/nothing") {
    http::Response response;
    response.status = 204;
    response.headers = {{"Set-Cookie", "code=1; HttpOnly"}};
    reply(std::move(response));
  } else if (path != "/never") {
    reply(http::json_answer(200, seen(request)));
  }
}

/// NAME=VALUE from the command line into the options.
void set(http::Options& options, const std::string& name, const std::string& value) {
  const auto number = [&] { return static_cast<std::size_t>(std::stoul(value)); };
  const auto time = [&] { return std::chrono::milliseconds(std::stoi(value)); };
  http::Limits& limits = options.limits;
  const std::map<std::string, std::function<void()>> settings = {
      {"address", [&] { options.address = value; }},
      {"port", [&] { options.port = static_cast<std::uint16_t>(number()); }},
      {"host", [&] { options.hosts.push_back(value); }},
      {"chain", [&] { options.certificate.emplace().chain = value; }},
      {"key", [&] { options.certificate.value().key = value; }},
      {"body", [&] { limits.body_bytes = number(); }},
      {"request", [&] { limits.request = time(); }},
      {"idle", [&] { limits.idle = time(); }},
      {"answer", [&] { limits.answer = time(); }},
      {"writing", [&] { limits.writing = time(); }},
      {"keep_alive", [&] { limits.keep_alive = time(); }},
      {"stopping", [&] { limits.stopping = time(); }},
      {"connections", [&] { limits.connections = number(); }},
      {"connections_a_peer", [&] { limits.connections_a_peer = number(); }},
      {"streams", [&] { limits.streams = number(); }},
      {"streams_a_peer", [&] { limits.streams_a_peer = number(); }},
      {"files",
       [&] {
         const rlimit files{number(), number()};
         setrlimit(RLIMIT_NOFILE, &files);
       }},
  };
  settings.at(name)();
}

}  // namespace

int main(int count, char** words) {
  try {
    http::Options options;
    for (int i = 1; i < count; ++i) {
      const std::string word = words[i];
      const auto equals = word.find('=');
      set(options, word.substr(0, equals), word.substr(equals + 1));
    }
    http::Server server(options, serve);
    server.start();
    std::cout << server.port() << std::endl;
    while (std::cin.get() != std::char_traits<char>::eof()) {
    }
    const auto before = std::chrono::steady_clock::now();
    server.stop();
    const auto took = std::chrono::steady_clock::now() - before;
    const std::lock_guard lock(held_mutex);
    held.clear();  // answered after the server is gone: must be harmless
    std::cout << nlohmann::json{{"stopped_ms",
                                 std::chrono::duration_cast<std::chrono::milliseconds>(took).count()},
                                {"streams", nlohmann::json::parse(counted())}}
              << std::endl;
    return 0;
  } catch (const http::Refused& refused) {
    std::cerr << refused.what() << '\n';
    return 1;
  }
}
