// ledger-check of a damaged ledger: what is whole, what is lost, what gives it back, and that the
// way back that is told is one.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <sstream>
#include <thread>

#include "tests/sync/desk/season_fixture.h"

namespace ligule::desk {
namespace {

using testing::HasSubstr;
using testing::Not;

class LedgerCheck : public SeasonCommands {
 protected:
  // Four trials: the first is in a season file, two in a copy, the last is in neither.
  LedgerCheck() {
    north_ = folder_ / "the trials' ledgers/north.ligule";
    out_ = folder_ / "the trials' ledgers/out";
    copy_ = folder_ / "the trials' ledgers/copy.ledger";
    std::filesystem::create_directory(std::filesystem::path(north_).parent_path());
    add_trial("TF31", "--device", "North 1");
    EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 0);
    season_ = out_ + "/" + files_->list(out_).value().front();
    add_trial("TF32");
    add_trial("TF33");
    ledger::sample::need(ledger::Ledger::open(north_).value().backup_to(copy_));
    add_trial("TF34");
  }
  void add_trial(const std::string& code, const std::string& option = {},
                 const std::string& value = {}) {
    Plan plan = two_block_plan({"ridge", "north", code});
    plan.title = "Title of " + code;
    write_plan(plan, folder_ / code.c_str());
    std::vector<std::string> words{"enrol", "--ledger", north_, (folder_ / code.c_str()).string()};
    if (!option.empty()) words.insert(words.end(), {option, value});
    const Ran ran = desk(words);
    ASSERT_EQ(ran.exit, 0) << ran.err;
  }
  // One letter of the plan's record, where it lies.
  static void damage(const std::string& ledger, const std::string& code) {
    std::string bytes = ledger::sample::file_bytes(ledger);
    std::size_t changed = 0;
    for (std::size_t at = 0; (at = bytes.find("Title of " + code, at)) != std::string::npos; ++at) {
      bytes[at] = 'L';
      ++changed;
    }
    ASSERT_GT(changed, 0U);
    ledger::sample::write_bytes(ledger, bytes);
  }
  // The call that a run told of, with its words as a shell reads them.
  static std::vector<std::string> told_call(const std::string& out, const std::string& made) {
    const std::string mark = "comes back by: ligule-desk ";
    const std::size_t at = out.find(mark);
    EXPECT_NE(at, std::string::npos) << out;
    const std::string line = out.substr(at + mark.size(), out.find('\n', at) - at - mark.size());
    FILE* const shell = popen(("printf '%s\\n' " + line).c_str(), "r");
    std::string said;
    for (int letter = 0; shell != nullptr && (letter = std::getc(shell)) != EOF;)
      said += static_cast<char>(letter);
    EXPECT_EQ(shell == nullptr ? -1 : pclose(shell), 0) << line;
    std::istringstream each(said);
    std::vector<std::string> words;
    for (std::string word; std::getline(each, word);) words.push_back(word);
    std::ranges::replace(words, std::string("NEW.ligule"), made);
    return words;
  }
  std::size_t trials_of(const std::string& path) {
    return ledger::Ledger::open(path, ledger::Access::kReadOnly).value().plans().value().size();
  }

  std::string season_, copy_;
};

TEST_F(LedgerCheck, NamesWhatIsWholeLostAndGivenBack) {
  for (const char* code : {"TF31", "TF33", "TF34"}) damage(north_, code);
  const std::string before = ledger::sample::file_bytes(north_);
  const Ran ran = desk({"ledger-check", "--ledger", north_, season_, copy_});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr(north_ + ": damaged\n  North 1 (this ledger): whole: records 1 "));
  EXPECT_THAT(ran.out, HasSubstr("; lost: records "));
  EXPECT_THAT(ran.out, HasSubstr(season_ + " gives back record "));
  EXPECT_THAT(ran.out, HasSubstr(copy_ + " gives back records "));
  EXPECT_THAT(ran.out, HasSubstr("in none of the files named: record "));
  EXPECT_THAT(ran.err, HasSubstr("nothing was changed"));
  EXPECT_EQ(ledger::sample::file_bytes(north_), before);

  const std::string made = folder_ / "made.ligule";
  const Ran back = desk(told_call(ran.out, made));
  EXPECT_EQ(back.exit, 1) << "something stays lost";
  EXPECT_THAT(back.err, HasSubstr("are lost in it"));
  EXPECT_EQ(trials_of(made), 3U) << back.out << back.err;
  EXPECT_EQ(desk({"ledger-check", "--ledger", made}).exit, 0);
  EXPECT_EQ(ledger::sample::file_bytes(north_), before);
}

TEST_F(LedgerCheck, WithAWholeCopyNothingIsLost) {
  const std::string digest = digest_of(north_);
  const std::string newest = folder_ / "newest.ledger";
  ledger::sample::need(ledger::Ledger::open(north_).value().backup_to(newest));
  // Its first page: not even what kind of file it is can be told.
  std::string bytes = ledger::sample::file_bytes(north_);
  bytes.replace(0, 4096, 4096, '\0');
  ledger::sample::write_bytes(north_, bytes);
  const Ran ran = desk({"ledger-check", "--ledger", north_, newest});
  EXPECT_EQ(ran.exit, 1) << ran.err;
  EXPECT_THAT(ran.out, Not(HasSubstr("in none of the files named")));
  EXPECT_THAT(ran.out, HasSubstr("; lost: none;"));
  EXPECT_THAT(ran.out, Not(HasSubstr("gives nothing"))) << "there is nothing to give back";
  const std::string made = folder_ / "made.ligule";
  const Ran back = desk(told_call(ran.out, made));
  EXPECT_EQ(trials_of(made), 4U) << back.out << back.err;
  EXPECT_EQ(digest_of(made), digest);
}

// Two damaged copies may each have what the other lacks.
TEST_F(LedgerCheck, ADamagedCopyGivesWhatOfItIsWhole) {
  damage(north_, "TF32");
  damage(copy_, "TF33");
  const Ran ran = desk({"ledger-check", "--ledger", north_, copy_});
  EXPECT_THAT(ran.out, HasSubstr(copy_ + " gives back record "));
  const std::string made = folder_ / "made.ligule";
  static_cast<void>(desk(told_call(ran.out, made)));
  EXPECT_EQ(trials_of(made), 4U);
  const std::string south = folder_ / "south.ligule";
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  ASSERT_EQ(desk({"trust", "--ledger", office_, south + ".pub"}).exit, 0);
  EXPECT_THAT(desk({"gather", "--ledger", office_, "--copy", copy_}).err,
              HasSubstr("signer not known here"))
      << "damage makes nobody trusted";
}

TEST_F(LedgerCheck, WhatCannotGiveBackSaysWhy) {
  damage(north_, "TF33");
  const std::string south = folder_ / "south.ligule";
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  const std::string text = folder_ / "notes.txt";
  ledger::sample::write_bytes(text, "no ledger");
  const Ran ran =
      desk({"ledger-check", "--ledger", north_, season_, south, text, (folder_ / "none").string()});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr("; lost: record "));
  for (const std::string& file : {season_, south, text})
    EXPECT_THAT(ran.out, HasSubstr(file + " gives nothing of it back"));
  EXPECT_THAT(ran.err, HasSubstr("it is neither a season file nor a ledger"));
  EXPECT_THAT(ran.err, HasSubstr("none"));
}

TEST_F(LedgerCheck, ASeasonFileIsOneByWhatIsInItWhateverItsName) {
  damage(north_, "TF31");
  const std::string renamed = folder_ / "S.ZIP";
  std::filesystem::copy_file(season_, renamed);
  const Ran ran = desk({"ledger-check", "--ledger", north_, renamed});
  EXPECT_THAT(ran.out, Not(HasSubstr("--copy " + renamed)));
  const std::string made = folder_ / "made.ligule";
  const Ran back = desk(told_call(ran.out, made));
  EXPECT_EQ(trials_of(made), 4U) << back.out << back.err;
}

// A desk's ledger and a spare copy have no key file beside them.
TEST_F(LedgerCheck, WithoutAKeyFileItSaysWhoseKeyIsNeeded) {
  damage(copy_, "TF32");
  const Ran ran = desk({"ledger-check", "--ledger", copy_, north_});
  EXPECT_THAT(ran.out, Not(HasSubstr("--key '")));
  EXPECT_THAT(ran.out, HasSubstr("\n  with --key KEY.pub of North 1, or --trusted-by LEDGER\n"));
  const std::string made = folder_ / "made.ligule";
  std::vector<std::string> words = told_call(ran.out, made);
  words.insert(words.end(), {"--key", north_ + ".pub"});
  const Ran back = desk(words);
  EXPECT_EQ(trials_of(made), 4U) << back.out << back.err;
}

TEST_F(LedgerCheck, OfSeveralStreamsOfItsOwnTheLastIsThisLedger) {
  const std::string restored = folder_ / "restored.ligule";
  std::filesystem::copy_file(copy_, restored);
  write_plan(two_block_plan({"ridge", "north", "TF35"}), folder_ / "TF35");
  ASSERT_EQ(desk({"enrol", "--ledger", restored, folder_ / "TF35", "--device", "North 2"}).exit, 0);
  const Ran ran = desk({"ledger-check", "--ledger", restored});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("  North 1 (this ledger, before): records 1 to "));
  EXPECT_THAT(ran.out, HasSubstr("  North 2 (this ledger): records 1 to "));
}

TEST_F(LedgerCheck, OneBadFileHidesNothingOfTheLedger) {
  damage(north_, "TF34");
  const std::string huge = folder_ / "huge";
  ledger::sample::write_bytes(huge, "x");
  std::filesystem::resize_file(huge, std::uintmax_t{1} << 30U);
  const Ran ran = desk({"ledger-check", "--ledger", north_, huge, copy_});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr(north_ + ": damaged\n  North 1 (this ledger): whole: records 1 "));
  EXPECT_THAT(ran.out, HasSubstr("comes back by"));
  EXPECT_THAT(ran.err, HasSubstr(huge + ": "));
}

// A changed digit of a weight would else be a wrong mean that nobody notices.
TEST_F(LedgerCheck, NoTablesAreMadeOfADamagedLedger) {
  damage(north_, "TF34");
  const std::string tables = folder_ / "tables";
  const Ran ran = desk({"tables", "--ledger", north_, "--out", tables});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("its digest does not hold"));
  EXPECT_THAT(ran.err, HasSubstr("nothing was analysed"));
  EXPECT_FALSE(std::filesystem::exists(tables));
}

TEST_F(LedgerCheck, OfWhichNoRecordIsLeftLeadsToItsFilesAndCopies) {
  std::filesystem::resize_file(north_, 4096);
  const Ran ran = desk({"ledger-check", "--ledger", north_});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("no record can be had of it"));
  EXPECT_THAT(ran.err, testing::Not(HasSubstr("run ligule-desk ledger-check")));
  EXPECT_THAT(ran.err, HasSubstr("the ledger could not be checked"));
}

// What is read of it then is of no one moment. The note beside the ledger (LEDGER.last) is a pipe
// here, so that the file changes whenever that is being read.
TEST_F(LedgerCheck, OfAFileThatIsWrittenToNobodyTellsDamage) {
  damage(north_, "TF34");
  const std::string note = north_ + ".last";
  std::filesystem::remove(note);
  ASSERT_EQ(mkfifo(note.c_str(), 0600), 0);
  std::atomic<bool> done = false;
  std::thread writer([&] {
    for (long n = 1; !done; ++n) {
      const int end = open(note.c_str(), O_WRONLY | O_NONBLOCK | O_CLOEXEC);
      const std::array<timespec, 2> times{timespec{n, n}, timespec{n, n}};
      if (end >= 0) utimensat(AT_FDCWD, north_.c_str(), times.data(), 0);
      if (end >= 0) close(end);
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
  });
  const Ran ran = desk({"ledger-check", "--ledger", north_});
  done = true;
  writer.join();
  EXPECT_EQ(ran.exit, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_EQ(ran.err, north_ +
                         ": another program writes to it while it is searched (close the other "
                         "program, then do it again)\nthe ledger could not be checked\n");
}

// All that the file gives is told as new, whether it was taken at the first look or the second.
TEST_F(LedgerCheck, GatheringADamagedCopyTellsAllThatIsNew) {
  const std::string south = folder_ / "south.ligule";
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  for (const std::string& key : {north_, south})
    ASSERT_EQ(desk({"trust", "--ledger", office_, key + ".pub"}).exit, 0);
  ASSERT_EQ(desk({"gather", "--ledger", office_, "--copy", north_, "--copy", south}).exit, 0);
  damage(office_, "TF33");
  const std::string made = folder_ / "made.ligule";
  const Ran ran = desk({"rebuild", "--ledger", made, "--key", north_ + ".pub", "--key",
                        south + ".pub", "--copy", office_});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, Not(HasSubstr("nothing new"))) << ran.err;
  EXPECT_THAT(ran.err, HasSubstr(" is lost in it"));
}

}  // namespace
}  // namespace ligule::desk
