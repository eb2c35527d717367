// Entries sown later are a new test.
#include "tests/sync/desk/season_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

class EnrolledTrial : public SeasonCommands {
 protected:
  EnrolledTrial() { EXPECT_EQ(enrol(north_, plan_folder_).exit, 0); }

  // A revision of the enrolled plan, sown when it was, with one more plot in each block.
  Plan widened(const std::string& entry) {
    Plan next = two_block_plan({"ridge", "north", "TF26"});
    next.parent = sha256(plan_text(next)).hex();
    next.reason = "one more entry";
    if (next.find_entry(entry) == nullptr)
      next.entries.push_back(
          {entry, "tall_fescue", "Corrie", Endophyte::kFree, "", EntryRole::kCheck, ""});
    next.plots.push_back({"103", 1, entry, 1, 3, 5});
    next.plots.push_back({"203", 2, entry, 2, 3, 6});
    return next;
  }
  Ran enrol_revision(const Plan& next, const std::vector<std::string>& more = {}) {
    write_plan(next, other_folder_);
    std::vector<std::string> arguments{"enrol", "--ledger", north_, other_folder_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
};

TEST_F(EnrolledTrial, TakesNoEntriesThatWereSownLater) {
  const std::string before = digest_of(north_);
  const Ran ran = enrol_revision(widened("C1"));
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err,
              AllOf(HasSubstr("trial TF26: entries C1 are new in the trial, which was sown on "
                              "2025-09-10"),
                    HasSubstr("what is sown later is a trial of its own"), Not(HasSubstr("103"))));
  EXPECT_TRUE(ran.err.ends_with("nothing was enrolled\n")) << ran.err;
  EXPECT_EQ(digest_of(north_), before);
}

TEST_F(EnrolledTrial, TakesNoPlotsThatWereSownLater) {
  const Ran ran = enrol_revision(widened("A2"));
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("plots 103, 203 are new in the trial"));
}

TEST_F(EnrolledTrial, TakesWhatWasSownWithTheOthersAndOnlyLeftOut) {
  const Ran ran = enrol_revision(widened("C1"), {"--sown-with-the-others"});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("revised, 6 plots of 3 entries"));
}

TEST_F(EnrolledTrial, TakesMoreEntriesUntilItIsSown) {
  Plan next = widened("C1");
  next.sown = date::year{2999} / 9 / 10;
  for (PlanOccasion& occasion : next.occasions) {
    occasion.year = 2999;
    occasion.due.reset();
  }
  const Ran ran = enrol_revision(next);
  EXPECT_EQ(ran.exit, 0) << ran.err;
}

TEST_F(EnrolledTrial, TakesARevisionThatAddsNothing) {
  Plan next = two_block_plan({"ridge", "north", "TF26"});
  next.parent = sha256(plan_text(next)).hex();
  next.reason = "the title was wrong";
  next.title = "Tall fescue, early";
  EXPECT_EQ(enrol_revision(next).exit, 0);
}

}  // namespace
}  // namespace ligule::desk
