#include "storage/ledger/file_identity.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <cerrno>
#include <system_error>

namespace ligule::ledger {

Result<FileIdentity> identity_of(const std::string& path) {
  struct statx found {};
  if (statx(AT_FDCWD, path.c_str(), 0, STATX_INO | STATX_BTIME | STATX_TYPE, &found) != 0) {
    if (errno == ENOENT || errno == ENOTDIR)
      return fail(ErrorKind::kNotFound, "there is no such ledger", path, "check the name");
    return fail(ErrorKind::kIo,
                "the ledger can't be reached: " + std::generic_category().message(errno), path,
                "check the rights of the file and of its folder");
  }
  if (!S_ISREG(found.stx_mode))
    return fail(ErrorKind::kInvalid, "this is not a file", path, "name another file");
  FileIdentity identity;
  identity.inode = static_cast<std::int64_t>(found.stx_ino);
  if ((found.stx_mask & STATX_BTIME) != 0) {
    identity.born =
        found.stx_btime.tv_sec * 1'000'000'000 + static_cast<std::int64_t>(found.stx_btime.tv_nsec);
  }
  return identity;
}

}  // namespace ligule::ledger
