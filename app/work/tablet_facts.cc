// What the Tablet screen says of the machine and its key.
#include "app/work/dot_code.h"
#include "app/work/load.h"
#include "sync/seal/keys.h"

namespace ligule::work {

Result<flow::TabletFacts> load_tablet(const ledger::Ledger& ledger, files::FileSystem& files,
                                      std::string_view version) {
  flow::TabletFacts facts;
  if (const auto mine = ledger.my_stream()) {
    facts.fingerprint = seal::fingerprint(mine->public_key);
    // Without a code the letters are compared.
    if (auto code = dot_code(seal::key_line(mine->public_key, mine->device)))
      facts.key_code = *std::move(code);
  }
  facts.version = version;
  facts.path = ledger.path();
  const auto size = files.size(facts.path);
  if (!size) return std::unexpected(size.error());
  facts.bytes = *size;
  const auto room = files.free_bytes(facts.path);
  if (!room) return std::unexpected(room.error());
  facts.free_bytes = *room;
  return facts;
}

}  // namespace ligule::work
