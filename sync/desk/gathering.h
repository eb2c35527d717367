// What gather and rebuild share: taking in season files, and what is told of it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "sync/desk/ledgers.h"
#include "sync/gather/gather.h"

namespace ligule::desk {

// A file that was not taken in.
struct Refused {
  std::string file;
  files::Faults faults;
};

// Takes in what it can, in the order given, and what was refused once more after what came behind
// it: a file of a revoked key or of a stream that forked may lean on another one. So one call gives
// one ledger, whatever the order. Tells of each; gives the files that stay refused.
// `take` takes one file in; it ends early where `lost` says that no other can be taken.
[[nodiscard]] std::vector<Refused> take_each(
    std::vector<std::string> files,
    const std::function<files::Checked<gather::Gathered>(const std::string&)>& take,
    const std::function<bool()>& lost, Console& console);
// The same into a ledger.
[[nodiscard]] std::vector<Refused> take_all(ledger::Ledger& ledger, std::vector<std::string> files,
                                            ledger::Branch branch, Console& console);

// The same of ledger files, after the season files: their signed records come first.
[[nodiscard]] Exit take_ledgers(ledger::Ledger& ledger, const std::vector<std::string>& files,
                                Console& console);
[[nodiscard]] Option copy_option();

// Tells gaps, conflicts, records after a key was revoked, and the digest. Gives how many gaps there
// are: neither these nor conflicts are faults of gathering, they are settled by people.
[[nodiscard]] Result<std::size_t> tell_state(const ledger::Ledger& ledger, Console& console);

}  // namespace ligule::desk
