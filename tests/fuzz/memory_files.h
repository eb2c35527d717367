// Files that stand in memory only, by their whole path: no disk slows the fuzzer down.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/file_system.h"

namespace ligule::fuzz {

class MemoryFiles final : public files::FileSystem {
 public:
  using Path = files::Path;

  Result<std::string> read(const Path& file, std::uint64_t max_bytes) override {
    const auto at = files_.find(file.string());
    if (at == files_.end()) return no_such(file);
    if (at->second.size() > max_bytes)
      return fail(ErrorKind::kInvalid, "the file is too large", file.string(), "name another file");
    return at->second;
  }
  Result<void> write_durably(const Path& file, std::string_view bytes, files::Access) override {
    files_[file.string()] = bytes;
    return {};
  }
  Result<bool> exists(const Path& path) override { return files_.contains(path.string()); }
  Result<std::vector<std::string>> list(const Path& folder) override {
    std::vector<std::string> names;
    for (const auto& [path, bytes] : files_)
      if (Path(path).parent_path() == folder) names.push_back(Path(path).filename().string());
    return names;
  }
  Result<void> make_folders(const Path&) override { return {}; }
  Result<void> remove(const Path& file) override {
    if (files_.erase(file.string()) == 0) return no_such(file);
    return {};
  }
  Result<void> rename(const Path& from, const Path& to) override {
    const auto at = files_.find(from.string());
    if (at == files_.end()) return no_such(from);
    files_[to.string()] = std::move(at->second);
    files_.erase(at);
    return {};
  }
  Result<std::uint64_t> size(const Path& file) override {
    const auto at = files_.find(file.string());
    if (at == files_.end()) return no_such(file);
    return std::uint64_t{at->second.size()};
  }
  Result<std::uint64_t> free_bytes(const Path&) override { return std::uint64_t{1} << 40U; }
  void forget_cached(const Path&) override {}

 private:
  static std::unexpected<Error> no_such(const Path& file) {
    return fail(ErrorKind::kNotFound, "there is no such file", file.string(), "check the name");
  }

  std::map<std::string, std::string> files_;
};

}  // namespace ligule::fuzz
