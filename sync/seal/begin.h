// Beginning a stream: the key, the ids and the first record of a new, copied or restored ledger.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"
#include "sync/seal/keys.h"

namespace ligule::seal {

struct Beginning {
  std::string device;    // the name a person gave the tablet or desk
  std::string software;  // name and version
  Stamp at;
  bool demo = false;  // ids and key come out the same for the same device and date, and everything
                      // is marked as made for demonstration
};

// The random bits for a ledger's ids: the machine's, or for demonstration a sequence that depends
// only on device and date.
[[nodiscard]] std::function<std::uint64_t()> id_bits(const Beginning& beginning);

// Hands out ids after the newest the ledger's own streams have.
[[nodiscard]] Result<UuidSequence> continued_ids(const ledger::Ledger& ledger,
                                                 const Beginning& beginning);

// Puts what lies at a path, if anything, under a name that is free (".odd-1" and so on behind its
// own), so that nothing of anybody's is lost. kIo.
[[nodiscard]] Result<void> set_aside(files::FileSystem& files, const files::Path& path);

// Opens the ledger's key or makes one, and starts a stream in a ledger that has none of its own
// (new, copied or restored). A ledger that has one is left as it is; its stream is given. A tablet
// must never stand still for a key: where that of its stream is lost, damaged or another's, a new
// one is made, or one of its own that came back is used, and a stream begun that continues the old
// one; what lay in the key's place is kept under another name (secret_key_path() and ".odd-1").
// kIo; errors of start_stream().
[[nodiscard]] Result<ledger::StreamInfo> begin_stream(ledger::Ledger& ledger,
                                                      files::FileSystem& files,
                                                      const Beginning& beginning);

// The key of the ledger's own stream. kNotFound, kInvalid (spoilt), and kConflict when it is
// another key than the one the stream began with.
[[nodiscard]] Result<SecretKey> key_of_stream(const ledger::Ledger& ledger,
                                              files::FileSystem& files);

}  // namespace ligule::seal
