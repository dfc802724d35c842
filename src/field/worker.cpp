#include "field/worker.hpp"

#include <exception>
#include <utility>

namespace steelyard::field {
namespace {

void do_job(const Worker::Job& job) {
  try {
    job();
  } catch (const std::exception&) {
    // Whoever asked holds a reply that answers by itself when it is dropped.
  }
}

}  // namespace

Worker::Worker(Job tick, std::chrono::milliseconds pause)
    : tick_(std::move(tick)), pause_(pause), thread_([this] { run(); }) {}

Worker::~Worker() {
  stop();
}

bool Worker::post(Job job) {
  {
    const std::scoped_lock lock(mutex_);
    if (stopping_) return false;
    jobs_.push_back(std::move(job));
  }
  wake_.notify_one();
  return true;
}

void Worker::stop() {
  std::deque<Job> dropped;
  {
    const std::scoped_lock lock(mutex_);
    stopping_ = true;
    dropped.swap(jobs_);
  }
  wake_.notify_one();
  if (thread_.joinable()) thread_.join();
}

void Worker::run() {
  using Clock = std::chrono::steady_clock;
  auto next_tick = Clock::now() + pause_;
  std::unique_lock lock(mutex_);
  while (!stopping_) {
    if (tick_ && Clock::now() >= next_tick) {
      lock.unlock();
      do_job(tick_);
      next_tick = Clock::now() + pause_;
      lock.lock();
      continue;
    }
    if (jobs_.empty()) {
      const auto something = [this] { return stopping_ || !jobs_.empty(); };
      if (tick_)
        wake_.wait_until(lock, next_tick, something);
      else
        wake_.wait(lock, something);
      continue;
    }
    {
      const Job job = std::move(jobs_.front());
      jobs_.pop_front();
      lock.unlock();
      do_job(job);
    }  // what the job held goes before the lock is taken again
    lock.lock();
  }
}

}  // namespace steelyard::field
