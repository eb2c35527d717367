// How far those who rated the same plots twice agree, in Review.
#include <array>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::IsEmpty;
using ::testing::SizeIs;

// AB rates four plots of "stand"; others look again.
class AgreementTest : public ::testing::Test {
 protected:
  AgreementTest() {
    tablet.open(grass_plan(), "stand");
    for (const char* stand : {"60", "70", "80", "50"}) {
      tablet.choose("percent_stand", stand);
      tablet.settle();
      first_.push_back(stand_of_last());
      tablet.tap(GoToPlot{four_plots.at(first_.size() % four_plots.size())});
    }
  }
  Record stand_of_last() {
    return *std::ranges::find(tablet.ledger.rbegin(), tablet.ledger.rend(), "percent_stand",
                              &Record::measure);
  }
  void look_again(std::size_t plot, const char* initials, Purpose purpose, double value) {
    Record record = first_.at(plot);
    record.id.uuid.bytes[0] = static_cast<std::uint8_t>(0x40 + tablet.ledger.size());
    record.person = person_id(initials);
    record.purpose = purpose;
    record.value = value;
    record.entered = std::to_string(static_cast<int>(value));
    tablet.ledger.push_back(record);
  }
  void known(const char* initials) {
    tablet.model.people.push_back({person_id(initials), initials});
  }
  AgreementView agreement() {
    tablet.look_over(grass_plan(), "stand");
    tablet.tap(ShowAgreement{});
    return std::get<AgreementView>(tablet.review().page);
  }

  static inline const std::vector<std::string> four_plots{"101", "102", "103", "201"};
  std::vector<Record> first_;
  Tablet tablet;
};

TEST_F(AgreementTest, AnotherPersonIsHeldAgainstWhoRatedFirst) {
  known("CD");
  // 10, 4 and 7 higher: 7 on average, with a standard deviation of 3.
  look_again(0, "CD", Purpose::kSecond, 70);
  look_again(1, "CD", Purpose::kSecond, 74);
  EXPECT_THAT(agreement().rows, IsEmpty()) << "two plots say nothing of the spread";
  look_again(2, "CD", Purpose::kSecond, 87);
  const AgreementView view = agreement();
  ASSERT_THAT(view.rows, SizeIs(1));
  EXPECT_EQ(view.rows.front(),
            (AgreementRow{"percent_stand", "CD", "AB", Lies::kHigher, "7", "3", 3, false, {}}));
  EXPECT_TRUE(tablet.review().agreement);
}

TEST_F(AgreementTest, ASecondLookIsHeldAgainstOnesOwnFirstOne) {
  for (std::size_t plot = 0; plot < 3; ++plot)
    look_again(plot, "AB", Purpose::kRepeat, *first_[plot].value - (plot == 1 ? 4 : 1));
  const AgreementView view = agreement();
  ASSERT_THAT(view.rows, SizeIs(1));
  EXPECT_EQ(view.rows.front(),
            (AgreementRow{"percent_stand", "AB", "", Lies::kLower, "2", "2", 3, false, {}}));
}

TEST_F(AgreementTest, WhoIsHeldAgainstThemselvesAsAnotherIsNot) {
  known("CD");
  for (std::size_t plot = 0; plot < 3; ++plot) {
    look_again(plot, "AB", Purpose::kSecond, 60);
    look_again(plot, "CD", Purpose::kRepeat, 60);
  }
  EXPECT_THAT(agreement().rows, IsEmpty());
  EXPECT_FALSE(tablet.review().agreement);
}

TEST_F(AgreementTest, LessThanHalfAPointIsAlike) {
  known("CD");
  for (std::size_t plot = 0; plot < 4; ++plot)
    look_again(plot, "CD", Purpose::kSecond, *first_[plot].value + (plot % 2 == 0 ? 5 : -5));
  const AgreementView view = agreement();
  ASSERT_THAT(view.rows, SizeIs(1));
  EXPECT_EQ(view.rows.front().lies, Lies::kLike);
}

// --- block by block

// Sixteen plots in two blocks, rated first by AB and then by CD as second person.
class AgreementByBlock : public ::testing::Test {
 protected:
  AgreementByBlock() {
    plan_ = wide_plan();
    plan_.occasions.back().measures = {"percent_stand"};
    tablet_.model.trials.push_back({plan_, "plan digest", {}});
    tablet_.model.people.push_back({person_id("CD"), "CD"});
    tablet_.open(plan_, "late");
    for (std::size_t n = 0; n < plan_.plots.size(); ++n) {
      tablet_.choose("percent_stand", std::to_string(40 + 5 * (n % 7)));
      tablet_.settle();
    }
    std::ranges::copy_if(tablet_.ledger, std::back_inserter(first_), &Record::is_claim);
  }
  // Of the first plots of each block as many; higher by block.
  AgreementRow rated_again(std::size_t of_each, const std::array<double, 2>& higher) {
    std::array<std::size_t, 2> rated{};
    for (const PlanPlot& plot : plan_.plots) {
      const auto block = static_cast<std::size_t>(plot.block - 1);
      if (++rated.at(block) > of_each) continue;
      Record record =
          *std::ranges::find(first_, std::optional(plan_.plot(plot).uuid), &Record::subject);
      record.id.uuid.bytes[0] = static_cast<std::uint8_t>(0x80 + tablet_.ledger.size());
      record.person = person_id("CD");
      record.purpose = Purpose::kSecond;
      // Nobody rates exactly alike: a point to either side.
      record.value = *record.value + higher.at(block) + (rated.at(block) % 2 == 0 ? 1 : -1);
      record.entered = std::to_string(static_cast<int>(*record.value));
      tablet_.ledger.push_back(record);
    }
    tablet_.look_over(plan_, "late");
    tablet_.tap(ShowAgreement{});
    const auto view = std::get<AgreementView>(tablet_.review().page);
    EXPECT_THAT(view.rows, SizeIs(1));
    return view.rows.empty() ? AgreementRow{} : view.rows.front();
  }

 private:
  Plan plan_;
  Tablet tablet_;
  std::vector<Record> first_;
};

TEST_F(AgreementByBlock, WhoChangedOnTheWayIsToldByBlock) {
  const AgreementRow row = rated_again(8, {0, 10});
  EXPECT_TRUE(row.by_block);
  EXPECT_EQ(row.blocks, (std::vector<BlockLies>{{1, Lies::kLike, "0"}, {2, Lies::kHigher, "10"}}));
  EXPECT_EQ(row.lies, Lies::kHigher);
  EXPECT_EQ(row.by, "5");
}

TEST_F(AgreementByBlock, WhoIsAlikeEverywhereHasNoBlocks) {
  const AgreementRow row = rated_again(8, {0, 0});
  EXPECT_TRUE(row.by_block);
  EXPECT_THAT(row.blocks, IsEmpty());
}

TEST_F(AgreementByBlock, OfTooFewPlotsNothingIsSaidOfBlocks) {
  const AgreementRow row = rated_again(3, {0, 10});
  EXPECT_FALSE(row.by_block);
  EXPECT_THAT(row.blocks, IsEmpty());
}

}  // namespace
}  // namespace ligule::flow
