#include "storage/ledger/hold.h"

#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

#include "storage/ledger/files_of_ledger.h"

namespace ligule::ledger {

Result<Hold> Hold::take(const std::string& ledger_path) {
  Hold hold(open_beside(ledger_path, ".open"));
  if (hold.file_ >= 0 && ::flock(hold.file_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    return fail(ErrorKind::kRefused, "another window of this program has the ledger open",
                ledger_path, "go on in that window, or close it first");
  return hold;
}

Hold::Hold(Hold&& other) noexcept : file_(std::exchange(other.file_, -1)) {}
Hold& Hold::operator=(Hold&& other) noexcept {
  std::swap(file_, other.file_);
  return *this;
}
Hold::~Hold() {
  if (file_ >= 0) ::close(file_);
}

}  // namespace ligule::ledger
