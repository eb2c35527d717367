// Templates of sample.h.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

namespace ligule::ledger::sample {

// A value that a test can't go on without: the program ends with the error's line.
template <class T>
T need(Result<T> result) {
  if (!result) {
    std::cerr << "needed: " << one_line(result.error()) << "\n";
    std::abort();
  }
  return *std::move(result);
}

template <class T>
std::string error_line(const Result<T>& result) {
  if (result) return "no error";
  constexpr const char* kNames[] = {"invalid", "not found", "refused",     "conflict",
                                    "io",      "damaged",   "not trusted", "newer version"};
  return std::string(kNames[static_cast<int>(result.error().kind)]) + ": " +
         one_line(result.error());
}

}  // namespace ligule::ledger::sample
