// Which weights a check weight puts in doubt.
#include "storage/trial/scale_check.h"

#include <gmock/gmock.h>

#include <chrono>
#include <deque>

#include "storage/trial/details.h"

namespace ligule::scale_check {
namespace {

using std::chrono::minutes;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

class ScaleCheck : public ::testing::Test {
 protected:
  static Stamp at(int minute) {
    return stamp_at(UtcInstant{date::sys_days{date::year{2026} / 5 / 4}} + minutes{600 + minute},
                    minutes{-240});
  }
  RecordId next_id() {
    RecordId id;
    id.uuid.bytes[15] = ++ids_;
    return id;
  }
  RecordId check(int minute, const std::string& reading, const std::string& scale = "one") {
    Record& record = records_.emplace_back();
    record.id = next_id();
    record.kind = kind::kCheckWeight;
    record.at = at(minute);
    record.entered = reading;
    record.unit = "kg";
    record.details = details_text({{"mass", "20"}, {"allowance", "0.05"}, {"port", scale}});
    checks_.push_back({&record, scale});
    return record.id;
  }
  void weight(int minute, const std::string& scale = "one") {
    Record& record = records_.emplace_back();
    record.id = next_id();
    record.at = at(minute);
    weights_.push_back({&record, scale, record.at.utc});
  }
  // Somebody answers for the weight given last.
  void answered(int minute) {
    Record& record = records_.back();
    record.at = at(minute);
    record.answers = {{std::string(kRule), std::string(kStand)}};
  }
  std::vector<Doubt> found() const { return doubts(checks_, weights_); }

  std::deque<Record> records_;  // places in it stay
  std::vector<Check> checks_;
  std::vector<Weight> weights_;

 private:
  std::uint8_t ids_ = 0;
};

TEST_F(ScaleCheck, IsGoodUpToTheAllowanceDigitByDigit) {
  for (const auto& [reading, good] : {std::pair{"20", true},
                                      {"20.05", true},
                                      {"19.95", true},
                                      {"20.06", false},
                                      {"19.94", false},
                                      {"20.0500001", false},
                                      {"nothing", false}}) {
    check(0, reading);
    EXPECT_EQ(is_good(records_.back()), good) << reading;
  }
  check(0, "19.9");
  EXPECT_EQ(off_by(records_.back()), "-0.1 kg");
}

TEST_F(ScaleCheck, OffItReachesBackToTheLastGoodOne) {
  weight(1);
  check(2, "20.00");
  weight(3);
  weight(4);
  const RecordId off = check(5, "23.00");
  ASSERT_EQ(found().size(), 1U);
  EXPECT_EQ(found()[0].check->id, off);
  EXPECT_FALSE(found()[0].over);
  EXPECT_THAT(found()[0].weights, ElementsAre(1, 2));
}

TEST_F(ScaleCheck, WithoutAGoodOneItReachesAYearBack) {
  weight(1);
  weight(2);
  weights_[0].weighed -= std::chrono::hours{24} * kReachDays;
  check(1, "23.00");
  check(2, "23.00");
  ASSERT_EQ(found().size(), 1U);
  EXPECT_THAT(found()[0].weights, ElementsAre(1));
  weights_[0].weighed += minutes{2};
  EXPECT_THAT(found()[0].weights, ElementsAre(0, 1));
}

TEST_F(ScaleCheck, WeightsAfterItWaitForTheNextOne) {
  check(1, "23.00");
  weight(2);
  EXPECT_THAT(found(), IsEmpty());
  const RecordId off = check(3, "22.00");
  ASSERT_EQ(found().size(), 1U);
  EXPECT_EQ(found()[0].check->id, off);
  weight(4);
  EXPECT_THAT(found()[0].weights, ElementsAre(0));
  check(5, "20.00");
  ASSERT_EQ(found().size(), 1U);
  EXPECT_TRUE(found()[0].over);
  EXPECT_EQ(found()[0].check->id, off);
  EXPECT_THAT(found()[0].weights, ElementsAre(0, 1));
  weight(6);
  EXPECT_THAT(found()[0].weights, ElementsAre(0, 1)) << "it is right again";
}

TEST_F(ScaleCheck, WhatNobodyAnsweredStaysOpenBehindGoodOnes) {
  weight(1);
  const RecordId first = check(2, "23.00");
  check(3, "20.00");
  weight(4);
  const RecordId second = check(5, "21.00");
  ASSERT_EQ(found().size(), 2U);
  EXPECT_EQ(found()[0].check->id, first);
  EXPECT_THAT(found()[0].weights, ElementsAre(0));
  EXPECT_EQ(found()[1].check->id, second);
  EXPECT_THAT(found()[1].weights, ElementsAre(1));
}

TEST_F(ScaleCheck, AnAnswerHoldsUntilItIsOffAgain) {
  weight(1);
  const auto weighed = weights_.back().weighed;
  answered(3);
  check(2, "23.00");
  EXPECT_EQ(weights_.back().weighed, weighed);
  EXPECT_THAT(found(), IsEmpty());
  check(4, "20.00");
  EXPECT_THAT(found(), IsEmpty());
  checks_.pop_back();
  check(5, "25.00");
  ASSERT_EQ(found().size(), 1U) << "it is off by something else";
}

TEST_F(ScaleCheck, AnotherScaleIsAnotherMatterAndOneNobodyNamedIsAny) {
  weight(1, "one");
  weight(2, "two");
  weight(3, "");
  check(4, "23.00", "one");
  check(5, "20.00", "two");
  ASSERT_EQ(found().size(), 1U);
  EXPECT_THAT(found()[0].weights, ElementsAre(0, 2));
}

TEST_F(ScaleCheck, AWeightSaysItsPortElseItsRunDoes) {
  Record run;
  run.details = details_text({{"scale", "one"}});
  Record bare;
  Record named;
  named.details = details_text({{"port", "two"}});
  EXPECT_EQ(port_of(named, &run), "two");
  EXPECT_EQ(port_of(bare, &run), "one");
  EXPECT_EQ(port_of(bare, nullptr), "");
}

// Proves: with a clock set back after the check an answer still counts, so nobody is asked for
// ever.
TEST_F(ScaleCheck, AnAnswerCountsWhateverTheClockSays) {
  weight(1);
  const RecordId off = check(5, "23.00");
  ASSERT_EQ(found().size(), 1U);
  Record answer = *weights_.front().claim;
  answer.at = at(2);
  answer.answers = {{std::string(kRule), std::string(kStand)}};
  weights_.front().claim = &answer;
  EXPECT_EQ(found().size(), 1U) << "of an earlier check";
  answer.details = details_text({{std::string(kAsked), off.text()}});
  EXPECT_THAT(found(), IsEmpty());
}

}  // namespace
}  // namespace ligule::scale_check
