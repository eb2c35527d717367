#include "sync/seal/begin.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "storage/ledger/digest.h"
#include "storage/trial/details.h"

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

// The key beside the ledger; empty: there is none, or what is there is none.
Result<std::optional<SecretKey>> key_beside(files::FileSystem& files, const std::string& ledger) {
  auto key = load_secret_key(files, ledger);
  if (key) return std::optional(std::move(*key));
  const ErrorKind kind = key.error().kind;
  if (kind == ErrorKind::kNotFound || kind == ErrorKind::kInvalid) return std::nullopt;
  return std::unexpected(key.error());
}

// Whether the key signed a stream that this ledger wrote: a tablet's own key that came back.
Result<bool> is_own(const ledger::Ledger& ledger, const SecretKey& key) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  return std::ranges::any_of(*streams, [&](const ledger::StreamInfo& stream) {
    return stream.mine && stream.public_key == key.public_key();
  });
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

// A key to go on with. Another tablet's is never used where the ledger has a stream.
Result<SecretKey> key_to_go_on(const ledger::Ledger& ledger, files::FileSystem& files,
                               const Beginning& beginning) {
  auto beside = key_beside(files, ledger.path());
  if (!beside) return std::unexpected(beside.error());
  std::optional<SecretKey> found = *std::move(beside);
  if (found.has_value()) {
    const auto own = is_own(ledger, *found);
    if (!own) return std::unexpected(own.error());
    if (!ledger.my_stream() || *own) return *std::move(found);
  }
  return new_key(files, ledger.path(), beginning);
}

std::string_view version_of(std::string_view software) {
  return software.substr(software.rfind(' ') + 1);
}

// Leaves a trace of an update in the stream. Field and desk program of one version are one.
Result<void> tell_software(ledger::Ledger& ledger, const Beginning& beginning) {
  const auto told = ledger.software_told();
  if (!told) return std::unexpected(told.error());
  if (version_of(*told) == version_of(beginning.software)) return {};
  auto ids = continued_ids(ledger, beginning);
  if (!ids) return std::unexpected(ids.error());
  Record record;
  record.id = RecordId{ids->next(beginning.at.utc)};
  record.kind = kind::kSoftware;
  record.at = beginning.at;
  record.details = details_text({{std::string(ledger::kSoftware), beginning.software}});
  const auto kept = ledger.append({std::move(record)});
  if (!kept) return std::unexpected(kept.error());
  return {};
}

}  // namespace

Result<void> set_aside(files::FileSystem& files, const files::Path& path) {
  constexpr int kMostOdd = 1000;
  const auto there = files.exists(path);
  if (!there) return std::unexpected(there.error());
  if (!*there) return {};
  for (int number = 1; number <= kMostOdd; ++number) {
    const files::Path odd = path.string() + ".odd-" + std::to_string(number);
    const auto taken = files.exists(odd);
    if (!taken) return std::unexpected(taken.error());
    if (!*taken) return files.rename(path, odd);
  }
  return fail(ErrorKind::kIo, "too many files were set aside here", path.string(),
              "move them away");
}

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
  auto key = key_to_go_on(ledger, files, beginning);
  if (!key) return std::unexpected(key.error());
  auto mine = ledger.my_stream();
  // A demonstration makes the same key again.
  if (mine && mine->public_key == key->public_key()) {
    if (const auto told = tell_software(ledger, beginning); !told)
      return std::unexpected(told.error());
    return *std::move(mine);
  }
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
  const auto lost = [&](ErrorKind kind, std::string what) {
    return fail(kind, std::move(what), secret_key_path(ledger.path()).string(),
                "bring the ledger's own key back; without it the next start or command that writes "
                "makes a new one, which desks must trust");
  };
  if (key && key->public_key() != stream->public_key)
    return lost(ErrorKind::kConflict, "the key is not the one this stream began with");
  if (!key && key.error().kind == ErrorKind::kNotFound)
    return lost(ErrorKind::kNotFound, "the key of this ledger is not there");
  if (!key && key.error().kind == ErrorKind::kInvalid)
    return lost(ErrorKind::kInvalid, "the key of this ledger is spoilt");
  return key;
}

}  // namespace ligule::seal
