// Answers as text, tags, and the two handles that are answered from any thread.
#include <boost/test/unit_test.hpp>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "field/http/answer_text.hpp"
#include "field/http/reply.hpp"

namespace http = steelyard::field::http;

namespace {

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

std::shared_ptr<const std::string> event(const std::string& text) {
  return std::make_shared<const std::string>(text);
}

}  // namespace

BOOST_AUTO_TEST_CASE(a_head_carries_the_rules_for_browsers_and_no_banner) {
  http::Response response = http::json_answer(201, "{}");
  response.headers = {{"cache-control", "max-age=60"}, {"ETag", "\"1\""}};
  http::Carriage carriage;
  carriage.length = 2;
  carriage.content_security_policy = "default-src 'none'";
  carriage.now = 784111777;  // the example of RFC 9110, 5.6.7
  const std::string text = http::head_text(response, carriage);
  BOOST_TEST(text.starts_with("HTTP/1.1 201 Created\r\nDate: Sun, 06 Nov 1994 08:49:37 GMT\r\n"));
  for (const std::string line :
       {"Content-Type: application/json", "Content-Length: 2", "Connection: close",
        "Content-Security-Policy: default-src 'none'", "X-Content-Type-Options: nosniff",
        "Referrer-Policy: no-referrer", "Cross-Origin-Opener-Policy: same-origin",
        "Cross-Origin-Resource-Policy: same-origin", "ETag: \"1\"", "cache-control: max-age=60"}) {
    BOOST_TEST(times(text, "\r\n" + line + "\r\n") == 1u, line);
  }
  BOOST_TEST(times(text, "no-store") == 0u);
  BOOST_TEST(times(text, "Server:") == 0u);
  BOOST_TEST(text.ends_with("\r\n\r\n"));
  BOOST_TEST(times(text, "\r\n\r\n") == 1u);
  response.status = 204;
  BOOST_TEST(times(http::head_text(response, carriage), "Content-Length") == 0u);
}

BOOST_AUTO_TEST_CASE(no_header_can_begin_another) {
  const auto sendable = [](const std::string& name, const std::string& value) {
    http::Response response;
    response.headers = {{name, value}};
    return http::is_sendable(response);
  };
  BOOST_TEST(sendable("Set-Cookie", "a=b; HttpOnly"));
  BOOST_TEST(sendable("Content-Disposition", "attachment; filename*=UTF-8''%C3%A9 \xC3\xA9"));
  for (const std::string value : {"a\r\nb: c", "a\nb", "a\rb", "\x7f", "\x01"})
    BOOST_TEST(!sendable("X", value));
  BOOST_TEST(!sendable("X", std::string(1, '\0')));
  for (const std::string name :
       {"", "a b", "a:", "a\r\n", "content-length", "Transfer-Encoding", "Connection", "DATE"}) {
    BOOST_TEST(!sendable(name, "1"), name);
  }
  http::Response response;
  response.status = 99;
  BOOST_TEST(!http::is_sendable(response));
}

BOOST_AUTO_TEST_CASE(errors_are_json_whatever_they_say) {
  BOOST_TEST(http::error_answer(400, "a \"b\"\n").body == R"({"error":"a \"b\"\n"})");
  BOOST_TEST(http::error_answer(400, "\xff").body == "{\"error\":\"\xEF\xBF\xBD\"}");
}

BOOST_AUTO_TEST_CASE(tags_are_compared_one_by_one) {
  BOOST_TEST(http::names_tag("\"a\"", "\"a\""));
  BOOST_TEST(http::names_tag("\"b\" , W/\"a\"", "\"a\""));
  BOOST_TEST(http::names_tag("*", "\"a\""));
  for (const std::string none : {"", ",", "\"ab\"", "a", "\"b\",\"c\""})
    BOOST_TEST(!http::names_tag(none, "\"a\""), none);
}

BOOST_AUTO_TEST_CASE(which_accept_encodings_take_gzip) {
  // RFC 9110, 12.5.3 and 12.4.2: its examples, and what its words say of a weight of 0.
  for (const char* taken : {"gzip", "compress, gzip", "compress;q=0.5, gzip;q=1.0", "gzip;q=1.0, identity; q=0.5, *;q=0",
                            "GZip", "*", "*;q=0, gzip", "gzip;q=0.001", "gzip ; Q=0.5"})
    BOOST_TEST(http::names_gzip(taken), taken);
  for (const char* not_taken : {"", "compress", "gzip;q=0", "gzip;q=0.000", "*;q=0", "*, gzip;q=0", "gzipped", "identity, br"})
    BOOST_TEST(!http::names_gzip(not_taken), not_taken);
}

BOOST_AUTO_TEST_CASE(a_reply_is_answered_once_and_never_forgotten) {
  std::vector<int> answers;
  const auto reply = [&] {
    return http::Reply([&](const http::Response& response) { answers.push_back(response.status); },
                       [&](const std::shared_ptr<http::EventStream>& stream, const http::Response&) {
                         answers.push_back(0);
                         stream->gone();
                       });
  };
  { const http::Reply forgotten = reply(); }
  BOOST_TEST(answers == (std::vector{500}));
  {
    http::Reply answered = reply();
    answered(http::json_answer(200, "1"));
    answered(http::json_answer(201, "2"));
    BOOST_TEST(answered.stream()->closed());
  }
  BOOST_TEST(answers == (std::vector{500, 200}));
  {
    http::Reply first = reply(), second = reply();
    first = std::move(second);  // the first is let go
    BOOST_TEST(answers == (std::vector{500, 200, 500}));
    std::thread([moved = std::move(first)]() mutable { moved(http::json_answer(202, "3")); }).join();
  }
  BOOST_TEST(answers == (std::vector{500, 200, 500, 202}));
  {
    http::Reply streamed = reply();
    int closed = 0;
    BOOST_TEST(!streamed.stream([&] { ++closed; })->send(event("x")));
    BOOST_TEST(closed == 1);
  }
  BOOST_TEST(answers == (std::vector{500, 200, 500, 202, 0}));
}

BOOST_AUTO_TEST_CASE(a_stream_keeps_the_newest_few) {
  int closed = 0, woken = 0;
  http::EventStream stream(4, [&] { ++closed; });
  for (int i = 0; i < 7; ++i) BOOST_TEST(stream.send(event(std::to_string(i))));
  BOOST_TEST(stream.dropped() == 3u);
  stream.wake_by([&] { ++woken; });
  BOOST_TEST(woken == 1);
  for (int i = 3; i < 7; ++i) BOOST_TEST(*stream.take() == std::to_string(i));
  BOOST_TEST(!stream.take());
  stream.send(event("last"));
  BOOST_TEST(woken == 2);
  stream.close();
  stream.close();
  BOOST_TEST(woken == 3);
  BOOST_TEST(!stream.send(event("after")));
  BOOST_TEST(*stream.take() == "last");
  BOOST_TEST(closed == 0);
  stream.gone();
  stream.gone();
  BOOST_TEST(closed == 1);
}
