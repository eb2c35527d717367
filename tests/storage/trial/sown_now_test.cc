#include "storage/trial/sown_now.h"

#include <gmock/gmock.h>

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

AsSown stated(AsSownStatus status, const char* since, const char* plot = "101") {
  return {plot_id(TrialId{}, plot), status, std::nullopt, parse_date(since).value(), "checked"};
}

TEST(SownNow, TheLatestDateHoldsWhateverWasRecordedLast) {
  EXPECT_THAT(sown_now({}), IsEmpty());
  const AsSown reseeded = stated(AsSownStatus::kReseeded, "2026-05-04");
  const AsSown unknown = stated(AsSownStatus::kUnknown, "2026-04-01");
  EXPECT_THAT(sown_now({reseeded, unknown}), ElementsAre(reseeded));
  EXPECT_THAT(sown_now({unknown, reseeded}), ElementsAre(reseeded));
}

TEST(SownNow, OfOneDayTheStatementRecordedLastHolds) {
  const AsSown reseeded = stated(AsSownStatus::kReseeded, "2026-05-04");
  const AsSown planned = stated(AsSownStatus::kAsPlanned, "2026-05-04");
  EXPECT_THAT(sown_now({reseeded, planned}), ElementsAre(planned));
  EXPECT_THAT(sown_now({planned, reseeded}), ElementsAre(reseeded));
}

TEST(SownNow, TheSameStatedAgainWithAnEarlierDatePutsTheDateRight) {
  const AsSown reseeded = stated(AsSownStatus::kReseeded, "2026-05-04");
  const AsSown right = stated(AsSownStatus::kReseeded, "2026-04-20");
  EXPECT_THAT(sown_now({reseeded, right}), ElementsAre(right));
  EXPECT_THAT(sown_now({right, reseeded}), ElementsAre(reseeded)) << "sown a second time";
  const AsSown between = stated(AsSownStatus::kUnknown, "2026-05-01");
  EXPECT_THAT(sown_now({reseeded, between, right}), ElementsAre(reseeded));
  AsSown another = stated(AsSownStatus::kHolds, "2026-05-04");
  another.holds = entry_id(TrialId{}, "A");
  AsSown earlier = stated(AsSownStatus::kHolds, "2026-04-20");
  earlier.holds = entry_id(TrialId{}, "B");
  EXPECT_THAT(sown_now({another, earlier}), ElementsAre(another)) << "of another entry";
}

TEST(SownNow, EveryPlotHasItsOwn) {
  const AsSown one = stated(AsSownStatus::kReseeded, "2026-05-04", "101");
  const AsSown two = stated(AsSownStatus::kUnknown, "2026-04-01", "102");
  EXPECT_THAT(sown_now({one, two}), testing::UnorderedElementsAre(one, two));
}

}  // namespace
}  // namespace ligule
