#include "cli/command_field.hpp"

#include <csignal>
#include <ctime>
#include <cstdlib>

#include "cli/client_report.hpp"
#include "cli/clock.hpp"
#include "cli/record_note.hpp"
#include "cli/settings.hpp"
#include "cli/solve.hpp"
#include "field/access.hpp"
#include "field/addresses.hpp"
#include "field/boards.hpp"
#include "field/line/reader.hpp"
#include "field/qr/qr.hpp"
#include "field/service.hpp"
#include "reports/result/json_text.hpp"
#include "reports/words/terminal_text.hpp"
#include "units/number.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

constexpr unsigned usual_port = 8417;

std::optional<unsigned> port_of(const std::string& text) {
  const auto number = units::parse_number(text);
  if (!number || *number < 0 || *number > 65535 || *number != static_cast<double>(static_cast<unsigned>(*number)))
    return std::nullopt;
  return static_cast<unsigned>(*number);
}

/// Ctrl-C and a polite kill are waited for, in one thread; every thread made meanwhile leaves them alone.
class EndSignals {
 public:
  EndSignals() {
    sigemptyset(&set_);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&set_, signal);
    pthread_sigmask(SIG_BLOCK, &set_, &before_);
  }
  ~EndSignals() {
    // Who asks twice gets the same orderly end.
    const timespec at_once{};
    while (sigtimedwait(&set_, nullptr, &at_once) > 0) continue;
    pthread_sigmask(SIG_SETMASK, &before_, nullptr);
  }
  EndSignals(const EndSignals&) = delete;
  EndSignals& operator=(const EndSignals&) = delete;
  void wait() const {
    int signal = 0;
    sigwait(&set_, &signal);
  }

 private:
  sigset_t set_{}, before_{};
};

reports::Region words_set(const std::filesystem::path& store, const std::string& client) {
  const auto word = settings_of(store).value("words", client);
  return word ? reports::parse_region(*word).value_or(reports::Region::plain) : reports::Region::plain;
}

std::string report_of(const std::filesystem::path& path, const std::string& session, std::string_view form,
                      reports::Region words) {
  const store::Store store = store::Store::open(path, store::Access::read_only);
  const RecordedSession source{store.load(session), record_note(store, session)};
  const StoredSettings settings(store.settings());
  const std::string paper_word = settings.value("paper", source.session.client.uid).value_or("a4");
  const reports::Paper paper = paper_word == "letter" ? reports::Paper::Letter : reports::Paper::A4;
  return report_bytes(client_report_of(source, settings, field::reader_in(words), paper, local_time_now().substr(0, 10)),
                      paper, form);
}

}  // namespace

About CommandField::about() const {
  return {"field",
          "[--listen ADDRESS] [--port N] [--host NAME]… [--certificate FILE --key FILE] [--line DEVICE [--line-pattern REGEX] "
          "[--line-speed BAUD] [--line-framing 8N1] [--line-unit kg|lb] [--line-end any|cr|lf|crlf] [--line-decimal "
          "point|comma] [--line-stable-for SECONDS] [--line-stable-within LOAD]] [--words au|uk|us|za] [--store FILE]",
          "the page for entering readings beside the rig",
          "Serves a page on which a whole weighing is done by phone or desktop: client, rig, scales and limits, every "
          "reading as it is taken, what it means at once, and the report. Ends with Ctrl-C.\n"
          "Only this machine can reach it, unless --listen names an address of this machine, or 0.0.0.0 for all of them: "
          "then phones in the same network can, with the access code that is shown, as text and as a QR code. What goes "
          "over a plain address can be read by others in that network: use one of your own, or give a certificate.\n"
          "With --line, loads come off a serial line as well: each line is searched with --line-pattern, a regular "
          "expression (PCRE2) with the named groups load and, where the line says it, unit and stable. Without a group "
          "stable a load is stable once it has stayed for --line-stable-for seconds within --line-stable-within. Nothing is "
          "ever sent to the scale."};
}

void CommandField::describe(po::options_description& options) {
  auto add = options.add_options();
  add("listen", po::value(&listen_)->value_name("ADDRESS"), "an address of this machine, 0.0.0.0 for all; else 127.0.0.1");
  add("port", po::value(&port_text_)->value_name("N"), "0 for any that is free; else 8417");
  add("host", po::value(&hosts_)->value_name("NAME")->composing(), "a further name by which browsers call this machine");
  add("certificate", po::value(&certificate_)->value_name("FILE"), "serve by TLS with this certificate chain (PEM)");
  add("key", po::value(&key_)->value_name("FILE"), "its private key (PEM, without password)");
  add("line", po::value(&line_device_)->value_name("DEVICE"), "read loads off this serial line");
  add("line-pattern", po::value(&line_pattern_)->value_name("REGEX"), "how a line shows its load; else a number, kg or lb");
  add("line-speed", po::value(&line_speed_)->value_name("BAUD"), "else 9600");
  add("line-framing", po::value(&line_framing_)->value_name("8N1"), "data bits, parity, stop bits");
  add("line-unit", po::value(&line_unit_)->value_name("kg|lb"), "where the line does not say it");
  add("line-end", po::value(&line_end_)->value_name("any|cr|lf|crlf"), "what ends a line; else any of them");
  add("line-decimal", po::value(&line_decimal_)->value_name("point|comma"), "else point");
  add("line-stable-for", po::value(&line_stable_for_)->value_name("SECONDS"), "else 2");
  add("line-stable-within", po::value(&line_within_)->value_name("LOAD"), "else 0: all alike");
  words_.describe(options);
  store_.describe(options);
  json_.describe(options, "say address, port and code in JSON");
}

void CommandField::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
  const auto port = port_text_.empty() ? std::optional(usual_port) : port_of(port_text_);
  if (!port) throw wrong("--port must be 0 to 65535, is " + port_text_);
  port_ = *port;
  if (certificate_.empty() != key_.empty()) throw wrong("--certificate and --key go together");
  if (const std::string fault = words_.fault(); !fault.empty()) throw wrong(fault);
  take_line();
}

void CommandField::take_line() {
  const bool any = !(line_pattern_ + line_speed_ + line_framing_ + line_unit_ + line_end_ + line_decimal_ + line_stable_for_ +
                     line_within_)
                        .empty();
  if (line_device_.empty()) {
    if (any) throw wrong("the --line- options go with --line DEVICE");
    return;
  }
  field::LineOptions line;
  line.device = line_device_;
  if (!line_pattern_.empty()) line.pattern = line_pattern_;
  if (!line_framing_.empty()) line.framing = line_framing_;
  const auto number = [&](const std::string& text, const char* option, double otherwise) {
    if (text.empty()) return otherwise;
    const auto value = units::parse_number(text);
    if (!value) throw wrong(std::string(option) + " must be a number, is " + text);
    return *value;
  };
  line.speed = static_cast<int>(number(line_speed_, "--line-speed", line.speed));
  line.stable_for = number(line_stable_for_, "--line-stable-for", line.stable_for);
  line.within = number(line_within_, "--line-stable-within", line.within);
  if (!line_unit_.empty()) {
    line.unit = field::load_unit_named(line_unit_);
    if (!line.unit) throw wrong("--line-unit must be kg or lb, is " + line_unit_);
  }
  if (!line_end_.empty()) {
    const auto end = field::line_end_named(line_end_);
    if (!end) throw wrong("--line-end must be any, cr, lf or crlf, is " + line_end_);
    line.end = *end;
  }
  if (!line_decimal_.empty()) {
    const auto mark = field::decimal_mark_named(line_decimal_);
    if (!mark) throw wrong("--line-decimal must be point or comma, is " + line_decimal_);
    line.decimal = *mark;
  }
  std::string text;
  for (const std::string& fault : field::option_faults(line)) text += (text.empty() ? "" : "\n") + fault;
  if (!text.empty()) throw wrong(text);
  line_ = line;
}

std::string CommandField::listening_at() const {
  return listen_.empty() ? "127.0.0.1" : listen_;
}

field::http::Options CommandField::server_options() const {
  field::http::Options options;
  options.address = listening_at();
  options.port = static_cast<std::uint16_t>(port_);
  options.hosts = hosts_;
  if (!certificate_.empty()) options.certificate = field::http::Certificate{certificate_, key_};
  return options;
}

void CommandField::announce(Streams& streams, unsigned port, const std::optional<std::string>& code) const {
  const std::string address = listening_at();
  std::vector<std::string> hosts = field::is_every_address(address) ? field::local_addresses(address == "::") : std::vector{address};
  if (hosts.empty()) hosts = {"127.0.0.1"};
  const bool tls = !certificate_.empty();
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().key("pages").begin_array();
    for (const std::string& host : hosts) out.value(field::page_address(host, port, tls));
    out.end_array().field("port", static_cast<int>(port)).field("code", code).end_object();
    streams.out.line(out.text());
    streams.out.flush();
    return;
  }
  for (const std::string& host : hosts) streams.out.line("the page is at " + field::page_address(host, port, tls));
  if (code) {
    streams.out.line("access code: " + *code);
    const char* const locale = std::getenv("LC_ALL") ? std::getenv("LC_ALL") : std::getenv("LANG");
    const std::string named = locale ? locale : "";
    const bool utf8 = named.find("UTF-8") != named.npos || named.find("utf8") != named.npos;
    const std::string qr = field::qr_text(field::page_address(hosts.front(), port, tls) + "#code=" + *code, utf8,
                                          streams.out.is_terminal());
    if (!qr.empty()) streams.out.write('\n' + qr + '\n');
  }
  streams.out.line("Ctrl-C ends it; what the page has acknowledged is kept.");
  streams.out.flush();
  if (code && !tls)
    streams.err.warn("what goes over this address can be read by others in the same network; use a network of your own, "
                     "or --certificate and --key");
}

Exit CommandField::run(Streams& streams) {
  const EndSignals end;
  const std::filesystem::path path = store_.path();
  const std::optional<std::string> code = !listen_.empty() ? std::optional(field::new_code()) : std::nullopt;
  field::ServiceOptions options{.store = path, .engine = version(), .code = code, .words = words_.region(),
                                .line = line_.has_value(), .now = local_time_now,
                                .words_of = [path](const std::string& client) { return words_set(path, client); },
                                .report = [path](const std::string& session, std::string_view form, reports::Region words) {
                                  return report_of(path, session, form, words);
                                }};
  field::Service service(std::move(options));
  field::http::Server server(server_options(), [&service](field::http::Request request, field::http::Reply reply) {
    service.handle(std::move(request), std::move(reply));
  });
  std::optional<field::LineReader> reader;
  if (line_) reader.emplace(*line_, [&service](const field::LineNews& news) { service.line_news(news); });
  server.start();
  if (reader) reader->start();
  announce(streams, server.port(), code);
  end.wait();
  if (reader) reader->stop();
  server.stop();
  service.stop();
  if (!json_.wanted()) streams.out.line("ended");
  streams.out.flush();  // before a second signal may end the program
  return Exit::done;
}

}  // namespace steelyard::cli
