// settle as a person runs it: the list, and one value after the other.
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

class SettleCommand : public TakeInCommand {
 protected:
  SettleCommand() {
    // Before the trial was sown: kept on hold, since nobody could be asked.
    EXPECT_EQ(take_in("Plot,Weight\n101,20.5\n", {{"--date", "2025-09-01"}}).exit, 0);
    held_ = standing("101", measure::kGrossWeight).id;
  }
  Ran settle(const std::vector<std::string>& more) {
    std::vector<std::string> arguments{"settle", "--ledger", ledger_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  Ran says(const std::string& id) {
    return settle({"--value", id, "--reason", "on_paper", "--person", "KV"});
  }
  RecordId held_;
};

TEST_F(SettleCommand, ListsWhatIsOnHoldWithWhatWasAsked) {
  const Ran ran = settle({});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(held_.text() + ": TF26, plot 101, "));
  EXPECT_THAT(ran.out, HasSubstr("gross_weight: 20.5 lb (on hold) by KV on Office, 2025-09-01"));
  EXPECT_THAT(ran.out, HasSubstr("; asked before_sowing, answered not_asked\n"));
  EXPECT_THAT(ran.out, HasSubstr("1 value to settle in"));
}

TEST_F(SettleCommand, SettledItCountsAndLeavesTheList) {
  const Ran ran = says(held_.text());
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(held_.text() + " stands: on_paper, KV"));
  const Record settled = standing("101", measure::kGrossWeight);
  EXPECT_EQ(settled.kind, kind::kSettlement);
  EXPECT_THAT(settled.targets, ElementsAre(held_));
  EXPECT_EQ(settled.state, ValueState::kValue);
  EXPECT_EQ(settled.entered, "20.5");
  EXPECT_EQ(settled.reason, "on_paper");
  EXPECT_THAT(settle({}).out, testing::StartsWith("0 values to settle in"));
  expect_refused(says(held_.text()), 2, "nothing is to be settled about this value", digest());
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

TEST_F(SettleCommand, APersonWhoIsNewIsMadeKnown) {
  const Ran ran = settle({"--value", held_.text(), "--reason", "agreed", "--person", "LQ"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto people = opened().of_kind(kind::kPerson).value();
  EXPECT_TRUE(std::ranges::any_of(people, [](const Record& r) { return r.entered == "LQ"; }));
  EXPECT_EQ(standing("101", measure::kGrossWeight).person, person_id("LQ"));
}

TEST_F(SettleCommand, BadArgumentsGetOneLineAndKeepNothing) {
  const std::string before = digest();
  expect_refused(settle({"--value", "101"}), 2, "'101' is no id of a record", before);
  expect_refused(settle({"--value", held_.text()}), 2, "the three go together", before);
  expect_refused(settle({"--reason", "agreed", "--person", "KV"}), 2, "the three go together",
                 before);
  expect_refused(settle({"--value", held_.text(), "--reason", "because", "--person", "KV"}), 2,
                 "because", before);
  expect_refused(says("01890000-0000-7000-8000-000000000000"), 2,
                 "nothing is to be settled about this value", before);
  expect_refused(
      settle({"--value", held_.text(), "--reason", "agreed", "--person", "KV", "--device", "Shed"}),
      2, "the ledger is that of Office", before);
  expect_refused(settle({"--value", held_.text(), "--reason", "agreed", "--person", "KV", "--today",
                         "2026-05-04"}),
                 2, "the ledger is real", before);
  EXPECT_THAT(desk({"settle", "--ledger", folder_ / "none.ligule"}).exit, 2);
}

// Proves: where two values stand against each other the one named counts, and both are replaced.
TEST_F(SettleCommand, OfContradictingValuesOneIsNamed) {
  Record other = standing("101", measure::kGrossWeight);
  const RecordId first = other.id;
  other.id.uuid.bytes[15] ^= 0x01;
  other.entered = "21";
  other.value = 21;
  other.state = ValueState::kValue;
  other.answers.clear();
  {
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({other}));
  }
  const Ran list = settle({});
  EXPECT_THAT(list.out, HasSubstr("2 values to settle in"));
  EXPECT_THAT(list.out, HasSubstr("21 lb by KV on Office"));
  EXPECT_THAT(list.out, HasSubstr("; another value stands against it\n"));
  ASSERT_EQ(says(other.id.text()).exit, 0);
  const Record settled = standing("101", measure::kGrossWeight);
  EXPECT_EQ(settled.entered, "21");
  EXPECT_THAT(settled.targets, testing::UnorderedElementsAre(first, other.id));
  EXPECT_THAT(settle({}).out, Not(HasSubstr("stands against")));
}

}  // namespace
}  // namespace ligule::desk
