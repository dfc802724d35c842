// A thread that does one thing after another, in the order in which they were asked for.
//
// Errors: what a job throws ends the job and nothing else; jobs answer for themselves.
#pragma once

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace steelyard::field {

class Worker {
 public:
  using Job = std::function<void()>;

  /// `tick`, where given, runs in the same thread when nothing was asked for `pause` long, and between jobs when that
  /// long has passed.
  explicit Worker(Job tick = {}, std::chrono::milliseconds pause = std::chrono::milliseconds(500));
  ~Worker();  // stops
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// From any thread; false after stop().
  bool post(Job job);
  /// Finishes the job under way, drops the others, joins.
  void stop();

 private:
  void run();

  Job tick_;
  std::chrono::milliseconds pause_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Job> jobs_;
  bool stopping_ = false;
  std::thread thread_;
};

}  // namespace steelyard::field
