#include <fcntl.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cstdlib>

#include "tests/faults/watched_calls.h"

namespace ligule::faults {
namespace {

static_assert(std::atomic<std::int64_t>::is_always_lock_free);
static_assert(std::atomic<std::int32_t>::is_always_lock_free);

Watched* mapped(const char* file, int flags) {
  const int descriptor = ::open(file, flags | O_RDWR | O_CLOEXEC, 0600);
  if (descriptor < 0) std::abort();
  // By the system itself: the C library's call is watched, by this page.
  if (::syscall(SYS_ftruncate, descriptor, sizeof(Watched)) != 0) std::abort();
  void* const at =
      ::mmap(nullptr, sizeof(Watched), PROT_READ | PROT_WRITE, MAP_SHARED, descriptor, 0);
  ::close(descriptor);
  if (at == MAP_FAILED) std::abort();
  return static_cast<Watched*>(at);
}

Watched* page_named() {
  static Watched own{};
  const char* const file = std::getenv(kPageVariable);  // NOLINT(concurrency-mt-unsafe)
  return file == nullptr ? &own : mapped(file, 0);
}

Watched*& present() {
  static Watched* page = page_named();
  return page;
}

}  // namespace

std::string_view name_of(Work work) {
  constexpr std::array<std::string_view, kWorks> kNames{"other", "commit", "fold",
                                                        "seal",  "copy",   "spare copy"};
  return kNames.at(static_cast<std::size_t>(work));
}

Page::Page(const std::string& file) : watched_(mapped(file.c_str(), O_CREAT | O_TRUNC)) {}
Page::~Page() {
  ::munmap(watched_, sizeof(Watched));
}

SlowSyncs::SlowSyncs(std::int32_t ms) {
  watched_here().sync_ms = ms;
}
SlowSyncs::~SlowSyncs() {
  watched_here().sync_ms = 0;
}

Watched& watched_here() {
  return *present();
}
void watch_by_page_named() {
  present() = page_named();
}

}  // namespace ligule::faults
