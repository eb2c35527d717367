// A machine that gives no more threads, as where memory or what a user may run is spent.
#pragma once

#include <gtest/gtest.h>
#include <pthread.h>

#include <cstddef>
#include <future>
#include <system_error>

namespace ligule::files {

// While it lives no thread can be begun: each would want a stack larger than all addresses, and
// pthread_create answers that by EAGAIN (POSIX.1-2017).
class NoThreads {
 public:
  NoThreads() {
    ::pthread_getattr_default_np(&usual_);
    pthread_attr_t large;
    ::pthread_attr_init(&large);
    ::pthread_attr_setstacksize(&large, std::size_t{1} << 50U);
    ::pthread_setattr_default_np(&large);
    ::pthread_attr_destroy(&large);
    EXPECT_THROW(std::async(std::launch::async, [] {}).get(), std::system_error);
  }
  NoThreads(const NoThreads&) = delete;
  NoThreads& operator=(const NoThreads&) = delete;
  ~NoThreads() {
    ::pthread_setattr_default_np(&usual_);
    ::pthread_attr_destroy(&usual_);
  }

 private:
  pthread_attr_t usual_{};
};

}  // namespace ligule::files
