#include "app/work/sticks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <condition_variable>
#include <fstream>

#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

class Sticks : public testing::Test {
 protected:
  Sticks() { std::filesystem::create_directories(folder_.file("media/STICK")); }
  static Plan of(const std::string& code) {
    Plan other = plan();
    other.codes.trial = code;
    return other;
  }
  void write(const Plan& plan, const std::string& folder) {
    if (!files::write_plan_folder(*files_, folder_.file("media/STICK/" + folder), plan, schemas_))
      std::abort();
  }
  flow::StickPlans look() { return plans_on_sticks(reading(), roots(), ledger_, today_); }
  [[nodiscard]] flow::Intent choose(const std::string& folder) {
    return plan_beside_others(reading(), roots(), folder_.file("media/STICK/" + folder), ledger_,
                              today_);
  }
  // The same, where it is sound.
  flow::CheckedPlan chosen(const std::string& folder) {
    const flow::Intent answer = choose(folder);
    const auto* const checked = std::get_if<flow::PlanChecked>(&answer);
    if (checked == nullptr) ADD_FAILURE() << folder << " is not sound";
    return checked == nullptr ? flow::CheckedPlan{} : checked->plan;
  }
  [[nodiscard]] PlanReading reading() { return {*files_, schemas_, definitions_}; }
  [[nodiscard]] MediaRoots roots() const { return {{folder_.file("media")}, false}; }
  static Plan revised(const Plan& parent, const std::string& reason) {
    Plan revision = parent;
    revision.parent = sha256(plan_text(parent)).hex();
    revision.reason = reason;
    revision.title = reason;
    return revision;
  }
  static std::vector<std::string> folders(const std::vector<flow::CheckedPlan>& plans) {
    std::vector<std::string> found;
    found.reserve(plans.size());
    for (const flow::CheckedPlan& each : plans)
      found.push_back(std::filesystem::path(each.path).filename().string());
    return found;
  }
  static std::vector<std::string> codes(const std::vector<flow::CheckedPlan>& plans) {
    std::vector<std::string> found;
    found.reserve(plans.size());
    for (const flow::CheckedPlan& each : plans) found.push_back(each.plan.codes.trial);
    return found;
  }

  Folder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  files::PlanSchemas schemas_ = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  CalendarDate today_ = at(0).local_date;
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet 3");
};

TEST_F(Sticks, NewChangedHeldAndFaultyPlansAreToldApart) {
  need(ledger_.append({plan_record(9, plan())}));
  write(of("ZZ"), "z");
  write(of("AA"), "a");
  write(of("AA"), "a-again");
  write(plan(), "held");
  Plan revision = plan();
  revision.parent = sha256(plan_text(plan())).hex();
  revision.reason = "mended";
  revision.title = "Mended";
  write(revision, "revision");
  std::filesystem::create_directories(folder_.file("media/STICK/broken"));
  std::ofstream(folder_.file("media/STICK/broken/trial.csv")) << "nonsense";
  const flow::StickPlans plans = look();
  EXPECT_THAT(codes(plans.fresh), ElementsAre("AA", "ZZ")) << "the same plan counts once";
  EXPECT_THAT(codes(plans.changed), ElementsAre(plan().codes.trial));
  ASSERT_THAT(plans.faulty, SizeIs(1));
  EXPECT_EQ(plans.faulty[0].path, folder_.file("media/STICK/broken"));
}

TEST_F(Sticks, OfTwoPlansOfATrialNobodyCanSayWhichIsMeant) {
  write(of("AA"), "a");
  Plan other = of("AA");
  other.title = "Another title";
  write(other, "b");
  const flow::StickPlans plans = look();
  EXPECT_THAT(plans.fresh, IsEmpty());
  ASSERT_THAT(plans.faulty, SizeIs(2));
  EXPECT_EQ(plans.faulty[0].faults.front().kind, ErrorKind::kConflict);
}

// Proves: of a trial that is not here the newest revision is offered, whatever folders are called.
TEST_F(Sticks, OfRevisionsOfANewTrialTheNewestIsOffered) {
  const Plan second = revised(of("AA"), "again");
  write(second, "a");
  write(of("AA"), "b");
  write(revised(second, "and again"), "c");
  const flow::StickPlans plans = look();
  EXPECT_THAT(folders(plans.fresh), ElementsAre("c"));
  EXPECT_THAT(plans.fresh.front().before, IsEmpty()) << "a new tablet needs no other";
  EXPECT_THAT(folders(plans.older), ElementsAre("a", "b"));
  for (const flow::CheckedPlan& each : plans.older)
    EXPECT_EQ(each.newer, folder_.file("media/STICK/c"));
  EXPECT_THAT(plans.faulty, IsEmpty());
  EXPECT_EQ(chosen("b").newer, folder_.file("media/STICK/c"));
  EXPECT_FALSE(chosen("b").can_come());
  EXPECT_TRUE(chosen("c").can_come());
}

// Proves: a tablet that missed a revision gets the newest, and what leads to it, in one act that
// the ledger takes.
TEST_F(Sticks, OfRevisionsOfAPlanThatIsHereTheNewestIsOffered) {
  need(ledger_.append({plan_record(9, plan())}));
  const Plan second = revised(plan(), "again");
  const Plan third = revised(second, "and again");
  write(plan(), "first");
  write(second, "second");
  write(third, "third");
  const flow::StickPlans plans = look();
  EXPECT_THAT(folders(plans.changed), ElementsAre("third"));
  ASSERT_THAT(folders(plans.changed.front().before), ElementsAre("second"));
  EXPECT_THAT(folders(plans.older), ElementsAre("second"));
  EXPECT_THAT(plans.faulty, IsEmpty());
  EXPECT_EQ(chosen("third").before, plans.changed.front().before);
  EXPECT_EQ(chosen("second").newer, folder_.file("media/STICK/third"));
  need(ledger_.append({plan_record(10, plans.changed.front().before.front().plan),
                       plan_record(11, plans.changed.front().plan)}));
  EXPECT_EQ(need(ledger_.plan(plan().id())).plan, third);
  EXPECT_THAT(look(), testing::Eq(flow::StickPlans{})) << "everything is here";
  EXPECT_TRUE(chosen("second").older);
  EXPECT_TRUE(chosen("third").held);
  EXPECT_FALSE(chosen("third").older);
}

// Proves: what came before the tablet's plan is no fault and no offer.
TEST_F(Sticks, APlanOlderThanTheTabletsIsSaidToBe) {
  need(ledger_.append({plan_record(9, revised(plan(), "again"))}));
  write(plan(), "first");
  EXPECT_EQ(look(), flow::StickPlans{});
  EXPECT_TRUE(chosen("first").older);
  EXPECT_FALSE(chosen("first").can_come());
}

// Two revisions of one plan: neither came after the other.
TEST_F(Sticks, RevisionsBesideEachOtherAreAFaultOfBoth) {
  need(ledger_.append({plan_record(9, plan())}));
  write(revised(plan(), "mine"), "mine");
  write(revised(plan(), "theirs"), "theirs");
  const flow::StickPlans plans = look();
  EXPECT_THAT(plans.changed, IsEmpty());
  ASSERT_THAT(plans.faulty, SizeIs(2));
  EXPECT_THAT(plans.faulty[0].faults.front().what, testing::HasSubstr("two different plans of"));
  EXPECT_TRUE(chosen("mine").can_come()) << "whoever chooses a folder says which is meant";
}

// The revision between is missing: nobody can say what it changed.
TEST_F(Sticks, ARevisionOfAPlanThatIsNowhereIsAFault) {
  need(ledger_.append({plan_record(9, plan())}));
  write(revised(revised(plan(), "again"), "and again"), "third");
  const flow::StickPlans plans = look();
  EXPECT_THAT(plans.changed, IsEmpty());
  ASSERT_THAT(plans.faulty, SizeIs(1));
  EXPECT_THAT(plans.faulty[0].faults.front().what, testing::HasSubstr("the plan revises "));
  EXPECT_TRUE(std::holds_alternative<flow::PlanFaulty>(choose("third")));
}

TEST_F(Sticks, EntriesThatAreSownLaterAreATrialOfTheirOwn) {
  need(ledger_.append({plan_record(9, plan())}));
  Plan revision = plan();
  revision.parent = sha256(plan_text(plan())).hex();
  revision.reason = "mended";
  PlanEntry later = revision.entries.front();
  later.code = "LATER";
  later.variety = "Sown Later";
  revision.entries.push_back(later);
  revision.plots.push_back({"103", 1, "LATER", 1, 3, 5});
  revision.plots.push_back({"203", 2, "LATER", 2, 3, 6});
  write(revision, "revision");
  const flow::StickPlans plans = look();
  EXPECT_THAT(plans.changed, IsEmpty());
  ASSERT_THAT(plans.faulty, SizeIs(1));
  EXPECT_THAT(plans.faulty[0].faults.front().what, testing::HasSubstr("LATER"));
  // Until the trial is sown anything may come.
  today_ = plan().sown;
  EXPECT_THAT(look().changed, SizeIs(1));
}

TEST_F(Sticks, ThatOneWasPutInIsTold) {
  std::mutex mutex;
  std::condition_variable woken;
  bool told = false;
  StickWatch watch(*files_, {{folder_.file("media")}, false}, [&] {
    const std::lock_guard lock(mutex);
    told = true;
    woken.notify_all();
  });
  EXPECT_FALSE(watch.changed());
  std::filesystem::create_directories(folder_.file("media/ANOTHER"));
  std::unique_lock lock(mutex);
  ASSERT_TRUE(woken.wait_for(lock, std::chrono::seconds(30), [&] { return told; }));
  EXPECT_TRUE(watch.changed());
  EXPECT_FALSE(watch.changed()) << "once";
}

}  // namespace
}  // namespace ligule::work
