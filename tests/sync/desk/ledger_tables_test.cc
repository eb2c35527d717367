// `tables --ledger`: what was kept in a ledger becomes tables whose numbers lead back to records.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "storage/files/file_system.h"
#include "storage/ledger/digest.h"
#include "storage/trial/details.h"
#include "sync/desk/desk.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::desk {
namespace {

namespace sample = ledger::sample;
using ::testing::HasSubstr;
using ::testing::Not;

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> parts;
  std::istringstream in(text);
  for (std::string part; std::getline(in, part, at);) parts.push_back(part);
  return parts;
}

class LedgerTables : public ::testing::Test {
 protected:
  LedgerTables() : ledger_(sample::started(file("trial.ledger"), 1)) {
    keep(sample::plan_record(next(), sample::plan()));
  }

  [[nodiscard]] std::string file(const std::string& name) const { return folder_.file(name); }
  std::uint64_t next() { return ++last_id_; }
  void keep(const Record& record) { static_cast<void>(sample::need(ledger_.append({record}))); }

  // A value about a plot (or a bag) of the first cutting.
  Record weight(const Uuid& subject, std::string_view measure, const std::string& entered,
                const std::string& unit) {
    Record record = sample::reading(next(), "101", measure, entered);
    record.subject = subject;
    record.occasion = cutting_;
    record.unit = unit;
    keep(record);
    return record;
  }
  // Gross weight in lb, and a sample of 1.1 lb fresh (net 1) of which `share` is dry matter.
  Record weigh(const std::string& plot, const std::string& gross, const std::string& dry) {
    const Record kept = weight(sample::plot(plot).uuid, measure::kGrossWeight, gross, "lb");
    Record bag = sample::reading(next(), plot, measure::kBagNumber, plot);
    bag.occasion = cutting_;
    bag.value.reset();
    keep(bag);
    weight(bag.id.uuid, measure::kSampleFresh, "1.1", "lb");
    weight(bag.id.uuid, measure::kSampleDry, dry, "lb");
    return kept;
  }
  void weigh_all() {
    weigh("101", "20", "0.35");
    weigh("102", "25", "0.35");
    weigh("201", "26", "0.35");
    weigh("202", "22", "0.35");
  }
  // The five parts of a separated sample, dry with their bags of 0.1 lb; empty: nothing of it.
  void sort(const std::string& plot, const std::array<const char*, 5>& dry) {
    weight(sample::plot(plot).uuid, measure::kSeparatedFresh, "3.1", "lb");
    for (int part = 1; part <= 5; ++part) {
      const std::string entered = dry.at(static_cast<std::size_t>(part - 1));
      Record bag = sample::reading(next(), plot, measure::kPartBag, entered.empty() ? "" : "9");
      bag.occasion = sample::cutting();
      bag.value.reset();
      bag.part = part;
      if (entered.empty()) bag.state = ValueState::kZero;
      keep(bag);
      if (!entered.empty()) weight(bag.id.uuid, measure::kSampleDry, entered, "lb");
    }
  }
  void rate_stand(const std::string& plot, const std::string& entered) {
    Scale scale;
    scale.code = "percent_stand";
    scale.kind = ScaleKind::kPercent;
    scale.direction = Direction::kHighIsBest;
    scale.minimum = 0;
    scale.maximum = 100;
    scale.definition = "Share of the row that is filled.";
    scale.source = "made up";
    const std::string text = scale_text(scale);
    if (!scale_kept_) {
      Record definition;
      definition.id = {sample::id(next())};
      definition.kind = kind::kDefinition;
      definition.at = sample::at(1000);
      definition.entered = scale.code;
      definition.definition = sha256(text).hex();
      definition.details = text;
      keep(definition);
      scale_kept_ = true;
    }
    Record record = sample::reading(next(), plot, "percent_stand", entered);
    record.definition = sha256(text).hex();
    keep(record);
  }

  int tables(std::vector<std::string> more = {}) {
    out_.str("");
    err_.str("");
    std::vector<std::string> arguments = {"tables", "--ledger", file("trial.ledger"), "--out",
                                          file("out")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, out_, err_, *files_);
  }
  [[nodiscard]] std::string made(const std::string& name) const {
    return sample::file_bytes(file("out") + "/" + name);
  }
  // Of the two plots of an entry at the first cutting.
  [[nodiscard]] double mean_of(const std::string& entry) const {
    const std::string before = "TF26,2026,1," + entry + ",2,";
    const std::string text = made("means.csv");
    const std::size_t at = text.find(before);
    EXPECT_NE(at, std::string::npos) << text;
    return at == std::string::npos ? 0.0 : std::stod(text.substr(at + before.size()));
  }
  // plots.csv by plot number; no cell of it holds a comma here.
  [[nodiscard]] std::map<std::string, std::map<std::string, std::string>> plots() const {
    const std::vector<std::string> lines = split(made("plots.csv"), '\n');
    const std::vector<std::string> names = split(lines.at(0), ',');
    std::map<std::string, std::map<std::string, std::string>> rows;
    for (std::size_t i = 1; i < lines.size(); ++i) {
      const std::vector<std::string> cells = split(lines[i] + ",", ',');
      std::map<std::string, std::string> row;
      for (std::size_t c = 0; c < names.size(); ++c)
        row[names[c]] = c < cells.size() ? cells[c] : "";
      rows[row["plot"]] = row;
    }
    return rows;
  }

  sample::Folder folder_;
  std::uint64_t last_id_ = 10;
  OccasionId cutting_ = sample::cutting();
  bool scale_kept_ = false;
  ledger::Ledger ledger_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::ostringstream out_, err_;
};

TEST_F(LedgerTables, YieldsLeadBackToTheRecordsTheyWereMadeOf) {
  weigh_all();
  ASSERT_EQ(tables({"--unit", "lb/acre"}), 0) << err_.str();
  EXPECT_EQ(err_.str(), "");
  for (const auto& [plot, row] : plots()) {
    // Made again by hand from the weights that the row's records hold.
    std::map<std::string, double> pounds;
    for (const std::string& id : split(row.at("records"), ' ')) {
      const auto record = sample::need(ledger_.find({parse_uuid(id).value()}));
      ASSERT_TRUE(record) << id;
      pounds[record->measure] = record->value.value_or(0.0);
    }
    const double share = (pounds["sample_dry"] - 0.1) / (pounds["sample_fresh"] - 0.1);
    const double by_hand = pounds["gross_weight"] * share * 43560.0 / (18.0 * 3.0);
    EXPECT_NEAR(std::stod(row.at("yield")), by_hand, 1e-9 * by_hand) << plot;
  }
  // Entry means: (20 + 22) / 2 and (25 + 26) / 2 lb a plot, a quarter of it dry.
  EXPECT_NEAR(mean_of("Alder Brook (novel)"), 4235.0, 1e-8);
  EXPECT_NEAR(mean_of("Birch Run (endophyte-free)"), 5142.5, 1e-8);
  EXPECT_THAT(made("report.html"), HasSubstr("Dry-matter yield, lb/acre"));
  // The plan says when the test was sown.
  EXPECT_THAT(made("report.html"), HasSubstr("sown 2025, data of 2026; 100 is 4689 lb/acre"));
  EXPECT_THAT(made("long_term_tests.csv"), HasSubstr("Alder Brook (novel),TF26,"));
  EXPECT_THAT(made("long_term_tests.csv"), HasSubstr(",2025,2026,1,90.3"));
}

TEST_F(LedgerTables, UnitIsTonsAnAcreUnlessAskedOtherwise) {
  weigh_all();
  ASSERT_EQ(tables(), 0);
  EXPECT_NEAR(mean_of("Alder Brook (novel)"), 2.1175, 1e-12);
  EXPECT_THAT(made("report.html"), HasSubstr("ton/acre"));
  EXPECT_EQ(tables({"--unit", "bu/acre"}), 2);
}

TEST_F(LedgerTables, SeveralCuttingsAreLookedAtTogether) {
  weigh_all();
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_FALSE(std::filesystem::exists(file("out") + "/over_cuttings.csv"));
  Plan revision = sample::plan();
  revision.parent = sha256(plan_text(revision)).hex();
  revision.reason = "cut once more";
  PlanOccasion second = revision.occasions[0];
  second.code = "2026-cut-2";
  second.cutting = 2;
  revision.occasions.push_back(second);
  keep(sample::plan_record(next(), revision));
  cutting_ = revision.occasion(second);
  weigh("101", "14", "0.35");
  weigh("102", "11", "0.35");
  weigh("201", "12", "0.35");
  weigh("202", "15", "0.35");
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_THAT(made("over_cuttings.csv"), HasSubstr("\nTF26,2026,cuttings,entry x cutting,1,"));
  EXPECT_THAT(out_.str(), HasSubstr(" press.csv, plots.csv, over_cuttings.csv, "));
}

TEST_F(LedgerTables, AWishedLsdPlansTheNextTest) {
  weigh_all();
  ASSERT_EQ(tables({"--wished-lsd", "5%"}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("next test, from TF26 2026 cutting 1 (MSE "));
  EXPECT_THAT(out_.str(), HasSubstr(" ton/acre (expected "));
  EXPECT_THAT(made("next_test.csv"), HasSubstr("\nTF26,2026,1,1,"));
  EXPECT_THAT(out_.str(), HasSubstr(", next_test.csv"));
}

TEST_F(LedgerTables, RatingsHaveAFolderEach) {
  rate_stand("101", "90");
  rate_stand("102", "80");
  rate_stand("201", "85");
  rate_stand("202", "95");
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_THAT(made("measures/percent_stand/tests.csv"),
              HasSubstr("TF26,2026,2026-stand,2,2,4,87.5"));
  EXPECT_THAT(made("measures/percent_stand/report.html"), HasSubstr("Percent stand"));
  EXPECT_EQ(split(made("tests.csv"), '\n').size(), 1U);  // nothing was cut yet
}

TEST_F(LedgerTables, CorrectedValuesCountAsCorrected) {
  weigh_all();
  const Record gross = weigh("101", "30", "0.35");  // a second reading: in conflict
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(err_.str(), HasSubstr("left out: TF26 2026 cutting 1 plot 101: the gross weight "
                                    "stands in conflict"));
  EXPECT_THAT(err_.str(), HasSubstr("\nwhat is left out stands in no table; each line says what to "
                                    "do about it\n"));
  EXPECT_EQ(plots().at("101").at("yield"), "");
  const auto claims = sample::need(ledger_.claims(sample::trial(), sample::cutting()));
  for (const std::string_view measure : {measure::kGrossWeight, measure::kBagNumber}) {
    std::vector<Record> standing;
    for (const ledger::Claim& claim : claims) {
      const bool asked =
          claim.record.measure == measure && claim.record.subject == sample::plot("101").uuid;
      if (asked) standing.push_back(claim.record);
    }
    if (standing.size() > 1 && measure == measure::kGrossWeight) {
      keep(sample::settlement(next(), standing, gross.entered));
    }
    if (standing.size() > 1 && measure == measure::kBagNumber) {
      keep(sample::withdrawal(next(), standing.back()));
    }
  }
  ASSERT_EQ(tables({"--unit", "lb/acre"}), 0);
  EXPECT_EQ(err_.str(), "");
  EXPECT_NEAR(std::stod(plots().at("101").at("yield")), 30.0 * 0.25 * 43560.0 / 54.0, 1e-8);
}

// Every plot of a block may be in conflict: that is one thing to tell, not a page of lines.
TEST_F(LedgerTables, PlotsLeftOutForOneReasonStandInOneLine) {
  weigh_all();
  for (const char* plot : {"101", "201", "202"}) weigh(plot, "30", "0.35");
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(err_.str(), HasSubstr("left out: TF26 2026 cutting 1 plots 101, 202, 201: the gross "
                                    "weight stands in conflict"));
  EXPECT_THAT(err_.str(), HasSubstr("\nwhat is left out stands in no table"));
  EXPECT_EQ(split(err_.str(), '\n').size(), 2U) << err_.str();
}

TEST_F(LedgerTables, AnotherYearHasNothing) {
  weigh_all();
  rate_stand("101", "90");
  ASSERT_EQ(tables({"--year", "2025"}), 0);
  EXPECT_EQ(split(made("tests.csv"), '\n').size(), 1U);
  EXPECT_FALSE(std::filesystem::exists(file("out") + "/measures"));
}

TEST_F(LedgerTables, TheReportListsWhatHappenedToATest) {
  Record spray = sample::event(next(), "spray");
  spray.details = R"({"material":"a herbicide","on":"2026-05-04"})";
  keep(spray);
  Record damage = sample::event(next(), "damage");
  damage.details = R"({"on":"2025-11-02"})";
  keep(damage);
  Record mistake = sample::event(next(), "lime");
  mistake.details = R"({"on":"2026-05-05"})";
  keep(mistake);
  keep(sample::event_back(next(), mistake));
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_THAT(made("report.html"), HasSubstr("2026-05-04, spray: a herbicide"))
      << "nothing was weighed yet, and it is told all the same";
  weigh_all();
  rate_stand("101", "90");
  ASSERT_EQ(tables(), 0) << err_.str();
  for (const char* report : {"report.html", "measures/percent_stand/report.html"}) {
    EXPECT_THAT(made(report), HasSubstr("2026-05-04, spray: a herbicide")) << report;
    EXPECT_THAT(made(report), HasSubstr("2025-11-02, damage")) << report;
    EXPECT_THAT(made(report), testing::Not(HasSubstr("2026-05-05"))) << report;
  }
  ASSERT_EQ(tables({"--year", "2026"}), 0) << err_.str();
  EXPECT_THAT(made("report.html"), testing::Not(HasSubstr("2025-11-02, damage")));
}

TEST_F(LedgerTables, ThePlansDesignHoldsUnlessAskedOtherwise) {
  weigh_all();
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(made("tests.csv"), HasSubstr(",1,"));
  const std::string blocks = made("tests.csv");
  ASSERT_EQ(tables({"--design", "crd"}), 0);
  EXPECT_NE(made("tests.csv"), blocks);
}

// By hand: parts of 0.6, 0.1, 0.1, 0.1, 0.1 lb dry, of which 0.7 of 1.0 lb was sown.
TEST_F(LedgerTables, SownSpeciesYieldStandsBesideTheTotal) {
  weigh_all();
  ASSERT_EQ(tables({"--unit", "lb/acre"}), 0);
  const std::string before = made("means.csv");
  EXPECT_FALSE(std::filesystem::exists(file("out") + "/composition.csv"));
  EXPECT_FALSE(std::filesystem::exists(file("out") + "/measures/sown_yield"));
  for (const char* plot : {"101", "102", "201", "202"})
    sort(plot, {"0.7", "0.2", "0.2", "0.2", "0.2"});
  ASSERT_EQ(tables({"--unit", "lb/acre"}), 0) << err_.str();
  EXPECT_EQ(made("means.csv"), before) << "the total stays as weighed";
  const auto numbers = [&](const std::string& name) {
    std::map<std::string, double> means;
    for (const std::string& line : split(made(name), '\n')) {
      const auto cells = split(line, ',');
      if (cells.at(1) == "2026" && cells.at(2) == "1") means[cells.at(3)] = std::stod(cells.at(5));
    }
    return means;
  };
  const auto totals = numbers("means.csv");
  const auto sown = numbers("measures/sown_yield/means.csv");
  ASSERT_EQ(sown.size(), totals.size());
  for (const auto& [entry, total] : totals) EXPECT_NEAR(sown.at(entry), total * 0.7, 1e-9 * total);
  const std::string report = made("report.html");
  EXPECT_THAT(report, HasSubstr("Botanical composition, 2026, cutting 1: percent of dry matter"));
  EXPECT_THAT(report, HasSubstr("<td>60.0</td><td>10.0</td><td>10.0</td><td>10.0</td><td>10.0</td>"
                                "<td>2</td>"));
  EXPECT_THAT(made("measures/sown_yield/report.html"),
              HasSubstr("Sown-species yield of 4 plots: total yield times the dry share"));
  EXPECT_THAT(made("composition.csv"), HasSubstr("separated sample"));
  EXPECT_THAT(out_.str(),
              HasSubstr("sown-species yields by separated samples: measures/sown_yield"));
}

TEST_F(LedgerTables, WeedsByEyeChangeNothingUnlessTheLeadSaysSo) {
  weigh_all();
  sort("101", {"0.7", "", "0.3", "0.2", "0.2"});
  Record seen = sample::reading(next(), "102", measure::kWeedsByEye, "25");
  seen.occasion = sample::cutting();
  seen.unit = "%";
  keep(seen);
  ASSERT_EQ(tables({"--unit", "lb/acre"}), 0) << err_.str();
  const std::string totals = made("means.csv");
  EXPECT_FALSE(std::filesystem::exists(file("out") + "/measures/sown_yield_by_eye"));
  EXPECT_THAT(made("composition.csv"), ::testing::Not(HasSubstr(",weeds by eye,")));
  ASSERT_EQ(tables({"--unit", "lb/acre", "--sown-by-eye"}), 0) << err_.str();
  EXPECT_EQ(made("means.csv"), totals);
  const std::string report = made("measures/sown_yield_by_eye/report.html");
  EXPECT_THAT(report, HasSubstr("adjusted by eye"));
  EXPECT_THAT(report, HasSubstr("Adjusted by eye: 1 plot (102)"));
  EXPECT_THAT(made("measures/sown_yield/report.html"),
              ::testing::Not(HasSubstr("Adjusted by eye")));
  EXPECT_THAT(made("composition.csv"), HasSubstr(",weeds by eye,"));
}

// A scale that was off by 3 lb, as the tablet keeps it; whoever was asked ended the program.
TEST_F(LedgerTables, WeightsOfAScaleThatWasOffAreNamedUntilSomebodyAnswers) {
  weigh_all();
  const auto of_a_scale = [&](Record record) {
    record.id = {sample::id(next())};
    record.source = Source::kScale;
    record.raw = "S G + " + record.entered + " lb";
    record.details = details_text({{"port", "usb-one"}});
    record.kind = kind::kCorrection;
    record.reason = "weighed_again";
    record.at = sample::at(5000);
    return record;
  };
  const auto claims = sample::need(ledger_.claims(sample::trial()));
  const auto gross = std::ranges::find_if(claims, [](const ledger::Claim& claim) {
    return claim.record.subject == sample::plot("102").uuid &&
           claim.record.measure == measure::kGrossWeight;
  });
  Record weight = of_a_scale(gross->record);
  weight.targets = {gross->record.id};
  keep(weight);
  Record check;
  check.id = {sample::id(next())};
  check.kind = kind::kCheckWeight;
  check.at = sample::at(6000);
  check.trial = sample::trial();
  check.plan = weight.plan;
  check.occasion = sample::cutting();
  check.run = RecordId{sample::id(900)};
  check.entered = "23.00";
  check.unit = "lb";
  check.value = 23;
  check.source = Source::kScale;
  check.details = details_text({{"allowance", "0.05"}, {"mass", "20"}, {"port", "usb-one"}});
  keep(check);
  EXPECT_EQ(tables(), 0);
  EXPECT_THAT(out_.str(), HasSubstr("to look at: TF26 2026-cut-1: the scale was off by 3.00 lb on "
                                    "2026-05-04 at 09:40, and nobody answered for what it weighed "
                                    "since it was right: plot 102"));
  EXPECT_EQ(tables({"--year", "2027"}), 0);
  EXPECT_THAT(out_.str(), Not(HasSubstr("the scale was off")));
  Record held = weight;
  held.id = {sample::id(next())};
  held.at = sample::at(7000);
  held.targets = {weight.id};
  held.reason = "check_weight_off";
  held.answers = {{"check_weight", "stand_by_them"}};
  keep(held);
  EXPECT_EQ(tables(), 0);
  EXPECT_THAT(out_.str(), Not(HasSubstr("the scale was off")));
}

TEST_F(LedgerTables, NamesHoldForYieldsAndRatingsAlike) {
  weigh_all();
  sort("101", {"0.5", "", "", "", "0.2"});
  sort("102", {"0.5", "", "", "", "0.2"});
  rate_stand("101", "90");
  rate_stand("102", "80");
  std::ofstream(file("a.csv")) << "name,same_as,from_year,decided_by,note\n"
                                  "Alder Brook (novel),Alder Creek (novel),,MT,\n";
  std::ofstream(file("v.csv")) << "name,publish_as,withheld\n"
                                  "Alder Creek (novel),Zelkova,\n"
                                  "Birch Run (endophyte-free),,yes\n";
  ASSERT_EQ(tables({"--aliases", file("a.csv"), "--varieties", file("v.csv")}), 0) << err_.str();
  // Two plots weighed and two rated, one of them not at all.
  EXPECT_THAT(out_.str(), HasSubstr("names: \"Alder Brook (novel)\" counts under \"Alder Creek "
                                    "(novel)\": 3 values in 1 test, decided by MT\n"));
  EXPECT_NEAR(mean_of("Zelkova"), 2.1175, 1e-12);
  for (const char* name :
       {"means.csv", "long_term.csv", "long_term_tests.csv", "plots.csv", "composition.csv",
        "report.html", "measures/percent_stand/means.csv", "measures/percent_stand/report.html",
        "measures/sown_yield/means.csv", "measures/sown_yield/report.html"}) {
    EXPECT_THAT(made(name), HasSubstr("Zelkova")) << name;
    for (const char* not_printed : {"Alder Creek", "Birch"})
      EXPECT_THAT(made(name), Not(HasSubstr(not_printed))) << name;
  }
  EXPECT_THAT(made("tests.csv"), HasSubstr("TF26,2026,1,2,2,4,"));
  EXPECT_THAT(made("report.html"),
              HasSubstr("&quot;Alder Brook (novel)&quot; counts under &quot;Zelkova&quot;"));
}

TEST_F(LedgerTables, NamesInPrintAreOneEntryEach) {
  weigh_all();
  std::ofstream(file("a.csv")) << "name,same_as,from_year,decided_by,note\n"
                                  "Alder Brook (novel),Birch Run (novel),,MT,\n"
                                  "Birch Run (endophyte-free),Birch Run (free),,MT,\n";
  ASSERT_EQ(tables({"--aliases", file("a.csv")}), 0) << err_.str();
  std::ofstream(file("v.csv")) << "name,publish_as\nBirch Run (free),Birch Run (novel)\n";
  EXPECT_EQ(tables({"--aliases", file("a.csv"), "--varieties", file("v.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("the name says endophyte-free, this says novel"));
  std::ofstream(file("v.csv")) << "name,publish_as\nBirch Run (novel),Birch\n"
                                  "Birch Run (free),Birch\n";
  EXPECT_EQ(tables({"--aliases", file("a.csv"), "--varieties", file("v.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("is the name of \"Birch Run (free)\" in print"));
  EXPECT_THAT(err_.str(), HasSubstr("nothing was analysed\n"));
}

TEST_F(LedgerTables, WhatIsNoLedgerIsExitTwo) {
  sample::write_bytes(file("notes.txt"), "not a ledger");
  std::ostringstream out, err;
  for (const char* name : {"notes.txt", "missing.ledger"}) {
    EXPECT_EQ(run({"tables", "--ledger", file(name), "--out", file("out")}, out, err, *files_), 2);
  }
  EXPECT_FALSE(std::filesystem::exists(file("missing.ledger")));
  EXPECT_FALSE(std::filesystem::exists(file("out")));
}

TEST_F(LedgerTables, SourcesAndTheirOptionsAreNotMixed) {
  EXPECT_EQ(tables({"--values", "v.csv"}), 2);
  EXPECT_THAT(err_.str(),
              HasSubstr("give one of --values FILE.csv, --ledger FILE and --archive URL"));
  for (const std::vector<std::string>& odd : std::vector<std::vector<std::string>>{
           {"--year", "2026"}, {"--unit", "kg/ha"}, {"--sown-by-eye"}}) {
    std::vector<std::string> arguments = {"tables", "--values", "v.csv", "--out", file("out")};
    arguments.insert(arguments.end(), odd.begin(), odd.end());
    std::ostringstream out, err;
    EXPECT_EQ(run(arguments, out, err, *files_), 2);
    EXPECT_THAT(err.str(), HasSubstr("--year, --unit and --sown-by-eye do not go with --values"));
  }
}

TEST_F(LedgerTables, DemonstrationIsNeverMixedWithRealValues) {
  ledger::Ledger demo = sample::need(ledger::Ledger::create(file("demo.ledger")));
  ledger::StreamStart start = sample::start(500);
  start.demo = true;
  const ledger::StreamInfo stream = sample::need(demo.start_stream(start));
  static_cast<void>(
      sample::need(ledger_.absorb(stream, 1, Digest{}, sample::bodies(demo, stream.id, 1, 1))));
  EXPECT_EQ(tables(), 1);
  EXPECT_THAT(err_.str(), HasSubstr("made for demonstration"));
}

}  // namespace
}  // namespace ligule::desk
