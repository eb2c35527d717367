// The one way Ligule touches files, so that tests can make each touch fail.
//
// Everything outside storage/ledger's database goes through a FileSystem. Errors are kNotFound (no
// such file or folder) and kIo (the machine could not do it); both name the path and say why and
// what to do. Nothing is ever half written under its final name: see write_durably().
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::files {

using Path = std::filesystem::path;

// Who may read a written file.
enum class Access {
  kEveryone,   // mode 0644
  kOwnerOnly,  // mode 0600: keys
};

struct NewFile {
  Path file;
  std::string_view bytes;
};

class FileSystem {
 public:
  FileSystem() = default;
  FileSystem(const FileSystem&) = delete;
  FileSystem& operator=(const FileSystem&) = delete;
  FileSystem(FileSystem&&) = delete;
  FileSystem& operator=(FileSystem&&) = delete;
  virtual ~FileSystem() = default;

  // All bytes of a file. kInvalid when it holds more than max_bytes, so that a wrong file does not
  // fill the memory.
  [[nodiscard]] virtual Result<std::string> read(const Path& file, std::uint64_t max_bytes) = 0;
  // Replaces or creates a file: the bytes go to a temporary name in the same folder, are forced to
  // the disk, take the final name in one step, and the folder is forced to the disk as well. After
  // a failure the old file stands as it was and the temporary one is gone.
  [[nodiscard]] virtual Result<void> write_durably(const Path& file, std::string_view bytes,
                                                   Access access) = 0;
  // The same of many files, whose folders are there, while the disk is waited for once: all are
  // forced to it before the first takes its name. What fails is named; files before it may be new
  // already. Here one after the other; the machine's own files go together.
  [[nodiscard]] virtual Result<void> write_all_durably(std::span<const NewFile> files,
                                                       Access access);
  // Whether there is a file or folder of that name. kIo when one cannot tell.
  [[nodiscard]] virtual Result<bool> exists(const Path& path) = 0;
  // Names (not paths) in a folder, sorted by byte; "." and ".." left out.
  [[nodiscard]] virtual Result<std::vector<std::string>> list(const Path& folder) = 0;
  // Makes a folder and those above it; one that is there already is fine.
  [[nodiscard]] virtual Result<void> make_folders(const Path& folder) = 0;
  // Removes one file. kNotFound when there is none.
  [[nodiscard]] virtual Result<void> remove(const Path& file) = 0;
  // Moves a file within one disk, replacing what has the new name, and forces the folders to disk.
  [[nodiscard]] virtual Result<void> rename(const Path& from, const Path& to) = 0;
  [[nodiscard]] virtual Result<std::uint64_t> size(const Path& file) = 0;
  // Room left for anybody's files on the disk that a file or folder lies on, in bytes.
  [[nodiscard]] virtual Result<std::uint64_t> free_bytes(const Path& path) = 0;
  // Drops what memory holds of a file where the machine allows it, so that the next read comes from
  // the disk or stick itself. A hint: a machine that cannot do it is no failure.
  virtual void forget_cached(const Path& file) = 0;

  // Copies a file as write_durably() does, reads the copy back and compares. kDamaged when the copy
  // reads back differently (a worn-out stick); it is removed then. Files above max_bytes are
  // refused as in read().
  [[nodiscard]] Result<void> copy_durably(const Path& from, const Path& to, Access access,
                                          std::uint64_t max_bytes);
};

// The machine's own files.
[[nodiscard]] std::unique_ptr<FileSystem> real_file_system();

}  // namespace ligule::files
