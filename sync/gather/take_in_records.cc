#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

#include "storage/trial/said.h"
#include "storage/trial/sample_bag.h"
#include "sync/gather/settle.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {
namespace {

class Records {
 public:
  Records(const ledger::Ledger& ledger, const WeightFile& file, const TakeIn& wish,
          const TakenIn& taken, const Definitions& definitions, UuidSequence& ids)
      : ledger_(ledger),
        file_(file),
        wish_(wish),
        taken_(taken),
        definitions_(definitions),
        ids_(ids) {}

  Result<std::vector<Record>> make() {
    if (taken_.values.empty()) return std::move(records_);
    if (auto added = add_scales(); !added) return std::unexpected(added.error());
    if (auto added = add_limits(); !added) return std::unexpected(added.error());
    if (auto added = add_person(); !added) return std::unexpected(added.error());
    add_runs();
    for (const TakenValue& value : taken_.values) add_value(value);
    return std::move(records_);
  }

 private:
  Record blank(std::string_view kind, const Stamp& at) {
    Record record;
    record.id = RecordId{ids_.next(wish_.now.utc)};
    record.kind = kind;
    record.at = at;
    return record;
  }

  Result<void> add_scales() {
    for (const TakenValue& value : taken_.values) {
      const std::string text = scale_text(*value.scale);
      std::string digest = sha256(text).hex();
      if (!digests_.try_emplace(value.scale, digest).second) continue;
      const auto held = ledger_.definition(digest);
      if (!held) return std::unexpected(held.error());
      if (held->has_value() || !added_.insert(digest).second) continue;
      Record record = blank(kind::kDefinition, wish_.now);
      record.entered = value.scale->code;
      record.definition = std::move(digest);
      record.details = text;
      records_.push_back(std::move(record));
    }
    return {};
  }

  // That asked of these values.
  Result<void> add_limits() {
    auto limits = limits_records(ledger_, definitions_, wish_.now, ids_);
    if (!limits) return std::unexpected(limits.error());
    std::ranges::move(*limits, std::back_inserter(records_));
    return {};
  }

  Result<void> add_person() {
    person_ = person_id(wish_.person);
    const auto people = ledger_.of_kind(kind::kPerson);
    if (!people) return std::unexpected(people.error());
    if (std::ranges::find(*people, person_.uuid, &Record::subject) != people->end()) return {};
    Record record = blank(kind::kPerson, wish_.now);
    record.person = person_;
    record.subject = person_.uuid;
    record.entered = wish_.person;
    records_.push_back(std::move(record));
    return {};
  }

  Record about(std::string_view kind, const Stamp& at) {
    Record record = blank(kind, at);
    record.person = person_;
    record.trial = wish_.plan.plan.id();
    record.plan = wish_.plan.digest;
    record.occasion = wish_.plan.plan.occasion(wish_.cutting);
    return record;
  }

  // One a day, so that a block cut on two days is told. Corrections stay with the run that cut.
  void add_runs() {
    std::map<CalendarDate, Stamp> first;
    for (const TakenValue& value : taken_.values) {
      if (value.replaces) continue;
      const auto [at, added] = first.try_emplace(value.at.local_date, value.at);
      if (value.at.utc < at->second.utc) at->second = value.at;
    }
    for (const auto& [day, stamp] : first) {
      Record run = about(kind::kHarvestRun, stamp);
      Details details = wish_.run;
      details["file"] = file_.name;
      details["file_sha256"] = wish_.sha256;
      details["taken_in"] = format_date(wish_.now.local_date) + " " + format_clock(wish_.now);
      if (!taken_.clock) details["clock"] = "none";
      run.details = details_text(details);
      if (taken_.low) run.answers.push_back({std::string(kLowStubble), std::string(kGoOnLow)});
      runs_[day] = run.id;
      records_.push_back(std::move(run));
    }
  }

  void add_value(const TakenValue& value) {
    Record record = about(value.replaces ? kind::kCorrection : kind::kReading, value.at);
    record.subject = value.plot;
    const auto named = value.bag       ? value.bag
                       : value.bag_row ? std::optional(bags_.at(value.bag_row))
                                       : std::nullopt;
    if (value.of_bag && named) record.subject = named->uuid;
    record.measure = value.measure;
    record.part = value.part;
    record.purpose = Purpose::kSurvey;
    record.state = value.state;
    record.entered = value.value.entered;
    record.unit = value.value.unit;
    record.value = value.value.value;
    record.definition = digests_.at(value.scale);
    record.answers = value.answers;
    record.source = wish_.on_paper ? Source::kPaper : Source::kImported;
    record.raw = value.row->raw;
    if (value.replaces) {
      const Record& before = *value.replaces;
      const bool later = before.state == ValueState::kLater;
      record.run = before.run;
      record.targets = {before.id};
      record.details = said::still_said(before.details);
      record.reason = later ? "after_later" : wish_.correct;
    } else {
      record.run = runs_.at(value.at.local_date);
    }
    if (value.measure == measure::kBagNumber) {
      if (named)
        record.details = details_text({{std::string(sample_bag::kSameBag), named->text()}});
      else
        bags_[value.row] = record.id;
    }
    records_.push_back(std::move(record));
  }

  const ledger::Ledger& ledger_;
  const WeightFile& file_;
  const TakeIn& wish_;
  const TakenIn& taken_;
  const Definitions& definitions_;
  UuidSequence& ids_;
  PersonId person_;
  std::map<const Scale*, std::string> digests_;
  std::set<std::string> added_;
  std::map<CalendarDate, RecordId> runs_;
  std::map<const WeightRow*, RecordId> bags_;  // that this file brings
  std::vector<Record> records_;
};

}  // namespace

Result<std::vector<Record>> records_of(const ledger::Ledger& ledger, const WeightFile& file,
                                       const TakeIn& wish, const TakenIn& taken,
                                       const Definitions& definitions, UuidSequence& ids) {
  return Records(ledger, file, wish, taken, definitions, ids).make();
}

}  // namespace ligule::gather
