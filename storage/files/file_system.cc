#include "storage/files/file_system.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <functional>
#include <future>
#include <numeric>
#include <set>
#include <system_error>
#include <utility>

namespace ligule::files {
namespace {

// How a person mends what errno says; the words of the machine stand before it.
std::string mend_for(int code) {
  switch (code) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
      return "free some space, then try again";
    case EACCES:
    case EPERM:
      return "ask whoever set up this machine for the rights, or choose another folder";
    case EROFS:
      return "take off the write protection, or choose another disk or stick";
    case ENOENT:
    case ENOTDIR:
      return "check the name and whether the disk or stick is in";
    case EISDIR:
    case EEXIST:
      return "a file was meant; choose another name";
    case EIO:
    case ENODEV:
    case ENXIO:
      return "the disk or stick does not answer: put it in again, or take another one";
    default:
      return "try again, or choose another place";
  }
}

std::unexpected<Error> failed(const char* act, const Path& path, int code) {
  const bool missing = code == ENOENT || code == ENOTDIR;
  return fail(missing ? ErrorKind::kNotFound : ErrorKind::kIo,
              std::string("cannot ") + act + ": " + std::generic_category().message(code),
              path.string(), mend_for(code));
}

// An open file; close_checked() is the act whose result counts, the destructor only releases.
class OpenFile {
 public:
  explicit OpenFile(int descriptor) : descriptor_(descriptor) {}
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  OpenFile(OpenFile&&) = delete;
  OpenFile& operator=(OpenFile&&) = delete;
  ~OpenFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }

  [[nodiscard]] int get() const { return descriptor_; }
  // 0, or the errno of the close: network and stick drivers report late write errors here.
  [[nodiscard]] int close_checked() {
    const int code = ::close(std::exchange(descriptor_, -1)) == 0 ? 0 : errno;
    return code == EINTR ? 0 : code;
  }

 private:
  int descriptor_;
};

std::unexpected<Error> too_large(const Path& file, std::uint64_t max_bytes) {
  return fail(ErrorKind::kInvalid,
              "the file holds more than " + std::to_string(max_bytes) + " bytes", file.string(),
              "this is not the file that was meant");
}

int open_retrying(const Path& path, int flags) {
  int descriptor = -1;
  do {
    descriptor = ::open(path.c_str(), flags | O_CLOEXEC);
  } while (descriptor < 0 && errno == EINTR);
  return descriptor;
}

Path folder_of(const Path& path) {
  const Path folder = path.parent_path();
  return folder.empty() ? Path(".") : folder;
}

// 0, or errno. Some drivers for sticks cannot force a folder and say EINVAL: nothing more to be
// had.
int sync_folder(const Path& folder) {
  const OpenFile open(open_retrying(folder, O_RDONLY | O_DIRECTORY));
  if (open.get() < 0) return errno;
  if (::fsync(open.get()) != 0 && errno != EINVAL) return errno;
  return 0;
}

// 0, or errno. Only its owner may write into a folder that is made, whatever the machine allows new
// files.
int make_all(const Path& folder) {
  struct stat about {};
  if (::stat(folder.c_str(), &about) == 0) return S_ISDIR(about.st_mode) ? 0 : ENOTDIR;
  if (const Path above = folder.parent_path(); !above.empty() && above != folder)
    if (const int code = make_all(above); code != 0) return code;
  if (::mkdir(folder.c_str(), 0755) == 0) return 0;
  // Somebody made it meanwhile, or a link stands there that leads nowhere.
  if (errno != EEXIST) return errno;
  return ::stat(folder.c_str(), &about) == 0 && S_ISDIR(about.st_mode) ? 0 : EEXIST;
}

int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return errno;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

// Writes and forces the temporary file; 0, or errno.
int fill(OpenFile& open, std::string_view bytes, Access access) {
  // The temporary name is made with mode 0600. Sticks without rights refuse to change it: harmless.
  if (access == Access::kEveryone && ::fchmod(open.get(), 0644) != 0 && errno != EPERM &&
      errno != EOPNOTSUPP) {
    return errno;
  }
  if (const int code = write_all(open.get(), bytes); code != 0) return code;
  if (::fsync(open.get()) != 0) return errno;
  return open.close_checked();
}

// A file's bytes under a temporary name beside it, on the disk. Gone with this unless it took its
// name.
class Temporary {
 public:
  Temporary(Path file, std::string_view bytes, Access access)
      : file_(std::move(file)), name_((folder_of(file_) / ".ligule-XXXXXX").string()) {
    OpenFile open(::mkostemp(name_.data(), O_CLOEXEC));
    there_ = open.get() >= 0;
    code_ = there_ ? fill(open, bytes, access) : errno;
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  Temporary(Temporary&&) = delete;
  Temporary& operator=(Temporary&&) = delete;
  ~Temporary() {
    if (there_) ::unlink(name_.c_str());
  }

  [[nodiscard]] const Path& file() const { return file_; }
  // 0, or why it could not be written.
  [[nodiscard]] int code() const { return code_; }
  [[nodiscard]] int take_name() {
    if (code_ != 0) return code_;
    if (::rename(name_.c_str(), file_.c_str()) != 0) return errno;
    there_ = false;
    return 0;
  }

 private:
  Path file_;
  std::string name_;
  bool there_ = false;
  int code_ = 0;
};

// Each by a thread of its own, so many at a time: what takes long is to wait for the disk, which
// forces several files in one go. The largest first.
std::vector<std::unique_ptr<Temporary>> all_written(std::span<const NewFile> files, Access access) {
  constexpr std::size_t kAtATime = 8;
  std::vector<std::size_t> order(files.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, std::ranges::greater(),
                           [&](std::size_t i) { return files[i].bytes.size(); });
  std::vector<std::unique_ptr<Temporary>> written(files.size());
  std::atomic<std::size_t> next = 0;
  const auto write = [&] {
    for (std::size_t n = next++; n < order.size(); n = next++) {
      const NewFile& file = files[order[n]];
      written[order[n]] = std::make_unique<Temporary>(file.file, file.bytes, access);
    }
  };
  {
    std::vector<std::future<void>> others;
    for (std::size_t i = 1; i < std::min(kAtATime, files.size()); ++i)
      others.push_back(std::async(std::launch::async | std::launch::deferred, write));
    write();
    for (std::future<void>& other : others) other.get();
  }
  return written;
}

class RealFileSystem final : public FileSystem {
 public:
  Result<std::string> read(const Path& file, std::uint64_t max_bytes) override {
    // Without O_NONBLOCK a pipe that nobody writes to would be waited for.
    const OpenFile open(open_retrying(file, O_RDONLY | O_NONBLOCK));
    if (open.get() < 0) return failed("read", file, errno);
    struct stat about {};
    if (::fstat(open.get(), &about) != 0) return failed("read", file, errno);
    if (S_ISDIR(about.st_mode)) return failed("read", file, EISDIR);
    if (!S_ISREG(about.st_mode))
      return fail(ErrorKind::kInvalid, "it is no plain file", file.string(),
                  "this is not the file that was meant");
    const auto told = static_cast<std::uint64_t>(about.st_size);
    if (told > max_bytes) return too_large(file, max_bytes);
    std::string bytes;
    bytes.reserve(told);
    std::string chunk(std::size_t{1} << 16U, '\0');
    for (;;) {
      const ssize_t got = ::read(open.get(), chunk.data(), chunk.size());
      if (got < 0 && errno == EINTR) continue;
      if (got < 0) return failed("read", file, errno);
      if (got == 0) return bytes;
      bytes.append(chunk, 0, static_cast<std::size_t>(got));
      // One that grew meanwhile, or that tells no size.
      if (bytes.size() > max_bytes) return too_large(file, max_bytes);
    }
  }

  Result<void> write_durably(const Path& file, std::string_view bytes, Access access) override {
    Temporary written(file, bytes, access);
    int code = written.take_name();
    if (code == 0) code = sync_folder(folder_of(file));
    if (code != 0) return failed("write", file, code);
    return {};
  }

  Result<void> write_all_durably(std::span<const NewFile> files, Access access) override {
    const std::vector<std::unique_ptr<Temporary>> written = all_written(files, access);
    for (const auto& each : written)
      if (each->code() != 0) return failed("write", each->file(), each->code());
    std::set<Path> folders;
    for (const auto& each : written) {
      if (const int code = each->take_name(); code != 0) return failed("write", each->file(), code);
      folders.insert(folder_of(each->file()));
    }
    for (const Path& folder : folders)
      if (const int code = sync_folder(folder); code != 0) return failed("write", folder, code);
    return {};
  }

  Result<bool> exists(const Path& path) override {
    struct stat about {};
    if (::stat(path.c_str(), &about) == 0) return true;
    if (errno == ENOENT || errno == ENOTDIR) return false;
    return failed("look at", path, errno);
  }

  Result<std::vector<std::string>> list(const Path& folder) override {
    std::error_code code;
    std::vector<std::string> names;
    std::filesystem::directory_iterator at(folder, code);
    for (; !code && at != std::filesystem::directory_iterator(); at.increment(code)) {
      names.push_back(at->path().filename().string());
    }
    if (code) return failed("list", folder, code.value());
    std::ranges::sort(names);
    return names;
  }

  Result<void> make_folders(const Path& folder) override {
    if (const int code = make_all(folder); code != 0)
      return failed("make the folder", folder, code);
    return {};
  }

  Result<void> remove(const Path& file) override {
    if (::unlink(file.c_str()) != 0) return failed("remove", file, errno);
    return {};
  }

  Result<void> rename(const Path& from, const Path& to) override {
    if (::rename(from.c_str(), to.c_str()) != 0) return failed("rename", from, errno);
    for (const Path& folder : {folder_of(to), folder_of(from)}) {
      if (const int code = sync_folder(folder); code != 0) return failed("rename", from, code);
    }
    return {};
  }

  Result<std::uint64_t> size(const Path& file) override {
    struct stat about {};
    if (::stat(file.c_str(), &about) != 0) return failed("look at", file, errno);
    return static_cast<std::uint64_t>(about.st_size);
  }

  Result<std::uint64_t> free_bytes(const Path& path) override {
    std::error_code code;
    const auto space = std::filesystem::space(path, code);
    if (code) return failed("look at the disk of", path, code.value());
    return space.available;
  }

  void forget_cached(const Path& file) override {
    // A pipe in the file's place is not waited for here either.
    const OpenFile open(open_retrying(file, O_RDONLY | O_NONBLOCK));
    if (open.get() >= 0) ::posix_fadvise(open.get(), 0, 0, POSIX_FADV_DONTNEED);
  }
};

}  // namespace

Result<void> FileSystem::write_all_durably(std::span<const NewFile> files, Access access) {
  for (const NewFile& each : files)
    if (auto written = write_durably(each.file, each.bytes, access); !written) return written;
  return {};
}

Result<void> FileSystem::copy_durably(const Path& from, const Path& to, Access access,
                                      std::uint64_t max_bytes) {
  const auto bytes = read(from, max_bytes);
  if (!bytes) return std::unexpected(bytes.error());
  if (auto written = write_durably(to, *bytes, access); !written) return written;
  forget_cached(to);
  const auto again = read(to, max_bytes);
  if (!again) return std::unexpected(again.error());
  if (*again == *bytes) return {};
  const bool gone = remove(to).has_value();
  return fail(ErrorKind::kDamaged,
              std::string("the copy reads back differently") +
                  (gone ? " and was removed" : " and could not be removed"),
              to.string(), "the disk or stick is worn out: take another one");
}

std::unique_ptr<FileSystem> real_file_system() {
  return std::make_unique<RealFileSystem>();
}

}  // namespace ligule::files
