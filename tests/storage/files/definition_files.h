// A small sound set of definitions in a folder, which tests spoil a file of.
#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/definitions.h"
#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {

inline std::vector<std::string> lines(const Faults& faults) {
  std::vector<std::string> out;
  for (const Error& fault : faults) out.push_back(one_line(fault));
  return out;
}

class DefinitionFiles : public testing::Test {
 protected:
  // A small sound set; tests spoil one file.
  void SetUp() override {
    ASSERT_TRUE(files_->make_folders(folder_ / "scales").has_value());
    write("scales/stand.json", kStand);
    write(
        "species.json",
        R"({"species": [{"code": "timothy", "name": "timothy", "group": "grass", "endophyte": false}]})");
    write(
        "measures.json",
        R"({"measures": [{"code": "stand", "subject": "plot", "scales": [{"group": "", "scale": "stand"}]}]})");
    write("limits.json", R"({"limits": [
        {"measure": "stand", "group": "grass", "unit": "%", "ask_below": 20, "source": "s"},
        {"measure": "dry_matter_percent", "unit": "percent", "ask_below": 10, "ask_above": 50,
         "source": "s"}]})");
  }
  void write(const char* name, std::string_view text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, Access::kEveryone).has_value());
  }
  std::vector<std::string> faults() {
    const auto loaded = load_definitions(*files_, folder_.path());
    return loaded ? std::vector<std::string>{} : lines(loaded.error());
  }

  static constexpr std::string_view kStand =
      R"({"code": "stand", "kind": "percent", "direction": "high is best", "units": ["%"], "minimum": 0,
          "maximum": 100, "step": 5, "fine_step": 1, "steps": [], "definition": "d", "source": "s"})";
  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

}  // namespace ligule::files
