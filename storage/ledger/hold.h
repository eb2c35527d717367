// One touch program at a time at a ledger: of two, each would show as open what the other has kept,
// and both would be answered.
//
// A hold is the system's lock on a small file beside the ledger (LEDGER.open), so that it ends with
// its process, whatever ends that; the file itself stays and says nothing. The desk's commands take
// none: their writes and the tablet's wait for each other in the ledger.
#pragma once

#include <string>

#include "storage/trial/error.h"

namespace ligule::ledger {

class Hold {
 public:
  // kRefused while another process holds the ledger. Where there can be no lock (a folder without
  // rights, a full disk) nobody is kept out: whether the ledger can be used it tells itself.
  [[nodiscard]] static Result<Hold> take(const std::string& ledger_path);
  Hold(Hold&& other) noexcept;
  Hold& operator=(Hold&& other) noexcept;
  Hold(const Hold&) = delete;
  Hold& operator=(const Hold&) = delete;
  ~Hold();

 private:
  explicit Hold(int file) : file_(file) {}

  int file_;  // below 0: none
};

}  // namespace ligule::ledger
