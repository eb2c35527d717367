// Power cuts: a ledger, its seals and copies at every point of a day, with what was not synced
// lost, reordered or torn. Whatever was said to be kept must be there, nothing may be half kept,
// and the next start must need nobody's help.
//
// LIGULE_POWER_CUTS: how many states to try (5,000 without it).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <map>
#include <optional>
#include <set>

#include "storage/trial/number.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/faults/failing_disk.h"
#include "tests/faults/recorded_disk.h"
#include "tests/faults/weak_sync.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::faults {
namespace {

using ledger::Ledger;
using ledger::sample::need;

std::size_t states_wanted() {
  const char* const said = std::getenv("LIGULE_POWER_CUTS");
  const auto number = said == nullptr ? std::optional<std::int64_t>() : parse_integer(said).value();
  return static_cast<std::size_t>(number.value_or(5'000));
}

const seal::Beginning& beginning() {
  static const seal::Beginning beginning{"North 1", "ligule test", ledger::sample::at(0)};
  return beginning;
}

// What was told to a person, by the number of the mark that stands in the recording.
struct Promise {
  bool made = false;                    // the ledger is there
  std::int64_t last = 0;                // newest record said to be kept
  Digest head;                          // its digest, which stands for all before it
  std::vector<std::string> files = {};  // season files said to be whole
};

struct Day {
  std::vector<Recorded> acts;
  std::vector<Promise> promises{Promise{}};
  std::set<std::int64_t> ends;  // where a whole act ended
  StreamId stream;
  Disk last;  // as it stood in the end
};

// A day at one ledger: made, a plan, acts of two values, a checkpoint, sealed and copied, more
// acts, sealed again, closed.
class Worker {
 public:
  explicit Worker(const std::string& folder) : folder_(folder), recording_(folder) {}

  Day work(int acts) {
    need(files_->make_folders(folder_));
    std::optional<Ledger> ledger = need(Ledger::create(folder_ + "/north.ligule"));
    promise([](Promise& next) { next.made = true; });
    day_.stream = need(seal::begin_stream(*ledger, *files_, beginning())).id;
    day_.ends.insert(0);
    kept(*ledger, 1);
    append(*ledger, {ledger::sample::plan_record(10, ledger::sample::plan())});
    for (int act = 0; act < acts; ++act) {
      const auto n = static_cast<std::uint64_t>(100 + 2 * act);
      // Every sixth note is longer than a page of the file.
      const std::string note(act % 6 == 0 ? 6'000 : 9, 'x');
      append(*ledger, {ledger::sample::reading(n, "101", "percent_stand", std::to_string(act % 99)),
                       ledger::sample::reading(n + 1, "102", "note", note)});
      if (act == acts / 3) need(ledger->checkpoint());
      if (act == acts / 2) seal(*ledger);
    }
    seal(*ledger);
    ledger.reset();
    Replay replay(recording_.acts());
    while (replay.step()) {
    }
    day_.last = replay.everything();
    day_.acts = recording_.acts();
    return std::move(day_);
  }

 private:
  void promise(const std::function<void(Promise&)>& change) {
    Promise next = day_.promises.back();
    change(next);
    recording_.mark(day_.promises.size());
    day_.promises.push_back(std::move(next));
  }

  void kept(const Ledger& ledger, std::int64_t last) {
    const Digest head = need(ledger.digest_at(day_.stream, last));
    day_.ends.insert(last);
    promise([&](Promise& next) {
      next.last = last;
      next.head = head;
    });
  }

  void append(Ledger& ledger, std::vector<Record> drafts) {
    kept(ledger, need(ledger.append(std::move(drafts))).back().seq);
  }

  void seal(Ledger& ledger) {
    const auto key = seal::key_of_stream(ledger, *files_);
    if (!key) std::abort();
    for (const char* name : {"sealed", "stick"}) need(files_->make_folders(folder_ + "/" + name));
    const seal::Sealed sealed = need(seal::write_season_file(
        ledger, *files_, *key,
        {folder_ + "/sealed", 1, UtcInstant(std::chrono::seconds(++sealed_))}));
    const std::string name = sealed.file.filename().string();
    promise([&](Promise& next) { next.files.push_back("sealed/" + name); });
    need(seal::copy_season_file(*files_, sealed.file, folder_ + "/stick"));
    promise([&](Promise& next) { next.files.push_back("stick/" + name); });
  }

  std::string folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Day day_;
  int sealed_ = 0;
  Recording recording_;
};

// What the next start says of a ledger that it does not go on with.
std::string told(const Error& error) {
  return (error.kind == ErrorKind::kDamaged ? "told as damaged: " : "told otherwise: ") +
         one_line(error);
}

// Looks at one state of the disk as the next start would.
class Start {
 public:
  Start(const Day& day, std::string folder) : day_(day), folder_(std::move(folder)) {}

  // What is wrong with season files, and with the ledger.
  std::vector<std::string> look(const Disk& disk, const Promise& promise, bool go_on) {
    write_disk(disk, folder_);
    std::vector<std::string> faults;
    for (std::string& fault : std::array{season_files(disk, promise), ledger(disk, promise, go_on)})
      if (!fault.empty()) faults.push_back(std::move(fault));
    return faults;
  }

 private:
  std::string ledger(const Disk& disk, const Promise& promise, bool go_on) {
    const std::string path = folder_ + "/north.ligule";
    const bool there = disk.contains("north.ligule");
    if (!there && promise.made) {
      const auto opened = Ledger::open(path);
      const bool missed = !opened && opened.error().kind == ErrorKind::kNotFound;
      return missed ? "the ledger is gone" : "that the ledger is gone is not told";
    }
    auto ledger = there ? Ledger::open(path) : Ledger::create(path);
    if (!ledger) return told(ledger.error());
    if (std::string fault = records(*ledger, promise); !fault.empty()) return fault;
    return go_on ? next_day(*ledger) : std::string();
  }

  std::string season_files(const Disk& disk, const Promise& promise) const {
    for (const std::string& name : promise.files)
      if (!disk.contains(name)) return name + " is gone";
    for (const auto& [name, bytes] : disk) {
      if (!name.ends_with(".zip")) continue;
      const auto whole = day_.last.find(name);
      if (whole != day_.last.end() && whole->second == bytes) continue;
      const bool read = seal::read_season_file(*files_, folder_ + "/" + name).has_value();
      return name + (read ? " is another, and that is not told" : " is not whole");
    }
    return {};
  }

  std::string records(const Ledger& ledger, const Promise& promise) const {
    const auto spans = ledger.spans();
    if (!spans) return told(spans.error());
    const std::int64_t last = spans->empty() ? 0 : spans->front().last;
    if (spans->size() > 1) return "the stream has a gap";
    if (last < promise.last)
      return "kept to " + std::to_string(promise.last) + ", there to " + std::to_string(last);
    if (!day_.ends.contains(last)) return "half an act is there, to " + std::to_string(last);
    if (promise.last > 0) {
      const auto head = ledger.digest_at(day_.stream, promise.last);
      if (!head || *head != promise.head) return "other records than were kept";
    }
    const auto whole = ledger.check();
    if (!whole) return told(whole.error());
    return whole->empty() ? std::string() : told(whole->front());
  }

  std::string next_day(Ledger& ledger) {
    const auto stream = seal::begin_stream(ledger, *files_, beginning());
    if (!stream) return told(stream.error());
    const auto kept = ledger.append({ledger::sample::reading(90'000, "201", "percent_stand", "5")});
    return kept ? std::string() : told(kept.error());
  }

  const Day& day_;
  std::string folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
};

struct Tried {
  std::size_t cuts = 0;
  std::size_t states = 0;
  std::size_t bad = 0;
  std::vector<std::string> told;             // the first few
  std::map<std::string, std::size_t> kinds;  // of faults
};

// What a fault is about, whatever numbers it tells.
std::string kind_of(const std::string& fault) {
  for (const char* kind : {"kept to", "half an act", "other records", "the ledger is gone",
                           "the stream has a gap", "told as damaged", "told otherwise"})
    if (fault.starts_with(kind)) return kind;
  return fault.ends_with(" is not told") ? "not told" : "a season file is gone or not whole";
}

// Every cut of the day, and at each as many outcomes as come to about `wanted` in all.
Tried try_all(const Day& day, const std::string& folder, std::size_t wanted) {
  std::mt19937_64 random(20261128);
  std::size_t open_cuts = 0;
  for (Replay replay(day.acts); replay.step();)
    if (replay.anything_pending()) ++open_cuts;
  const std::size_t drawn = open_cuts == 0 ? 0 : (wanted + open_cuts - 1) / open_cuts;
  Start start(day, folder);
  Tried tried;
  for (Replay replay(day.acts); replay.step();) {
    ++tried.cuts;
    std::vector<Disk> disks{replay.nothing_more()};
    if (replay.anything_pending()) {
      disks.push_back(replay.everything());
      disks.push_back(replay.names_alone());
      disks.push_back(replay.bytes_alone());
      for (std::size_t i = 3; i < drawn; ++i) disks.push_back(replay.some(random));
    }
    for (const Disk& disk : disks) {
      const auto faults = start.look(disk, day.promises[replay.marked()], ++tried.states % 16 == 0);
      tried.bad += faults.empty() ? 0U : 1U;
      for (const std::string& fault : faults) {
        ++tried.kinds[kind_of(fault)];
        if (tried.told.size() < 5)
          tried.told.push_back("after act " + std::to_string(tried.cuts) + ": " + fault);
      }
    }
  }
  std::cout << tried.states << " states of the disk after " << tried.cuts << " cuts; " << tried.bad
            << " bad\n";
  return tried;
}

TEST(PowerCut, WhatWasKeptIsThereAfterEachAndNothingIsHalf) {
  const ledger::sample::Folder folder(true);
  const Day day = Worker(folder.file("day")).work(24);
  ASSERT_GT(day.acts.size(), 300U) << "the calls are not recorded";
  const Tried tried = try_all(day, folder.file("after"), states_wanted());
  EXPECT_GE(tried.states, states_wanted());
  EXPECT_EQ(tried.bad, 0U);
  EXPECT_THAT(tried.told, testing::IsEmpty());
}

// The harness can fail: with NORMAL a commit is told before it is durable.
TEST(PowerCut, WithLesserSyncsKeptValuesAreLost) {
  const ledger::sample::Folder folder(true);
  const auto day = [&] {
    const WeakSync weak;
    return Worker(folder.file("day")).work(9);
  }();
  const Tried tried = try_all(day, folder.file("after"), 1);
  EXPECT_GT(tried.bad, 20U);
  EXPECT_THAT(tried.told, testing::Contains(testing::HasSubstr("kept to ")));
}

// A disk that lies (forcing is said to be done and is not) takes what it likes with it: that nobody
// can promise otherwise. But what is there afterwards is never half an act nor another one, and
// what is missing or damaged is told.
TEST(PowerCut, OnADiskThatLiesKeptValuesAreLostAndNeverChanged) {
  const ledger::sample::Folder folder(true);
  const auto day = [&] {
    const LyingDisk lying;
    return Worker(folder.file("day")).work(4);
  }();
  const Tried tried = try_all(day, folder.file("after"), 1);
  EXPECT_GT(tried.bad, 20U);
  for (const auto& [kind, count] : tried.kinds) std::cout << "  " << kind << ": " << count << "\n";
  EXPECT_GT(tried.kinds.count("the ledger is gone"), 0U);
  for (const char* never : {"half an act", "other records", "the stream has a gap", "not told"})
    EXPECT_EQ(tried.kinds.count(never), 0U) << never;
}

// And where a season file is not forced before it takes its name.
TEST(PowerCut, WithoutTheSyncOfAFileHalfOfItStandsUnderItsName) {
  const ledger::sample::Folder folder(true);
  Day day = Worker(folder.file("day")).work(6);
  std::set<std::uint64_t> season_files;
  std::map<std::string, std::uint64_t> names;
  for (const Recorded& act : day.acts) {
    if (act.act == Act::kCreate) names[act.name] = act.file;
    if (act.act == Act::kRename && act.other.ends_with(".zip"))
      season_files.insert(names[act.name]);
  }
  ASSERT_FALSE(season_files.empty());
  std::erase_if(day.acts, [&](const Recorded& act) {
    return act.act == Act::kSync && season_files.contains(act.file);
  });
  const Tried tried = try_all(day, folder.file("after"), 1);
  EXPECT_GT(tried.bad, 0U);
  EXPECT_THAT(tried.told, testing::Contains(testing::HasSubstr("is not whole")));
}

}  // namespace
}  // namespace ligule::faults
