#include "tests/faults/failing_disk.h"

#include <unistd.h>

#include <array>
#include <atomic>
#include <cassert>
#include <cerrno>
#include <filesystem>
#include <utility>

namespace ligule::faults {
namespace {

std::atomic<FailingDisk*> failing_now = nullptr;
std::atomic<bool> lying_now = false;

std::string path_of(int descriptor) {
  const std::string link = "/proc/self/fd/" + std::to_string(descriptor);
  std::array<char, 4096> path{};
  const ssize_t length = ::readlink(link.c_str(), path.data(), path.size());
  return length <= 0 ? std::string() : std::string(path.data(), static_cast<std::size_t>(length));
}

}  // namespace

FailingDisk::FailingDisk(std::string folder, Fault fault)
    : folder_(std::move(folder)), fault_(std::move(fault)) {
  assert(failing_now == nullptr);
  failing_now = this;
}

FailingDisk::~FailingDisk() {
  failing_now = nullptr;
}

std::size_t FailingDisk::failed() const {
  const std::lock_guard lock(mutex_);
  return failed_;
}

int FailingDisk::code_for(Call call, std::string_view path) {
  if (!fault_.calls.contains(call)) return 0;
  if (path != folder_ && !path.starts_with(folder_ + "/")) return 0;
  const std::lock_guard lock(mutex_);
  ++seen_;
  if (seen_ != fault_.at && !(fault_.ever_after && seen_ > fault_.at)) return 0;
  ++failed_;
  return fault_.code;
}

bool FailingDisk::fails(Call call, std::string_view path) {
  FailingDisk* const disk = failing_now;
  if (disk == nullptr) return false;
  const int code = disk->code_for(call, std::filesystem::absolute(path).string());
  if (code == 0) return false;
  errno = code;
  return true;
}

bool FailingDisk::fails(Call call, int descriptor) {
  FailingDisk* const disk = failing_now;
  if (disk == nullptr) return false;
  const int code = disk->code_for(call, path_of(descriptor));
  if (code == 0) return false;
  errno = code;
  return true;
}

LyingDisk::LyingDisk() {
  lying_now = true;
}
LyingDisk::~LyingDisk() {
  lying_now = false;
}
bool LyingDisk::lies() {
  return lying_now;
}

}  // namespace ligule::faults
