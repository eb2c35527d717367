#include "app/work/new_key.h"

#include <algorithm>

#include "sync/seal/keys.h"

namespace ligule::work {

Result<std::optional<flow::NewKey>> new_key(const ledger::Ledger& ledger) {
  const auto mine = ledger.my_stream();
  if (!mine || !mine->continues) return std::nullopt;
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto before = std::ranges::find(*streams, *mine->continues, &ledger::StreamInfo::id);
  if (before == streams->end() || before->public_key == mine->public_key) return std::nullopt;
  const auto seals = ledger.seals();
  if (!seals) return std::unexpected(seals.error());
  std::int64_t sealed = 0;
  for (const ledger::Seal& seal : *seals) {
    if (seal.stream == mine->id) return std::nullopt;
    if (seal.stream == before->id) sealed = std::max(sealed, seal.last);
  }
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  flow::NewKey made{seal::fingerprint(mine->public_key)};
  for (const ledger::Span& span : *spans)
    if (span.stream == before->id) made.unsealed = std::max<std::int64_t>(0, span.last - sealed);
  return made;
}

}  // namespace ligule::work
