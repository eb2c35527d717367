// A disk that fails: chosen calls below a folder come back with an error, for SQLite as for our own
// code. The calls are taken over in recorded_calls.cc.
#pragma once

#include <cstddef>
#include <mutex>
#include <set>
#include <string>
#include <string_view>

namespace ligule::faults {

enum class Call {
  kMake,  // a file or folder that is not there yet
  kOpen,
  kOpenToWrite,
  kRead,
  kWrite,
  kTruncate,
  kSync,
  kRename,
  kUnlink
};

inline const std::set<Call> kChanges{Call::kMake, Call::kWrite,  Call::kTruncate,
                                     Call::kSync, Call::kRename, Call::kUnlink};
// What there is no room for.
inline const std::set<Call> kNeedsRoom{Call::kMake, Call::kWrite, Call::kTruncate};
// What a file system that is read only refuses.
inline const std::set<Call> kWriting{Call::kMake,     Call::kOpenToWrite, Call::kWrite,
                                     Call::kTruncate, Call::kRename,      Call::kUnlink};
// What is asked of a stick that is gone.
inline const std::set<Call> kEverything{Call::kMake,     Call::kOpen, Call::kRead,   Call::kWrite,
                                        Call::kTruncate, Call::kSync, Call::kRename, Call::kUnlink};

struct Fault {
  int code = 0;  // errno
  std::set<Call> calls;
  std::size_t at = 1;       // the n-th of them, from 1
  bool ever_after = false;  // and all that follow
};

// Fails calls below `folder` until it goes. One at a time; calls may come from any thread.
class FailingDisk {
 public:
  FailingDisk(std::string folder, Fault fault);
  FailingDisk(const FailingDisk&) = delete;
  FailingDisk& operator=(const FailingDisk&) = delete;
  FailingDisk(FailingDisk&&) = delete;
  FailingDisk& operator=(FailingDisk&&) = delete;
  ~FailingDisk();

  // How many calls were failed; 0: the work has fewer of them.
  [[nodiscard]] std::size_t failed() const;

  // For recorded_calls.cc: whether a call fails; errno is set then.
  [[nodiscard]] static bool fails(Call call, std::string_view path);
  [[nodiscard]] static bool fails(Call call, int descriptor);

 private:
  [[nodiscard]] int code_for(Call call, std::string_view path);

  std::string folder_;
  Fault fault_;
  mutable std::mutex mutex_;
  std::size_t seen_ = 0;
  std::size_t failed_ = 0;
};

// A disk that lies: forcing anything to it is said to be done and is not.
class LyingDisk {
 public:
  LyingDisk();
  LyingDisk(const LyingDisk&) = delete;
  LyingDisk& operator=(const LyingDisk&) = delete;
  LyingDisk(LyingDisk&&) = delete;
  LyingDisk& operator=(LyingDisk&&) = delete;
  ~LyingDisk();
  [[nodiscard]] static bool lies();
};

}  // namespace ligule::faults
