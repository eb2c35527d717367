#include "app/work/season_files.h"

#include <algorithm>

#include "sync/gather/gather.h"
#include "sync/seal/season_file.h"

namespace ligule::work {
namespace {

Result<std::optional<ledger::Trust>> judged(const ledger::Ledger& ledger,
                                            const ledger::PublicKey& key) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return std::unexpected(keys.error());
  const auto held = std::ranges::find(*keys, key, &ledger::TrustedKey::key);
  if (held == keys->end()) return std::nullopt;
  return held->status;
}

std::unexpected<Error> first_of(const files::Faults& faults) {
  return std::unexpected(faults.front());
}

}  // namespace

std::vector<flow::FoundFile> season_files(const ledger::Ledger& ledger, files::FileSystem& files,
                                          const MediaRoots& roots) {
  const auto mine = ledger.my_stream();
  const std::string own = mine ? "season-" + mine->id.text() + "-" : std::string();
  std::vector<flow::FoundFile> found;
  for (const flow::CopyPlace& place : copy_places(files, roots)) {
    const auto names = files.list(place.path);
    if (!names) continue;
    for (const std::string& name : *names) {
      if (!name.starts_with("season-") || !name.ends_with(".zip")) continue;
      if (!own.empty() && name.starts_with(own)) continue;
      found.push_back({(files::Path(place.path) / name).string(), name, place.name});
    }
  }
  return found;
}

flow::Intent read_season_file(const ledger::Ledger& ledger, files::FileSystem& files,
                              const std::string& path) {
  const auto season = seal::read_season_file(files, path);
  if (!season) return flow::SeasonFileFaulty{{path, season.error()}};
  const auto trust = judged(ledger, season->stream.public_key);
  if (!trust) return flow::SeasonFileFaulty{{path, {trust.error()}}};
  return flow::SeasonFileRead{{path, season->stream.device,
                               seal::fingerprint(season->stream.public_key),
                               *trust == ledger::Trust::kTrusted,
                               season->span.last - season->span.first + 1, season->last_date}};
}

Result<TookIn> take_in_file(ledger::Ledger& ledger, files::FileSystem& files,
                            const std::string& path, UtcInstant now, const std::string& compared) {
  const auto season = seal::read_season_file(files, path);
  if (!season) return first_of(season.error());
  if (seal::fingerprint(season->stream.public_key) != compared)
    return fail(ErrorKind::kConflict, "this is another file than the one that was read", path,
                "read it again and compare its letters");
  const auto gathered = gather::gather_season(ledger, *season, path, now, ledger::Branch::kAny,
                                              gather::Vouched::kByPerson);
  if (!gathered) return first_of(gathered.error());
  // What was said of a key before holds, a revoked one's too.
  const auto before = judged(ledger, season->stream.public_key);
  if (!before) return std::unexpected(before.error());
  if (!*before) {
    const auto trusted =
        ledger.trust({season->stream.public_key, season->stream.device, ledger::Trust::kTrusted});
    if (!trusted) return std::unexpected(trusted.error());
  }
  const auto conflicts = gather::conflicts(ledger);
  if (!conflicts) return std::unexpected(conflicts.error());
  return TookIn{gathered->device, gathered->absorbed.added, conflicts->size()};
}

}  // namespace ligule::work
