#include "sync/seal/begin.h"

#include "storage/ledger/digest.h"

namespace ligule::seal {
namespace {

// What makes a demonstration come out the same: the device and the day, nothing of the machine.
std::string demo_seed(const Beginning& beginning) {
  return beginning.device + "\n" + format_date(beginning.at.local_date);
}

SecretKey make_key(const Beginning& beginning) {
  if (!beginning.demo) return SecretKey::fresh();
  return SecretKey::from_seed(sha256("ligule demonstration key\n" + demo_seed(beginning)).bytes);
}

Result<SecretKey> load_or_make_key(files::FileSystem& files, const std::string& ledger,
                                   const Beginning& beginning) {
  auto key = load_secret_key(files, ledger);
  if (key || key.error().kind != ErrorKind::kNotFound) return key;
  SecretKey made = make_key(beginning);
  if (const auto kept = keep_secret_key(files, ledger, made); !kept) {
    return std::unexpected(kept.error());
  }
  return made;
}

}  // namespace

std::function<std::uint64_t()> id_bits(const Beginning& beginning) {
  if (!beginning.demo) return random_bits;
  // Each call hashes a counter: any number of bits that look random and never depend on the run.
  return [seed = demo_seed(beginning), count = std::uint64_t{0}]() mutable {
    const Digest digest =
        sha256("ligule demonstration ids\n" + seed + "\n" + std::to_string(count++));
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < sizeof bits; ++i) bits = (bits << 8U) | digest.bytes[i];
    return bits;
  };
}

Result<UuidSequence> continued_ids(const ledger::Ledger& ledger, const Beginning& beginning) {
  const auto newest = ledger.newest_id();
  if (!newest) return std::unexpected(newest.error());
  UuidSequence ids(id_bits(beginning));
  const std::optional<RecordId>& last = *newest;
  if (last.has_value()) ids.continue_after(last->uuid);
  return ids;
}

Result<ledger::StreamInfo> begin_stream(ledger::Ledger& ledger, files::FileSystem& files,
                                        const Beginning& beginning) {
  if (auto mine = ledger.my_stream()) {
    if (const auto key = key_of_stream(ledger, files); !key) return std::unexpected(key.error());
    return std::move(*mine);
  }
  const auto key = load_or_make_key(files, ledger.path(), beginning);
  if (!key) return std::unexpected(key.error());
  auto ids = continued_ids(ledger, beginning);
  if (!ids) return std::unexpected(ids.error());
  const StreamId stream{ids->next(beginning.at.utc)};
  const RecordId record{ids->next(beginning.at.utc)};
  return ledger.start_stream({stream, record, beginning.device, key->public_key(),
                              beginning.software, beginning.demo, beginning.at});
}

Result<SecretKey> key_of_stream(const ledger::Ledger& ledger, files::FileSystem& files) {
  const auto stream = ledger.my_stream();
  if (!stream) {
    return fail(ErrorKind::kNotFound,
                "nothing was recorded in this ledger since it was made or copied", ledger.path(),
                "a copied or restored ledger begins a stream of its own when it is next used");
  }
  auto key = load_secret_key(files, ledger.path());
  if (key && key->public_key() != stream->public_key) {
    return fail(ErrorKind::kConflict, "the key is not the one this stream began with",
                secret_key_path(ledger.path()).string(), "bring the ledger's own key back");
  }
  return key;
}

}  // namespace ligule::seal
