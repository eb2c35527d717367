#include "app/work/scales_used.h"

#include <algorithm>
#include <utility>

#include "storage/trial/plan.h"

namespace ligule::work {
namespace {

Record definition_record(const Scale& scale, const std::string& digest, const Stamp& at,
                         RecordId id) {
  Record record;
  record.id = id;
  record.kind = kind::kDefinition;
  record.at = at;
  record.entered = scale.code;
  record.definition = digest;
  record.details = scale_text(scale);
  return record;
}

}  // namespace

Result<ScalesUsed> ScalesUsed::of(const ledger::Ledger& ledger, const Definitions& definitions) {
  ScalesUsed used;
  for (const Scale& scale : definitions.scales) {
    const std::string digest = sha256(scale_text(scale)).hex();
    used.scales_.emplace(digest, scale);
    const auto held = ledger.definition(digest);
    if (!held) return std::unexpected(held.error());
    if (*held) used.held_.insert(digest);
  }
  return used;
}

bool ScalesUsed::under_way(const std::string& digest) const {
  return std::ranges::any_of(under_way_,
                             [&](const auto& act) { return act.second.contains(digest); });
}

void ScalesUsed::add_to(flow::Append& append, const flow::IdSource& ids) {
  std::vector<Record> definitions;
  for (const Record& record : append.records) {
    const auto scale = scales_.find(record.definition);
    if (scale == scales_.end() || held_.contains(scale->first) || under_way(scale->first)) continue;
    under_way_[append.act].insert(scale->first);
    definitions.push_back(
        definition_record(scale->second, scale->first, record.at, ids(record.at.utc)));
  }
  append.records.insert(append.records.begin(), definitions.begin(), definitions.end());
}

void ScalesUsed::kept(flow::ActNumber act) {
  const auto scales = under_way_.extract(act);
  if (!scales.empty()) held_.insert(scales.mapped().begin(), scales.mapped().end());
}

void ScalesUsed::not_kept(flow::ActNumber act) {
  under_way_.erase(act);
}

}  // namespace ligule::work
