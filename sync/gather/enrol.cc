#include "sync/gather/enrol.h"

#include <algorithm>
#include <set>

namespace ligule::gather {
namespace {

std::string name_of_trial(const TrialCodes& codes) {
  return codes.station + "/" + codes.site + "/" + codes.trial;
}

// Every scale that some measure of some entry's species is given on and the plan's own scores, once
// each, by code.
std::vector<const Scale*> scales_of(const Plan& plan, const Definitions& definitions) {
  std::vector<const Scale*> scales;
  for (const Measure& measure : definitions.measures) {
    for (const PlanEntry& entry : plan.entries) {
      const Scale* scale = definitions.scale_for(measure.code, entry.species);
      if (scale != nullptr) scales.push_back(scale);
    }
  }
  for (const Scale& score : plan.scores) scales.push_back(&score);
  std::ranges::sort(scales, {}, &Scale::code);
  const auto doubled = std::ranges::unique(scales);
  scales.erase(doubled.begin(), doubled.end());
  return scales;
}

// Makes the records of one enrolment.
class Drafts {
 public:
  Drafts(const ledger::Ledger& ledger, UuidSequence& ids, const Stamp& at,
         bool sown_with_the_others)
      : ledger_(ledger), ids_(ids), at_(at), sown_with_the_others_(sown_with_the_others) {}

  [[nodiscard]] Result<bool> fits(const Plan& plan) const {
    return ledger_.can_enrol(plan, {at_.local_date, sown_with_the_others_});
  }

  // Of a plan that is held.
  [[nodiscard]] Result<bool> is_in_force(const Plan& plan) const {
    const auto known = ledger_.plan(plan.id());
    if (!known) return std::unexpected(known.error());
    return known->digest == sha256(plan_text(plan)).hex();
  }

  void add_plan(const Plan& plan) {
    Record record = next(kind::kPlan);
    record.trial = plan.id();
    if (sown_with_the_others_ && !ledger_.can_enrol(plan, {at_.local_date}))
      record.reason = kSownWithTheOthers;
    record.details = plan_text(plan);
    record.plan = sha256(record.details).hex();
    records_.push_back(std::move(record));
  }

  // False when the ledger, or an earlier plan of this enrolment, has the scale already.
  Result<bool> add_scale(const Scale& scale) {
    const std::string text = scale_text(scale);
    const std::string digest = sha256(text).hex();
    if (added_.contains(digest)) return false;
    const auto held = ledger_.definition(digest);
    if (!held) return std::unexpected(held.error());
    if (held->has_value()) return false;
    added_.insert(digest);
    Record record = next(kind::kDefinition);
    record.entered = scale.code;
    record.definition = digest;
    record.details = text;
    records_.push_back(std::move(record));
    return true;
  }

  [[nodiscard]] std::vector<Record> take() { return std::move(records_); }

 private:
  Record next(std::string_view kind) {
    Record record;
    record.id = RecordId{ids_.next(at_.utc)};
    record.kind = kind;
    record.at = at_;
    return record;
  }

  const ledger::Ledger& ledger_;
  UuidSequence& ids_;
  Stamp at_;
  bool sown_with_the_others_;
  std::set<std::string> added_;
  std::vector<Record> records_;
};

Result<Enrolled> draft_one(const Plan& plan, const Definitions& definitions, Drafts& drafts) {
  Enrolled enrolled{plan.codes, plan.parent.empty() ? EnrolOutcome::kNew : EnrolOutcome::kRevised,
                    0};
  const auto fits = drafts.fits(plan);
  if (!fits) return std::unexpected(fits.error());
  if (!*fits) {
    const auto in_force = drafts.is_in_force(plan);
    if (!in_force) return std::unexpected(in_force.error());
    enrolled.outcome = *in_force ? EnrolOutcome::kHeld : EnrolOutcome::kNotInForce;
    return enrolled;
  }
  for (const Scale* scale : scales_of(plan, definitions)) {
    const auto added = drafts.add_scale(*scale);
    if (!added) return std::unexpected(added.error());
    if (*added) ++enrolled.scales;
  }
  drafts.add_plan(plan);
  return enrolled;
}

}  // namespace

files::Faults enrol_faults(const ledger::Ledger* ledger, std::span<const Plan> plans,
                           const Enrolment& enrolment) {
  files::Faults faults;
  std::set<TrialCodes> seen;
  for (const Plan& plan : plans) {
    if (!seen.insert(plan.codes).second) {
      faults.push_back({ErrorKind::kConflict, "two of these plans have the same codes",
                        name_of_trial(plan.codes), "enrol them one after the other"});
      continue;
    }
    if (ledger == nullptr) continue;
    if (const auto fits = ledger->can_enrol(plan, enrolment); !fits) faults.push_back(fits.error());
  }
  return faults;
}

files::Checked<std::vector<Enrolled>> enrol(ledger::Ledger& ledger, std::span<const Plan> plans,
                                            const Definitions& definitions, UuidSequence& ids,
                                            const Stamp& at, bool sown_with_the_others) {
  const Enrolment enrolment{at.local_date, sown_with_the_others};
  if (auto faults = enrol_faults(&ledger, plans, enrolment); !faults.empty()) {
    return std::unexpected(std::move(faults));
  }
  std::vector<Enrolled> enrolled;
  Drafts drafts(ledger, ids, at, sown_with_the_others);
  for (const Plan& plan : plans) {
    auto one = draft_one(plan, definitions, drafts);
    if (!one) return std::unexpected(files::Faults{one.error()});
    enrolled.push_back(std::move(*one));
  }
  auto records = drafts.take();
  if (records.empty()) return enrolled;
  const auto kept = ledger.append(std::move(records));
  if (!kept) return std::unexpected(files::Faults{kept.error()});
  return enrolled;
}

}  // namespace ligule::gather
