#include "app/work/definitions_used.h"

#include <algorithm>
#include <utility>

#include "storage/trial/limit.h"
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

Record limits_record(const std::string& text, const std::string& digest, const Stamp& at,
                     RecordId id) {
  Record record;
  record.id = id;
  record.kind = kind::kLimits;
  record.at = at;
  record.definition = digest;
  record.details = text;
  return record;
}

}  // namespace

Result<DefinitionsUsed> DefinitionsUsed::of(const ledger::Ledger& ledger,
                                            const Definitions& definitions) {
  DefinitionsUsed used;
  for (const Scale& scale : definitions.scales) {
    const std::string digest = sha256(scale_text(scale)).hex();
    used.scales_.emplace(digest, scale);
    const auto held = ledger.definition(digest);
    if (!held) return std::unexpected(held.error());
    if (*held) used.held_.insert(digest);
  }
  if (definitions.limits.empty()) return used;
  used.limits_ = limits_text(definitions.limits);
  used.limits_digest_ = sha256(used.limits_).hex();
  const auto told = ledger.limits_told();
  if (!told) return std::unexpected(told.error());
  if (*told == used.limits_digest_) used.held_.insert(used.limits_digest_);
  return used;
}

bool DefinitionsUsed::under_way(const std::string& digest) const {
  return std::ranges::any_of(under_way_,
                             [&](const auto& act) { return act.second.digests.contains(digest); });
}

void DefinitionsUsed::add_to(flow::Append& append, const flow::IdSource& ids) {
  std::vector<Record> definitions;
  // Of an act that is sent again nothing was kept, though perhaps nobody has said so yet.
  under_way_.erase(append.act);
  const auto put_under_way = [&](const std::string& digest) {
    UnderWay& with_act = under_way_[append.act];
    with_act.epoch = append.epoch;
    with_act.digests.insert(digest);
  };
  for (const Record& record : append.records) {
    const auto scale = scales_.find(record.definition);
    if (scale == scales_.end() || held_.contains(scale->first) || under_way(scale->first)) continue;
    put_under_way(scale->first);
    definitions.push_back(
        definition_record(scale->second, scale->first, record.at, ids(record.at.utc)));
  }
  const auto value = std::ranges::find_if(append.records, &Record::is_claim);
  if (value != append.records.end() && !limits_.empty() && !held_.contains(limits_digest_) &&
      !under_way(limits_digest_)) {
    put_under_way(limits_digest_);
    definitions.push_back(limits_record(limits_, limits_digest_, value->at, ids(value->at.utc)));
  }
  append.records.insert(append.records.begin(), definitions.begin(), definitions.end());
}

void DefinitionsUsed::kept(flow::ActNumber act) {
  const auto scales = under_way_.extract(act);
  if (!scales.empty()) held_.insert(scales.mapped().digests.begin(), scales.mapped().digests.end());
}

void DefinitionsUsed::not_kept(flow::ActNumber act, int epoch) {
  const auto at = under_way_.find(act);
  if (at != under_way_.end() && at->second.epoch == epoch) under_way_.erase(at);
}

}  // namespace ligule::work
