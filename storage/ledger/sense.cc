#include "storage/ledger/sense.h"

#include <string>

#include "storage/ledger/digest.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/as_sown.h"
#include "storage/trial/clock_shift.h"
#include "storage/trial/details.h"
#include "storage/trial/limit.h"
#include "storage/trial/number.h"
#include "storage/trial/plan.h"
#include "storage/trial/record_line.h"
#include "storage/trial/scale.h"
#include "storage/trial/trial_event.h"

namespace ligule::ledger {
namespace {

std::unexpected<Error> no_sense(const Record& record, const std::string& what) {
  return fail(ErrorKind::kInvalid, "a record of kind " + record.kind + " " + what, {},
              "this is a fault of the program that made it");
}

Result<void> check_plan_record(const Record& record) {
  if (sha256(record.details).hex() != record.plan)
    return no_sense(record, "has another digest than the plan in it");
  const auto plan = parse_plan_text(record.details);
  if (!plan) return std::unexpected(plan.error());
  if (plan_text(*plan) != record.details) return no_sense(record, "holds no canonical plan");
  if (record.trial != plan->id()) return no_sense(record, "names another trial than its plan");
  return {};
}

Result<void> check_definition_record(const Record& record) {
  if (sha256(record.details).hex() != record.definition)
    return no_sense(record, "has another digest than the scale in it");
  const auto scale = parse_scale_text(record.details);
  if (!scale) return std::unexpected(scale.error());
  if (scale_text(*scale) != record.details) return no_sense(record, "holds no canonical scale");
  if (record.entered != scale->code) return no_sense(record, "names another scale than it holds");
  return {};
}

Result<void> check_limits_record(const Record& record) {
  if (sha256(record.details).hex() != record.definition)
    return no_sense(record, "has another digest than the limits in it");
  const auto limits = parse_limits_text(record.details);
  if (!limits) return std::unexpected(limits.error());
  if (limits_text(*limits) != record.details) return no_sense(record, "holds no canonical limits");
  return {};
}

Result<void> check_details(const Record& record) {
  if (record.details.empty()) return {};
  const auto details = parse_details(record.details);
  if (!details) return std::unexpected(details.error());
  if (details_text(*details) != record.details)
    return no_sense(record, "has details that are not in canonical form");
  return {};
}

Result<void> check_check_weight(const Record& record) {
  if (!record.trial || !record.occasion || !record.run || !record.value || record.unit.empty())
    return no_sense(record, "does not say what was weighed, or where");
  const auto details = parse_details(record.details);
  if (!details) return std::unexpected(details.error());
  for (const char* name : {"mass", "allowance"}) {
    const auto at = details->find(name);
    if (at == details->end() || !parse_number(at->second))
      return no_sense(record, std::string("names no ") + name);
  }
  return {};
}

Result<void> check_clock_shift(const Record& record) {
  if (!record.person) return no_sense(record, "names nobody");
  if (record.reason.empty()) return no_sense(record, "gives no reason");
  const auto shift = read_clock_shift(record);
  if (!shift) return std::unexpected(shift.error());
  return {};
}

Result<void> check_targets(const Record& record) {
  if (!record.replaces()) {
    if (!record.targets.empty()) return no_sense(record, "replaces nothing but names targets");
    return {};
  }
  if (record.targets.empty()) return no_sense(record, "does not say what it replaces");
  if (record.kind != kind::kSettlement && record.targets.size() != 1)
    return no_sense(record, "replaces more than one claim");
  return {};
}

}  // namespace

Result<void> check_sense(const Record& record) {
  if (!is_known_kind(record.kind)) return no_sense(record, "is not known here");
  if (auto sound = check_targets(record); !sound) return sound;
  const bool of_event = takes_event_back(record);
  if (of_event && !record.trial) return no_sense(record, "names no trial");
  if (record.is_claim() || (record.kind == kind::kWithdrawal && !of_event)) {
    const bool placed = record.trial && record.subject && !record.measure.empty() &&
                        record.occasion && record.purpose;
    if (!placed) return no_sense(record, "does not say what it is about");
    if (record.is_claim() && !record.state) return no_sense(record, "has no state");
  }
  if (record.kind == kind::kPlan) return check_plan_record(record);
  if (record.kind == kind::kDefinition) return check_definition_record(record);
  if (record.kind == kind::kLimits) return check_limits_record(record);
  if (record.kind == kind::kSoftware && detail(record.details, std::string(kSoftware)).empty())
    return no_sense(record, "names no software");
  if (record.kind == kind::kPerson && (!record.subject || record.entered.empty()))
    return no_sense(record, "names nobody");
  if (record.kind == kind::kCheckWeight) {
    if (auto sound = check_check_weight(record); !sound) return sound;
  }
  if (record.kind == kind::kClockShift) {
    if (auto sound = check_clock_shift(record); !sound) return sound;
  }
  if (record.kind == kind::kAsSown) {
    const auto what = read_as_sown(record);
    if (!what) return std::unexpected(what.error());
    if (!record.trial) return no_sense(record, "names no trial");
  }
  return check_details(record);
}

}  // namespace ligule::ledger
