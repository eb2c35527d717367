#include "sync/gather/trusted.h"

#include <algorithm>

namespace ligule::gather {
namespace {

using ledger::Believed;
using ledger::Span;
using ledger::TrustedKey;

const Believed* believed_in(const TrustedKey& key, StreamId stream) {
  const auto at = std::ranges::find(key.believed, stream, &Believed::stream);
  return at == key.believed.end() ? nullptr : &*at;
}

Result<std::vector<Span>> runs_of(const ledger::Ledger& ledger, StreamId stream) {
  auto spans = ledger.spans();
  if (!spans) return spans;
  std::erase_if(*spans, [&](const Span& span) { return span.stream != stream; });
  return spans;
}

bool is_in(const Span& run, std::int64_t seq) {
  return run.first <= seq && seq <= run.last;
}

// Whether the run leads through what is believed.
Result<bool> leads_through(const ledger::Ledger& ledger, const Span& run,
                           const Believed& believed) {
  if (!is_in(run, believed.last)) return false;
  const auto digest = ledger.digest_at(run.stream, believed.last);
  if (!digest) return std::unexpected(digest.error());
  return *digest == believed.head;
}

// Whether the file's last record is one that leads to what is believed: it is that itself, or the
// ledger holds the records between.
Result<bool> is_tied(const ledger::Ledger& ledger, const Span& file, const Believed& believed) {
  if (file.last == believed.last) return file.head == believed.head;
  const auto runs = runs_of(ledger, file.stream);
  if (!runs) return std::unexpected(runs.error());
  for (const Span& run : *runs) {
    const auto leads = leads_through(ledger, run, believed);
    if (!leads) return leads;
    if (!*leads) continue;
    if (file.last == run.first - 1) return file.head == run.before;
    if (file.last < run.first) return false;
    const auto digest = ledger.digest_at(file.stream, file.last);
    if (!digest) return std::unexpected(digest.error());
    return *digest == file.head;
  }
  return false;
}

Error revoked(const TrustedKey& key, std::string what, std::string mend) {
  return {
      ErrorKind::kNotTrusted,
      "key " + seal::fingerprint(key.key) + " (" + key.label + ") was revoked" + std::move(what),
      {},
      std::move(mend)};
}

Result<std::optional<Error>> refusal(const ledger::Ledger& ledger, const TrustedKey& key,
                                     const Span& file) {
  const std::string last = std::to_string(file.last);
  const Believed* const believed = believed_in(key, file.stream);
  if (believed == nullptr)
    return revoked(key, " and nothing of this stream is believed",
                   "name the last file to believe with ligule-desk trust --revoke --to-file");
  const std::string to = std::to_string(believed->last);
  if (file.last > believed->last)
    return revoked(key,
                   " and is trusted no further than record " + to + ", the file goes to " + last,
                   "gather a file sealed before the key was revoked");
  const auto tied = is_tied(ledger, file, *believed);
  if (!tied) return std::unexpected(tied.error());
  if (*tied) return std::nullopt;
  return revoked(key, ", and the file does not lead to the record " + to + " that is believed",
                 "gather the file that ends with that record first; if this one is still refused, "
                 "its records were changed");
}

}  // namespace

Result<std::optional<Signer>> signer_of(const ledger::Ledger& ledger,
                                        const seal::SeasonFile& season) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return std::unexpected(keys.error());
  const auto key = std::ranges::find(*keys, season.stream.public_key, &TrustedKey::key);
  if (key == keys->end()) return std::nullopt;
  if (key->status == ledger::Trust::kTrusted) return Signer{key->label, std::nullopt};
  auto refused = refusal(ledger, *key, season.span);
  if (!refused) return std::unexpected(refused.error());
  return Signer{key->label, *std::move(refused)};
}

Believed believed_of(const seal::SeasonFile& season) {
  return {season.span.stream, season.span.last, season.span.head};
}

std::string Doubtful::line() const {
  return "records " + std::to_string(first) + " to " + std::to_string(last) + " of " + device +
         " are signed by the revoked key of " + label + " and not among what is believed of it";
}

Result<std::vector<Doubtful>> doubtful(const ledger::Ledger& ledger) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return std::unexpected(keys.error());
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  std::vector<Doubtful> out;
  for (const TrustedKey& key : *keys) {
    if (key.status == ledger::Trust::kTrusted) continue;
    for (const ledger::StreamInfo& stream : *streams) {
      if (stream.public_key != key.key) continue;
      const Believed* const believed = believed_in(key, stream.id);
      const auto runs = runs_of(ledger, stream.id);
      if (!runs) return std::unexpected(runs.error());
      // Runs before the one that leads there can't be tied to it yet.
      for (const Span& run : *runs) {
        Result<bool> leads = false;
        if (believed != nullptr) leads = leads_through(ledger, run, *believed);
        if (!leads) return std::unexpected(leads.error());
        if (!*leads)
          out.push_back({key.label, stream.device, run.first, run.last});
        else if (run.last > believed->last)
          out.push_back({key.label, stream.device, believed->last + 1, run.last});
      }
    }
  }
  return out;
}

}  // namespace ligule::gather
