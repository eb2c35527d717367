// A file interface for tests that stops working at a chosen act.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>

#include "storage/files/file_system.h"

namespace ligule::files {

// Hands every act on to another file system and counts it; the chosen one, or from the chosen one
// on every one, fails with "No space left on device". read_differently() makes a worn-out stick:
// what was written reads back with one bit flipped.
class FaultyFileSystem final : public FileSystem {
 public:
  explicit FaultyFileSystem(FileSystem& inner) : inner_(inner) {}

  // Counts from 1; 0 never fails. The count starts anew.
  void fail_at(std::size_t act, bool and_after = false) {
    fail_at_ = act;
    and_after_ = and_after;
    acts_ = 0;
  }
  // Of free_bytes(), whatever the disk has.
  void have_room(std::uint64_t bytes) { room_ = bytes; }
  void read_differently(const Path& file) { worn_out_ = file; }
  [[nodiscard]] std::size_t acts() const { return acts_; }

  Result<std::string> read(const Path& file, std::uint64_t max_bytes) override {
    if (fails()) return broken("read", file);
    auto bytes = inner_.read(file, max_bytes);
    if (bytes && file == worn_out_ && !bytes->empty())
      bytes->back() = static_cast<char>(bytes->back() ^ 1);
    return bytes;
  }
  Result<void> write_durably(const Path& file, std::string_view bytes, Access access) override {
    if (fails()) return broken("write", file);
    return inner_.write_durably(file, bytes, access);
  }
  Result<bool> exists(const Path& path) override {
    if (fails()) return broken("look at", path);
    return inner_.exists(path);
  }
  Result<std::vector<std::string>> list(const Path& folder) override {
    if (fails()) return broken("list", folder);
    return inner_.list(folder);
  }
  Result<void> make_folders(const Path& folder) override {
    if (fails()) return broken("make the folder", folder);
    return inner_.make_folders(folder);
  }
  Result<void> remove(const Path& file) override {
    if (fails()) return broken("remove", file);
    return inner_.remove(file);
  }
  Result<void> rename(const Path& from, const Path& to) override {
    if (fails()) return broken("rename", from);
    return inner_.rename(from, to);
  }
  Result<std::uint64_t> size(const Path& file) override {
    if (fails()) return broken("look at", file);
    return inner_.size(file);
  }
  Result<std::uint64_t> free_bytes(const Path& path) override {
    if (fails()) return broken("look at the disk of", path);
    if (room_) return *room_;
    return inner_.free_bytes(path);
  }
  void forget_cached(const Path& file) override { inner_.forget_cached(file); }

 private:
  bool fails() {
    ++acts_;
    return fail_at_ != 0 && (acts_ == fail_at_ || (and_after_ && acts_ > fail_at_));
  }
  static std::unexpected<Error> broken(const char* act, const Path& path) {
    return fail(ErrorKind::kIo, std::string("cannot ") + act + ": No space left on device",
                path.string(), "free some space, then try again");
  }

  FileSystem& inner_;
  std::size_t fail_at_ = 0;
  bool and_after_ = false;
  std::size_t acts_ = 0;
  Path worn_out_;
  std::optional<std::uint64_t> room_;
};

// A folder of its own for one test, removed with all it holds.
class TestFolder {
 public:
  TestFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "ligule-test-XXXXXX").string();
    if (::mkdtemp(name.data()) != nullptr) path_ = name;
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;
  TestFolder(TestFolder&&) = delete;
  TestFolder& operator=(TestFolder&&) = delete;
  ~TestFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] const Path& path() const { return path_; }
  [[nodiscard]] Path operator/(const char* name) const { return path_ / name; }

 private:
  Path path_;
};

}  // namespace ligule::files
