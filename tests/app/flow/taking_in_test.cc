// Another tablet's season file, taken in in the field.
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::IsEmpty;
using ::testing::SizeIs;

constexpr const char* kFile = "/media/STICK/season-1.zip";

class TakingIn : public OnTrials {
 protected:
  TakingIn() {
    tablet.files_found = {{kFile, "season-1.zip", "STICK"}};
    tablet.tap(LookForPlans{});
    tablet.settle();
  }
  static SeasonFileRead read(bool known) {
    return {{kFile, "South 2", "K3MQ-7XWA-2PLD-VN5T", known, 214,
             date::year{2026} / date::month{5} / date::day{3}}};
  }
  [[nodiscard]] Started start() const {
    return {tablet.model.setup, tablet.model.trials, tablet.model.people};
  }
};

TEST_F(TakingIn, TheLettersAreComparedBeforeAnythingIsTaken) {
  EXPECT_THAT(page<PlanPickView>().files, SizeIs(1));
  tablet.file_answer = read(false);
  const Effects looked = tablet.tap(CheckFile{kFile});
  ASSERT_THAT(looked, SizeIs(1));
  EXPECT_EQ(std::get<ReadSeasonFile>(looked[0]).path, kFile);
  EXPECT_EQ(page<PlanReadingView>().path, kFile);
  tablet.settle();
  const auto offered = page<OfferedFileView>();
  EXPECT_EQ(offered.file.device, "South 2");
  EXPECT_EQ(offered.file.fingerprint, "K3MQ-7XWA-2PLD-VN5T");
  EXPECT_EQ(offered.last_day, "2026-05-03");
  EXPECT_FALSE(offered.file.known);
  EXPECT_TRUE(offered.can_take);
  tablet.gather_answer = GatheredHere{start(), "South 2", 214, 0};
  const Effects taken = tablet.tap(TakeFile{});
  ASSERT_THAT(taken, SizeIs(1));
  EXPECT_EQ(std::get<GatherFile>(taken[0]).path, kFile);
  EXPECT_TRUE(page<OfferedFileView>().taking);
  EXPECT_THAT(tablet.tap(TakeFile{}), IsEmpty()) << "it is being taken in";
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.gathered");
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
}

TEST_F(TakingIn, ValuesThatStandAgainstEachOtherAreTold) {
  tablet.file_answer = read(true);
  tablet.tap(CheckFile{kFile});
  tablet.settle();
  tablet.gather_answer = GatheredHere{start(), "South 2", 10, 2};
  tablet.tap(TakeFile{});
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.gathered_conflicts");
  EXPECT_EQ(tablet.model.notice->arguments, (std::vector<std::string>{"10", "South 2", "2"}));
}

TEST_F(TakingIn, AFileThatDoesNotHoldIsNotOffered) {
  tablet.file_answer =
      SeasonFileFaulty{{kFile, {{ErrorKind::kDamaged, "it was changed", kFile, "seal it again"}}}};
  tablet.tap(CheckFile{kFile});
  tablet.settle();
  EXPECT_THAT(page<FileFaultyView>().faults, SizeIs(1));
  EXPECT_THAT(tablet.tap(TakeFile{}), IsEmpty());
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().files, SizeIs(1));
}

TEST_F(TakingIn, WhatIsRefusedIsSaidAndTheFileStaysOffered) {
  tablet.file_answer = read(false);
  tablet.tap(CheckFile{kFile});
  tablet.settle();
  tablet.gather_answer = NotGatheredHere{{ErrorKind::kConflict, "it forks", kFile, "the desk"}};
  tablet.tap(TakeFile{});
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.not_gathered");
  EXPECT_TRUE(page<OfferedFileView>().can_take);
}

TEST_F(TakingIn, WhoeverWentElsewhereIsShownNothing) {
  tablet.file_answer = read(false);
  tablet.tap(CheckFile{kFile});
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().files, SizeIs(1));
}

}  // namespace
}  // namespace ligule::flow
