// An environment variable set for the length of one test.
#pragma once

#include <cstdlib>
#include <string>
#include <utility>

namespace ligule::files {

class TestEnvironment {
 public:
  TestEnvironment(std::string name, const std::string& value) : name_(std::move(name)) {
    // Tests run in one thread.
    ::setenv(name_.c_str(), value.c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
  }
  TestEnvironment(const TestEnvironment&) = delete;
  TestEnvironment& operator=(const TestEnvironment&) = delete;
  TestEnvironment(TestEnvironment&&) = delete;
  TestEnvironment& operator=(TestEnvironment&&) = delete;
  ~TestEnvironment() { ::unsetenv(name_.c_str()); }  // NOLINT(concurrency-mt-unsafe)

 private:
  std::string name_;
};

}  // namespace ligule::files
