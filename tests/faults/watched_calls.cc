// The C library's calls that change files, taken over: names in a program, and in what is preloaded
// into it, go before those of shared libraries, so SQLite's calls come here too.
#include "tests/faults/watched_calls.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

#include <climits>
#include <cstdio>

namespace {

using namespace ligule::faults;

bool holds(std::string_view path, std::string_view part) {
  return path.find(part) != std::string_view::npos;
}

// What a change of this file is for; empty: a look that a drive writes, nothing of the program's.
std::optional<Work> work_on(std::string_view path) {
  if (path.ends_with(".json") || path.starts_with("/dev/") || path.starts_with("pipe:"))
    return std::nullopt;
  if (holds(path, "ligule-spare")) return Work::kSpare;
  if (holds(path, "/media/")) return Work::kCopy;
  if (holds(path, "season-files/")) return Work::kSeal;
  if (path.ends_with("-wal")) return Work::kCommit;
  if (path.ends_with(".ledger")) return Work::kFold;
  return Work::kOther;
}

std::optional<Work> work_on(int descriptor) {
  char link[64];
  char path[PATH_MAX];
  static_cast<void>(std::snprintf(link, sizeof link, "/proc/self/fd/%d", descriptor));
  const auto size = ::syscall(SYS_readlinkat, AT_FDCWD, link, path, sizeof path);
  if (size <= 0) return std::nullopt;
  return work_on(std::string_view(path, static_cast<std::size_t>(size)));
}

void end_here() {
  ::syscall(SYS_kill, ::syscall(SYS_getpid), SIGKILL);
  for (;;)
    ::syscall(SYS_ppoll, nullptr, 0, nullptr, nullptr, 0);  // the kill takes effect at any moment
}

void rest(std::int32_t ms) {
  timespec left{ms / 1000, (ms % 1000) * 1'000'000L};
  while (::nanosleep(&left, &left) != 0) {
  }
}

// One call: whether it is the last, and when it ends there.
class Call {
 public:
  explicit Call(std::optional<Work> work) : work_(work) {
    if (!work_) return;
    Watched& watched = watched_here();
    const std::int64_t number = ++watched.calls.at(index());
    last_ = number == watched.last_call && watched.last_work == static_cast<std::int32_t>(*work_);
    moment_ = static_cast<Moment>(watched.last_moment.load());
    if (last_ && moment_ == Moment::kBefore) end_here();
  }
  // A change was begun that another call ends.
  void begins() const {
    if (work_) watched_here().under_way.at(index()) = 1;
  }
  void ends() const {
    if (work_) watched_here().under_way.at(index()) = 0;
  }
  [[nodiscard]] bool half() const { return last_ && moment_ == Moment::kWithin; }
  void within() const {
    if (half()) end_here();
  }
  void after() const {
    if (last_) end_here();
  }

 private:
  [[nodiscard]] std::size_t index() const { return static_cast<std::size_t>(*work_); }
  std::optional<Work> work_;
  bool last_ = false;
  Moment moment_ = Moment::kBefore;
};

bool of_database(std::optional<Work> work) {
  return work == Work::kCommit || work == Work::kFold;
}

ssize_t written(int descriptor, const void* bytes, std::size_t size, off_t at) {
  const Call call(work_on(descriptor));
  call.begins();
  const auto put = [&](std::size_t part) {
    return static_cast<ssize_t>(at < 0 ? ::syscall(SYS_write, descriptor, bytes, part)
                                       : ::syscall(SYS_pwrite64, descriptor, bytes, part, at));
  };
  if (call.half()) static_cast<void>(put(size / 2));
  call.within();
  const ssize_t count = put(size);
  call.after();
  return count;
}

int truncated(int descriptor, off_t size) {
  const Call call(work_on(descriptor));
  call.within();
  const auto result = static_cast<int>(::syscall(SYS_ftruncate, descriptor, size));
  call.after();
  return result;
}

int synced(int descriptor, long number) {
  const auto work = work_on(descriptor);
  const Call call(work);
  call.within();
  if (const std::int32_t ms = watched_here().sync_ms; ms > 0 && work) rest(ms);
  const auto result = static_cast<int>(::syscall(number, descriptor));
  if (of_database(work)) call.ends();
  call.after();
  return result;
}

template <class Rename>
int renamed(const char* to, Rename rename) {
  const std::string_view name(to);
  const auto work = work_on(name);
  const Call call(work);
  call.within();
  const int result = rename();
  if (!of_database(work) && !name.ends_with(".part")) call.ends();
  call.after();
  return result;
}

}  // namespace

extern "C" {

ssize_t write(int descriptor, const void* bytes, size_t size) {
  return written(descriptor, bytes, size, -1);
}
ssize_t pwrite(int descriptor, const void* bytes, size_t size, off_t at) {
  return written(descriptor, bytes, size, at);
}
ssize_t pwrite64(int descriptor, const void* bytes, size_t size, off64_t at) {
  return written(descriptor, bytes, size, at);
}

int ftruncate(int descriptor, off_t size) noexcept {
  return truncated(descriptor, size);
}
int ftruncate64(int descriptor, off64_t size) noexcept {
  return truncated(descriptor, size);
}

int fsync(int descriptor) {
  return synced(descriptor, SYS_fsync);
}
int fdatasync(int descriptor) {
  return synced(descriptor, SYS_fdatasync);
}

int rename(const char* from, const char* to) noexcept {
  return renamed(to, [&] {
    return static_cast<int>(::syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0));
  });
}
int renameat2(int from_folder, const char* from, int to_folder, const char* to,
              unsigned int flags) noexcept {
  return renamed(to, [&] {
    return static_cast<int>(::syscall(SYS_renameat2, from_folder, from, to_folder, to, flags));
  });
}

int unlink(const char* path) noexcept {
  const Call call(work_on(std::string_view(path)));
  call.within();
  const auto result = static_cast<int>(::syscall(SYS_unlinkat, AT_FDCWD, path, 0));
  call.after();
  return result;
}

}  // extern "C"
