// What sticks and cards bring: their plans, read and checked, and that one came or went.
#pragma once

#include <atomic>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/media.h"
#include "app/work/plan_folders.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Every plan on sticks and cards that the ledger has not: new ones, revisions, and those with
// faults. A plan that lies there twice counts once. Of several revisions of one plan, which name
// each other as parents, the newest counts, with those between it and the ledger's; two that nobody
// can tell which is newer are a fault of both. What is older than the ledger's is left out.
[[nodiscard]] flow::StickPlans plans_on_sticks(const PlanReading& reading, const MediaRoots& roots,
                                               const ledger::Ledger& ledger, CalendarDate today);

// The plan of one folder as it counts beside all others on sticks and cards: PlanChecked, or
// PlanFaulty with every fault.
[[nodiscard]] flow::Intent plan_beside_others(const PlanReading& reading, const MediaRoots& roots,
                                              const files::Path& folder,
                                              const ledger::Ledger& ledger, CalendarDate today);

// Looks every two seconds which sticks and cards are there, in a thread of its own.
class StickWatch {
 public:
  // wake is called from that thread whenever they are others than before; may be empty.
  StickWatch(files::FileSystem& files, MediaRoots roots, std::function<void()> wake);
  StickWatch(const StickWatch&) = delete;
  StickWatch& operator=(const StickWatch&) = delete;
  StickWatch(StickWatch&&) = delete;
  StickWatch& operator=(StickWatch&&) = delete;
  ~StickWatch();

  // Whether they became others since the last call.
  [[nodiscard]] bool changed() { return changed_.exchange(false); }

 private:
  void look();

  files::FileSystem& files_;
  MediaRoots roots_;
  std::function<void()> wake_;
  std::vector<flow::CopyPlace> seen_;  // at first, then the thread's
  std::atomic<bool> changed_ = false;
  std::mutex mutex_;
  std::condition_variable stop_wanted_;
  bool stop_ = false;
  std::thread thread_;  // last: it uses the others
};

}  // namespace ligule::work
