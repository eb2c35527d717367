// Dry matter that is unusual, in weights from a file.
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

// Bags of the plan weigh 0.1 lb, 45.4 g; bounds: assets/limits.json.
TEST_F(TakeInCommand, DryMatterThatIsUnusualIsQuestionedOnceASample) {
  const std::map<std::string, std::string> samples{
      {"--columns", "plot=Plot,gross=Weight,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
      {"--sample-unit", "g"}};
  const std::string csv =
      "Plot,Weight,Bag,Fresh,Dry\n101,20,1,430,429\n102,21,2,430,110\n202,22,3,430,46\n";
  const Ran ran = take_in(csv, samples);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("line 2: plot 101: sample_dry 429 g makes 99.7 percent of dry "
                              "matter, where 10 to 50 are usual (it is right? --accept "
                              "dry_matter_unusual)"),
                    HasSubstr("plot 202: sample_dry 46 g makes 0.2 percent"),
                    HasSubstr("2 on hold"), Not(HasSubstr("plot 102"))));
  const auto state_of = [&](const std::string& text) {
    for (const ledger::Claim& claim : claims())
      if (claim.record.measure == measure::kSampleDry && claim.record.entered == text)
        return claim.record.state;
    return std::optional<ValueState>();
  };
  EXPECT_EQ(state_of("429"), ValueState::kOnHold);
  EXPECT_EQ(state_of("110"), ValueState::kValue);
}

TEST_F(TakeInCommand, DryMatterThatIsRightIsAccepted) {
  const Ran ran =
      take_in("Plot,Weight,Bag,Fresh,Dry\n101,20,1,430,300\n",
              {{"--columns", "plot=Plot,gross=Weight,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
               {"--sample-unit", "g"},
               {"--accept", "dry_matter_unusual"}},
              {"--accept", "yield_unusual"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("0 on hold"));
  for (const ledger::Claim& claim : claims()) {
    if (claim.record.measure != measure::kSampleDry) continue;
    EXPECT_EQ(claim.record.state, ValueState::kValue);
    EXPECT_THAT(claim.record.answers, ElementsAre(Answer{"dry_matter_unusual", "accepted"}));
  }
}

TEST_F(TakeInCommand, AFreshWeightThatComesLaterIsHeldAgainstTheDriedOne) {
  const std::map<std::string, std::string> dry{
      {"--columns", "plot=Plot,gross=Weight,bag=Bag,sample_dry=Dry"}, {"--sample-unit", "g"}};
  ASSERT_EQ(take_in("Plot,Weight,Bag,Dry\n101,20,1,110\n", dry).exit, 0);
  const Ran fresh =
      take_in("P,Fresh\n101,150\n",
              {{"--columns", "plot=P,sample_fresh=Fresh"}, {"--unit", ""}, {"--sample-unit", "g"}});
  ASSERT_EQ(fresh.exit, 0) << fresh.err;
  EXPECT_THAT(fresh.out, HasSubstr("sample_fresh 150 g makes 61.8 percent of dry matter"));
}

}  // namespace
}  // namespace ligule::desk
