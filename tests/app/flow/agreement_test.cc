// How far those who rated the same plots twice agree, in Review.
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
      tablet.tap(GoToPlot{kPlots.at(first_.size() % kPlots.size())});
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

  static inline const std::vector<std::string> kPlots{"101", "102", "103", "201"};
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
            (AgreementRow{"percent_stand", "CD", "AB", Lies::kHigher, "7", "3", 3}));
  EXPECT_TRUE(tablet.review().agreement);
}

TEST_F(AgreementTest, ASecondLookIsHeldAgainstOnesOwnFirstOne) {
  for (std::size_t plot = 0; plot < 3; ++plot)
    look_again(plot, "AB", Purpose::kRepeat, *first_[plot].value - (plot == 1 ? 4 : 1));
  const AgreementView view = agreement();
  ASSERT_THAT(view.rows, SizeIs(1));
  EXPECT_EQ(view.rows.front(),
            (AgreementRow{"percent_stand", "AB", "", Lies::kLower, "2", "2", 3}));
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

}  // namespace
}  // namespace ligule::flow
