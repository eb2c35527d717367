// Runs of `tables --values` in a folder of their own, gone with all in it at the end.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "storage/files/file_system.h"
#include "sync/desk/desk.h"

namespace ligule::desk {

class TablesOfValues : public ::testing::Test {
 protected:
  TablesOfValues() {
    std::string name = (std::filesystem::temp_directory_path() / "ligule-desk-XXXXXX").string();
    EXPECT_NE(::mkdtemp(name.data()), nullptr);
    folder_ = name;
  }
  TablesOfValues(const TablesOfValues&) = delete;
  TablesOfValues& operator=(const TablesOfValues&) = delete;
  ~TablesOfValues() override { std::filesystem::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) {
    std::ofstream(folder_ / name, std::ios::binary) << text;
  }
  [[nodiscard]] std::string read(const std::string& name) const {
    std::ifstream file(folder_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_ / name).string();
  }
  int tables(const std::string& values, const std::string& out,
             const std::vector<std::string>& more = {}) {
    out_.str("");
    err_.str("");
    std::vector<std::string> words = {"tables", "--values", path(values), "--out", path(out)};
    words.insert(words.end(), more.begin(), more.end());
    return run(words, out_, err_, *files_);
  }

  std::filesystem::path folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::ostringstream out_, err_;
};

}  // namespace ligule::desk
