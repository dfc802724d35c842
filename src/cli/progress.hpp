// How far a long job is, on a terminal only: one line on standard error that is written over and taken away
// at the end. Quiet in a pipe or a file. No errors.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

#include "cli/output.hpp"

namespace steelyard::cli {

class Progress {
 public:
  /// `total` 0: not known.
  Progress(Messages& messages, std::string what, std::size_t total);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress() { clear(); }

  void step() { reach(done_ + 1); }
  /// So many are done.
  void reach(std::size_t done);
  /// Takes the line away, so that something else can be written.
  void clear();

 private:
  Messages& messages_;
  std::string what_;
  std::size_t total_, done_ = 0;
  bool shown_ = false, active_;
  std::chrono::steady_clock::time_point next_{};
};

}  // namespace steelyard::cli
