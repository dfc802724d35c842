// What the page asks for and sends: one handler for the HTTP server, over one store.
//
// The members of requests and answers are listed in src/field/README.md. The store is used by one thread, which
// acknowledges nothing before it is kept; solving, and making reports and lists (through connections of their own that
// only read), have a thread each. Every entry carries an id that the page made, so that one sent twice counts once.
// Errors: the constructor throws store::Refused; later faults are answers: 401 no access, 404, 409 other than what is
// stored or sealed, 422 faults by place, 503 the store cannot be used now: try again.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "field/http/message.hpp"
#include "field/http/reply.hpp"
#include "field/line/reader.hpp"
#include "reports/words/wording.hpp"

namespace steelyard::field {

struct ServiceOptions {
  std::filesystem::path store;
  std::string engine;                              // version of the program
  std::optional<std::string> code = {};            // whoever comes has to know it; nothing: everybody on this machine
  std::optional<reports::Region> words = {};       // asked for; nothing: as set in the store
  bool line = false;                               // loads come through line_news
  std::function<std::string()> now = {};           // local time with offset, ISO 8601
  /// What a client is shown in, as the store's settings have it.
  std::function<reports::Region(const std::string& client_uid)> words_of = {};
  /// The report of a session as a file's bytes; form "xlsx", "html" or "txt". Called in a thread of its own.
  std::function<std::string(const std::string& session, std::string_view form, reports::Region words)> report = {};
};

class Service {
 public:
  explicit Service(ServiceOptions options);
  ~Service();
  Service(const Service&) = delete;
  Service& operator=(const Service&) = delete;

  /// Does not block; called on the network thread.
  void handle(http::Request request, http::Reply reply);
  /// From the line's thread.
  void line_news(const LineNews& news);
  /// Ends its threads; what was asked for and not done is answered by 500.
  void stop();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::field
