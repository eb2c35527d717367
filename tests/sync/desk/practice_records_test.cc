// Practice records in a ledger: sealed, verified and gathered like any others, and in no result:
// only raters.csv and the reports say how far off somebody rated.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <sstream>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/trial/details.h"
#include "sync/desk/desk.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::desk {
namespace {

namespace sample = ledger::sample;
using ::testing::HasSubstr;

class PracticeRecords : public ::testing::Test {
 protected:
  PracticeRecords() {
    std::filesystem::create_directories(folder_.file("office"));
    const auto assets = files::find_assets(*files_);
    const auto schemas = files::load_plan_schemas(*files_, assets.value());
    const std::string plan = folder_.file("plan");
    sample::need(files::write_plan_folder(*files_, plan, sample::plan(), schemas.value()));
    EXPECT_EQ(desk({"enrol", "--ledger", path_, plan, "--device", "North 1"}), 0) << err_.str();
    auto ledger = sample::need(ledger::Ledger::open(path_));
    for (const Record& scale : sample::need(ledger.of_kind(kind::kDefinition)))
      if (scale.entered == "percent_stand") definition_ = scale.definition;
    EXPECT_NE(definition_, "");
    Record person;
    person.id = {sample::id(499)};
    person.kind = kind::kPerson;
    person.at = sample::at(499);
    person.subject = person_id("AB").uuid;
    person.entered = "AB";
    static_cast<void>(sample::need(ledger.append({person})));
    std::uint64_t n = 500;
    int off = 0;
    for (const char* plot : {"101", "102", "201", "202"}) {
      off += 7;
      Record stand = sample::reading(++n, plot, "percent_stand", std::to_string(60 + off));
      stand.definition = definition_;
      stand.unit = "%";
      Record weight =
          sample::reading(++n, plot, measure::kGrossWeight, std::to_string(20 + off % 5));
      weight.occasion = sample::cutting();
      weight.unit = "lb";
      static_cast<void>(sample::need(ledger.append({stand, weight})));
    }
  }

  int desk(const std::vector<std::string>& arguments) {
    out_.str("");
    err_.str("");
    return run(arguments, out_, err_, *files_);
  }
  // Ten stands, drawn and said; the last answer was taken back and given again.
  void practise() {
    std::uint64_t n = 700;
    std::vector<Record> records;
    for (int part = 1; part <= 10; ++part) {
      Record answer = sample::reading(++n, "101", "percent_stand", std::to_string(part * 10));
      answer.subject = sample::id(900);
      answer.part = part;
      answer.purpose = Purpose::kPractice;
      answer.unit = "%";
      answer.definition = definition_;
      answer.blind.reset();
      answer.details = details_text({{"drawn", std::to_string(part * 10 - 6)},
                                     {"seed", "2026-05-04 AB 1"},
                                     {"sowing", "drilled"}});
      records.push_back(answer);
    }
    Record back = sample::withdrawal(++n, records.back());
    back.details.clear();
    Record again = records.back();
    again.id = {sample::id(++n)};
    records.push_back(back);
    records.push_back(again);
    auto ledger = sample::need(ledger::Ledger::open(path_));
    static_cast<void>(sample::need(ledger.append(records)));
  }
  // What tables makes of a ledger, file by file, and says of it; the reports without what they say
  // of raters.
  std::map<std::string, std::string> tables(const std::string& ledger) {
    const std::filesystem::path out = folder_.file("tables");
    std::filesystem::remove_all(out);
    EXPECT_EQ(desk({"tables", "--ledger", ledger, "--out", out.string()}), 0) << err_.str();
    std::map<std::string, std::string> made{{"said", err_.str()}};
    for (const auto& entry : std::filesystem::recursive_directory_iterator(out))
      if (entry.is_regular_file())
        made[std::filesystem::relative(entry.path(), out).string()] =
            sample::file_bytes(entry.path().string());
    return made;
  }

  static void cut(std::string& text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    const std::size_t end = text.find(to, at);
    if (at != std::string::npos && end != std::string::npos) text.erase(at, end + to.size() - at);
  }
  // Takes out what is said of raters; gives raters.csv, which must be the one file more.
  static std::string take_raters(std::map<std::string, std::string>& made) {
    for (const char* report : {"report.html", "measures/percent_stand/report.html"}) {
      EXPECT_THAT(made[report], HasSubstr("AB rated drawn stands 6 points high"));
      cut(made[report], "<li><a href=\"#raters\"", "</li>\n");
      cut(made[report], "<section id=\"raters\">", "</section>\n");
    }
    const std::string raters = made["raters.csv"];
    made.erase("raters.csv");
    return raters;
  }

  sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string path_ = folder_.file("tablet.ledger");
  // Of the same name: the report tells from which ledger it is.
  std::string office_ = folder_.file("office") + "/tablet.ledger";
  std::string definition_;
  std::ostringstream out_, err_;
};

TEST_F(PracticeRecords, AreSealedVerifiedAndGatheredAndChangeNoTable) {
  const auto before = tables(path_);
  ASSERT_TRUE(before.contains("measures/percent_stand/means.csv"));
  practise();
  auto after = tables(path_);
  const std::string raters = take_raters(after);
  EXPECT_THAT(raters, HasSubstr(",percent_stand,practice,AB,2026-05-04,10,6,0,"));
  EXPECT_EQ(after, before);
  ASSERT_EQ(desk({"seal", "--ledger", path_, "--out", folder_.file("out")}), 0) << err_.str();
  const std::string file =
      folder_.file("out") + "/" + sample::need(files_->list(folder_.file("out"))).front();
  EXPECT_EQ(desk({"verify", file}), 0) << err_.str();
  ASSERT_EQ(desk({"trust", "--ledger", office_, path_ + ".pub"}), 0) << err_.str();
  ASSERT_EQ(desk({"gather", "--ledger", office_, file}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("0 conflicts"));
  EXPECT_EQ(desk({"ledger-check", "--ledger", office_}), 0) << err_.str();
  auto gathered = tables(office_);
  EXPECT_EQ(take_raters(gathered), raters);
  EXPECT_EQ(gathered, before);
  const auto office = sample::need(ledger::Ledger::open(office_));
  const auto claims = sample::need(office.claims(sample::trial(), sample::rating()));
  EXPECT_EQ(std::ranges::count_if(claims,
                                  [](const ledger::Claim& claim) {
                                    return claim.record.purpose == Purpose::kPractice;
                                  }),
            10)
      << "they stand there as they were given";
}

// Two people, two tablets: each set has a subject of its own. Even one that was restated
// differently twice is nobody's conflict.
TEST_F(PracticeRecords, AreNoConflict) {
  practise();
  auto ledger = sample::need(ledger::Ledger::open(path_));
  Record other = sample::reading(990, "101", "percent_stand", "95");
  other.subject = sample::id(900);
  other.part = 3;
  other.purpose = Purpose::kPractice;
  other.definition = definition_;
  static_cast<void>(sample::need(ledger.append({other})));
  ASSERT_EQ(desk({"seal", "--ledger", path_, "--out", folder_.file("out")}), 0) << err_.str();
  const std::string file =
      folder_.file("out") + "/" + sample::need(files_->list(folder_.file("out"))).front();
  ASSERT_EQ(desk({"trust", "--ledger", office_, path_ + ".pub"}), 0) << err_.str();
  ASSERT_EQ(desk({"gather", "--ledger", office_, file}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("0 conflicts"));
}

}  // namespace
}  // namespace ligule::desk
