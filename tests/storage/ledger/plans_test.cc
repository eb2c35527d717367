#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::ledger {
namespace {

using namespace sample;

std::string digest_of(const Plan& what) {
  return sha256(plan_text(what)).hex();
}

Plan revised(const Plan& parent, const char* reason) {
  Plan revision = parent;
  revision.parent = digest_of(parent);
  revision.reason = reason;
  return revision;
}

class Plans : public testing::Test {
 protected:
  [[nodiscard]] Result<bool> can_enrol(const Plan& what) const {
    return ledger_.can_enrol(what, {at(0).local_date});
  }

  Folder folder_{true};
  Ledger ledger_ = started(folder_.file("a.ledger"), 1);
  Plan first_ = plan();
  Plan second_ = revised(first_, "a stake was misread");
};

// Ledgers hold digests of plans from before members came to them. This one was made without our
// code: json.dumps(plan, sort_keys=True, separators=(",", ":")) and hashlib.sha256 of Python.
TEST(PlanDigest, OfAPlanThatSaysNothingNewStays) {
  Plan old = two_block_plan({"HILL", "north", "TF25"});
  EXPECT_EQ(digest_of(old), "4dbe33b02446daf1cd81e146eacf1f05261ca79815ca1b31150a54f9fdac17df")
      << plan_text(old);
  old.entries[0].seed_harvested = date::year{2025} / 6 / 28;
  EXPECT_NE(digest_of(old), "4dbe33b02446daf1cd81e146eacf1f05261ca79815ca1b31150a54f9fdac17df");
}

TEST_F(Plans, ANewPlanIsEnrolledAndReadBack) {
  EXPECT_TRUE(need(can_enrol(first_)));
  need(ledger_.append({plan_record(10, first_)}));
  EXPECT_EQ(need(ledger_.plan(first_.id())), (KnownPlan{first_, digest_of(first_)}));
  EXPECT_EQ(need(ledger_.plans()).size(), 1U);
  EXPECT_EQ(need(ledger_.plan_revision(digest_of(first_))), first_);
}

TEST_F(Plans, TheSameAgainIsNothingToDo) {
  need(ledger_.append({plan_record(10, first_), plan_record(11, second_)}));
  EXPECT_FALSE(need(can_enrol(first_)));
  EXPECT_FALSE(need(can_enrol(second_)));
}

TEST_F(Plans, ARevisionTakesForceAndTheFirstIsStillKnown) {
  need(ledger_.append({plan_record(10, first_)}));
  EXPECT_TRUE(need(can_enrol(second_)));
  need(ledger_.append({plan_record(11, second_)}));
  EXPECT_EQ(need(ledger_.plan(first_.id())).plan, second_);
  EXPECT_EQ(need(ledger_.plan_revision(digest_of(first_))), first_);
}

TEST_F(Plans, AnotherPlanUnderTheSameCodesIsAConflict) {
  need(ledger_.append({plan_record(10, first_)}));
  Plan other = first_;
  other.title = "Something else";
  const auto fits = can_enrol(other);
  ASSERT_FALSE(fits);
  EXPECT_EQ(fits.error().kind, ErrorKind::kConflict);
  EXPECT_NE(fits.error().mend.find(digest_of(first_)), std::string::npos);
  const auto kept = ledger_.append({plan_record(11, other)});
  ASSERT_FALSE(kept);
  EXPECT_EQ(kept.error().kind, ErrorKind::kConflict);
  // A revision of a plan that is no longer in force is one, too.
  need(ledger_.append({plan_record(12, second_)}));
  const auto late = can_enrol(revised(first_, "late"));
  ASSERT_FALSE(late);
  EXPECT_NE(late.error().what.find("revises " + digest_of(first_).substr(0, 12)),
            std::string::npos);
  EXPECT_NE(late.error().what.find("has " + digest_of(second_).substr(0, 12)), std::string::npos);
  EXPECT_NE(late.error().mend.find(digest_of(second_)), std::string::npos);
}

// Proves: a tablet that missed a revision takes both at once, in order, by the rules of each.
TEST_F(Plans, ARevisionFitsBehindOneThatWouldBeEnrolledFirst) {
  need(ledger_.append({plan_record(10, first_)}));
  const Plan third = revised(second_, "another stake");
  const Enrolment today{at(0).local_date};
  EXPECT_FALSE(ledger_.can_enrol(third, today));
  EXPECT_TRUE(need(ledger_.can_enrol(third, today, std::vector{second_})));
  EXPECT_FALSE(ledger_.can_enrol(revised(first_, "beside"), today, std::vector{second_}));
  need(ledger_.append({plan_record(11, second_), plan_record(12, third)}));
  EXPECT_EQ(need(ledger_.plan(first_.id())).plan, third);
}

// A revision with an entry more in each block, of a trial that was sown months before.
Plan with_later_entry(const Plan& parent) {
  Plan revision = revised(parent, "one more entry");
  PlanEntry later = revision.entries.front();
  later.code = "LATER";
  later.variety = "Sown Later";
  revision.entries.push_back(later);
  revision.plots.push_back({"103", 1, "LATER", 1, 3, 5});
  revision.plots.push_back({"203", 2, "LATER", 2, 3, 6});
  return revision;
}

// Proves: whatever brings the plan, what was sown later is kept out of the trial.
TEST_F(Plans, WhatWasSownLaterIsRefusedWhoeverBringsIt) {
  need(ledger_.append({plan_record(10, first_)}));
  const Plan later = with_later_entry(first_);
  for (const std::string& refused :
       {error_line(can_enrol(later)), error_line(ledger_.append({plan_record(11, later)}))}) {
    EXPECT_EQ(refused.substr(0, 8), "refused:");
    EXPECT_NE(refused.find("entries LATER are new in the trial"), std::string::npos) << refused;
  }
  EXPECT_EQ(need(ledger_.plan(first_.id())).plan, first_);
  // On the day it is sown everything may still come.
  EXPECT_TRUE(need(ledger_.can_enrol(later, {first_.sown})));
}

TEST_F(Plans, WhatWasSownWithTheOthersIsTakenWhereSomebodyVouches) {
  need(ledger_.append({plan_record(10, first_)}));
  const Plan left_out = with_later_entry(first_);
  EXPECT_TRUE(need(ledger_.can_enrol(left_out, {at(0).local_date, true})));
  Record record = plan_record(11, left_out);
  record.reason = kSownWithTheOthers;
  need(ledger_.append({record}));
  EXPECT_EQ(need(ledger_.plan(first_.id())).plan, left_out);
}

// Proves: what another ledger took in arrives whole, by whatever rules it was taken in there.
TEST_F(Plans, ARevisionThatAnotherLedgerTookInArrives) {
  Record record = plan_record(71, with_later_entry(first_));
  record.reason = kSownWithTheOthers;
  Ledger other = started(folder_.file("other.ledger"), 60, "another tablet");
  need(other.append({plan_record(70, first_), record}));
  const StreamInfo stream = *other.my_stream();
  need(ledger_.absorb(stream, 1, Digest{}, bodies(other, stream.id, 1, 3)));
  EXPECT_EQ(need(ledger_.plan(first_.id())), need(other.plan(first_.id())));
}

TEST_F(Plans, APlanRecordMustHoldThePlanItNames) {
  Record wrong_digest = plan_record(10, first_);
  wrong_digest.plan = digest_of(second_);
  Record wrong_trial = plan_record(10, first_);
  wrong_trial.trial = trial_id({"north", "home", "OTHER"});
  Record not_canonical = plan_record(10, first_);
  not_canonical.details += " ";
  not_canonical.plan = sha256(not_canonical.details).hex();
  Record no_plan = plan_record(10, first_);
  no_plan.details = "{}";
  no_plan.plan = sha256("{}").hex();
  for (const Record& record : {wrong_digest, wrong_trial, not_canonical, no_plan}) {
    const auto kept = ledger_.append({record});
    ASSERT_FALSE(kept);
    EXPECT_EQ(kept.error().kind, ErrorKind::kInvalid);
  }
}

TEST_F(Plans, WhatIsNotHeldIsNotFound) {
  EXPECT_EQ(error_line(ledger_.plan(first_.id())).substr(0, 10), "not found:");
  EXPECT_EQ(error_line(ledger_.plan_revision("00")).substr(0, 10), "not found:");
}

TEST_F(Plans, AreListedBySiteFieldAndTrial) {
  Plan other_field = first_;
  other_field.codes.trial = "AA26";
  other_field.field = "9";
  Plan other_site = first_;
  other_site.codes.site = "away";
  need(ledger_.append(
      {plan_record(10, other_field), plan_record(11, first_), plan_record(12, other_site)}));
  const auto plans = need(ledger_.plans());
  ASSERT_EQ(plans.size(), 3U);
  EXPECT_EQ(plans[0].plan, other_site);
  EXPECT_EQ(plans[1].plan, first_);
  EXPECT_EQ(plans[2].plan, other_field);
}

Record definition_record(std::uint64_t n, const Scale& scale) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kDefinition;
  record.at = at(0);
  record.entered = scale.code;
  record.details = scale_text(scale);
  record.definition = sha256(record.details).hex();
  return record;
}

TEST_F(Plans, AScaleIsKeptByItsDigest) {
  Scale scale;
  scale.code = "percent_stand";
  scale.kind = ScaleKind::kPercent;
  scale.minimum = 0;
  scale.maximum = 100;
  scale.definition = "share of the row with plants";
  scale.source = "common practice, no source";
  const Record record = definition_record(10, scale);
  EXPECT_FALSE(need(ledger_.definition(record.definition)));
  need(ledger_.append({record}));
  EXPECT_EQ(need(ledger_.definition(record.definition)), scale);

  Record wrong_digest = definition_record(11, scale);
  wrong_digest.definition = sha256("x").hex();
  Record wrong_code = definition_record(11, scale);
  wrong_code.entered = "vigor";
  Record not_canonical = definition_record(11, scale);
  not_canonical.details = " " + not_canonical.details;
  not_canonical.definition = sha256(not_canonical.details).hex();
  Record no_scale = definition_record(11, scale);
  no_scale.details = "[]";
  no_scale.definition = sha256("[]").hex();
  for (const Record& bad : {wrong_digest, wrong_code, not_canonical, no_scale}) {
    const auto kept = ledger_.append({bad});
    ASSERT_FALSE(kept);
    EXPECT_EQ(kept.error().kind, ErrorKind::kInvalid);
  }
}

Record limits_record(std::uint64_t n, double least) {
  const std::vector<Limit> limits{{"stubble_height", "", "", "in", least, {}, "a source"}};
  Record record;
  record.id = RecordId{id(n)};
  record.kind = kind::kLimits;
  record.at = at(static_cast<std::int64_t>(n));
  record.details = limits_text(limits);
  record.definition = sha256(record.details).hex();
  return record;
}

TEST_F(Plans, LimitsAreRefusedThatAreNotWhatTheirDigestSays) {
  Record wrong_digest = limits_record(11, 3);
  wrong_digest.definition = sha256("x").hex();
  Record not_canonical = limits_record(11, 3);
  not_canonical.details = " " + not_canonical.details;
  not_canonical.definition = sha256(not_canonical.details).hex();
  Record no_limits = limits_record(11, 3);
  no_limits.details = "[]";
  no_limits.definition = sha256("[]").hex();
  for (const Record& bad : {wrong_digest, not_canonical, no_limits}) {
    const auto kept = ledger_.append({bad});
    ASSERT_FALSE(kept) << bad.details;
    EXPECT_EQ(kept.error().kind, ErrorKind::kInvalid);
  }
  EXPECT_EQ(need(ledger_.limits_told()), "");
  need(ledger_.append({limits_record(12, 3)}));
}

TEST_F(Plans, SoftwareIsRefusedThatIsNotNamed) {
  Record software;
  software.id = RecordId{id(11)};
  software.kind = kind::kSoftware;
  software.at = at(11);
  ASSERT_FALSE(ledger_.append({software}));
  software.details = R"({"software":"ligule 2"})";
  EXPECT_EQ(need(ledger_.software_told()), "ligule test") << "as the stream began";
  need(ledger_.append({software}));
  EXPECT_EQ(need(ledger_.software_told()), "ligule 2");
}

// Proves: a ledger in memory says of records what one on a disk says, and writes no stream.
TEST_F(Plans, ALedgerInMemoryTakesRecordsIn) {
  need(ledger_.append({plan_record(20, plan()), reading(21, "101", "percent_stand", "85")}));
  const StreamInfo stream = *ledger_.my_stream();
  Ledger alone = need(Ledger::in_memory());
  EXPECT_EQ(alone.my_stream(), std::nullopt);
  EXPECT_FALSE(alone.append({reading(22, "102", "percent_stand", "70")}));
  need(alone.absorb(stream, 1, Digest{}, bodies(ledger_, stream.id, 1, 3)));
  EXPECT_EQ(need(alone.digest()), need(ledger_.digest()));
  EXPECT_EQ(need(alone.plans()), need(ledger_.plans()));
  EXPECT_EQ(need(alone.claims(trial())).size(), 1U);
  EXPECT_EQ(need(need(Ledger::in_memory()).spans()).size(), 0U) << "each stands alone";
}

// Proves: what a ledger was last told of is its own stream's newest, whatever other tablets knew.
TEST_F(Plans, TheLimitsLastToldAreTheOwnStreamsNewest) {
  EXPECT_EQ(need(ledger_.limits_told()), "");
  const Record first = limits_record(20, 3);
  const Record second = limits_record(21, 4);
  need(ledger_.append({first, second}));
  EXPECT_EQ(need(ledger_.limits_told()), second.definition);
  Ledger other = started(folder_.file("other.ledger"), 60, "another tablet");
  Record theirs = limits_record(70, 5);
  need(other.append({theirs}));
  const StreamInfo stream = *other.my_stream();
  need(ledger_.absorb(stream, 1, Digest{}, bodies(other, stream.id, 1, 2)));
  EXPECT_EQ(need(ledger_.limits_told()), second.definition) << "theirs came later";
  // Back to the ones before: the newest record counts, not the largest digest.
  Record again = limits_record(80, 3);
  need(ledger_.append({again}));
  EXPECT_EQ(need(ledger_.limits_told()), first.definition);
  need(ledger_.replay());
  EXPECT_EQ(need(ledger_.limits_told()), first.definition);
}

}  // namespace
}  // namespace ligule::ledger
