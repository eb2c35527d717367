#include "storage/trial/first_said.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

#include "storage/trial/details.h"

namespace ligule {
namespace {

constexpr std::array<std::string_view, 7> kRestating{
    "weeds_only", "check_weight_off", "exchanged", "weights_right", "zero_confirmed",
    "slid",       "taken_back"};
// Longer chains than anybody makes; a forged ring ends here.
constexpr int kLongestChain = 1000;

// The nearest record behind this one that says the same.
Result<std::optional<Record>> said_before(const Record& record, const FindRecord& find) {
  std::vector<RecordId> behind = record.targets;
  for (std::size_t n = 0; n < behind.size() && n < kLongestChain; ++n) {
    auto found = find(behind[n]);
    if (!found) return found;
    const std::optional<Record>& target = *found;
    if (!target) continue;
    if (says_the_same(*target, record)) return found;
    std::ranges::copy(target->targets, std::back_inserter(behind));
  }
  return std::nullopt;
}

}  // namespace

bool only_restates(const Record& record) {
  if (record.kind == kind::kSettlement) return true;
  return std::ranges::find(kRestating, record.reason) != kRestating.end();
}

bool says_the_same(const Record& a, const Record& b) {
  if (a.entered != b.entered || a.unit != b.unit) return false;
  // A settlement is a tap on one of the values beside each other.
  const bool settles = a.kind == kind::kSettlement || b.kind == kind::kSettlement;
  return settles || (a.source == b.source && a.raw == b.raw);
}

Result<Record> first_said(Record record, const FindRecord& find) {
  for (int step = 0; step < kLongestChain && only_restates(record); ++step) {
    const auto moved_from = parse_uuid(detail(record.details, "moved_from"));
    auto before = moved_from ? find(RecordId{*moved_from}) : said_before(record, find);
    if (!before) return std::unexpected(std::move(before).error());
    std::optional<Record> earlier = *std::move(before);
    if (!earlier) break;
    record = *std::move(earlier);
  }
  return record;
}

Result<Stamp> first_given(const Record& record, const FindRecord& find) {
  Stamp given = record.at;
  Record at = record;
  for (int step = 0; step < kLongestChain && at.replaces() && !at.targets.empty(); ++step) {
    auto target = find(at.targets.front());
    if (!target) return std::unexpected(std::move(target).error());
    std::optional<Record>& held = *target;
    if (!held || held->state == ValueState::kLater) break;
    at = *std::move(held);
    given = at.at;
  }
  return given;
}

}  // namespace ligule
