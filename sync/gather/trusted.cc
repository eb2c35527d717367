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

// Whether records lead to what is believed of their stream.
enum class Tie {
  kLeads,
  kUntied,  // not to be told: the record that is believed is not held, or others are between
  kOther,   // another record stands in their place
};

Result<Tie> tie(const ledger::Ledger& ledger, const Span& span, const Believed& believed) {
  const auto is = [](bool same) { return same ? Tie::kLeads : Tie::kOther; };
  if (span.last == believed.last) return is(span.head == believed.head);
  const auto runs = runs_of(ledger, span.stream);
  if (!runs) return std::unexpected(runs.error());
  for (const Span& run : *runs) {
    const auto leads = leads_through(ledger, run, believed);
    if (!leads) return std::unexpected(leads.error());
    if (!*leads) continue;
    if (span.last < run.first - 1) return Tie::kUntied;
    if (span.last == run.first - 1) return is(span.head == run.before);
    const auto digest = ledger.digest_at(span.stream, span.last);
    if (!digest) return std::unexpected(digest.error());
    return is(*digest == span.head);
  }
  return Tie::kUntied;
}

Error revoked(const TrustedKey& key, std::string what, std::string mend) {
  return {
      ErrorKind::kNotTrusted,
      "key " + seal::fingerprint(key.key) + " (" + key.label + ") was revoked" + std::move(what),
      {},
      std::move(mend)};
}

Result<std::optional<Error>> refusal(const ledger::Ledger& ledger, const TrustedKey& key,
                                     const Span& span) {
  const Believed* const believed = believed_in(key, span.stream);
  if (believed == nullptr)
    return revoked(key, " and nothing of this stream is believed",
                   "name the last file to believe with ligule-desk trust --revoke --to-file");
  const std::string to = std::to_string(believed->last);
  if (span.last > believed->last)
    return revoked(key,
                   " and is trusted no further than record " + to + ", these go to " +
                       std::to_string(span.last),
                   "gather a file sealed before that, or name a later one to believe with "
                   "ligule-desk trust --revoke --to-file");
  // What the file says of its tablet is signed by whoever has the key; the chain proves it only
  // from the first record on.
  const auto runs = runs_of(ledger, span.stream);
  if (!runs) return std::unexpected(runs.error());
  if (runs->empty() && span.first > 1)
    return revoked(key, ", and nothing of this stream is held yet",
                   "gather the file that begins with its first record before this one");
  const auto tied = tie(ledger, span, *believed);
  if (!tied) return std::unexpected(tied.error());
  switch (*tied) {
    case Tie::kLeads:
      return std::nullopt;
    case Tie::kUntied:
      return revoked(key, ", and records between these and record " + to + " are not held yet",
                     "gather the file that ends with record " + to + " from its first record on");
    case Tie::kOther:
      break;
  }
  return revoked(key, ", and these are not the records that lead to record " + to,
                 "somebody with the key changed them: gather the file of before");
}

}  // namespace

Result<std::optional<Signer>> signer_of(const ledger::Ledger& ledger,
                                        const ledger::StreamInfo& stream, const Span& span) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return std::unexpected(keys.error());
  const auto key = std::ranges::find(*keys, stream.public_key, &TrustedKey::key);
  if (key == keys->end()) return std::nullopt;
  if (key->status == ledger::Trust::kTrusted) return Signer{key->label, std::nullopt};
  auto refused = refusal(ledger, *key, span);
  if (!refused) return std::unexpected(refused.error());
  return Signer{key->label, *std::move(refused)};
}

Result<std::string> vouched_label(const ledger::Ledger& ledger, const ledger::StreamInfo& stream,
                                  const Span& span, const std::string& file, Vouched vouched) {
  const auto signer = signer_of(ledger, stream, span);
  if (!signer) return std::unexpected(signer.error());
  const std::optional<Signer>& known = *signer;
  if (!known.has_value()) {
    if (vouched == Vouched::kByPerson) return stream.device;
    return fail(ErrorKind::kNotTrusted,
                "signer not known here: " + seal::fingerprint(stream.public_key) +
                    ", which calls itself " + stream.device,
                file, "compare the fingerprint with the tablet's own, then ligule-desk trust");
  }
  if (known->refused.has_value()) {
    Error refused = *known->refused;
    refused.where = file;
    return std::unexpected(std::move(refused));
  }
  return known->label;
}

Believed believed_of(const seal::SeasonFile& season) {
  return {season.span.stream, season.span.last, season.span.head};
}

std::string Doubtful::line() const {
  return "records " + std::to_string(first) + " to " + std::to_string(last) + " of " + device +
         " are signed by the revoked key of " + label +
         (untied ? " and can't be tied to what is believed of it, records between are not held"
                 : " and not among what is believed of it");
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
      for (const Span& run : *runs) {
        Result<bool> leads = false;
        if (believed != nullptr) leads = leads_through(ledger, run, *believed);
        if (!leads) return std::unexpected(leads.error());
        if (!*leads)
          out.push_back({key.key, key.label, stream.device, run.first, run.last,
                         believed != nullptr && run.last < believed->last});
        else if (run.last > believed->last)
          out.push_back({key.key, key.label, stream.device, believed->last + 1, run.last});
      }
    }
  }
  return out;
}

}  // namespace ligule::gather
