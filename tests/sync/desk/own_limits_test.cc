// A program's own limits beside its ledger, as the desk's commands read them.
#include "storage/files/definitions.h"
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kOffice = "office.ligule.limits.json";
constexpr const char* kTwoFaults = R"({"limits": [
    {"measure": "cutting_yield", "unit": "ton/acre", "ask_abov": 3, "ask_below": 1, "source": "o"},
    {"measure": "purity", "unit": "percent", "ask_below": 1, "source": " "}]})";

class OwnLimits : public TakeInCommand {
 protected:
  // The fixture's plan in a folder of its own, with one entry's seed germinating at 90 percent.
  std::string plan_folder() {
    Plan plan = two_block_plan({"ridge", "north", "GE26"});
    plan.entries.front().germination = "90";
    const std::string folder = folder_.path() / "plan-own";
    const auto schemas = files::load_plan_schemas(*files_, files::find_assets(*files_).value());
    EXPECT_TRUE(files::write_plan_folder(*files_, folder, plan, schemas.value()));
    return folder;
  }
  void germination_from(int percent) {
    write(R"({"limits": [{"measure": "germination", "unit": "percent", "ask_below": )" +
              std::to_string(percent) + R"(, "source": "ours"}]})",
          kOffice);
  }
  Ran enrol_folder() { return desk({"enrol", "--ledger", ledger_, plan_folder()}); }
};

// Proves: what the program's own says for all goes before what everybody's says of a species.
TEST_F(OwnLimits, EnrolAsksByThem) {
  germination_from(91);
  const Ran ran = enrol_folder();
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("germination with hard seed is 90.0 percent, less than 91"));
}

TEST_F(OwnLimits, EnrolAsksNothingAtTheirEdge) {
  germination_from(90);
  const Ran ran = enrol_folder();
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, Not(HasSubstr("germination with")));
}

TEST_F(OwnLimits, TheirFaultsStopEnrol) {
  write(kTwoFaults, kOffice);
  const std::string before = digest();
  const Ran ran = enrol_folder();
  expect_refused(ran, 2, "office.ligule.limits.json, item 1: 'ask_abov' is not known here", before);
  EXPECT_THAT(ran.err, HasSubstr("item 2: no source is named"));
  EXPECT_TRUE(ran.err.ends_with("2 faults; nothing was enrolled\n")) << ran.err;
}

TEST_F(OwnLimits, TheirFaultsStopTakeInWithALineForEach) {
  write(kTwoFaults, kOffice);
  const std::string before = digest();
  const Ran ran = take_in(four_plots);
  expect_refused(ran, 2, "item 1: 'ask_abov' is not known here", before);
  EXPECT_THAT(ran.err, HasSubstr("item 2: no source is named"));
  EXPECT_TRUE(ran.err.ends_with("nothing was taken in\n")) << ran.err;
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 3);
  write("{\"limits\": [{\"ask_below\": 1e400}]}", kOffice);
  expect_refused(take_in(four_plots), 2,
                 "office.ligule.limits.json line 1: the number 1e400 is too large", before);
}

TEST_F(OwnLimits, PlanCheckReadsThoseBesideTheLedgerThatIsNamed) {
  germination_from(91);
  const std::string plan = plan_folder();
  EXPECT_THAT(desk({"plan-check", plan}).out, Not(HasSubstr("germination with")));
  EXPECT_THAT(desk({"plan-check", plan, "--ledger", ledger_}).out, HasSubstr("germination with"));
  write(kTwoFaults, kOffice);
  const Ran faulty = desk({"plan-check", plan, "--ledger", ledger_});
  EXPECT_EQ(faulty.exit, 2);
  EXPECT_THAT(faulty.err,
              AllOf(HasSubstr("item 1: 'ask_abov' is not"), HasSubstr("item 2: no source is named"),
                    HasSubstr("the limits beside the ledger are not sound\n")));
  const Ran misspelled = desk({"plan-check", plan, "--ledger", ledger_ + "x"});
  EXPECT_EQ(misspelled.exit, 2);
  EXPECT_THAT(misspelled.err, HasSubstr("there is no such ledger, and no limits of its own"));
  // Before there is a ledger its limits may be there.
  write(R"({"limits": []})", "office.ligulex.limits.json");
  EXPECT_EQ(desk({"plan-check", plan, "--ledger", ledger_ + "x"}).exit, 0);
}

// Proves: tables need no limits, but somebody hears that they are faulty.
TEST_F(OwnLimits, TablesAreMadeAndTheirFaultsAreTold) {
  ASSERT_EQ(take_in(four_plots).exit, 0);
  const std::string out = folder_.path() / "tables";
  const std::vector<std::string> tables{"tables", "--ledger", ledger_, "--out", out};
  EXPECT_THAT(desk(tables).out, Not(HasSubstr("limits")));
  write(kTwoFaults, kOffice);
  const Ran ran = desk(tables);
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("to look at: office.ligule.limits.json, item 1: 2 faults in the "
                                 "program's own limits, first: 'ask_abov' is not known here"));
}

TEST_F(OwnLimits, ALeastStubbleInCentimetresIsShownInShortInches) {
  write(R"({"limits": [{"measure": "stubble_height", "unit": "cm", "ask_below": 17.78,
          "source": "ours"}]})",
        kOffice);
  expect_refused(take_in(four_plots, {{"--stubble", "6.9 in"}}), 1,
                 "a stubble of 6.9 in is lower than the 7 in that what grows there bears",
                 digest());
  EXPECT_EQ(take_in(four_plots, {{"--stubble", "7 in"}}).exit, 0);
}

TEST_F(OwnLimits, OneEndAloneReadsLikeOne) {
  write(R"({"limits": [{"measure": "gross_weight", "unit": "lb", "ask_above": 20,
          "source": "ours"}]})",
        kOffice);
  EXPECT_THAT(take_in("Plot,Weight\n101,20.5\n202,20\n").out,
              AllOf(HasSubstr("plot 101: gross_weight 20.5 lb is unusual: mostly it is 20 lb or "
                              "less (it is right? --accept unusual)"),
                    Not(HasSubstr("plot 202: gross"))));
}

// Proves: what stands on hold is settled; that is what the fault names first.
TEST_F(OwnLimits, WhatStandsOnHoldIsToBeSettled) {
  write(R"({"limits": [{"measure": "gross_weight", "unit": "lb", "ask_above": 20,
          "source": "ours"}]})",
        kOffice);
  ASSERT_EQ(take_in("Plot,Weight\n101,20.5\n").exit, 0);
  expect_refused(take_in("Plot,Weight\n101,20.5\n", {{"--accept", "unusual"}}), 1,
                 "20.5 lb, on hold already (KV, 2026-05-20), the file says 20.5 lb (look at it "
                 "with ligule-desk settle, leave the row out, or give --correct REASON)",
                 digest());
}

// Both sides of what assets/limits.json has for the heights of tall fescue.
TEST_F(OwnLimits, AHeightBeyondWhatIsUsualIsAskedAbout) {
  const Plan plan = two_block_plan({"ridge", "north", "TF26"});
  Record height;
  height.id.uuid.bytes = {0x01, 0x80, 0, 0, 0, 0, 0x70, 0, 0x80};
  height.kind = kind::kReading;
  height.at = stamp_at(UtcInstant{date::sys_days{parse_date("2026-05-01").value()}}, {});
  height.trial = plan.id();
  height.plan = sha256(plan_text(plan)).hex();
  height.occasion =
      plan.occasion(*std::ranges::find(plan.occasions, "2026-stand", &PlanOccasion::code));
  height.subject = plot_id(plan.id(), "101").uuid;
  height.measure = "plant_height_canopy";
  height.purpose = Purpose::kSurvey;
  height.state = ValueState::kValue;
  height.value = 22;
  height.entered = "22";
  height.unit = "in";
  height.source = Source::kTyped;
  ASSERT_TRUE(opened().append({height}));
  const auto corrected = [&](const std::string& value) {
    const std::string id = standing("101", height.measure).id.text();
    const Ran ran = desk({"settle", "--ledger", ledger_, "--value", id, "--correct", value,
                          "--reason", "misread", "--person", "KV"});
    EXPECT_EQ(ran.exit, 0) << ran.err;
    return ran.out;
  };
  const std::string unusual = "is unusual: mostly it is 2 to 48 in";
  EXPECT_THAT(corrected("48"), Not(HasSubstr("on hold")));
  EXPECT_THAT(corrected("48.5"), HasSubstr(unusual));
  EXPECT_THAT(corrected("220"), HasSubstr(unusual));
  EXPECT_THAT(corrected("2"), Not(HasSubstr("on hold")));
  EXPECT_THAT(corrected("1.5"), HasSubstr(unusual));
}

}  // namespace
}  // namespace ligule::desk
