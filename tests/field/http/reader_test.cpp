// Requests out of bytes: whole, in pieces, one behind the other, and in the shapes that two servers would
// read differently. What is right comes from RFC 9112.
#include <boost/test/unit_test.hpp>
#include <string>
#include <utility>
#include <vector>

#include "field/http/fault.hpp"
#include "field/http/request_reader.hpp"

namespace http = steelyard::field::http;
using Found = http::RequestReader::Found;

namespace {

constexpr std::size_t header_bytes = 200, body_bytes = 40;

/// The body, after `bytes` came in pieces of the given size; what is left over goes to `left`.
std::string body_of(const std::string& bytes, std::size_t piece, std::string& left) {
  http::RequestReader reader(header_bytes, body_bytes);
  std::string buffer;
  int heads = 0;
  for (std::size_t at = 0; at < bytes.size(); at += piece) {
    buffer += bytes.substr(at, piece);
    Found found = reader.read(buffer);
    if (found == Found::head) {
      ++heads;
      found = reader.read(buffer);
    }
    if (found == Found::whole) {
      BOOST_TEST(heads == 1);
      left = buffer + bytes.substr(std::min(bytes.size(), at + piece));
      return reader.take_body();
    }
  }
  throw std::runtime_error("the request is not whole");
}

int refused_with(const std::string& bytes, std::size_t piece) {
  std::string left;
  try {
    body_of(bytes, piece, left);
  } catch (const http::Fault& fault) {
    return fault.status;
  } catch (const std::runtime_error&) {
    return 0;
  }
  return 200;
}

const std::string post = "POST /a HTTP/1.1\r\nHost: h\r\n";

}  // namespace

BOOST_AUTO_TEST_CASE(bodies_come_out_the_same_in_pieces_of_any_size) {
  const std::vector<std::pair<std::string, std::string>> cases = {
      {"GET / HTTP/1.1\r\nHost: h\r\n\r\n", ""},
      {post + "Content-Length: 0\r\n\r\n", ""},
      {post + "Content-Length: 5\r\n\r\nhello", "hello"},
      {post + "Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n", ""},
      {post + "Transfer-Encoding: chunked\r\n\r\n5\r\nhello\r\n0\r\n\r\n", "hello"},
      {post + "Transfer-Encoding: chunked\r\n\r\n2;a=b\r\nhe\r\n003\r\nllo\r\n0\r\nX: y\r\n\r\n", "hello"},
  };
  for (const auto& [bytes, body] : cases) {
    for (std::size_t piece = 1; piece <= bytes.size() + 4; ++piece) {
      std::string left;
      BOOST_TEST(body_of(bytes + "NEXT", piece, left) == body);
      BOOST_TEST(left == "NEXT");
    }
  }
}

BOOST_AUTO_TEST_CASE(trailers_never_become_header_fields) {
  http::RequestReader reader(header_bytes, body_bytes);
  std::string bytes = post + "Transfer-Encoding: chunked\r\n\r\n0\r\nOrigin: http://h\r\nHost: other\r\n\r\n";
  BOOST_TEST((reader.read(bytes) == Found::head));
  BOOST_TEST((reader.read(bytes) == Found::whole));
  BOOST_TEST(reader.head().count("origin") == 0u);
  BOOST_TEST(reader.head().count("host") == 1u);
  BOOST_TEST(reader.head().value("host") == "h");
}

BOOST_AUTO_TEST_CASE(what_is_too_long_is_refused_whatever_the_pieces) {
  const std::string wide(header_bytes, 'w');
  std::string many;
  for (int i = 0; i < 40; ++i) many += "X: y\r\n";  // 240 bytes
  const std::vector<std::pair<std::string, int>> cases = {
      {"GET /" + wide, 431},
      {"GET / HTTP/1.1\r\nHost: h\r\nX: " + wide, 431},
      {"GET / HTTP/1.1\r\nHost: h\r\nX: " + wide + "\r\n\r\n", 431},
      {"GET / HTTP/1.1\r\nHost: h\r\n" + many, 431},
      {"GET / HTTP/1.1\r\nHost: h\r\n" + many + "\r\n", 431},
      {"GET / HTTP/1.1\r\nN: " + std::string(177, 'v') + "\r\n\r\n", 200},  // 16 + 3 + 177 + 4 = 200 bytes
      {"GET / HTTP/1.1\r\nN: " + std::string(178, 'v') + "\r\n\r\n", 431},
      {post + "Content-Length: 41\r\n\r\n", 413},
      {post + "Content-Length: 18446744073709551615\r\n\r\n", 413},
      {post + "Content-Length: 18446744073709551616\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\n\r\n29\r\na", 413},  // 0x29 = 41
      {post + "Transfer-Encoding: chunked\r\n\r\n20\r\n" + std::string(32, 'a') + "\r\n9\r\n",
       413},  // 32 + 9
      {post + "Transfer-Encoding: chunked\r\n\r\nffffffffffffffff\r\n", 413},
      {post + "Transfer-Encoding: chunked\r\n\r\n10000000000000001\r\n", 400},  // more than 64 bits
      {post + "Transfer-Encoding: chunked\r\n\r\n1;" + wide + wide, 431},
      {post + "Transfer-Encoding: chunked\r\n\r\n0\r\nX: " + wide + wide, 431},
  };
  for (const auto& [bytes, status] : cases) {
    for (const std::size_t piece : {1u, 3u, 64u, 4096u})
      BOOST_TEST(refused_with(bytes, piece) == status, bytes);
  }
}

BOOST_AUTO_TEST_CASE(a_body_wrapped_in_long_extensions_is_refused_by_what_it_weighs) {
  // A byte in 60: the body is within its limit when 2 × 40 + 200 bytes have gone by.
  std::string bytes = post + "Transfer-Encoding: chunked\r\n\r\n";
  for (int i = 0; i < 30; ++i) bytes += "1;" + std::string(53, 'e') + "\r\na\r\n";
  for (const std::size_t piece : {1u, 60u}) BOOST_TEST(refused_with(bytes, piece) == 413);
}

BOOST_AUTO_TEST_CASE(shapes_that_are_not_http_are_refused) {
  const std::vector<std::pair<std::string, int>> cases = {
      {"GET / HTTP/2.0\r\nHost: h\r\n\r\n", 505},
      {"GET / HTTP/0.9\r\n\r\n", 505},
      {"GET /\r\n\r\n", 400},
      {"GET  / HTTP/1.1\r\n\r\n", 400},
      {"\x16\x03\x01\x02", 400},  // TLS to a port in the clear
      {"GET / HTTP/1.1\r\nHost : h\r\n\r\n", 400},
      {"GET / HTTP/1.1\nHost: h\n\n", 505},
      {"GET / HTTP/1.1\r\nHost: h\nX: y\r\n\r\n", 400},
      {std::string("GET / HTTP/1.1\r\nHost: h\r\nX: a") + '\0' + "b\r\n\r\n", 400},
      {post + "Content-Length: 5\r\nContent-Length: 6\r\n\r\nhello", 400},
      {post + "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\nContent-Length: 5\r\n\r\n0\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 400},
      {post + "Content-Length: +5\r\n\r\nhello", 400},
      {post + "Content-Length: -1\r\n\r\n", 400},
      {post + "Content-Length: 0x5\r\n\r\nhello", 400},
      {post + "Transfer-Encoding: chunked\r\n\r\n-1\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\n\r\n0x5\r\nhello\r\n0\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\n\r\n5\r\nhelloX\r\n0\r\n\r\n", 400},
      {post + "Transfer-Encoding: chunked\r\n\r\n5\nhello\r\n0\r\n\r\n", 400},
  };
  for (const auto& [bytes, status] : cases) BOOST_TEST(refused_with(bytes, 4096) == status, bytes);
}
