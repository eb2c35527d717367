#include "storage/ledger/files_of_ledger.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "storage/ledger/digest.h"

namespace ligule::ledger {
namespace {

std::unexpected<Error> machine_failed(const std::string& what, const std::string& path,
                                      int error_number) {
  const std::string why = what + ": " + std::generic_category().message(error_number);
  switch (error_number) {
    case ENOENT:
    case ENOTDIR:
      return fail(ErrorKind::kNotFound, why, path, "make the folder first");
    case EEXIST:
      return fail(ErrorKind::kConflict, "something of that name is there already", path,
                  "choose another name");
    case ENOSPC:
    case EDQUOT:
      return fail(ErrorKind::kIo, why, path, "make room on the disk, then do it again");
    default:
      return fail(ErrorKind::kIo, why, path, "check the rights of the folder and its disk");
  }
}

Result<void> sync_path(const std::string& path, int flags) {
  const int file = ::open(path.c_str(), flags | O_CLOEXEC);
  if (file < 0) return machine_failed("it can't be opened", path, errno);
  const int failed = ::fsync(file) == 0 ? 0 : errno;
  ::close(file);
  // Some drivers of sticks have no such thing for folders.
  if (failed == EINVAL && (flags & O_DIRECTORY) != 0) return {};
  if (failed != 0) return machine_failed("it can't be forced to the disk", path, failed);
  return {};
}

// In pieces: a ledger may be larger than what memory has free.
Result<Digest> digest_of_file(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return machine_failed("it can't be opened", path, errno);
  std::string piece(std::size_t{1} << 20U, '\0');
  Digest digest;
  ssize_t count = 0;
  // A chain of pieces: equal chains are equal files.
  while ((count = ::read(file, piece.data(), piece.size())) > 0)
    digest = chained(digest, std::string_view(piece).substr(0, static_cast<std::size_t>(count)));
  const int failed = count < 0 ? errno : 0;
  ::close(file);
  if (failed != 0) return machine_failed("it can't be read", path, failed);
  return digest;
}

}  // namespace

std::string beside(const std::string& ledger_path, std::string_view suffix) {
  std::error_code failed;
  const auto real = std::filesystem::weakly_canonical(ledger_path, failed);
  std::string path = failed ? ledger_path : real.string();
  return path.append(suffix);
}

int open_beside(const std::string& ledger_path, std::string_view suffix) {
  constexpr int kFlags = O_RDWR | O_CLOEXEC | O_NOFOLLOW;
  const std::string path = beside(ledger_path, suffix);
  const int there = ::open(path.c_str(), kFlags);
  if (there >= 0 || errno != ENOENT) return there;
  const int made = ::open(path.c_str(), kFlags | O_CREAT | O_EXCL, 0600);
  // Another program may have made it meanwhile.
  if (made < 0) return errno == EEXIST ? ::open(path.c_str(), kFlags) : made;
  // What a root makes belongs to whom the ledger belongs to, who could use it no more otherwise:
  // SQLite does so with its own files beside it (os_unix.c, robustFchown).
  struct stat ledger {};
  if (::geteuid() == 0 && ::stat(ledger_path.c_str(), &ledger) == 0)
    static_cast<void>(!::fchown(made, ledger.st_uid, ledger.st_gid));  // else it serves root alone
  return made;
}

Result<void> make_private_file(const std::string& path) {
  const int file = ::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
  if (file < 0) return machine_failed("the ledger can't be made", path, errno);
  ::close(file);
  return {};
}

Result<void> check_nothing_at(const std::string& path) {
  struct stat found {};
  if (::lstat(path.c_str(), &found) == 0)
    return machine_failed("the ledger can't be made", path, EEXIST);
  return {};
}

void remove_database(const std::string& path) {
  for (const char* suffix : {"", "-wal", "-shm", "-journal", ".last"})
    ::unlink((path + suffix).c_str());
}

Result<void> move_into_place(const std::string& from, const std::string& to) {
  if (auto synced = sync_path(from, O_RDONLY); !synced) return synced;
  // RENAME_NOREPLACE: two programs that make the same ledger at once must not lose one.
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) != 0)
    return machine_failed("it can't take its name", to, errno);
  const auto folder = std::filesystem::path(to).parent_path();
  auto synced = sync_path(folder.empty() ? "." : folder.string(), O_RDONLY | O_DIRECTORY);
  // What was not told to be there is not left there.
  if (!synced) ::unlink(to.c_str());
  return synced;
}

void forget_cached(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return;
  static_cast<void>(::fsync(file));  // what is not on the disk yet can't be dropped
  static_cast<void>(::posix_fadvise(file, 0, 0, POSIX_FADV_DONTNEED));
  ::close(file);
}

Result<void> read_back(const std::string& path,
                       const std::function<void(const std::string&)>& forget) {
  const auto written = digest_of_file(path);
  if (!written) return std::unexpected(written.error());
  forget(path);
  const auto there = digest_of_file(path);
  if (!there) return std::unexpected(there.error());
  if (*there != *written)
    return fail(ErrorKind::kDamaged, "the copy reads back differently", path,
                "the disk or stick is worn out: take another one");
  return {};
}

}  // namespace ligule::ledger
