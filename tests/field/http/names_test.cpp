// Targets (RFC 3986), hosts and origins (RFC 9110, RFC 6454): what is taken, as what, and what is refused.
#include <boost/test/unit_test.hpp>
#include <string>

#include "field/http/authority.hpp"
#include "field/http/fault.hpp"
#include "field/http/target.hpp"

namespace http = steelyard::field::http;

BOOST_AUTO_TEST_CASE(a_path_is_decoded_once) {
  BOOST_TEST(http::read_target("/").path == "/");
  BOOST_TEST(http::read_target("/a/b.css").path == "/a/b.css");
  BOOST_TEST(http::read_target("/a%20b/%C3%A9").path == "/a b/\xC3\xA9");
  BOOST_TEST(http::read_target("/a+b").path == "/a+b");
  BOOST_TEST(http::read_target("/%252e%252e/").path == "/%2e%2e/");
  BOOST_TEST(http::read_target("/...").path == "/...");
  BOOST_TEST(http::read_target("/a..b").path == "/a..b");
}

BOOST_AUTO_TEST_CASE(a_query_is_decoded_too) {
  const auto target = http::read_target("/x?words=au&a=b%26c&empty=&alone&sp=1+2%2B3&u=%E2%82%AC");
  BOOST_TEST(target.path == "/x");
  BOOST_TEST(target.query.size() == 6u);
  BOOST_TEST(target.query.at("words") == "au");
  BOOST_TEST(target.query.at("a") == "b&c");
  BOOST_TEST(target.query.at("empty") == "");
  BOOST_TEST(target.query.at("alone") == "");
  BOOST_TEST(target.query.at("sp") == "1 2+3");
  BOOST_TEST(target.query.at("u") == "\xE2\x82\xAC");
}

BOOST_AUTO_TEST_CASE(tricks_with_a_target_are_refused) {
  for (const std::string text : {"",
                                 "*",
                                 "a",
                                 "http://h/",
                                 "h:80",
                                 "/..",
                                 "/../etc/passwd",
                                 "/a/../b",
                                 "/a/..",
                                 "/.",
                                 "/a/./b",
                                 "/%2e%2e/a",
                                 "/%2E./a",
                                 "/.%2e",
                                 "//a",
                                 "/a//b",
                                 "/a//",
                                 "/a%2fb",
                                 "/a%2Fb",
                                 "/%2f",
                                 "/a\\b",
                                 "/a%5cb",
                                 "/..%5c..",
                                 "/%00",
                                 "/a%0d%0ab",
                                 "/%7f",
                                 "/%",
                                 "/%4",
                                 "/%zz",
                                 "/%u0041",
                                 "/%c0%ae%c0%ae/",
                                 "/%ff",
                                 "/%ed%a0%80",
                                 "/%f4%90%80%80",
                                 "/%C3",
                                 "/a#b",
                                 "/?a=1&a=2",
                                 "/?a=%00",
                                 "/?%00=1",
                                 "/?a=%",
                                 "/?a=%c0%80"}) {
    BOOST_CHECK_EXCEPTION(http::read_target(text), http::Fault, [&](const http::Fault& fault) {
      BOOST_TEST(fault.status == 400);
      return std::string(fault.what()).find(';') != std::string::npos;
    });
  }
}

BOOST_AUTO_TEST_CASE(an_authority_is_a_host_and_a_port) {
  using http::Authority;
  BOOST_TEST((http::read_authority("Van.Local:8080") == Authority{"van.local", "8080"}));
  BOOST_TEST((http::read_authority("10.0.0.7") == Authority{"10.0.0.7", ""}));
  BOOST_TEST((http::read_authority("[::1]:80") == Authority{"::1", "80"}));
  BOOST_TEST((http::read_authority("[0:0:0:0:0:0:0:1]") == Authority{"::1", ""}));
  BOOST_TEST((http::read_authority("[::FFFF:10.0.0.7]") == Authority{"10.0.0.7", ""}));
  for (const std::string text : {"", ":80", "a:", "a:b", "a:123456", "a b", "a/b", "a@b", "[::1", "[::1]x",
                                 "::1:80", "a:80:80", "a\tb", "[a b]", "\xC3\xA9", "a,b"}) {
    BOOST_TEST(!http::read_authority(text), text);
  }
  BOOST_TEST(!http::read_authority(std::string(254, 'a')));
  BOOST_TEST(http::read_authority(std::string(253, 'a')).has_value());
}

BOOST_AUTO_TEST_CASE(loopback_is_what_never_leaves_this_computer) {
  for (const std::string text :
       {"localhost", "LocalHost", "127.0.0.1", "127.255.0.9", "::1", "0:0::1", "::ffff:127.0.0.1"}) {
    BOOST_TEST(http::is_loopback(text), text);
  }
  for (const std::string text : {"", "128.0.0.1", "127.0.0.1.example", "localhost.example", "127.1",
                                 "2130706433", "::2", "0.0.0.0", "localhost."}) {
    BOOST_TEST(!http::is_loopback(text), text);
  }
}

BOOST_AUTO_TEST_CASE(an_origin_is_scheme_host_and_port) {
  const http::Authority at_8080{"van.local", "8080"}, plain{"van.local", ""}, six{"::1", "8080"};
  BOOST_TEST(http::same_origin("http://van.local:8080", at_8080, false));
  BOOST_TEST(http::same_origin("http://VAN.local:8080", at_8080, false));
  BOOST_TEST(http::same_origin("https://van.local:8080", at_8080, true));
  BOOST_TEST(http::same_origin("http://[::1]:8080", six, false));
  BOOST_TEST(http::same_origin("http://van.local", plain, false));
  BOOST_TEST(http::same_origin("http://van.local:80", plain, false));
  BOOST_TEST(http::same_origin("https://van.local:443", plain, true));
  for (const std::string text :
       {"", "null", "http://", "van.local:8080", "https://van.local:8080", "http://van.local",
        "http://van.local:8081", "http://van.local:8080.example", "http://van.local:8080/",
        "http://evil@van.local:8080", "http://a.van.local:8080", "http://van.local:8080 http://b",
        "file://van.local:8080"}) {
    BOOST_TEST(!http::same_origin(text, at_8080, false), text);
  }
  BOOST_TEST(!http::same_origin("http://van.local:443", plain, false));
  BOOST_TEST(!http::same_origin("http://van.local", plain, true));
}
