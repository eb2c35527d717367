// A tablet's worker on a ledger, a stick beside it, and the desk's program: each piece of work as
// one that can fail and be tried again.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "app/work/worker.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::faults {

// A piece of work.
struct Job {
  std::string name;
  std::function<void()> prepare;                  // so that there is something to do
  std::function<std::optional<Error>()> attempt;  // why it could not be done
  std::function<std::string()> wrong;             // what is not as it should be once it was done
};

class TabletAtWork {
 public:
  TabletAtWork();

  [[nodiscard]] Job keep_value();
  [[nodiscard]] Job take_plan();
  [[nodiscard]] Job store_preferences();
  [[nodiscard]] Job seal();
  [[nodiscard]] Job copy_to_stick();
  [[nodiscard]] Job spare_copy();
  [[nodiscard]] Job read_plan();  // from the stick
  [[nodiscard]] Job enrol();      // these by the desk's program
  [[nodiscard]] Job gather();
  [[nodiscard]] Job seal_at_desk();
  [[nodiscard]] Job tables();

  // What the ledger lacks: not whole, or something that was kept is gone. Empty: nothing.
  [[nodiscard]] std::string ledger_fault() const;
  // Whether the worker still answers.
  [[nodiscard]] bool answers();
  [[nodiscard]] std::string folder() const { return folder_.file("tablet"); }
  [[nodiscard]] std::string stick() const { return folder_.file("media/STICK"); }
  [[nodiscard]] std::string office() const { return folder_.file("office"); }
  void set_clock(std::int64_t seconds) { now_ = seconds; }
  // What was told as kept, in the ledger's order.
  [[nodiscard]] std::vector<Record> kept() const;
  // The spare copy made last, and the one that another tablet is offered to go on from; by name.
  [[nodiscard]] const std::string& newest_copy() const { return spare_copy_; }
  [[nodiscard]] std::string offered_copy() const;

 private:
  std::vector<flow::Intent> outcomes(const flow::Effects& effects);
  std::optional<Error> append(Record record);
  std::optional<Error> desk(const std::vector<std::string>& arguments);
  [[nodiscard]] std::string ledger_of_round() const;
  [[nodiscard]] work::MediaRoots media() const { return {{folder_.file("media")}, false}; }

  ledger::sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string path_;
  std::atomic<std::int64_t> now_ = 1000;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool woken_ = false;
  std::uint64_t next_ = 1000;  // id of the next record
  flow::ActNumber act_ = 0;
  int epoch_ = 1;
  Record draft_;
  std::vector<RecordId> kept_;
  std::string season_file_;  // sealed last
  std::string spare_copy_;   // made last
  std::string told_;         // by the desk last
  int round_ = 0;
  std::unique_ptr<work::Worker> worker_;  // last: gone before what it works on
};

}  // namespace ligule::faults
