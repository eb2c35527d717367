#include "app/work/sticks.h"

#include <algorithm>
#include <chrono>
#include <set>
#include <utility>

#include "app/work/plan_folders.h"

namespace ligule::work {
namespace {

constexpr std::chrono::seconds kLookEvery{2};  // common practice, no source

Error doubled_fault(const flow::CheckedPlan& plan) {
  return {ErrorKind::kConflict,
          "two different plans of trial " + plan.plan.codes.trial + " are on sticks or cards",
          plan.path, "leave only the one that is meant there"};
}

// Nobody can say which of two plans of a trial is meant.
void set_apart_doubled(flow::StickPlans& plans) {
  std::vector<flow::CheckedPlan> single;
  for (flow::CheckedPlan& plan : plans.fresh) {
    const bool doubled = std::ranges::any_of(plans.fresh, [&](const flow::CheckedPlan& other) {
      return other.path != plan.path && other.plan.id() == plan.plan.id();
    });
    if (!doubled) {
      single.push_back(plan);
      continue;
    }
    plans.faulty.push_back({plan.path, {doubled_fault(plan)}});
  }
  plans.fresh = std::move(single);
}

}  // namespace

flow::StickPlans plans_on_sticks(files::FileSystem& files, const MediaRoots& roots,
                                 const files::PlanSchemas& schemas, const Definitions& definitions,
                                 const ledger::Ledger& ledger, CalendarDate today) {
  flow::StickPlans plans;
  std::set<std::string> seen;  // digests
  for (const flow::PlanFolder& folder : plan_folders(files, roots, {})) {
    flow::Intent read = check_plan_folder(files, folder.path, schemas, definitions, ledger, today);
    if (auto* const faulty = std::get_if<flow::PlanFaulty>(&read)) {
      plans.faulty.push_back(std::move(faulty->plan));
      continue;
    }
    auto* const checked = std::get_if<flow::PlanChecked>(&read);
    if (checked == nullptr || checked->plan.held) continue;
    if (!seen.insert(checked->plan.digest).second) continue;
    const bool known = ledger.plan(checked->plan.plan.id()).has_value();
    (known ? plans.changed : plans.fresh).push_back(std::move(checked->plan));
  }
  set_apart_doubled(plans);
  const auto code = [](const flow::CheckedPlan& plan) { return plan.plan.codes.trial; };
  std::ranges::sort(plans.fresh, {}, code);
  std::ranges::sort(plans.changed, {}, code);
  std::ranges::sort(plans.faulty, {}, &flow::FaultyPlan::path);
  return plans;
}

StickWatch::StickWatch(files::FileSystem& files, MediaRoots roots, std::function<void()> wake)
    : files_(files),
      roots_(std::move(roots)),
      wake_(std::move(wake)),
      seen_(copy_places(files_, roots_)),
      thread_([this] { look(); }) {}

StickWatch::~StickWatch() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
  }
  stop_wanted_.notify_all();
  thread_.join();
}

void StickWatch::look() {
  std::unique_lock lock(mutex_);
  while (!stop_wanted_.wait_for(lock, kLookEvery, [this] { return stop_; })) {
    lock.unlock();  // a slow card must not hold up who ends it
    std::vector<flow::CopyPlace> now = copy_places(files_, roots_);
    lock.lock();
    if (now == seen_) continue;
    seen_ = std::move(now);
    changed_ = true;
    if (wake_) wake_();
  }
}

}  // namespace ligule::work
