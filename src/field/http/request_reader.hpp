// One request out of a stream of bytes, within limits on the header, the body and what carries the body. The
// only place that knows the library which parses. Sizes in bytes; faults throw `Fault` with the status to
// answer. Source: RFC 9112.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace steelyard::field::http {

/// What stands before the body, as sent. Trailers never get here.
struct Head {
  std::string method = {};
  std::string target = {};
  bool at_least_1_1 = true;
  std::vector<std::pair<std::string, std::string>> fields = {};
  std::optional<std::uint64_t> length = {};  // Content-Length

  /// How often a field is there; `name` in lower case.
  std::size_t count(std::string_view name) const;
  /// Its first value, or empty.
  std::string_view value(std::string_view name) const;
};

class RequestReader {
 public:
  RequestReader(std::size_t header_bytes, std::size_t body_bytes);
  ~RequestReader();
  RequestReader(const RequestReader&) = delete;
  RequestReader& operator=(const RequestReader&) = delete;

  enum class Found { nothing_yet, head, whole };

  /// Takes from the front of `bytes` what belongs to the request; what follows it stays. Says `head` once,
  /// when the header is there and before any of the body is read, and `whole` when nothing is left to come.
  Found read(std::string& bytes);

  const Head& head() const;
  bool keep_alive() const;
  std::string take_body();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::field::http
