#include "app/work/worker.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <condition_variable>

#include "app/work/dot_code.h"
#include "app/work/preferences.h"
#include "storage/files/definitions.h"
#include "storage/trial/plan.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class Work : public testing::Test {
 protected:
  Work() {
    ledger::Ledger ledger = need(ledger::Ledger::create(path_));
    need(seal::begin_stream(ledger, *files_, {"tablet 1", "ligule test", at(0), false}));
    need(ledger.append({plan_record(9, plan())}));
    std::filesystem::create_directories(folder_.file("media/STICK"));
  }

  void start(AppendCall append = plain_append()) {
    Settings settings;
    settings.definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
    settings.schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
    settings.now = [] { return at(1000); };
    settings.season_folder = folder_.file("season-files");
    settings.version = "9.9.9";
    settings.media = {{folder_.file("media")}, false};
    settings.append = std::move(append);
    settings.wake = [this] {
      const std::lock_guard lock(mutex_);
      ++woken_;
      changed_.notify_all();
    };
    worker_ =
        need(Worker::start(need(ledger::Ledger::open(path_)), *files_,
                           UuidSequence([] { return std::uint64_t{7}; }), std::move(settings)));
  }

  // Runs effects and waits for all their outcomes.
  std::vector<flow::Intent> outcomes(const flow::Effects& effects) {
    worker_->run(effects);
    std::vector<flow::Intent> all;
    while (worker_->pending()) {
      std::unique_lock lock(mutex_);
      changed_.wait(lock, [this] { return woken_ > 0; });
      woken_ = 0;
      lock.unlock();
      for (flow::Intent& outcome : worker_->take()) all.push_back(std::move(outcome));
    }
    return all;
  }
  template <class T>
  T only(const flow::Effects& effects) {
    auto all = outcomes(effects);
    EXPECT_EQ(all.size(), 1U);
    const auto* one = all.empty() ? nullptr : std::get_if<T>(&all.front());
    EXPECT_NE(one, nullptr) << "another outcome";
    return one == nullptr ? T{} : *one;
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Folder folder_;
  std::string path_ = folder_.file("a.ledger");
  std::mutex mutex_;
  std::condition_variable changed_;
  int woken_ = 0;
  std::unique_ptr<Worker> worker_;
};

flow::Append act(flow::ActNumber number, int epoch, std::uint64_t n, const char* entered = "80") {
  return {number, epoch, {reading(n, "101", "percent_stand", entered)}};
}

// "kept 1", "lost 2: what" in order.
std::vector<std::string> shown(const std::vector<flow::Intent>& outcomes) {
  std::vector<std::string> out;
  for (const flow::Intent& outcome : outcomes) {
    if (const auto* kept = std::get_if<flow::Kept>(&outcome))
      out.push_back("kept " + std::to_string(kept->act));
    else if (const auto* lost = std::get_if<flow::NotKept>(&outcome))
      out.push_back("lost " + std::to_string(lost->act) + ": " + lost->error.what);
    else
      out.emplace_back("other");
  }
  return out;
}

TEST_F(Work, StartTellsWhatTheLedgerHolds) {
  start();
  worker_->load_start();
  const auto started = only<flow::Started>({});
  EXPECT_EQ(started.trials.size(), 1U);
  EXPECT_EQ(started.setup.device, "tablet 1");
  EXPECT_NE(started.setup.soil.property("ph"), nullptr) << "by which a soil test is judged";
}

// Proves: what asks for more memory than there is ends no program, and loses no value.
TEST_F(Work, WhereThereIsNotEnoughMemoryItIsTold) {
  int tries = 0;
  start([&](ledger::Ledger& ledger, std::vector<Record> records) {
    if (++tries == 1) throw std::bad_alloc();
    return plain_append()(ledger, std::move(records));
  });
  const Record value = reading(200, "101", "percent_stand", "85");
  const auto lost = only<flow::NotKept>({flow::Append{1, 1, {value}}});
  EXPECT_EQ(lost.error.what, "there is not enough memory for this");
  EXPECT_EQ(only<flow::Kept>({flow::Append{2, 2, {value}}}).act, 2);
}

// Proves: kept is told only after the commit is durable.
TEST_F(Work, WhatIsToldAsKeptIsInTheLedger) {
  start();
  EXPECT_THAT(shown(outcomes({act(1, 1, 100), act(2, 1, 101)})),
              testing::ElementsAre("kept 1", "kept 2"));
  const auto reader = need(ledger::Ledger::open(path_, ledger::Access::kReadOnly));
  EXPECT_EQ(need(reader.claims(trial())).size(), 2U);
}

TEST_F(Work, TheLedgerIsCopiedToWhatIsPluggedInAndTodayTellsIt) {
  start();
  EXPECT_FALSE(only<flow::TodayLoaded>({flow::LoadToday{}}).today.spare);
  const auto copied = only<flow::LedgerCopied>({flow::CopyLedger{}});
  ASSERT_EQ(copied.made.size(), 1U);
  EXPECT_TRUE(copied.failed.empty());
  EXPECT_EQ(copied.made[0].at, at(1000).utc);
  const auto spare = only<flow::TodayLoaded>({flow::LoadToday{}}).today.spare;
  ASSERT_TRUE(spare);
  EXPECT_EQ(spare->file_name, copied.made[0].file_name);
  EXPECT_TRUE(only<flow::PlansFound>({flow::FindPlans{}}).copies.empty()) << "its own";
}

TEST_F(Work, ALedgerThatIsGoneIsNotCopied) {
  start();
  std::filesystem::remove(path_);
  const auto copied = only<flow::LedgerCopied>({flow::CopyLedger{}});
  EXPECT_TRUE(copied.made.empty());
  ASSERT_EQ(copied.failed.size(), 1U);
}

TEST_F(Work, WhatAnotherTabletCopiedIsTakenOver) {
  start();
  outcomes({act(1, 1, 100)});
  const auto copy = only<flow::LedgerCopied>({flow::CopyLedger{}}).made.at(0);
  worker_.reset();
  path_ = folder_.file("b.ledger");
  {
    ledger::Ledger other = need(ledger::Ledger::create(path_));
    need(seal::begin_stream(other, *files_, {"tablet 2", "ligule test", at(0), false}));
  }
  start();
  const auto found = only<flow::PlansFound>({flow::FindPlans{}}).copies;
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].device, "tablet 1");
  EXPECT_EQ(found[0].path, copy.place + "/ligule-spare/" + copy.file_name);
  const auto over = only<flow::TakenOver>({flow::TakeOver{found[0].path}});
  EXPECT_EQ(over.device, "tablet 1");
  EXPECT_EQ(over.records, found[0].records);
  EXPECT_EQ(over.start.trials.size(), 1U);
  EXPECT_EQ(over.start.setup.device, "tablet 2");
  EXPECT_EQ(only<flow::OccasionLoaded>({flow::LoadOccasion{trial(), rating()}}).claims.size(), 1U);
  EXPECT_FALSE(
      only<flow::NotTakenOver>({flow::TakeOver{folder_.file("none.ledger")}}).error.what.empty());
}

TEST_F(Work, AnotherTabletsSeasonFileIsReadThenTakenIn) {
  start();
  outcomes({act(1, 1, 100)});
  const auto sealed = only<flow::Sealed>({flow::Seal{}});
  const auto copied =
      only<flow::Copied>({flow::CopySeal{sealed.note.file_name, folder_.file("media/STICK")}});
  worker_.reset();
  path_ = folder_.file("b.ledger");
  {
    ledger::Ledger other = need(ledger::Ledger::create(path_));
    need(seal::begin_stream(other, *files_, {"tablet 2", "ligule test", at(0), false}));
  }
  start();
  const auto files = only<flow::PlansFound>({flow::FindPlans{}}).files;
  ASSERT_EQ(files.size(), 1U);
  EXPECT_EQ(files[0].name, copied.note.file_name);
  EXPECT_FALSE(only<flow::NotGatheredHere>({flow::GatherFile{files[0].path}}).error.what.empty())
      << "nobody has looked at it";
  const auto read = only<flow::SeasonFileRead>({flow::ReadSeasonFile{files[0].path}}).file;
  EXPECT_EQ(read.device, "tablet 1");
  const auto taken = only<flow::GatheredHere>({flow::GatherFile{files[0].path}});
  EXPECT_EQ(taken.device, "tablet 1");
  EXPECT_EQ(taken.records, read.records);
  EXPECT_EQ(taken.start.trials.size(), 1U);
  EXPECT_FALSE(only<flow::SeasonFileFaulty>({flow::ReadSeasonFile{path_}}).file.faults.empty());
}

TEST_F(Work, AReadAfterAnAppendSeesIt) {
  start();
  auto all = outcomes(
      {act(1, 1, 100), flow::LoadOccasion{trial(), rating()}, flow::LoadToday{}, flow::LoadBags{}});
  ASSERT_EQ(all.size(), 4U);
  const auto* occasion = std::get_if<flow::OccasionLoaded>(&all[1]);
  ASSERT_NE(occasion, nullptr);
  EXPECT_EQ(occasion->claims.size(), 1U);
  const auto* today = std::get_if<flow::TodayLoaded>(&all[2]);
  ASSERT_NE(today, nullptr);
  EXPECT_EQ(today->today.unsealed, 4) << "stream, scale, limits, value";
  ASSERT_EQ(today->today.places.size(), 1U);
  EXPECT_EQ(today->today.places[0].name, "STICK");
  EXPECT_NE(std::get_if<flow::BagsLoaded>(&all[3]), nullptr);
}

TEST_F(Work, ACueHasNoOutcome) {
  start();
  EXPECT_TRUE(outcomes({flow::Cue{flow::CueKind::kKept}}).empty());
}

// Proves: if a commit fails all later ones are NOT SAVED too.
TEST_F(Work, OnceOneFailsEveryLaterOneOfItsEpochIsNotWritten) {
  int calls = 0;
  start([&calls](ledger::Ledger& ledger, std::vector<Record> records) -> Result<void> {
    if (++calls == 2) return fail(ErrorKind::kIo, "no space is left");
    return plain_append()(ledger, std::move(records));
  });
  EXPECT_THAT(
      shown(outcomes({act(1, 1, 100), act(2, 1, 101), act(3, 1, 102)})),
      testing::ElementsAre("kept 1", "lost 2: no space is left", "lost 3: no space is left"));
  EXPECT_THAT(shown(outcomes({act(4, 1, 103)})), testing::ElementsAre("lost 4: no space is left"));
  EXPECT_EQ(calls, 2);
  // The next epoch is written again, the lost ones by their own ids.
  EXPECT_THAT(shown(outcomes({act(2, 2, 101), act(3, 2, 102)})),
              testing::ElementsAre("kept 2", "kept 3"));
  const auto reader = need(ledger::Ledger::open(path_, ledger::Access::kReadOnly));
  EXPECT_EQ(need(reader.claims(trial())).size(), 3U);
}

TEST_F(Work, AValueNeverStandsWithoutItsScale) {
  start();
  const Definitions definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  const Scale* scale = definitions.scale("percent_stand");
  ASSERT_NE(scale, nullptr);
  flow::Append append = act(1, 1, 100);
  append.records[0].definition = sha256(scale_text(*scale)).hex();
  EXPECT_THAT(shown(outcomes({append})), testing::ElementsAre("kept 1"));
  const auto reader = need(ledger::Ledger::open(path_, ledger::Access::kReadOnly));
  EXPECT_EQ(need(reader.definition(append.records[0].definition)), *scale);
}

TEST_F(Work, WhatStillWaitsIsWrittenBeforeTheEnd) {
  start();
  flow::Effects effects;
  for (std::uint64_t n = 0; n < 8; ++n) effects.emplace_back(act(n + 1, 1, 100 + n));
  worker_->run(effects);
  worker_.reset();
  const auto reader = need(ledger::Ledger::open(path_, ledger::Access::kReadOnly));
  EXPECT_EQ(need(reader.claims(trial())).size(), 8U);
  EXPECT_FALSE(std::filesystem::exists(path_ + "-wal") &&
               std::filesystem::file_size(path_ + "-wal") > 0);
}

TEST_F(Work, SealsAndCopiesAndNotesBoth) {
  start();
  ASSERT_EQ(outcomes({act(1, 1, 100)}).size(), 1U);
  const auto sealed = only<flow::Sealed>({flow::Seal{}});
  EXPECT_EQ(sealed.note.records, 4) << "stream, scale, limits, value";
  const std::string file = folder_.file("season-files/" + sealed.note.file_name);
  EXPECT_TRUE(seal::read_season_file(*files_, file));
  auto today = only<flow::TodayLoaded>({flow::LoadToday{}});
  EXPECT_EQ(today.today.unsealed, 0);
  ASSERT_TRUE(today.today.last_seal);
  EXPECT_EQ(today.today.last_seal->file_name, sealed.note.file_name);
  const std::string stick = folder_.file("media/STICK");
  const auto copied = only<flow::Copied>({flow::CopySeal{sealed.note.file_name, stick}});
  EXPECT_EQ(copied.note.place, stick);
  EXPECT_EQ(file_bytes(stick + "/" + sealed.note.file_name), file_bytes(file));
  today = only<flow::TodayLoaded>({flow::LoadToday{}});
  ASSERT_TRUE(today.today.last_copy);
  EXPECT_EQ(today.today.last_copy->place, stick);
}

TEST_F(Work, ASealOrCopyThatCannotBeDoneSaysWhy) {
  start();
  std::filesystem::rename(path_ + ".key", path_ + ".elsewhere");
  EXPECT_EQ(only<flow::NotSealed>({flow::Seal{}}).error.kind, ErrorKind::kNotFound);
  std::filesystem::rename(path_ + ".elsewhere", path_ + ".key");
  const std::string stick = folder_.file("media/STICK");
  const auto lost = only<flow::NotCopied>({flow::CopySeal{"season-none.zip", stick}});
  EXPECT_EQ(lost.place, stick);
  EXPECT_EQ(lost.error.kind, ErrorKind::kNotFound);
  write_bytes(folder_.file("season-files"), "in the way");
  EXPECT_FALSE(only<flow::NotSealed>({flow::Seal{}}).error.what.empty());
}

TEST_F(Work, ALoadThatCannotBeDoneSaysWhy) {
  start();
  ASSERT_EQ(outcomes({act(1, 1, 100)}).size(), 1U);
  ASSERT_EQ(raw_sql(path_, "DROP TRIGGER record_no_update; UPDATE record SET body='x'"), "");
  EXPECT_EQ(only<flow::Failed>({flow::LoadToday{}}).error.kind, ErrorKind::kDamaged);
  EXPECT_EQ(only<flow::Failed>({flow::LoadOccasion{trial(), rating()}}).error.kind,
            ErrorKind::kDamaged);
}

TEST_F(Work, IdsAscend) {
  start();
  const RecordId first = worker_->ids()(at(0).utc);
  EXPECT_LT(first, worker_->ids()(at(0).utc));
}

TEST_F(Work, PreferencesAreKeptBesideTheLedgerAndOutOfIt) {
  start();
  flow::Preferences chosen;
  chosen.dusk = true;
  const auto before = need(need(ledger::Ledger::open(path_)).digest());
  only<flow::PreferencesKept>({flow::StorePreferences{chosen}});
  EXPECT_EQ(need(load_preferences(*files_, preferences_path(path_))), chosen);
  EXPECT_EQ(need(need(ledger::Ledger::open(path_)).digest()), before);
}

TEST_F(Work, PreferencesThatCannotBeWrittenAreSaid) {
  start();
  std::filesystem::create_directories(preferences_path(path_) / "in the way");
  const auto lost = only<flow::PreferencesNotKept>({flow::StorePreferences{}});
  EXPECT_EQ(lost.error.kind, ErrorKind::kIo);
}

TEST_F(Work, TheTabletSaysWhatItIs) {
  start();
  const flow::TabletFacts facts = only<flow::TabletLoaded>({flow::LoadTablet{}}).facts;
  const auto mine = need(ledger::Ledger::open(path_)).my_stream();
  EXPECT_EQ(facts.fingerprint, seal::fingerprint(mine->public_key));
  EXPECT_EQ(facts.key_code, need(dot_code(seal::key_line(mine->public_key, mine->device))));
  EXPECT_EQ(facts.version, "9.9.9");
  EXPECT_EQ(facts.path, path_);
  EXPECT_EQ(facts.bytes, std::filesystem::file_size(path_));
  EXPECT_GT(facts.free_bytes, 0U);
  EXPECT_TRUE(facts.practised.empty());
}

TEST_F(Work, ADiskThatCannotBeLookedAtIsSaid) {
  start();
  std::filesystem::remove(path_);
  EXPECT_EQ(only<flow::Failed>({flow::LoadTablet{}}).error.kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::work
