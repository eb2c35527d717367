// Season files of other tablets on sticks: found, read, taken in.
#include "app/work/season_files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class SeasonFiles : public testing::Test {
 protected:
  SeasonFiles() {
    std::filesystem::create_directories(folder_.file("media/STICK"));
    need(other_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80")}));
  }
  ledger::Ledger begun(const std::string& name, const std::string& device) {
    ledger::Ledger ledger = need(ledger::Ledger::create(folder_.file(name)));
    need(seal::begin_stream(ledger, *files_, {device, "ligule test", at(0), false}));
    return ledger;
  }
  // The other tablet's file on the stick.
  std::string sealed(ledger::Ledger& ledger) {
    const auto key = need(seal::key_of_stream(ledger, *files_));
    return need(seal::write_season_file(ledger, *files_, key,
                                        {folder_.file("media/STICK"), 1, at(50).utc}))
        .file.string();
  }
  Result<TookIn> take(const std::string& path) {
    return take_in_file(mine_, *files_, path, at(60).utc,
                        seal::fingerprint(other_.my_stream()->public_key));
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Folder folder_{true};
  MediaRoots roots_{{folder_.file("media")}, false};
  ledger::Ledger mine_ = begun("mine.ledger", "North 1");
  ledger::Ledger other_ = begun("other.ledger", "South 2");
};

TEST_F(SeasonFiles, ThoseOfOtherTabletsAreFoundByTheirNames) {
  EXPECT_THAT(season_files(mine_, *files_, roots_), IsEmpty());
  sealed(mine_);
  const std::string file = sealed(other_);
  std::ofstream(folder_.file("media/STICK/season-notes.txt")) << "no file of ours";
  std::ofstream(folder_.file("media/STICK/other.zip")) << "nor this";
  const auto found = season_files(mine_, *files_, roots_);
  ASSERT_THAT(found, SizeIs(1));
  EXPECT_EQ(found[0].path, file);
  EXPECT_EQ(found[0].place, "STICK");
}

TEST_F(SeasonFiles, OneIsReadThenTakenInAndItsKeyKnownFromThenOn) {
  const std::string file = sealed(other_);
  const auto read = std::get<flow::SeasonFileRead>(read_season_file(mine_, *files_, file)).file;
  EXPECT_EQ(read.device, "South 2");
  EXPECT_EQ(read.records, 3);
  EXPECT_FALSE(read.known);
  EXPECT_EQ(read.fingerprint, seal::fingerprint(other_.my_stream()->public_key));
  EXPECT_THAT(need(mine_.trusted_keys()), IsEmpty()) << "nothing is trusted by reading";
  const TookIn took = need(take(file));
  EXPECT_EQ(took.device, "South 2");
  EXPECT_EQ(took.records, 3);
  EXPECT_EQ(took.conflicts, 0U);
  EXPECT_TRUE(std::get<flow::SeasonFileRead>(read_season_file(mine_, *files_, file)).file.known);
  EXPECT_EQ(need(take(file)).records, 0) << "twice is once";
  EXPECT_EQ(need(mine_.claims(trial())).size(), 1U);
}

TEST_F(SeasonFiles, ValuesOfBothTabletsAreCounted) {
  need(mine_.append({plan_record(109, plan()), reading(110, "101", "percent_stand", "70")}));
  EXPECT_EQ(need(take(sealed(other_))).conflicts, 1U);
}

TEST_F(SeasonFiles, AChangedFileIsRefusedWhole) {
  const std::string file = sealed(other_);
  std::string bytes = file_bytes(file);
  bytes[bytes.size() / 2] ^= 1;
  write_bytes(file, bytes);
  const auto read = read_season_file(mine_, *files_, file);
  ASSERT_TRUE(std::holds_alternative<flow::SeasonFileFaulty>(read));
  EXPECT_FALSE(std::get<flow::SeasonFileFaulty>(read).file.faults.empty());
  const Digest before = need(mine_.digest());
  EXPECT_FALSE(take(file));
  EXPECT_EQ(need(mine_.digest()), before);
  EXPECT_THAT(need(mine_.trusted_keys()), IsEmpty());
  EXPECT_EQ(take(folder_.file("none.zip")).error().kind, ErrorKind::kNotFound);
}

// A tablet that was revoked from some record on: what is believed of it comes, and no more trust.
TEST_F(SeasonFiles, TakingInWhatIsBelievedDoesNotTrustARevokedKey) {
  const std::string file = sealed(other_);
  const auto mine = other_.my_stream();
  const auto head = need(other_.digest_at(mine->id, 3));
  need(mine_.trust({mine->public_key, "Lost", ledger::Trust::kRevoked, {{mine->id, 3, head}}}));
  EXPECT_EQ(need(take(file)).records, 3);
  const auto keys = need(mine_.trusted_keys());
  ASSERT_THAT(keys, SizeIs(1));
  EXPECT_EQ(keys[0].status, ledger::Trust::kRevoked);
  EXPECT_EQ(keys[0].label, "Lost");
}

// The stick was exchanged between the look and the tap.
TEST_F(SeasonFiles, AnotherFileThanTheOneComparedIsNotTaken) {
  const std::string file = sealed(other_);
  const auto took = take_in_file(mine_, *files_, file, at(60).utc, "K3MQ-7XWA-2PLD-VN5T");
  ASSERT_FALSE(took);
  EXPECT_EQ(took.error().kind, ErrorKind::kConflict);
  EXPECT_THAT(need(mine_.trusted_keys()), IsEmpty());
}

TEST_F(SeasonFiles, ARevokedKeyStaysRevoked) {
  const std::string file = sealed(other_);
  need(mine_.trust({other_.my_stream()->public_key, "South 2", ledger::Trust::kRevoked}));
  EXPECT_FALSE(std::get<flow::SeasonFileRead>(read_season_file(mine_, *files_, file)).file.known);
  const auto took = take(file);
  ASSERT_FALSE(took);
  EXPECT_EQ(took.error().kind, ErrorKind::kNotTrusted);
}

}  // namespace
}  // namespace ligule::work
