// One thread that does jobs in the order they were given.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace ligule::work {

class Lane {
 public:
  Lane();
  Lane(const Lane&) = delete;
  Lane& operator=(const Lane&) = delete;
  Lane(Lane&&) = delete;
  Lane& operator=(Lane&&) = delete;
  // Does every job still waiting, then ends.
  ~Lane();

  // From any thread.
  void add(std::function<void()> job);

 private:
  void run();

  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::function<void()>> jobs_;
  bool ending_ = false;
  std::thread thread_;  // last: starts when everything above is there
};

}  // namespace ligule::work
