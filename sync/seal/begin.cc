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

constexpr int kMostOdd = 1000;

// Puts what lies in the key's place under a name that is free, so that nobody's key is lost.
Result<void> set_aside(files::FileSystem& files, const files::Path& path) {
  const auto there = files.exists(path);
  if (!there) return std::unexpected(there.error());
  if (!*there) return {};
  for (int number = 1; number <= kMostOdd; ++number) {
    const files::Path odd = path.string() + ".odd-" + std::to_string(number);
    const auto taken = files.exists(odd);
    if (!taken) return std::unexpected(taken.error());
    if (!*taken) return files.rename(path, odd);
  }
  return fail(ErrorKind::kIo, "there are too many odd keys", path.string(), "move them away");
}

// The key beside the ledger, where it is of `wanted` or nobody says of which it must be; empty:
// there is none of use.
Result<std::optional<SecretKey>> key_of_use(files::FileSystem& files, const std::string& ledger,
                                            const std::optional<PublicKey>& wanted) {
  auto key = load_secret_key(files, ledger);
  if (key) {
    if (wanted && key->public_key() != *wanted) return std::nullopt;
    return std::optional(std::move(*key));
  }
  const ErrorKind kind = key.error().kind;
  if (kind == ErrorKind::kNotFound || kind == ErrorKind::kInvalid) return std::nullopt;
  return std::unexpected(key.error());
}

Result<SecretKey> new_key(files::FileSystem& files, const std::string& ledger,
                          const Beginning& beginning) {
  for (const files::Path& path : {secret_key_path(ledger), public_key_path(ledger)})
    if (const auto aside = set_aside(files, path); !aside) return std::unexpected(aside.error());
  SecretKey made = make_key(beginning);
  if (const auto kept = keep_secret_key(files, ledger, made); !kept)
    return std::unexpected(kept.error());
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
  auto mine = ledger.my_stream();
  auto found =
      key_of_use(files, ledger.path(), mine ? std::optional(mine->public_key) : std::nullopt);
  if (!found) return std::unexpected(found.error());
  if (mine && *found) return *std::move(mine);
  auto key =
      *found ? Result<SecretKey>(*std::move(*found)) : new_key(files, ledger.path(), beginning);
  if (!key) return std::unexpected(key.error());
  auto ids = continued_ids(ledger, beginning);
  if (!ids) return std::unexpected(ids.error());
  const StreamId stream{ids->next(beginning.at.utc)};
  const RecordId record{ids->next(beginning.at.utc)};
  return ledger.start_stream({stream, record, mine ? mine->device : beginning.device,
                              key->public_key(), beginning.software, beginning.demo, beginning.at,
                              mine.has_value()});
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
