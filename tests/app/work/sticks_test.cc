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
  flow::StickPlans look() {
    return plans_on_sticks(*files_, {{folder_.file("media")}, false}, schemas_, definitions_,
                           ledger_, today_);
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
