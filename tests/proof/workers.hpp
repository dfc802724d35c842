// The same work for many numbers, on several threads; results stand by number, so that threads do not matter.
#pragma once

#include <unistd.h>

#include <atomic>
#include <cstddef>
#include <cstdio>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace steelyard::proof {

/// How to work: threads, and whether to say how far it is (on a terminal alone).
struct Workers {
  unsigned threads = 1;
  bool quiet = !isatty(STDERR_FILENO);

  /// Calls work(number) for 0 … count − 1 and keeps what it gives. Errors: the first exception, thrown on.
  template <class Result, class Work>
  std::vector<Result> each(const char* what, std::size_t count, Work&& work) const {
    std::vector<Result> out(count);
    std::atomic<std::size_t> next{0};
    std::exception_ptr broken;
    std::mutex guard;
    const auto run = [&] {
      constexpr std::size_t said_every = 256;
      for (std::size_t i = next++; i < count; i = next++) {
        try {
          out[i] = work(i);
        } catch (...) {
          const std::scoped_lock lock(guard);
          if (!broken) broken = std::current_exception();
          next = count;
        }
        if (!quiet && i % said_every == 0) std::fprintf(stderr, "\r%s: %zu of %zu   ", what, i, count);
      }
    };
    {
      std::vector<std::jthread> all;
      for (unsigned t = 0; t < threads; ++t) all.emplace_back(run);
    }
    if (!quiet) std::fprintf(stderr, "\r%s: %zu of %zu   \n", what, count, count);
    if (broken) std::rethrow_exception(broken);
    return out;
  }
};

}  // namespace steelyard::proof
