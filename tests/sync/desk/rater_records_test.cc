// Second raters' records: from two tablets' ledgers by season files to raters.csv and the report.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
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
using ::testing::StartsWith;

constexpr std::array<const char*, 4> kPlots = {"101", "102", "201", "202"};

// Two tablets know one plan; AB rated on the first, CD the same plots on the second.
class RaterRecords : public ::testing::Test {
 protected:
  RaterRecords() {
    std::filesystem::create_directories(folder_.file("office"));
    const auto assets = files::find_assets(*files_);
    const auto schemas = files::load_plan_schemas(*files_, assets.value());
    sample::need(
        files::write_plan_folder(*files_, folder_.file("plan"), sample::plan(), schemas.value()));
    for (const std::string& tablet : {first_, second_})
      EXPECT_EQ(desk({"enrol", "--ledger", tablet, folder_.file("plan"), "--device", tablet}), 0)
          << err_.str();
    keep_person(first_, "AB");
    for (const std::string& tablet : {first_, second_}) keep_person(tablet, "CD");
    keep_person(second_, "ab");
  }

  int desk(const std::vector<std::string>& arguments) {
    out_.str("");
    err_.str("");
    return run(arguments, out_, err_, *files_);
  }
  void keep(const std::string& tablet, const Record& record) {
    auto ledger = sample::need(ledger::Ledger::open(tablet));
    static_cast<void>(sample::need(ledger.append({record})));
  }
  void keep_person(const std::string& tablet, const std::string& initials) {
    Record record;
    record.id = {sample::id(++id_)};
    record.kind = kind::kPerson;
    record.at = sample::at(1000);
    record.subject = person_id(initials).uuid;
    record.entered = initials;
    keep(tablet, record);
  }
  Record stand(const std::string& tablet, Purpose purpose, const std::string& initials,
               const std::string& plot, const std::string& entered) {
    Record record = sample::reading(++id_, plot, "percent_stand", entered);
    record.purpose = purpose;
    record.person = person_id(initials);
    record.unit = "%";
    auto ledger = sample::need(ledger::Ledger::open(tablet));
    for (const Record& scale : sample::need(ledger.of_kind(kind::kDefinition)))
      if (scale.entered == "percent_stand") record.definition = scale.definition;
    static_cast<void>(sample::need(ledger.append({record})));
    return record;
  }
  void rate(const std::string& tablet, Purpose purpose, const std::string& initials,
            const std::array<const char*, 4>& entered) {
    for (std::size_t n = 0; n < kPlots.size(); ++n)
      stand(tablet, purpose, initials, kPlots.at(n), entered.at(n));
  }
  void gather(const std::string& tablet) {
    const std::string out = folder_.file("season-" + std::filesystem::path(tablet).stem().string());
    ASSERT_EQ(desk({"seal", "--ledger", tablet, "--out", out}), 0) << err_.str();
    const std::string file = out + "/" + sample::need(files_->list(out)).front();
    ASSERT_EQ(desk({"trust", "--ledger", office_, tablet + ".pub"}), 0) << err_.str();
    ASSERT_EQ(desk({"gather", "--ledger", office_, file}), 0) << err_.str();
    EXPECT_THAT(out_.str(), HasSubstr("0 conflicts"));
  }
  int tables(const std::string& ledger, const std::vector<std::string>& more = {}) {
    std::filesystem::remove_all(folder_.file("tables"));
    std::vector<std::string> arguments = {"tables", "--ledger", ledger, "--out",
                                          folder_.file("tables")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  [[nodiscard]] std::string made(const std::string& name) const {
    return sample::file_bytes(folder_.file("tables") + "/" + name);
  }
  [[nodiscard]] bool exists(const std::string& name) const {
    return std::filesystem::exists(folder_.file("tables") + "/" + name);
  }

  sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string first_ = folder_.file("first.ledger"), second_ = folder_.file("second.ledger");
  std::string office_ = folder_.file("office") + "/office.ledger";
  std::uint64_t id_ = 500;
  std::ostringstream out_, err_;
};

// By hand: differences 5 10 5 0 of blocks 1 1 2 2: mean 5, variance 50/3; blocks 7.5 and 2.5.
TEST_F(RaterRecords, OfTwoTabletsMakeOneTableAndOneSentence) {
  rate(first_, Purpose::kSurvey, "AB", {"60", "70", "80", "90"});
  rate(second_, Purpose::kSecond, "CD", {"65", "80", "85", "90"});
  gather(first_);
  gather(second_);
  ASSERT_EQ(tables(office_), 0) << err_.str();
  EXPECT_EQ(err_.str(), "") << "seconds are no conflict and nothing is left out";
  EXPECT_THAT(made("raters.csv"), HasSubstr(",percent_stand,second,CD,AB,4,5,4.08248290463863"));
  EXPECT_THAT(made("rater_blocks.csv"), HasSubstr(",percent_stand,second,CD,AB,1,2,7.5,"));
  EXPECT_THAT(made("rater_blocks.csv"), HasSubstr(",percent_stand,second,CD,AB,2,2,2.5,"));
  EXPECT_FALSE(exists("rater_effects.csv"));
  const std::string sentence = "CD rated 5 points higher than AB, give or take 4, on 4 plots.";
  EXPECT_THAT(made("report.html"), HasSubstr(sentence));
  EXPECT_THAT(made("measures/percent_stand/report.html"), HasSubstr(sentence));
  EXPECT_FALSE(exists("measures/percent_stand/raters.csv"));
  EXPECT_THAT(out_.str(), HasSubstr("raters.csv"));
  ASSERT_EQ(tables(office_, {"--year", "1999"}), 0) << err_.str();
  EXPECT_FALSE(exists("raters.csv"));
}

TEST_F(RaterRecords, ChangeNoResultAndLeaveNoFileWhereThereAreNone) {
  rate(first_, Purpose::kSurvey, "AB", {"60", "70", "80", "90"});
  ASSERT_EQ(tables(first_), 0) << err_.str();
  for (const char* name : {"raters.csv", "rater_blocks.csv", "rater_effects.csv"})
    EXPECT_FALSE(exists(name)) << name;
  EXPECT_THAT(out_.str(), Not(HasSubstr("raters.csv")));
  EXPECT_THAT(made("report.html"), Not(HasSubstr("raters agree")));
  const std::string means = made("measures/percent_stand/means.csv");
  const std::string tests = made("measures/percent_stand/tests.csv");
  rate(first_, Purpose::kSecond, "CD", {"65", "80", "85", "90"});
  ASSERT_EQ(tables(first_), 0) << err_.str();
  EXPECT_TRUE(exists("raters.csv"));
  EXPECT_EQ(made("measures/percent_stand/means.csv"), means);
  EXPECT_EQ(made("measures/percent_stand/tests.csv"), tests);
}

// What stands is compared: a corrected second, not a withdrawn one.
TEST_F(RaterRecords, AreComparedAsTheyStand) {
  rate(first_, Purpose::kSurvey, "AB", {"60", "70", "80", "90"});
  const Record one = stand(first_, Purpose::kSecond, "CD", "101", "95");
  keep(first_, sample::correction(++id_, one, "65"));
  stand(first_, Purpose::kSecond, "CD", "102", "75");
  stand(first_, Purpose::kSecond, "CD", "201", "85");
  Record back = sample::withdrawal(++id_, stand(first_, Purpose::kSecond, "CD", "202", "20"));
  back.details.clear();
  keep(first_, back);
  ASSERT_EQ(tables(first_), 0) << err_.str();
  EXPECT_THAT(made("raters.csv"), HasSubstr(",second,CD,AB,3,5,0,"));
}

// A slide and a settlement restate what somebody judged: their person is not its rater.
TEST_F(RaterRecords, AreOfWhoeverJudged) {
  rate(first_, Purpose::kSurvey, "AB", {"60", "70", "80", "90"});
  for (const char* plot : {"101", "102"}) stand(first_, Purpose::kSecond, "CD", plot, "65");
  Record settled =
      sample::settlement(++id_, {stand(first_, Purpose::kSecond, "CD", "201", "85")}, "85");
  settled.person.reset();
  keep(first_, settled);
  Record slid = sample::correction(++id_, stand(first_, Purpose::kSecond, "CD", "202", "95"), "95");
  slid.person = person_id("AB");
  slid.reason = "slid";
  keep(first_, slid);
  ASSERT_EQ(tables(first_), 0) << err_.str();
  EXPECT_THAT(made("raters.csv"), HasSubstr(",second,CD,AB,4,2.5,5,"));
}

TEST_F(RaterRecords, OfOneNameAreOnePerson) {
  rate(first_, Purpose::kSurvey, "AB", {"60", "70", "80", "90"});
  rate(second_, Purpose::kSecond, "ab", {"65", "80", "85", "90"});
  gather(first_);
  gather(second_);
  ASSERT_EQ(tables(office_), 0) << err_.str();
  EXPECT_FALSE(exists("raters.csv"));
  EXPECT_THAT(out_.str(), HasSubstr("second values of 4 plots are by whoever gave the first"));
}

TEST_F(RaterRecords, WhoSharedARatingAreToldToo) {
  stand(first_, Purpose::kSurvey, "AB", "101", "60");
  stand(first_, Purpose::kSurvey, "CD", "102", "70");
  stand(first_, Purpose::kSurvey, "AB", "201", "65");
  stand(first_, Purpose::kSurvey, "AB", "202", "65");
  ASSERT_EQ(tables(first_), 0) << err_.str();
  EXPECT_THAT(made("rater_effects.csv"),
              StartsWith("test,occasion,measure,rater,n,effect,se,with_blocks,f,p\n"));
  EXPECT_FALSE(exists("raters.csv"));
  EXPECT_THAT(made("report.html"), HasSubstr("AB and CD shared this rating"));
}

}  // namespace
}  // namespace ligule::desk
