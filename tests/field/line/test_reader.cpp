// The reader on pseudo-terminals: what is heard comes from the other end, and settings are read there too.
#include <fcntl.h>
#include <pty.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <boost/test/unit_test.hpp>
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "field/line/reader.hpp"

using namespace steelyard::field;
using namespace std::chrono_literals;
using steelyard::units::LoadUnit;
using Kind = LineTrouble::Kind;

namespace {

constexpr auto patience = 30s;  // for a machine that is busy with much else

/// The scale's end, with its own end of the line closed: the reader alone holds that open.
class Scale {
 public:
  Scale() {
    BOOST_TEST_REQUIRE(openpty(&master_, &slave_, nullptr, nullptr, nullptr) == 0);
    name_ = ttyname(slave_);
  }
  ~Scale() { unplug(); }
  Scale(const Scale&) = delete;
  Scale& operator=(const Scale&) = delete;

  void unplug() {
    if (master_ >= 0) ::close(master_);
    if (slave_ >= 0) ::close(slave_);
    master_ = slave_ = -1;
  }
  void send(std::string_view bytes) const {
    BOOST_TEST_REQUIRE(::write(master_, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()));
  }
  [[nodiscard]] termios settings() const {
    termios found = {};
    BOOST_TEST_REQUIRE(tcgetattr(master_, &found) == 0);
    return found;
  }
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] int master() const { return master_; }

 private:
  int master_ = -1;
  int slave_ = -1;
  std::string name_;
};

class Heard {
 public:
  LineCallback callback() {
    return [this](const LineNews& news) {
      const std::lock_guard lock(mutex_);
      news_.push_back(news);
      changed_.notify_all();
    };
  }

  /// The first news from `from` on that is as asked for; the test fails where it does not come.
  LineNews wait_for(const std::function<bool(const LineNews&)>& wanted, std::size_t from = 0) {
    std::unique_lock lock(mutex_);
    const LineNews* found = nullptr;
    const bool came = changed_.wait_for(lock, patience, [&] {
      for (std::size_t at = from; at < news_.size() && found == nullptr; ++at)
        if (wanted(news_[at])) found = &news_[at];
      return found != nullptr;
    });
    BOOST_TEST_REQUIRE(came);
    return *found;
  }
  LineLoad wait_for_load(double load, std::size_t from = 0) {
    return std::get<LineLoad>(wait_for(
        [&](const LineNews& news) {
          const auto* const heard = std::get_if<LineLoad>(&news);
          return heard != nullptr && heard->load == load;
        },
        from));
  }
  LineTrouble wait_for_trouble(Kind kind, std::size_t from = 0) {
    return std::get<LineTrouble>(wait_for(
        [&](const LineNews& news) {
          const auto* const trouble = std::get_if<LineTrouble>(&news);
          return trouble != nullptr && trouble->kind == kind;
        },
        from));
  }
  std::size_t count() {
    const std::lock_guard lock(mutex_);
    return news_.size();
  }

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  std::vector<LineNews> news_;
};

LineOptions on(const std::string& device) {
  LineOptions options{.device = device};
  options.stable_for = 0;
  return options;
}

void wait_until_raw(const Scale& scale) {
  const auto until = std::chrono::steady_clock::now() + patience;
  while ((scale.settings().c_lflag & ICANON) != 0 && std::chrono::steady_clock::now() < until)
    std::this_thread::yield();
  BOOST_TEST_REQUIRE((scale.settings().c_lflag & ICANON) == 0U);
}

struct Folder {
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "steelyard-line-").string() + std::string(6, 'X');
    path = mkdtemp(name.data());
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path path;
};

}  // namespace

BOOST_AUTO_TEST_SUITE(line_reader)

BOOST_AUTO_TEST_CASE(the_device_is_set_and_its_own_settings_come_back) {
  const Scale scale;
  const termios before = scale.settings();
  Heard heard;
  LineOptions options = on(scale.name());
  options.speed = 2400;
  options.framing = "7E2";
  LineReader reader(options, heard.callback());
  reader.start();
  wait_until_raw(scale);
  scale.send("\n641 kg\n");
  heard.wait_for_load(641);
  const termios now = scale.settings();
  BOOST_TEST(cfgetispeed(&now) == static_cast<speed_t>(B2400));
  BOOST_TEST((now.c_lflag & (ICANON | ECHO | ISIG)) == 0U);
  BOOST_TEST((now.c_cflag & CSTOPB) != 0U);
  BOOST_TEST((now.c_iflag & ISTRIP) != 0U);
  reader.stop();
  const termios after = scale.settings();
  BOOST_TEST(after.c_lflag == before.c_lflag);
  BOOST_TEST(after.c_iflag == before.c_iflag);
  BOOST_TEST(after.c_cflag == before.c_cflag);
  BOOST_TEST(cfgetispeed(&after) == cfgetispeed(&before));
}

BOOST_AUTO_TEST_CASE(bytes_come_in_pieces_and_nothing_goes_back) {
  const Scale scale;
  Heard heard;
  LineReader reader(on(scale.name()), heard.callback());
  reader.start();
  wait_until_raw(scale);
  scale.send("kg\r\n");
  for (const char byte : std::string("  641.5 kg\r\n")) scale.send(std::string(1, byte));
  const LineLoad load = heard.wait_for_load(641.5);
  BOOST_TEST((load.unit == LoadUnit::kilogram));
  BOOST_TEST(load.stable);
  BOOST_TEST((std::chrono::system_clock::now() - load.time < patience));
  scale.send("1 kg\r");
  scale.send("\n2 lb\r\n3 lb\r\n");
  BOOST_TEST((heard.wait_for_load(3).unit == LoadUnit::pound));
  reader.stop();
  int back = -1;
  BOOST_TEST_REQUIRE(ioctl(scale.master(), FIONREAD, &back) == 0);
  BOOST_TEST(back == 0);
}

BOOST_AUTO_TEST_CASE(unplugged_it_is_told_and_comes_back) {
  const Folder folder;
  const auto device = folder.path / "scale";
  Scale first;
  std::filesystem::create_symlink(first.name(), device);
  Heard heard;
  LineTimes times;
  times.reopen = 20ms;
  LineReader reader(on(device.string()), heard.callback(), times);
  reader.start();
  wait_until_raw(first);
  first.send("\n1 kg\n");
  heard.wait_for_load(1);
  const std::size_t from = heard.count();
  first.unplug();
  BOOST_TEST(heard.wait_for_trouble(Kind::closed, from).what.find(device.string() + ": unplugged") == 0U);
  const Scale second;
  std::filesystem::remove(device);
  std::filesystem::create_symlink(second.name(), device);
  wait_until_raw(second);
  second.send("\n2 kg\n");
  heard.wait_for_load(2, from);
}

BOOST_AUTO_TEST_CASE(a_device_that_is_not_there_is_waited_for) {
  const Folder folder;
  const auto device = folder.path / "scale";
  Heard heard;
  LineTimes times;
  times.reopen = 20ms;
  LineReader reader(on(device.string()), heard.callback(), times);
  reader.start();
  BOOST_TEST(heard.wait_for_trouble(Kind::closed).what.find("cannot be opened") != std::string::npos);
  const Scale scale;
  std::filesystem::create_symlink(scale.name(), device);
  wait_until_raw(scale);
  scale.send("\n7 kg\n");
  heard.wait_for_load(7);
}

BOOST_AUTO_TEST_CASE(a_file_is_no_serial_line) {
  Heard heard;
  LineReader reader(on("/dev/null"), heard.callback());
  reader.start();
  BOOST_TEST(heard.wait_for_trouble(Kind::closed).what.find("/dev/null: no serial line") == 0U);
}

BOOST_AUTO_TEST_CASE(silence_is_told_and_ends) {
  const Scale scale;
  Heard heard;
  LineTimes times;
  times.silence = 50ms;
  LineReader reader(on(scale.name()), heard.callback(), times);
  reader.start();
  heard.wait_for_trouble(Kind::silent);
  const std::size_t from = heard.count();
  scale.send("\n7 kg\n");
  heard.wait_for_load(7, from);
}

BOOST_AUTO_TEST_CASE(stopping_waits_for_nothing) {
  const Scale scale;
  Heard heard;
  LineTimes times;
  times.reopen = times.silence = 3'600'000ms;
  const auto began = std::chrono::steady_clock::now();
  {
    LineReader listening(on(scale.name()), heard.callback(), times);
    listening.start();
    wait_until_raw(scale);
    listening.stop();
    listening.stop();
    const std::size_t told = heard.count();
    scale.send("\n7 kg\n");
    BOOST_TEST(heard.count() == told);
    listening.start();  // once more, as if new
    wait_until_raw(scale);
    scale.send("\n8 kg\n");
    heard.wait_for_load(8);
    LineReader waiting(on("/dev/null/none"), heard.callback(), times);
    waiting.start();
    heard.wait_for_trouble(Kind::closed);
    LineReader never_started(on(scale.name()), heard.callback(), times);
  }
  BOOST_TEST((std::chrono::steady_clock::now() - began < 600s));
}

BOOST_AUTO_TEST_CASE(wrong_options_are_refused) {
  LineOptions options = on("/dev/null");
  options.pattern = "(";
  BOOST_CHECK_THROW(LineReader(options, [](const LineNews&) {}), std::invalid_argument);
}

BOOST_AUTO_TEST_SUITE_END()
