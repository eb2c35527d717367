#include "app/work/new_key.h"

#include <algorithm>
#include <map>

#include "storage/trial/details.h"
#include "sync/seal/keys.h"

namespace ligule::work {
namespace {

constexpr date::days kToldFor{14};

// Records that are held of each stream, and those that a season file of this tablet holds.
struct Reach {
  std::int64_t held = 0;
  std::int64_t sealed = 0;
};

Result<std::map<StreamId, Reach>> reach_of(const ledger::Ledger& ledger) {
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  const auto seals = ledger.seals();
  if (!seals) return std::unexpected(seals.error());
  std::map<StreamId, Reach> reach;
  for (const ledger::Span& span : *spans)
    reach[span.stream].held = std::max(reach[span.stream].held, span.last);
  for (const ledger::Seal& seal : *seals)
    reach[seal.stream].sealed = std::max(reach[seal.stream].sealed, seal.last);
  return reach;
}

// The first record of a stream, where it says that it took the place of one whose key was lost.
const Record* took_a_place(const std::vector<Record>& firsts, StreamId stream) {
  const auto at = std::ranges::find(firsts, stream, &Record::stream);
  if (at == firsts.end()) return nullptr;
  return detail(at->details, std::string(ledger::kInstead)).empty() ? nullptr : &*at;
}

}  // namespace

Result<std::optional<flow::NewKey>> new_key(const ledger::Ledger& ledger, CalendarDate today) {
  const auto mine = ledger.my_stream();
  if (!mine) return std::nullopt;
  const auto firsts = ledger.of_kind(kind::kStream);
  if (!firsts) return std::unexpected(firsts.error());
  const Record* first = took_a_place(*firsts, mine->id);
  if (first == nullptr) return std::nullopt;
  const CalendarDate begun = first->at.local_date;
  auto reach = reach_of(ledger);
  if (!reach) return std::unexpected(reach.error());
  flow::NewKey made{seal::fingerprint(mine->public_key)};
  while (first != nullptr) {
    const auto before = parse_uuid(detail(first->details, "continues"));
    if (!before) break;
    const Reach& lost = (*reach)[StreamId{*before}];
    made.unsealed += std::max<std::int64_t>(0, lost.held - lost.sealed);
    first = took_a_place(*firsts, StreamId{*before});
  }
  const bool known = (*reach)[mine->id].sealed > 0;
  const bool old = date::sys_days(today) > date::sys_days(begun) + kToldFor;
  if (known && (made.unsealed == 0 || old)) return std::nullopt;
  return made;
}

}  // namespace ligule::work
