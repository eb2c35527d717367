// Every input that the fuzzer found worth keeping, played again by the ordinary tests.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/targets.h"

namespace ligule::fuzz {
namespace {

std::vector<std::filesystem::path> inputs_of(std::string_view target) {
  std::vector<std::filesystem::path> files;
  const std::filesystem::path folder = std::filesystem::path(LIGULE_TEST_DATA) / "fuzz" / "corpus";
  for (const auto& file : std::filesystem::directory_iterator(folder / target))
    files.push_back(file.path());
  std::ranges::sort(files);
  return files;
}

class Replay : public testing::TestWithParam<Target> {};

// A broken promise ends the program: the last line before it names the input.
TEST_P(Replay, EveryKeptInputHasAnAnswer) {
  const auto files = inputs_of(GetParam().name);
  EXPECT_GE(files.size(), 3U) << "the inputs of tests/fuzz/corpus are not there";
  for (const auto& path : files) {
    std::ifstream file(path, std::ios::binary);
    const std::string input{std::istreambuf_iterator<char>(file), {}};
    std::cerr << "\r" << path.filename().string() << std::flush;
    GetParam().run(input);
  }
  std::cerr << "\r" << files.size() << " inputs of " << GetParam().name << "\n";
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Replay, testing::ValuesIn(kTargets),
                         [](const auto& target) { return std::string(target.param.name); });

}  // namespace
}  // namespace ligule::fuzz
