// The C library's calls that change files, taken over for the whole test program: names in a
// program go before those of shared libraries, so SQLite's calls come here too. Each makes the
// system call of its name and tells the recording that runs; where a disk is to fail it fails.
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <cstdarg>
#include <filesystem>
#include <string>
#include <string_view>

#include "tests/faults/failing_disk.h"
#include "tests/faults/recorded_disk.h"

namespace {

using ligule::faults::Call;
using ligule::faults::FailingDisk;
using ligule::faults::LyingDisk;
using ligule::faults::Recording;

// The recording, where it wants to know of a path.
Recording* listening(const char* path) {
  Recording* running = Recording::running();
  return running != nullptr && running->covers(path) ? running : nullptr;
}

std::string full(const char* path) {
  return std::filesystem::absolute(path).string();
}

int opened(const char* path, int flags, mode_t mode) {
  if (FailingDisk::fails(Call::kOpen, path)) return -1;
  if ((flags & O_ACCMODE) != O_RDONLY && FailingDisk::fails(Call::kOpenToWrite, path)) return -1;
  if ((flags & O_CREAT) != 0 && ::access(path, F_OK) != 0 && FailingDisk::fails(Call::kMake, path))
    return -1;
  Recording* const listener = listening(full(path).c_str());
  const bool there = listener != nullptr && ::access(path, F_OK) == 0;
  const auto descriptor = static_cast<int>(::syscall(SYS_openat, AT_FDCWD, path, flags, mode));
  if (descriptor < 0 || listener == nullptr) return descriptor;
  listener->opened(descriptor, full(path), !there);
  if (there && (flags & O_TRUNC) != 0) listener->truncated(descriptor, 0);
  return descriptor;
}

ssize_t written(int descriptor, const void* bytes, std::size_t size, off_t at) {
  if (FailingDisk::fails(Call::kWrite, descriptor)) return -1;
  const auto count = static_cast<ssize_t>(::syscall(SYS_pwrite64, descriptor, bytes, size, at));
  if (Recording* running = Recording::running(); running != nullptr && count > 0)
    running->wrote(descriptor, static_cast<std::uint64_t>(at),
                   {static_cast<const char*>(bytes), static_cast<std::size_t>(count)});
  return count;
}

int truncated(int descriptor, off_t size) {
  if (FailingDisk::fails(Call::kTruncate, descriptor)) return -1;
  const auto result = static_cast<int>(::syscall(SYS_ftruncate, descriptor, size));
  if (Recording* running = Recording::running(); running != nullptr && result == 0)
    running->truncated(descriptor, static_cast<std::uint64_t>(size));
  return result;
}

int synced(int descriptor, long call) {
  if (LyingDisk::lies()) return 0;
  if (FailingDisk::fails(Call::kSync, descriptor)) return -1;
  const auto result = static_cast<int>(::syscall(call, descriptor));
  if (Recording* running = Recording::running(); running != nullptr && result == 0)
    running->synced(descriptor);
  return result;
}

void renamed(const char* from, const char* to, int result) {
  if (Recording* listener = listening(full(to).c_str()); listener != nullptr && result == 0)
    listener->renamed(full(from), full(to));
}

mode_t mode_of(int flags, va_list more) {
  return (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg(more, mode_t) : 0;
}

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
  va_list more;
  va_start(more, flags);
  const mode_t mode = mode_of(flags, more);
  va_end(more);
  return opened(path, flags, mode);
}

int open64(const char* path, int flags, ...) {
  va_list more;
  va_start(more, flags);
  const mode_t mode = mode_of(flags, more);
  va_end(more);
  return opened(path, flags, mode);
}

// The C library's own opens its file where nobody can listen.
int mkostemp(char* name, int flags) {
  static unsigned count = 0;
  const std::string_view ending = "XXXXXX";
  const std::string made = name;
  if (!made.ends_with(ending)) {
    errno = EINVAL;
    return -1;
  }
  for (;;) {
    std::string number = std::to_string(++count);
    number.insert(0, ending.size() - number.size(), '0');
    made.copy(name, made.size());
    number.copy(name + made.size() - ending.size(), ending.size());
    const int descriptor = opened(name, flags | O_RDWR | O_CREAT | O_EXCL, 0600);
    if (descriptor >= 0 || errno != EEXIST) return descriptor;
  }
}

int close(int descriptor) {
  if (Recording* running = Recording::running(); running != nullptr) running->closed(descriptor);
  return static_cast<int>(::syscall(SYS_close, descriptor));
}

ssize_t write(int descriptor, const void* bytes, size_t size) {
  if (FailingDisk::fails(Call::kWrite, descriptor)) return -1;
  const auto at = Recording::running() != nullptr ? ::lseek(descriptor, 0, SEEK_CUR) : -1;
  const auto count = static_cast<ssize_t>(::syscall(SYS_write, descriptor, bytes, size));
  if (Recording* running = Recording::running(); running != nullptr && count > 0 && at >= 0)
    running->wrote(descriptor, static_cast<std::uint64_t>(at),
                   {static_cast<const char*>(bytes), static_cast<std::size_t>(count)});
  return count;
}

ssize_t pwrite(int descriptor, const void* bytes, size_t size, off_t at) {
  return written(descriptor, bytes, size, at);
}
ssize_t pwrite64(int descriptor, const void* bytes, size_t size, off64_t at) {
  return written(descriptor, bytes, size, at);
}

ssize_t read(int descriptor, void* bytes, size_t size) {
  if (FailingDisk::fails(Call::kRead, descriptor)) return -1;
  return static_cast<ssize_t>(::syscall(SYS_read, descriptor, bytes, size));
}
ssize_t pread(int descriptor, void* bytes, size_t size, off_t at) {
  if (FailingDisk::fails(Call::kRead, descriptor)) return -1;
  return static_cast<ssize_t>(::syscall(SYS_pread64, descriptor, bytes, size, at));
}
ssize_t pread64(int descriptor, void* bytes, size_t size, off64_t at) {
  if (FailingDisk::fails(Call::kRead, descriptor)) return -1;
  return static_cast<ssize_t>(::syscall(SYS_pread64, descriptor, bytes, size, at));
}

int mkdir(const char* path, mode_t mode) noexcept {
  if (FailingDisk::fails(Call::kMake, path)) return -1;
  return static_cast<int>(::syscall(SYS_mkdirat, AT_FDCWD, path, mode));
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
  if (FailingDisk::fails(Call::kRename, from)) return -1;
  const auto result = static_cast<int>(::syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0));
  renamed(from, to, result);
  return result;
}
int renameat2(int from_folder, const char* from, int to_folder, const char* to,
              unsigned int flags) noexcept {
  if (FailingDisk::fails(Call::kRename, from)) return -1;
  const auto result =
      static_cast<int>(::syscall(SYS_renameat2, from_folder, from, to_folder, to, flags));
  renamed(from, to, result);
  return result;
}

int unlink(const char* path) noexcept {
  if (FailingDisk::fails(Call::kUnlink, path)) return -1;
  const auto result = static_cast<int>(::syscall(SYS_unlinkat, AT_FDCWD, path, 0));
  if (Recording* listener = listening(full(path).c_str()); listener != nullptr && result == 0)
    listener->unlinked(full(path));
  return result;
}

}  // extern "C"
