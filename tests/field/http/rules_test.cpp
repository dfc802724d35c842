// The rules before a handler: which headers are let in, and with which status the others are answered.
#include <boost/test/unit_test.hpp>
#include <string>
#include <vector>

#include "field/http/fault.hpp"
#include "field/http/rules.hpp"

namespace http = steelyard::field::http;

namespace {

using Fields = std::vector<std::pair<std::string, std::string>>;

const http::Arrival arrival{false, "192.168.1.30", "192.168.1.20"};
const std::vector<std::string> names{"van.local"};

http::Head head(const std::string& method, Fields fields, const std::string& target = "/") {
  http::Head made;
  made.method = method;
  made.target = target;
  made.fields = std::move(fields);
  for (const auto& [name, value] : made.fields) {
    if (name == "content-length") made.length = std::stoull(value);
  }
  return made;
}

int status(const http::Head& asked, const http::Arrival& from = arrival) {
  try {
    http::admit(asked, from, names);
    return 200;
  } catch (const http::Fault& fault) {
    BOOST_TEST(std::string(fault.what()).find(';') != std::string::npos);  // the remedy
    return fault.status;
  }
}

Fields with(Fields fields, const Fields& more) {
  fields.insert(fields.end(), more.begin(), more.end());
  return fields;
}

const Fields good_post{
    {"host", "van.local:8080"}, {"origin", "http://van.local:8080"}, {"content-length", "2"}};

}  // namespace

BOOST_AUTO_TEST_CASE(hosts) {
  for (const std::string name : {"van.local", "VAN.local:8080", "localhost", "localhost:1", "127.0.0.1:8080",
                                 "[::1]:9", "192.168.1.20:8080"}) {
    BOOST_TEST(status(head("GET", {{"host", name}})) == 200, name);
  }
  for (const std::string name :
       {"evil.example", "van.local.evil.example", "192.168.1.21", "xvan.local", "van.local."}) {
    BOOST_TEST(status(head("GET", {{"host", name}})) == 421, name);
  }
  BOOST_TEST(status(head("GET", {})) == 400);
  BOOST_TEST(status(head("GET", {{"host", ""}})) == 400);
  BOOST_TEST(status(head("GET", {{"host", "van.local, evil.example"}})) == 400);
  BOOST_TEST(status(head("GET", {{"host", "van.local"}, {"host", "van.local"}})) == 400);
}

BOOST_AUTO_TEST_CASE(methods) {
  for (const std::string method : {"PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PATCH", "get", "FOO"}) {
    BOOST_TEST(status(head(method, good_post)) == 405, method);
  }
  BOOST_TEST(status(head("POST", good_post)) == 200);
  BOOST_TEST(http::admit(head("HEAD", {{"host", "localhost"}}), arrival, names).method == "GET");
}

BOOST_AUTO_TEST_CASE(only_our_own_page_may_post) {
  const Fields from_nowhere{{"host", "van.local:8080"}, {"content-length", "2"}};
  BOOST_TEST(status(head("POST", from_nowhere)) == 403);
  for (const std::string origin : {"null", "http://evil.example", "https://van.local:8080",
                                   "http://van.local:8081", "http://localhost:8080", ""}) {
    BOOST_TEST(status(head("POST", with(from_nowhere, {{"origin", origin}}))) == 403, origin);
  }
  BOOST_TEST(status(head("POST", with(good_post, {{"origin", "http://van.local:8080"}}))) == 403);
  BOOST_TEST(status(head("POST", with(good_post, {{"sec-fetch-site", "same-origin"}}))) == 200);
  BOOST_TEST(status(head("POST", with(good_post, {{"sec-fetch-site", "cross-site"}}))) == 403);
  BOOST_TEST(status(head("POST", with(good_post, {{"sec-fetch-site", "Same-Site"}}))) == 403);
  http::Arrival secure = arrival;
  secure.secure = true;
  BOOST_TEST(status(head("POST", good_post), secure) == 403);
  BOOST_TEST(status(head("POST", with(from_nowhere, {{"origin", "https://van.local:8080"}})), secure) == 200);
}

BOOST_AUTO_TEST_CASE(other_sites_may_lead_here_and_no_more) {
  const Fields host{{"host", "localhost"}};
  BOOST_TEST(status(head("GET", with(host, {{"sec-fetch-site", "cross-site"},
                                            {"sec-fetch-mode", "navigate"}}))) == 200);
  BOOST_TEST(status(head("GET", with(host, {{"sec-fetch-site", "cross-site"},
                                            {"sec-fetch-mode", "no-cors"}}))) == 403);
  BOOST_TEST(status(head("GET", with(host, {{"sec-fetch-site", "same-site"}}))) == 403);
  BOOST_TEST(status(head("GET", with(host, {{"sec-fetch-site", "none"}}))) == 200);
}

BOOST_AUTO_TEST_CASE(bodies) {
  const Fields bare{{"host", "van.local:8080"}, {"origin", "http://van.local:8080"}};
  BOOST_TEST(status(head("POST", bare)) == 411);
  BOOST_TEST(status(head("POST", with(bare, {{"transfer-encoding", "chunked"}}))) == 200);
  BOOST_TEST(status(head("POST", with(bare, {{"transfer-encoding", "Chunked"}}))) == 200);
  for (const std::string coding :
       {"gzip, chunked", "identity", "xchunked", "chunked, chunked", "chunked;q=1", ""}) {
    BOOST_TEST(status(head("POST", with(bare, {{"transfer-encoding", coding}}))) == 400, coding);
  }
  BOOST_TEST(status(head("POST", with(good_post, {{"content-length", "2"}}))) == 400);
  BOOST_TEST(status(head("POST", with(good_post, {{"transfer-encoding", "chunked"}}))) == 400);
  for (const std::string coding : {"gzip", "br", "deflate", "identity, gzip", "x"}) {
    BOOST_TEST(status(head("POST", with(good_post, {{"content-encoding", coding}}))) == 415, coding);
  }
  BOOST_TEST(status(head("POST", with(good_post, {{"content-encoding", "identity"}}))) == 200);
  BOOST_TEST(status(head("POST", with(good_post, {{"content-encoding", "identity"},
                                                  {"content-encoding", "gzip"}}))) == 415);
  BOOST_TEST(status(head("GET", {{"host", "localhost"}, {"content-length", "1"}})) == 400);
  BOOST_TEST(status(head("GET", {{"host", "localhost"}, {"content-length", "0"}})) == 200);
  BOOST_TEST(status(head("GET", {{"host", "localhost"}, {"transfer-encoding", "chunked"}})) == 400);
  http::Head old = head("POST", with(bare, {{"transfer-encoding", "chunked"}}));
  old.at_least_1_1 = false;
  BOOST_TEST(status(old) == 400);
}

BOOST_AUTO_TEST_CASE(expectations) {
  http::Head waits = head("POST", with(good_post, {{"expect", "100-Continue"}}));
  BOOST_TEST(http::wants_continue(waits));
  BOOST_TEST(status(waits) == 200);
  waits.at_least_1_1 = false;
  BOOST_TEST(!http::wants_continue(waits));
  BOOST_TEST(status(waits) == 200);
  BOOST_TEST(status(head("POST", with(good_post, {{"expect", "miracles"}}))) == 417);
}

BOOST_AUTO_TEST_CASE(what_a_handler_gets) {
  const auto request =
      http::admit(head("POST",
                       with(good_post, {{"content-type", "Application/JSON ; charset=utf-8"},
                                        {"if-none-match", "\"a\""},
                                        {"cookie", "code=K7; other=a=b;bare; =x; code=second"},
                                        {"cookie", "third=3"}}),
                       "/api/x%20y?words=au"),
                  arrival, names);
  BOOST_TEST(request.method == "POST");
  BOOST_TEST(request.path == "/api/x y");
  BOOST_TEST(request.query.at("words") == "au");
  BOOST_TEST(request.peer == "192.168.1.30");
  BOOST_TEST(request.host == "van.local:8080");
  BOOST_TEST(request.content_type == "application/json");
  BOOST_TEST(request.if_none_match == "\"a\"");
  BOOST_TEST(request.cookie("code").value() == "K7");
  BOOST_TEST(request.cookie("other").value() == "a=b");
  BOOST_TEST(request.cookie("third").value() == "3");
  BOOST_TEST(request.cookies.size() == 3u);
  BOOST_TEST(!request.cookie("bare"));
}
