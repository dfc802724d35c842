// A serial or pseudo-terminal device, opened for reading only. The only place that knows termios.
//
// Errors: open() says what is wrong, with the remedy, in the text it gives back; nothing throws.
// Source: POSIX.1-2017, termios; tty_ioctl(4).
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>

#include "field/line/options.hpp"

namespace steelyard::field {

class SerialDevice {
 public:
  SerialDevice();
  ~SerialDevice();  ///< closes
  SerialDevice(const SerialDevice&) = delete;
  SerialDevice& operator=(const SerialDevice&) = delete;

  /// Opens raw, without waiting for a carrier, for this program alone. What is wrong, or nothing.
  std::optional<std::string> open(const LineOptions& options);

  /// Puts the device's own settings back.
  void close();

  [[nodiscard]] bool is_open() const { return handle_ >= 0; }
  [[nodiscard]] int handle() const { return handle_; }

  /// What has come so far, perhaps nothing; no value: the device is gone.
  std::optional<std::string> read_some();

 private:
  struct Settings;
  int handle_ = -1;
  std::unique_ptr<Settings> before_;
};

}  // namespace steelyard::field
