// A plan revised in mid-season: one tablet has the revision, one has not, and the desk has both.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "sync/desk/desk.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::desk {
namespace {

namespace sample = ledger::sample;
using ::testing::HasSubstr;
using ::testing::Not;

class PlanRevision : public ::testing::Test {
 protected:
  PlanRevision() {
    std::filesystem::create_directories(folder_.file("office"));
    write(first_, "first");
    second_.parent = digest_of(first_);
    second_.reason = "an entry was named, and one more rating";
    second_.entries[0].variety = "Aspen Hollow";
    second_.occasions.push_back(
        {"2026-fall", Job::kRate, 2026, 0, {"percent_stand"}, std::nullopt});
    write(second_, "second");
    for (const std::string& ledger : {behind_, ahead_, office_})
      EXPECT_EQ(enrol(ledger, "first"), 0) << err_.str();
    for (const std::string& ledger : {ahead_, office_})
      EXPECT_EQ(enrol(ledger, "second"), 0) << err_.str();
  }

  static std::string digest_of(const Plan& plan) { return sha256(plan_text(plan)).hex(); }
  void write(const Plan& plan, const std::string& folder) {
    const auto assets = files::find_assets(*files_);
    const auto schemas = files::load_plan_schemas(*files_, assets.value());
    sample::need(files::write_plan_folder(*files_, folder_.file(folder), plan, schemas.value()));
  }
  int desk(const std::vector<std::string>& arguments) {
    out_.str("");
    err_.str("");
    return run(arguments, out_, err_, *files_);
  }
  int enrol(const std::string& ledger, const std::string& folder) {
    return desk({"enrol", "--ledger", ledger, folder_.file(folder), "--device",
                 std::filesystem::path(ledger).stem().string()});
  }
  void rate(const std::string& tablet, const Plan& plan, std::string_view occasion,
            const std::string& plot, const std::string& entered) {
    Record record = sample::reading(++id_, plot, "percent_stand", entered);
    record.plan = digest_of(plan);
    record.unit = "%";
    for (const PlanOccasion& each : plan.occasions)
      if (each.code == occasion) record.occasion = plan.occasion(each);
    auto ledger = sample::need(ledger::Ledger::open(tablet));
    for (const Record& scale : sample::need(ledger.of_kind(kind::kDefinition)))
      if (scale.entered == "percent_stand") record.definition = scale.definition;
    static_cast<void>(sample::need(ledger.append({record})));
  }
  void weigh(const std::string& tablet, const Plan& plan, const std::string& plot) {
    Record record = sample::reading(++id_, plot, "gross_weight", "12");
    record.plan = digest_of(plan);
    record.unit = "lb";
    record.occasion = sample::cutting();
    auto ledger = sample::need(ledger::Ledger::open(tablet));
    static_cast<void>(sample::need(ledger.append({record})));
  }
  void gather(const std::string& tablet) {
    const std::string out = folder_.file("season-" + std::filesystem::path(tablet).stem().string());
    ASSERT_EQ(desk({"seal", "--ledger", tablet, "--out", out}), 0) << err_.str();
    const std::string file = out + "/" + sample::need(files_->list(out)).front();
    ASSERT_EQ(desk({"trust", "--ledger", office_, tablet + ".pub"}), 0) << err_.str();
    ASSERT_EQ(desk({"gather", "--ledger", office_, file}), 0) << err_.str();
    EXPECT_THAT(out_.str(), HasSubstr("0 conflicts"));
  }
  std::string table(const std::string& name) {
    std::filesystem::remove_all(folder_.file("tables"));
    EXPECT_EQ(desk({"tables", "--ledger", office_, "--out", folder_.file("tables")}), 0)
        << err_.str();
    return sample::file_bytes(folder_.file("tables") + "/" + name);
  }

  sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Plan first_ = sample::plan(), second_ = sample::plan();
  std::string behind_ = folder_.file("behind.ledger"), ahead_ = folder_.file("ahead.ledger");
  std::string office_ = folder_.file("office") + "/office.ledger";
  std::uint64_t id_ = 700;
  std::ostringstream out_, err_;
};

// Blocks 1 and 2 were rated on tablets of two revisions: plots and ratings are the same by their
// codes, so the values stand in one table, under the names of the plan in force.
TEST_F(PlanRevision, ATabletThatIsBehindIsGatheredLikeOneThatIsNot) {
  const std::string stand = "2026-stand";
  rate(behind_, first_, stand, "101", "60");
  rate(behind_, first_, stand, "102", "70");
  rate(ahead_, second_, stand, "201", "80");
  rate(ahead_, second_, stand, "202", "90");
  gather(behind_);
  gather(ahead_);
  const std::string means = table("measures/percent_stand/means.csv");
  EXPECT_THAT(means, HasSubstr("Aspen Hollow"));
  EXPECT_THAT(means, Not(HasSubstr("Alder Brook")));
  const std::string tests = table("measures/percent_stand/tests.csv");
  EXPECT_THAT(tests, HasSubstr(",2,2,4,75,")) << "entries, reps, n, mean: " << tests;
}

TEST_F(PlanRevision, WhoEnrolsTheOlderPlanAgainIsToldThatItIsNotInForce) {
  ASSERT_EQ(enrol(office_, "first"), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("trial TF26: enrolled before, but another revision of it is in "
                                    "force, nothing changed"));
  ASSERT_EQ(enrol(office_, "second"), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("enrolled already as it stands"));
}

TEST_F(PlanRevision, TheOlderPlanThatArrivesLaterDoesNotComeBackIntoForce) {
  rate(behind_, first_, "2026-stand", "101", "60");
  gather(behind_);
  const auto office = sample::need(ledger::Ledger::open(office_));
  const ledger::KnownPlan held = sample::need(office.plan(first_.id()));
  EXPECT_EQ(held.digest, digest_of(second_));
  EXPECT_EQ(sample::need(office.plan_revision(digest_of(first_))), first_);
  EXPECT_TRUE(sample::need(office.check()).empty());
}

// Proves: values of a rating and of a plot that a revision dropped are told of, never passed over,
// and come back with a revision that names them again.
TEST_F(PlanRevision, WhatARevisionDroppedStandsInNoTableAndIsTold) {
  int stand = 60;
  for (const PlanPlot& plot : second_.plots) {
    rate(office_, second_, "2026-stand", plot.number, std::to_string(stand += 5));
    rate(office_, second_, "2026-fall", plot.number, "85");
  }
  EXPECT_THAT(table("measures/percent_stand/tests.csv"), HasSubstr("85"));
  EXPECT_THAT(out_.str() + err_.str(), Not(HasSubstr("no longer")));
  Plan third = second_;
  third.parent = digest_of(second_);
  third.reason = "fall was too wet, and a plot was washed out";
  third.design = "crd";  // blocks are whole no more
  third.occasions.pop_back();
  std::erase_if(third.plots, [](const PlanPlot& plot) { return plot.number == "101"; });
  write(third, "third");
  ASSERT_EQ(enrol(office_, "third"), 0) << err_.str();
  static_cast<void>(table("measures/percent_stand/tests.csv"));
  const std::string told = out_.str() + err_.str();
  EXPECT_THAT(told, HasSubstr("left out: TF26 2026-fall: percent_stand: 4 values of a rating that "
                              "the plan in force does not name"));
  EXPECT_THAT(told, Not(HasSubstr("4 values (percent_stand"))) << "told once";
  EXPECT_THAT(told, HasSubstr("1 value (percent_stand, 2026-05-04) of a plot that the plan no "
                              "longer has"));
  Plan fourth = second_;
  fourth.parent = digest_of(third);
  fourth.reason = "the values count after all";
  write(fourth, "fourth");
  ASSERT_EQ(enrol(office_, "fourth"), 0) << "what comes back was sown with it: " << err_.str();
  EXPECT_THAT(table("measures/percent_stand/tests.csv"), HasSubstr("85"));
  EXPECT_THAT(out_.str() + err_.str(), Not(HasSubstr("no longer")));
}

// A desk that has not seen the revision learns it from the tablet.
TEST_F(PlanRevision, ADeskThatIsBehindTakesTheRevisionFromTheTablet) {
  std::filesystem::remove(office_);
  std::filesystem::remove(office_ + ".key");
  ASSERT_EQ(enrol(office_, "first"), 0) << err_.str();
  for (const PlanPlot& plot : second_.plots) rate(ahead_, second_, "2026-fall", plot.number, "85");
  gather(ahead_);
  const auto office = sample::need(ledger::Ledger::open(office_));
  EXPECT_EQ(sample::need(office.plan(first_.id())).digest, digest_of(second_));
  EXPECT_THAT(table("measures/percent_stand/means.csv"), HasSubstr("Aspen Hollow"));
}

// A rating and a cutting that have values are taken out of the plan: no value is lost or counts
// under another name; what is left out is told by the name it had, and comes back with the plan.
TEST_F(PlanRevision, WhatADroppedOccasionHasIsLeftOutByNameUntilItIsPutBack) {
  for (const PlanPlot& plot : first_.plots) rate(behind_, first_, "2026-stand", plot.number, "60");
  for (const PlanPlot& plot : second_.plots) rate(ahead_, second_, "2026-fall", plot.number, "85");
  weigh(ahead_, second_, "101");
  gather(behind_);
  gather(ahead_);
  Plan third = second_;
  third.parent = digest_of(second_);
  third.reason = "a spring without a rating or a cutting";
  std::erase_if(third.occasions, [](const PlanOccasion& o) { return o.code != "2026-fall"; });
  write(third, "third");
  ASSERT_EQ(enrol(office_, "third"), 0) << err_.str();
  EXPECT_THAT(table("measures/percent_stand/tests.csv"), Not(HasSubstr("2026-stand")));
  EXPECT_THAT(err_.str(),
              HasSubstr("left out: TF26 2026-stand: percent_stand: 4 values of a rating "
                        "that the plan in force does not name"));
  EXPECT_THAT(err_.str(), HasSubstr("left out: TF26 2026 cutting 1: 1 weight of a cutting that the "
                                    "plan in force does not name (put the cutting back"));
  EXPECT_THAT(table("measures/percent_stand/tests.csv"), HasSubstr("2026-fall"));
  EXPECT_THAT(table("report.html"), Not(HasSubstr("2026-stand")));

  Plan fourth = second_;
  fourth.parent = digest_of(third);
  fourth.reason = "they were there";
  write(fourth, "fourth");
  ASSERT_EQ(enrol(office_, "fourth"), 0) << err_.str();
  EXPECT_THAT(table("measures/percent_stand/tests.csv"), HasSubstr("2026-stand,2,2,4,60,"));
  EXPECT_THAT(err_.str(), Not(HasSubstr("does not name")));
  EXPECT_THAT(table("plots.csv"), HasSubstr("TF26,2026,1,1,101,"));
}

TEST_F(PlanRevision, OneOfAnotherPlanIsRefusedAndBothAreNamed) {
  Plan other = first_;
  other.title = "Made from the first one again";
  other.parent = digest_of(first_);
  other.reason = "nobody knew of the second";
  write(other, "other");
  EXPECT_EQ(enrol(ahead_, "other"), 1);
  EXPECT_THAT(err_.str(), HasSubstr("the plan revises " + digest_of(first_).substr(0, 12)));
  EXPECT_THAT(err_.str(), HasSubstr("has " + digest_of(second_).substr(0, 12)));
  EXPECT_THAT(err_.str(), HasSubstr("name it as the parent: " + digest_of(second_)));
}

}  // namespace
}  // namespace ligule::desk
