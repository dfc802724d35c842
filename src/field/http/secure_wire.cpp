#include <openssl/err.h>
#include <openssl/ssl.h>
#include <openssl/x509.h>

#include <boost/asio/ssl/context.hpp>
#include <boost/asio/ssl/stream.hpp>
#include <boost/asio/write.hpp>
#include <utility>

#include "field/http/wire.hpp"

namespace steelyard::field::http {
namespace {

namespace asio = boost::asio;

class SecureWire : public Wire {
 public:
  SecureWire(asio::ip::tcp::socket socket, asio::ssl::context& context)
      : stream_(std::move(socket), context) {}

  void greet(Done done) override {
    stream_.async_handshake(asio::ssl::stream_base::server,
                            [done = std::move(done)](const Error& why) { done(why, 0); });
  }
  void read(asio::mutable_buffer into, Done done) override { stream_.async_read_some(into, std::move(done)); }
  void write(const std::array<asio::const_buffer, 2>& parts, Done done) override {
    asio::async_write(stream_, parts, std::move(done));
  }
  void part(Done done) override {
    stream_.async_shutdown([done = std::move(done)](const Error& why) { done(why, 0); });
  }
  asio::ip::tcp::socket& socket() override { return stream_.next_layer(); }

 private:
  asio::ssl::stream<asio::ip::tcp::socket> stream_;
};

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& what) {
  ERR_clear_error();
  throw Refused(file.string() + ": " + what);
}

std::string reason(const boost::system::error_code& why) {
  return " (" + why.message() + ")";
}

}  // namespace

std::unique_ptr<Wire> secure_wire(asio::ip::tcp::socket socket, asio::ssl::context& context) {
  return std::make_unique<SecureWire>(std::move(socket), context);
}

std::shared_ptr<asio::ssl::context> secure_context(const Certificate& certificate) {
  auto context = std::make_shared<asio::ssl::context>(asio::ssl::context::tls_server);
  boost::system::error_code why;
  // Without this the library would ask for a password at the terminal, and wait.
  context->set_password_callback(
      [](std::size_t, asio::ssl::context::password_purpose) { return std::string(); }, why);
  SSL_CTX* const native = context->native_handle();
  SSL_CTX_set_min_proto_version(native, TLS1_2_VERSION);
  SSL_CTX_set_options(native,
                      SSL_OP_NO_COMPRESSION | SSL_OP_NO_RENEGOTIATION | SSL_OP_CIPHER_SERVER_PREFERENCE);
  SSL_CTX_set_session_cache_mode(native, SSL_SESS_CACHE_OFF);
  SSL_CTX_set_mode(native, SSL_MODE_RELEASE_BUFFERS);

  context->use_certificate_chain_file(certificate.chain.string(), why);
  if (why) {
    refuse(certificate.chain, "the certificate cannot be used" + reason(why) +
                                  "; name a readable PEM file with the server's own certificate first");
  }
  context->use_private_key_file(certificate.key.string(), asio::ssl::context::pem, why);
  const bool mismatch =
      why && ERR_GET_REASON(static_cast<unsigned long>(why.value())) == X509_R_KEY_VALUES_MISMATCH;
  if (why && !mismatch) {
    refuse(certificate.key,
           "the key cannot be used" + reason(why) + "; name a readable PEM file that needs no password");
  }
  if (mismatch || SSL_CTX_check_private_key(native) != 1) {
    refuse(certificate.key, "this key does not belong to the certificate in " + certificate.chain.string() +
                                "; name the key that the certificate was made with");
  }
  return context;
}

}  // namespace steelyard::field::http
