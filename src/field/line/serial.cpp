#include "field/line/serial.hpp"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

namespace steelyard::field {
namespace {

struct Speed {
  int baud;
  speed_t code;
};
constexpr std::array<Speed, 8> speeds{{{1200, B1200},
                                       {2400, B2400},
                                       {4800, B4800},
                                       {9600, B9600},
                                       {19200, B19200},
                                       {38400, B38400},
                                       {57600, B57600},
                                       {115200, B115200}}};

speed_t code_of(int baud) {
  for (const Speed& speed : speeds)
    if (speed.baud == baud) return speed.code;
  return B9600;
}

constexpr tcflag_t framing_bits = CSIZE | PARENB | PARODD | CSTOPB;

termios wanted(termios settings, const LineOptions& options) {
  cfmakeraw(&settings);
  settings.c_cflag &= ~(framing_bits | CRTSCTS);
  settings.c_cflag |= CREAD | CLOCAL;
  const std::string& framing = options.framing;
  // Seven bits: the eighth is cut off even where the device hands it over.
  if (framing[0] == '7') settings.c_iflag |= ISTRIP;
  settings.c_cflag |= framing[0] == '7' ? CS7 : CS8;
  if (framing[1] != 'N') {
    settings.c_cflag |= PARENB;
    settings.c_iflag |= INPCK;  // a byte of wrong parity reads as NUL and spoils its number
  }
  if (framing[1] == 'O') settings.c_cflag |= PARODD;
  if (framing[2] == '2') settings.c_cflag |= CSTOPB;
  // With VMIN 1 nothing to read is an error of its own, and 0 bytes mean that the device is gone.
  settings.c_cc[VMIN] = 1;
  settings.c_cc[VTIME] = 0;
  cfsetispeed(&settings, code_of(options.speed));
  cfsetospeed(&settings, code_of(options.speed));
  return settings;
}

/// Speed and framing mean nothing there, and framing is not kept (Linux: majors 136 to 143).
bool is_pseudo_terminal(int handle) {
  struct stat about {};
  if (fstat(handle, &about) != 0) return false;
  const unsigned number = major(about.st_rdev);
  return number >= 136 && number <= 143;
}

std::string because(int error) {
  return std::generic_category().message(error);
}

std::string remedy_for(int error) {
  switch (error) {
    case ENOENT:
    case ENXIO:
    case ENODEV:
      return "plug it in, or look at --line";
    case EACCES:
    case EPERM:
      return "add yourself to the group that owns the device, commonly dialout, and log in again";
    case EBUSY:
      return "close the program that reads from it";
    default:
      return "look at the cable and at --line";
  }
}

}  // namespace

struct SerialDevice::Settings {
  termios value = {};
};

SerialDevice::SerialDevice() = default;

SerialDevice::~SerialDevice() {
  close();
}

std::optional<std::string> SerialDevice::open(const LineOptions& options) {
  close();
  const std::string about = options.device + ": ";
  handle_ = ::open(options.device.c_str(), O_RDONLY | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
  if (handle_ < 0) {
    const int error = errno;
    return about + "cannot be opened (" + because(error) + "); " + remedy_for(error);
  }
  Settings before;
  if (tcgetattr(handle_, &before.value) != 0) {
    const int error = errno;
    close();
    if (error == ENOTTY || error == EINVAL)
      return about + "no serial line; give the device that the scale is plugged into with --line";
    return about + "cannot be set (" + because(error) + "); " + remedy_for(error);
  }
  const termios asked = wanted(before.value, options);
  termios got = {};
  tcflush(handle_, TCIFLUSH);  // what was sent at another speed, or long ago
  if (tcsetattr(handle_, TCSANOW, &asked) != 0 || tcgetattr(handle_, &got) != 0) {
    const int error = errno;
    close();
    return about + "cannot be set (" + because(error) + "); " + remedy_for(error);
  }
  before_ = std::make_unique<Settings>(before);
  // tcsetattr succeeds as soon as any one of the settings took.
  if (cfgetispeed(&got) != cfgetispeed(&asked) && cfgetospeed(&got) != cfgetospeed(&asked)) {
    close();
    return about + "does not take " + std::to_string(options.speed) + " baud; give another --line-speed";
  }
  if ((got.c_cflag & framing_bits) != (asked.c_cflag & framing_bits) && !is_pseudo_terminal(handle_)) {
    close();
    return about + "does not take " + options.framing + "; give another --line-framing";
  }
  ioctl(handle_, TIOCEXCL);  // two readers would get half the bytes each
  return {};
}

void SerialDevice::close() {
  if (handle_ < 0) return;
  if (before_) {
    ioctl(handle_, TIOCNXCL);
    tcsetattr(handle_, TCSANOW, &before_->value);
    before_.reset();
  }
  ::close(handle_);
  handle_ = -1;
}

std::optional<std::string> SerialDevice::read_some() {
  std::array<char, 4096> bytes{};
  const ssize_t count = ::read(handle_, bytes.data(), bytes.size());
  if (count > 0) return std::string(bytes.data(), static_cast<std::size_t>(count));
  if (count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR)) return std::string();
  return {};
}

}  // namespace steelyard::field
