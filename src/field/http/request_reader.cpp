#include "field/http/request_reader.hpp"

#include <algorithm>
#include <boost/beast/http/basic_parser.hpp>
#include <boost/beast/http/error.hpp>

#include "field/http/fault.hpp"
#include "field/http/header_text.hpp"

namespace steelyard::field::http {
namespace {

namespace beast = boost::beast;
using beast::error_code;
using beast::string_view;
using Error = beast::http::error;

std::string text(string_view view) {
  return {view.data(), view.size()};
}

/// Collects what the parser finds. Fields after the body (trailers) are dropped: nobody checks them.
class Collector : public beast::http::basic_parser<true> {
 public:
  Head head;
  std::string body;
  bool header_done = false;

 private:
  void on_request_impl(beast::http::verb, string_view method, string_view target, int version,
                       error_code&) override {
    head.method = text(method);
    head.target = text(target);
    head.at_least_1_1 = version >= 11;
  }
  void on_response_impl(int, string_view, int, error_code&) override {}
  void on_field_impl(beast::http::field, string_view name, string_view value, error_code&) override {
    if (!header_done) head.fields.emplace_back(lower_case(text(name)), text(value));
  }
  void on_header_impl(error_code&) override { header_done = true; }
  void on_body_init_impl(const boost::optional<std::uint64_t>&, error_code&) override {}
  std::size_t on_body_impl(string_view part, error_code&) override {
    body.append(part.data(), part.size());
    return part.size();
  }
  void on_chunk_header_impl(std::uint64_t, string_view, error_code&) override {}
  std::size_t on_chunk_body_impl(std::uint64_t, string_view part, error_code&) override {
    body.append(part.data(), part.size());
    return part.size();
  }
  void on_finish_impl(error_code&) override {}
};

[[noreturn]] void refuse(const error_code& why, std::size_t header_bytes, std::size_t body_bytes) {
  if (why == Error::header_limit) {
    throw Fault(431, "the request's header is longer than " + std::to_string(header_bytes) +
                         " bytes; clear this site's cookies and try again");
  }
  if (why == Error::body_limit) {
    throw Fault(413,
                "what was sent is longer than " + std::to_string(body_bytes) + " bytes; send less at a time");
  }
  if (why == Error::bad_version)
    throw Fault(505, "only HTTP/1.0 and HTTP/1.1 are spoken here; use one of these");
  throw Fault(400,
              "the request is not well-formed HTTP (" + why.message() + "); send it again from the page");
}

// "0\r\n\r\n": no chunked body ends with less, and the parser wants to see its first chunk whole.
constexpr std::size_t shortest_tail = 5;

}  // namespace

std::size_t Head::count(std::string_view name) const {
  return static_cast<std::size_t>(
      std::ranges::count(fields, name, [](const auto& field) { return field.first; }));
}

std::string_view Head::value(std::string_view name) const {
  const auto found = std::ranges::find_if(fields, [&](const auto& field) { return field.first == name; });
  return found == fields.end() ? std::string_view() : std::string_view(found->second);
}

struct RequestReader::Impl {
  std::size_t header_bytes, body_bytes;
  Collector parser = {};
  bool head_said = false;
  std::size_t headed = 0;   // bytes of the header taken so far
  std::size_t carried = 0;  // bytes of the body as sent, with what wraps it

  /// One step of the parser; false where it needs more.
  bool step(std::string& bytes) {
    error_code why;
    const std::size_t used = parser.put(boost::asio::buffer(bytes), why);
    bytes.erase(0, used);
    (head_said ? carried : headed) += used;
    // The parser's own limit is on what it is given at a time: fields that come in small pieces would never
    // end.
    if (headed + (parser.header_done ? 0 : bytes.size()) > header_bytes) {
      refuse(Error::header_limit, header_bytes, body_bytes);
    }
    // Chunks of one byte, wrapped in long extensions, could go on for long within the limit on the body.
    if (carried > 2 * body_bytes + header_bytes) refuse(Error::body_limit, header_bytes, body_bytes);
    if (why == Error::need_more) {
      // Chunk headers and trailers have no limit of their own in the parser.
      if (bytes.size() > header_bytes) refuse(Error::header_limit, header_bytes, body_bytes);
      return false;
    }
    if (why) refuse(why, header_bytes, body_bytes);
    return true;
  }
};

RequestReader::RequestReader(std::size_t header_bytes, std::size_t body_bytes)
    : impl_(std::make_unique<Impl>(Impl{header_bytes, body_bytes})) {
  impl_->parser.header_limit(static_cast<std::uint32_t>(header_bytes));
  impl_->parser.body_limit(body_bytes);
  impl_->parser.eager(false);
}

RequestReader::~RequestReader() = default;

RequestReader::Found RequestReader::read(std::string& bytes) {
  Collector& parser = impl_->parser;
  while (true) {
    if (parser.header_done && !impl_->head_said) {
      impl_->head_said = true;
      parser.eager(true);  // whole stretches at once, so that tiny chunks cost no more than their bytes
      if (const auto length = parser.content_length()) parser.head.length = *length;
      return Found::head;
    }
    if (parser.is_done()) return Found::whole;
    if (bytes.empty() || (parser.header_done && parser.chunked() && bytes.size() < shortest_tail)) {
      return Found::nothing_yet;
    }
    if (!impl_->step(bytes)) return Found::nothing_yet;
  }
}

const Head& RequestReader::head() const {
  return impl_->parser.head;
}
bool RequestReader::keep_alive() const {
  return impl_->parser.keep_alive();
}
std::string RequestReader::take_body() {
  return std::move(impl_->parser.body);
}

}  // namespace steelyard::field::http
