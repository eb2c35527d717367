// Runs the effects of the touch program and gives back what came of them.
//
// Two threads: the writer owns the ledger and does appends and loads in the order given; the
// carrier seals and copies by a connection of its own, so that a slow stick never holds up a value.
// The thread that updates the model calls everything here.
#pragma once

#include <atomic>
#include <functional>
#include <mutex>
#include <vector>

#include "app/flow/intents.h"
#include "app/flow/update.h"
#include "app/work/definitions_used.h"
#include "app/work/lane.h"
#include "app/work/media.h"
#include "app/work/plan_folders.h"
#include "app/work/scale_port.h"
#include "app/work/sticks.h"
#include "app/work/trials_progress.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// How records reach the ledger; tests put one here that is slow or fails.
using AppendCall = std::function<Result<void>(ledger::Ledger&, std::vector<Record>)>;
[[nodiscard]] AppendCall plain_append();

struct Settings {
  Definitions definitions;
  std::function<Stamp()> now;  // called from both threads
  files::Path season_folder;   // made when the first file is sealed
  std::string version;         // of the program
  MediaRoots media;
  files::PlanSchemas schemas;  // of plans that are loaded from a stick
  files::Path plans;           // a folder of this tablet with plans in it; may not be there
  std::vector<scale::LineForm> line_forms = {};  // of indicators
  std::string ports = ports_folder();            // where serial ports are listed
  bool watch_sticks = false;                     // tell when one is put in or taken out
  std::function<void()> wake;  // called from both threads when an outcome waits; may be empty
  AppendCall append = plain_append();
};

class Worker {
 public:
  // files must outlive the worker. Errors of reading the ledger.
  [[nodiscard]] static Result<std::unique_ptr<Worker>> start(ledger::Ledger ledger,
                                                             files::FileSystem& files,
                                                             UuidSequence ids, Settings settings);
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;
  Worker(Worker&&) = delete;
  Worker& operator=(Worker&&) = delete;
  // Writes everything that still waits, then folds the ledger's log in.
  ~Worker();

  // Ids of records, ascending, also from run to run.
  [[nodiscard]] const flow::IdSource& ids() const { return id_source_; }

  // Asks for what the program starts from; outcome Started or Failed.
  void load_start();
  // Does these effects; one outcome each, but for cues, which are the caller's.
  void run(const flow::Effects& effects);
  // Outcomes since the last call, in order; then that sticks came or went, and what the scale says,
  // where that changed.
  [[nodiscard]] std::vector<flow::Intent> take();
  // Whether an outcome is still to come or to be taken. What nobody asked for is none.
  [[nodiscard]] bool pending() const { return pending_ > 0; }
  [[nodiscard]] bool scale_in_use() const { return scale_port_.in_use(); }

 private:
  Worker(ledger::Ledger ledger, files::FileSystem& files, UuidSequence ids, DefinitionsUsed scales,
         Settings settings);

  // lost: the outcome where there is not enough memory for the job.
  template <class Job, class Lost>
  void on(Lane& lane, Job job, Lost lost);
  void deliver(flow::Intent outcome);

  // On the writer.
  [[nodiscard]] Result<flow::Started> started() const;
  [[nodiscard]] flow::Intent append(const flow::Append& effect);
  [[nodiscard]] flow::Intent today();
  [[nodiscard]] flow::Intent occasion(const flow::LoadOccasion& effect);
  [[nodiscard]] flow::Intent history(const flow::LoadHistory& effect);
  [[nodiscard]] flow::Intent bags();
  [[nodiscard]] flow::Intent store(const flow::Preferences& preferences);
  [[nodiscard]] flow::Intent tablet();
  [[nodiscard]] flow::Intent trial(const flow::LoadTrial& effect);
  [[nodiscard]] flow::Intent take_over(const flow::TakeOver& effect);
  [[nodiscard]] flow::Intent gather(const flow::GatherFile& effect);
  // On the carrier.
  [[nodiscard]] Result<const ledger::Ledger*> carriers_ledger();
  [[nodiscard]] flow::Intent seal();
  [[nodiscard]] flow::Intent copy_ledger();
  [[nodiscard]] flow::Intent not_copied_anywhere(const Error& error) const;
  [[nodiscard]] flow::Intent read_file(const flow::ReadSeasonFile& effect);
  [[nodiscard]] flow::Intent find_sources();
  [[nodiscard]] flow::Intent sticks();
  [[nodiscard]] flow::Intent read_plan(const flow::ReadPlan& effect);
  [[nodiscard]] flow::Intent copy(const flow::CopySeal& effect);

  ledger::Ledger ledger_;  // the writer's
  // The carrier's, to read in, opened once: to look at all pages of a large one takes seconds.
  std::optional<ledger::Ledger> carriers_ledger_;
  std::string ledger_path_;
  files::FileSystem& files_;
  Settings settings_;
  UuidSequence ids_;
  flow::IdSource id_source_;
  DefinitionsUsed scales_;
  TrialsProgress progress_;          // the writer's
  std::optional<int> failed_epoch_;  // the writer's
  std::string compared_;  // fingerprint of the season file read last: a person looks at it before
                          // the writer is asked to take it in
  Error failure_;

  std::mutex mutex_;
  std::vector<flow::Intent> outcomes_;
  std::atomic<int> pending_ = 0;

  ScalePort scale_port_;
  std::optional<StickWatch> watch_;
  Lane writer_, carrier_;  // last: gone before what they work on
};

}  // namespace ligule::work
