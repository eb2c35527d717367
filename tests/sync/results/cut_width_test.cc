#include "sync/results/cut_width.h"

#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

// The notices for a run of the first cutting with these words; the plan's swath is 3 ft wide.
std::vector<Error> notices_for(const std::string& words) {
  WeighedTrial trial;
  Record run;
  run.kind = kind::kHarvestRun;
  run.occasion = trial.facts().plan.occasion(trial.facts().plan.occasions.front());
  run.details = details_text({{"cut_width", words}, {"machine", "flail"}});
  trial.facts().runs.push_back(run);
  return cut_width_notices(trial.facts(), "T");
}

TEST(CutWidth, ThatFitsThePlanSaysNothing) {
  for (const char* words : {"3 ft", "36 in", "36in", "0.91 m", "91 cm"}) {
    EXPECT_TRUE(notices_for(words).empty()) << words;
  }
}

TEST(CutWidth, ThatDiffersFromThePlanIsNamed) {
  const std::vector<Error> notices = notices_for("5 ft");
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_EQ(notices.front().what,
            "the crew wrote down a cut width of 5 ft, the plan has a swath width of 3 ft");
  EXPECT_EQ(notices.front().where, "T cut-1");
}

TEST(CutWidth, IsReadAsPeopleWriteIt) {
  for (const char* words : {"36 inches", "0,91 m", "35 3/4 in"})
    EXPECT_TRUE(notices_for(words).empty()) << words;
  for (const char* words : {"60 inches", "1,5 m", "5 1/2 ft", " 5 ft"})
    EXPECT_EQ(notices_for(words).size(), 1U) << words;
}

TEST(CutWidth, WordsThatAreNoLengthSayNothing) {
  for (const char* words : {"", "full", "5", "5 rows", "1.2.3 ft", "ft"}) {
    EXPECT_TRUE(notices_for(words).empty()) << words;
  }
}

TEST(CutWidth, RunsThatCannotBeReadSayNothing) {
  WeighedTrial trial;
  trial.facts().runs.resize(2);
  trial.facts().runs[1].details = "not an object";
  EXPECT_TRUE(cut_width_notices(trial.facts(), "T").empty());
  trial.facts().plan.swath_width = {"wide", "ft"};
  EXPECT_TRUE(cut_width_notices(trial.facts(), "T").empty());
}

}  // namespace
}  // namespace ligule::results
