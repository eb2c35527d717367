#include "app/work/sticks.h"

#include <algorithm>
#include <chrono>
#include <map>
#include <utility>

namespace ligule::work {
namespace {

constexpr std::chrono::seconds kLookEvery{2};  // common practice, no source

Error doubled_fault(const flow::CheckedPlan& plan) {
  return {ErrorKind::kConflict,
          "two different plans of trial " + plan.plan.codes.trial + " are on sticks or cards",
          plan.path, "leave only the one that is meant there"};
}

using Family = std::vector<flow::CheckedPlan>;  // plans of one trial

const flow::CheckedPlan* with_digest(const Family& family, const std::string& digest) {
  const auto at = std::ranges::find(family, digest, &flow::CheckedPlan::digest);
  return at == family.end() ? nullptr : &*at;
}

// Those that no other of them revises.
Family newest_of(const Family& family) {
  Family newest = family;
  std::erase_if(newest, [&](const flow::CheckedPlan& plan) {
    return std::ranges::any_of(
        family, [&](const flow::CheckedPlan& other) { return other.plan.parent == plan.digest; });
  });
  return newest;
}

// What leads to a plan from the ledger's, earliest first; of a trial that the ledger has not
// nothing has to come before.
Family leads_to(const Family& family, const flow::CheckedPlan& newest,
                const ledger::Ledger& ledger) {
  Family before;
  const auto here = ledger.plan(newest.plan.id());
  if (!here) return before;
  std::string parent = newest.plan.parent;
  while (parent != here->digest) {
    const flow::CheckedPlan* const at = with_digest(family, parent);
    if (at == nullptr || at->held) return {};  // it comes from elsewhere, and is told so
    before.insert(before.begin(), *at);
    parent = at->plan.parent;
  }
  return before;
}

// Every one of them in its turn.
Result<void> all_fit(const Family& before, const flow::CheckedPlan& newest,
                     const ledger::Ledger& ledger, CalendarDate today) {
  std::vector<Plan> first;
  first.reserve(before.size());
  for (const flow::CheckedPlan& each : before) {
    if (auto fits = ledger.can_enrol(each.plan, {today}, first); !fits)
      return std::unexpected(std::move(fits).error());
    first.push_back(each.plan);
  }
  if (auto fits = ledger.can_enrol(newest.plan, {today}, first); !fits)
    return std::unexpected(std::move(fits).error());
  return {};
}

void add_family(const Family& family, const ledger::Ledger& ledger, CalendarDate today,
                flow::StickPlans& plans) {
  Family newest = newest_of(family);
  std::erase_if(newest, [](const flow::CheckedPlan& plan) { return !plan.can_come(); });
  if (newest.empty()) return;  // all of it is here, or older
  if (newest.size() > 1) {     // nobody can say which of them is meant
    for (const flow::CheckedPlan& each : newest)
      plans.faulty.push_back({each.path, {doubled_fault(each)}});
    return;
  }
  flow::CheckedPlan& meant = newest.front();
  for (const flow::CheckedPlan& each : family) {
    if (each.digest == meant.digest || !each.can_come()) continue;
    plans.older.push_back(each);
    plans.older.back().newer = meant.path;
  }
  meant.before = leads_to(family, meant, ledger);
  if (const auto fits = all_fit(meant.before, meant, ledger, today); !fits) {
    plans.faulty.push_back({meant.path, {fits.error()}});
    return;
  }
  const bool known = ledger.plan(meant.plan.id()).has_value();
  (known ? plans.changed : plans.fresh).push_back(std::move(meant));
}

}  // namespace

flow::StickPlans plans_on_sticks(const PlanReading& reading, const MediaRoots& roots,
                                 const ledger::Ledger& ledger, CalendarDate today) {
  flow::StickPlans plans;
  std::map<Uuid, Family> families;
  for (const flow::PlanFolder& folder : plan_folders(reading.files, roots, {})) {
    auto read = read_checked(reading, folder.path, ledger);
    if (!read) {
      plans.faulty.push_back({folder.path, std::move(read).error()});
      continue;
    }
    Family& family = families[read->plan.id().uuid];
    if (with_digest(family, read->digest) == nullptr) family.push_back(*std::move(read));
  }
  for (const auto& [trial, family] : families) add_family(family, ledger, today, plans);
  const auto code = [](const flow::CheckedPlan& plan) { return plan.plan.codes.trial; };
  std::ranges::sort(plans.fresh, {}, code);
  std::ranges::sort(plans.changed, {}, code);
  std::ranges::sort(plans.faulty, {}, &flow::FaultyPlan::path);
  std::ranges::sort(plans.older, {}, &flow::CheckedPlan::path);
  return plans;
}

flow::Intent plan_beside_others(const PlanReading& reading, const MediaRoots& roots,
                                const files::Path& folder, const ledger::Ledger& ledger,
                                CalendarDate today) {
  auto read = read_checked(reading, folder, ledger);
  if (!read) return flow::PlanFaulty{{folder.string(), std::move(read).error()}};
  const flow::StickPlans plans = plans_on_sticks(reading, roots, ledger, today);
  for (const Family* const list : {&plans.fresh, &plans.changed, &plans.older}) {
    const flow::CheckedPlan* const at = with_digest(*list, read->digest);
    if (at == nullptr) continue;
    read->newer = at->newer;
    read->before = at->before;
    return flow::PlanChecked{*std::move(read)};
  }
  return check_plan_folder(reading, folder, ledger, today);
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
