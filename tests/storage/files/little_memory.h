// A child process with little memory, for files that are made to fill it.
#pragma once

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <csignal>
#include <cstdint>
#include <functional>
#include <new>
#include <string>

namespace ligule::files {

// Whether a program can be held to little memory here. Not under AddressSanitizer, which sets
// terabytes of addresses aside, so that a limit would stop it at once; nor in qemu's emulation,
// which takes a limit (RLIMIT_AS) and sets none.
inline bool memory_is_limited() {
#if defined(__SANITIZE_ADDRESS__)
  return false;
#else
  rlimit usual{};
  ::getrlimit(RLIMIT_AS, &usual);
  const rlimit asked{std::min(usual.rlim_max, rlim_t{1} << 46U), usual.rlim_max};
  rlimit set{};
  ::setrlimit(RLIMIT_AS, &asked);
  ::getrlimit(RLIMIT_AS, &set);
  ::setrlimit(RLIMIT_AS, &usual);
  return set.rlim_cur == asked.rlim_cur;
#endif
}

// What act says, in a child process that may have so many bytes of addresses (RLIMIT_AS, with all
// that the program itself takes) and so many seconds: its first 4000 bytes, or "(out of memory)",
// or
// "(died of signal N)". The caller's own memory counts too: keep nothing large.
inline std::string in_little_memory(std::uint64_t most_bytes, unsigned most_seconds,
                                    const std::function<std::string()>& act) {
  std::array<int, 2> ends{};
  if (::pipe(ends.data()) != 0) return "(no pipe)";
  const pid_t child = ::fork();
  if (child < 0) return "(no child)";
  if (child == 0) {
    ::close(ends[0]);
    ::alarm(most_seconds);
    const rlimit limit{most_bytes, most_bytes};
    if (memory_is_limited()) ::setrlimit(RLIMIT_AS, &limit);
    std::string said;
    try {
      said = act().substr(0, 4000);
    } catch (const std::bad_alloc&) {
      said = "(out of memory)";
    }
    const bool told = ::write(ends[1], said.data(), said.size()) >= 0;
    ::_exit(told ? 0 : 1);
  }
  ::close(ends[1]);
  std::string said;
  std::array<char, 4096> some{};
  for (ssize_t got = 0; (got = ::read(ends[0], some.data(), some.size())) > 0;)
    said.append(some.data(), static_cast<std::size_t>(got));
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  if (WIFSIGNALED(status)) return "(died of signal " + std::to_string(WTERMSIG(status)) + ")";
  return said;
}

}  // namespace ligule::files
