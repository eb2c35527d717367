#include "storage/files/plan_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "storage/files/definitions.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/files/faulty_plans.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class PlanFolder : public testing::Test {
 protected:
  void SetUp() override {
    definitions_ = load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
    schemas_ = load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
    ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), sample_plan(), schemas_).has_value());
  }
  std::string text(const char* name) { return files_->read(folder_ / name, 1U << 20U).value(); }
  void write(const char* name, std::string_view bytes) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, bytes, Access::kEveryone).has_value());
  }
  // Replaces the first occurrence in a table; it must be there.
  void change(const char* name, std::string_view from, std::string_view to) {
    std::string bytes = text(name);
    const std::size_t at = bytes.find(from);
    ASSERT_NE(at, std::string::npos) << from << " in " << bytes;
    write(name, bytes.replace(at, from.size(), to));
  }
  Checked<PlanRead> read() {
    return read_plan_folder(*files_, folder_.path(), schemas_, definitions_);
  }
  std::vector<std::string> faults() {
    const auto plan = read();
    std::vector<std::string> lines;
    if (plan) return lines;
    for (const Error& fault : plan.error()) lines.push_back(one_line(fault));
    return lines;
  }

  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
  Definitions definitions_;
  PlanSchemas schemas_;
};

TEST_F(PlanFolder, APlanWrittenReadsBackTheSame) {
  const auto plan = read();
  ASSERT_TRUE(plan.has_value()) << one_line(plan.error()[0]);
  EXPECT_EQ(plan->plan, sample_plan());
  EXPECT_THAT(plan->notices, IsEmpty());
}

TEST_F(PlanFolder, ARevisionAndABroadcastTrialReadBackTheSame) {
  Plan wanted = sample_plan();
  wanted.drilled = false;
  wanted.design = "crd";
  wanted.parent = std::string(64, 'c');
  wanted.reason = "entry C, seed lot \"7\", was mistyped";
  wanted.bag_tare = {};
  wanted.occasions[1].measures.emplace_back("bag_tare");
  wanted.occasions[2].entries = {"A", "C"};
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), wanted, schemas_).has_value());
  EXPECT_EQ(read().value().plan, wanted);
}

const char* const kScores =
    "code,name,lowest,highest,step,best,low_word,high_word,definition,source\r\n"
    "texture,Leaf texture,1,9,2,low,soft,harsh,How harsh leaves feel drawn through the hand.,\r\n";

TEST_F(PlanFolder, ScoresOfTheProgramsOwnBecomeScales) {
  write("scores.csv", kScores);
  change("occasions.csv", "percent_stand", "percent_stand texture");
  ASSERT_THAT(faults(), IsEmpty());
  const Plan plan = read().value().plan;
  ASSERT_EQ(plan.scores.size(), 1U);
  const Scale& score = plan.scores.front();
  EXPECT_EQ(score.name, "Leaf texture");
  EXPECT_EQ(score.direction, Direction::kLowIsBest);
  ASSERT_EQ(score.steps.size(), 5U);
  EXPECT_EQ(score.steps[1], (ScaleStep{"3", 3, ""}));
  EXPECT_EQ(score.steps.front().name, "soft");
  EXPECT_EQ(score.steps.back(), (ScaleStep{"9", 9, "harsh"}));
  EXPECT_EQ(score.source, "the program's own");
  EXPECT_THAT(scale_faults(score), IsEmpty());
  EXPECT_EQ(plan.find_score("texture"), &plan.scores.front());
  // The whole of it is part of the plan, so that its digest covers it.
  EXPECT_EQ(parse_plan_text(plan_text(plan)).value().scores, plan.scores);
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), plan, schemas_).has_value());
  EXPECT_EQ(read().value().plan, plan);
  // And taken away again.
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), sample_plan(), schemas_).has_value());
  EXPECT_EQ(read().value().plan, sample_plan());
}

TEST_F(PlanFolder, FaultsOfAScoreAreNamedByLineAndColumn) {
  write("scores.csv", std::string(kScores) +
                          "b,Bee,5,5,,high,a,b,d,\r\n"
                          "c,Sea,0,10,3,high,a,b,d,\r\n"
                          "d,Dee,0,30,,high,a,b,d,\r\n"
                          "lodging,Lie,1,9,,high,a,b,d,\r\n"
                          "texture,Again,1,9,,high,a,b,d,\r\n");
  EXPECT_THAT(faults(),
              ElementsAre(HasSubstr("scores.csv line 3: its lowest step is not below"),
                          HasSubstr("scores.csv line 4: its steps do not end at the highest"),
                          HasSubstr("scores.csv line 5: it has more than 21 steps"),
                          HasSubstr("scores.csv line 6: 'lodging' is a measure of the program"),
                          HasSubstr("scores.csv line 7: score texture stands twice")));
  write("scores.csv",
        "code,name,lowest,highest,best,low_word,high_word,definition\r\n"
        "a b,Ay,one,9,up,x,y,\r\n");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("scores.csv line 2, column code"),
                                    HasSubstr("scores.csv line 2, column lowest"),
                                    HasSubstr("scores.csv line 2, column best"),
                                    HasSubstr("scores.csv line 2, column definition")));
}

TEST_F(PlanFolder, AScoreThatNobodyRecordsIsNoticed) {
  write("scores.csv", kScores);
  const auto plan = read();
  ASSERT_TRUE(plan.has_value());
  ASSERT_EQ(plan->notices.size(), 1U);
  EXPECT_THAT(one_line(plan->notices.front()), HasSubstr("scores.csv line 2: no rating records"));
}

TEST_F(PlanFolder, HowItWasLaidOutAndItsSoilReadBackTheSame) {
  Plan plan = sample_plan();
  plan.design = "alpha";
  plan.random_seed = "20250312";
  plan.alley = {"6", "ft"};
  plan.border = {"1.5", "m"};
  plan.entries[0].sowing_rate = "15";
  plan.entries[0].sowing_rate_unit = "lb/acre";
  for (PlanPlot& plot : plan.plots) plot.incomplete_block = 1 + plot.column / 2;
  plan.soil = {{"p", "41", "ppm", "mehlich_3", "6", "in", "the state's", date::year{2024} / 8 / 2},
               {"ph", "6.1", "", "", "", "", "", std::nullopt}};
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), plan, schemas_).has_value());
  EXPECT_EQ(read().value().plan, plan);
  EXPECT_EQ(parse_plan_text(plan_text(plan)).value().soil, plan.soil);
  // Without a soil test there is no such table, also where an older plan had one.
  plan.soil.clear();
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), plan, schemas_).has_value());
  EXPECT_FALSE(files_->exists(folder_.path() / "soil.csv").value());
  write("soil.csv", "property,value,unit\r\nph,acid,\r\n,6,furlong\r\n");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("soil.csv line 2, column value"),
                                    HasSubstr("soil.csv line 3, column property"),
                                    HasSubstr("soil.csv line 3, column unit")));
  // What only the list of properties can tell, by its row.
  write("soil.csv", "property,value,unit\r\nzinc,4,ppm\r\nph,11,\r\nk,90,\r\n");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("soil.csv line 2: soil property 'zinc' is not known"),
                                    HasSubstr("soil.csv line 3: pH of 11 cannot be")));
  // As reports write them.
  write("soil.csv", "property,value,unit\r\npH,6.2,\r\nP,41,ppm\r\nOrganic_matter,3,%\r\n");
  const auto capitals = read();
  ASSERT_TRUE(capitals);
  EXPECT_EQ(capitals->plan.soil.at(0).property, "ph");
  EXPECT_EQ(capitals->plan.soil.at(1).property, "p");
  EXPECT_EQ(capitals->plan.soil.at(2).property, "organic_matter");
  write("soil.csv", "property,value,unit,sampled\r\nk,90,,2024-08-02\r\n");
  const auto noticed = read();
  ASSERT_TRUE(noticed.has_value());
  ASSERT_EQ(noticed->notices.size(), 1U);
  EXPECT_THAT(one_line(noticed->notices[0]),
              HasSubstr("soil.csv line 2: the unit of K is not stated"));
}

TEST_F(PlanFolder, EachTableLiesBesideItsSchema) {
  EXPECT_THAT(
      files_->list(folder_.path()).value(),
      ElementsAre("entries.csv", "entries.schema.json", "occasions.csv", "occasions.schema.json",
                  "plots.csv", "plots.schema.json", "trial.csv", "trial.schema.json"));
  EXPECT_EQ(text("plots.schema.json"),
            files_->read(Path(LIGULE_SOURCE_ASSETS) / "plan/plots.schema.json", 1U << 20U).value());
}

// What a spreadsheet does to a table: another order of columns and rows, LF, a byte order mark,
// blanks, empty rows at the end, TRUE, 20.0 for 20.
TEST_F(PlanFolder, SavingFromASpreadsheetChangesNothing) {
  const std::string canonical = plan_text(read().value().plan);
  std::string plots = "\xEF\xBB\xBFpath,column,row,entry,block,number\n";
  auto backwards = sample_plan().plots;
  std::ranges::reverse(backwards);
  for (const PlanPlot& p : backwards) {
    plots += std::to_string(p.path) + ", " + std::to_string(p.column) + " ," +
             std::to_string(p.row) + "," + p.entry + "," + std::to_string(p.block) + "," +
             p.number + "\n";
  }
  write("plots.csv", plots + ",,,,,\n,,,,,\n");
  change("trial.csv", ",true,20,ft,", ",TRUE,20.0,ft,");
  ASSERT_THAT(faults(), IsEmpty());
  EXPECT_EQ(plan_text(read().value().plan), canonical);
}

TEST_F(PlanFolder, ColumnsThatMayStayEmptyMayBeLeftOut) {
  write("entries.csv",
        "code,species,variety\nA,timothy,Alder Brook\nB,timothy,Bright Fork\nC,timothy,Old Mill\n");
  ASSERT_THAT(faults(), IsEmpty());
  const Plan plan = read().value().plan;
  EXPECT_EQ(plan.entries[0].endophyte, Endophyte::kNotStated);
  EXPECT_EQ(plan.entries[0].role, EntryRole::kTest);
}

TEST_F(PlanFolder, HoursAfterTurnInReadBackTheSame) {
  const std::string before = plan_text(sample_plan());
  // Plans from before the column.
  change("occasions.csv", ",entries,hours_after_turn_in", ",entries");
  ASSERT_THAT(faults(), IsEmpty());
  EXPECT_EQ(plan_text(read().value().plan), before);

  Plan wanted = sample_plan();
  wanted.occasions[0].measures = {"grazing_preference", "percent_removed"};
  wanted.occasions[0].hours_after_turn_in = "4";
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), wanted, schemas_).has_value());
  EXPECT_EQ(read().value().plan, wanted);
  EXPECT_THAT(read().value().notices, IsEmpty());
  change("occasions.csv", "2025-04-10,,,4", "2025-04-10,,,4.0");  // as a spreadsheet may save it
  EXPECT_EQ(read().value().plan, wanted);
  change("occasions.csv", "2025-04-10,,,4.0", "2025-04-10,,,");
  ASSERT_EQ(read().value().notices.size(), 1U);
  EXPECT_THAT(one_line(read().value().notices[0]),
              HasSubstr("occasions.csv line 2: preference is rated, but not said how long"));
}

TEST_F(PlanFolder, WhatIsKnownOfSeedReadsBackTheSame) {
  Plan wanted = sample_plan();
  PlanEntry& entry = wanted.entries[0];
  entry.endophyte_percent = "92";
  entry.endophyte_tested = date::year{2024} / 8 / 1;
  entry.germination = "88.5";
  entry.hard_seed = "2";
  entry.purity = "99";
  ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), wanted, schemas_).has_value());
  EXPECT_EQ(read().value().plan, wanted);
  // As a spreadsheet may save it.
  const std::string canonical = plan_text(wanted);
  change("entries.csv", ",92,2024-08-01,2024-06-28,88.5,2,99",
         ",92.0,2024-08-01,2024-06-28,88.50,2.0,99.00");
  EXPECT_EQ(plan_text(read().value().plan), canonical);
}

TEST_F(PlanFolder, APlanFromBeforeColumnsOfSeedKeepsItsText) {
  const char* const kOld =
      "code,species,variety,endophyte,strain,role,seed_lot\n"
      "A,tall_fescue,Alder Brook,novel,AX1,test,L1\n"
      "B,tall_fescue,Alder Brook,free,,test,\n"
      "C,tall_fescue,Old Mill,toxic,,check,\n";
  write("entries.csv", kOld);
  ASSERT_THAT(faults(), IsEmpty());
  const auto plan = read().value();
  Plan wanted = sample_plan();
  wanted.entries[0].seed_harvested.reset();
  EXPECT_EQ(plan.plan, wanted);
  ASSERT_EQ(plan.notices.size(), 1U);
  EXPECT_THAT(one_line(plan.notices[0]),
              HasSubstr("entries.csv line 2: when the seed was harvested is not stated"));
}

TEST_F(PlanFolder, FaultsOfAllTablesComeAtOnceInOrderOfTablesAndLines) {
  change("trial.csv", "America/New_York", "America/New York");
  change("entries.csv", "tall_fescue", "tall_fescu");
  change("plots.csv", "101,1,", "101,one,");
  change("plots.csv", "303,3,", "302,3,");
  change("occasions.csv", "2025-cut-2,harvest,2025,2", "2025-cut-2,harvest,2025,1");
  EXPECT_THAT(
      faults(),
      ElementsAre(HasSubstr("trial.csv line 2: 'America/New York' is not a time zone"),
                  HasSubstr("entries.csv line 2: species 'tall_fescu' is not known"),
                  HasSubstr("plots.csv line 2, column block: 'one' is not a whole number"),
                  HasSubstr("plots.csv line 10: plot 302 stands twice (first at plots.csv line 9"),
                  HasSubstr("occasions.csv line 4: cutting 1 of 2025 stands twice")));
}

TEST_F(PlanFolder, OneBadCellDrawsOneFault) {
  for (const BadCell& c : bad_cells()) {
    ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), sample_plan(), schemas_).has_value());
    change(c.table, c.from, c.to);
    EXPECT_THAT(faults(), ElementsAre(HasSubstr(c.wanted))) << c.wanted;
  }
}

TEST_F(PlanFolder, AMissingColumnIsToldWithoutItsConsequences) {
  change("plots.csv", "number,block,entry,row,column,path", "number,rep,entry,row,column,path");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("plots.csv line 1: column 'rep' is not known"),
                                    HasSubstr("plots.csv line 1: column 'block' is missing")));
}

TEST_F(PlanFolder, ATableThatIsNoTableIsToldBesideTheOthersFaults) {
  write("plots.csv", "number,block\n101\n");
  change("entries.csv", ",free,", ",none,");
  EXPECT_THAT(faults(),
              ElementsAre(HasSubstr("entries.csv line 3, column endophyte"),
                          HasSubstr("plots.csv line 2: the row has 1 cells, the header 2")));
}

TEST_F(PlanFolder, AMissingTableIsNotFound) {
  ASSERT_TRUE(files_->remove(folder_ / "plots.csv").has_value());
  const auto plan = read();
  ASSERT_FALSE(plan.has_value());
  ASSERT_EQ(plan.error().size(), 1U);
  EXPECT_EQ(plan.error()[0].kind, ErrorKind::kNotFound);
  EXPECT_THAT(plan.error()[0].where, HasSubstr("plots.csv"));
}

TEST_F(PlanFolder, ATrialTableHasOneRow) {
  std::string trial = text("trial.csv");
  const std::string header = trial.substr(0, trial.find('\n') + 1);
  write("trial.csv", trial + trial.substr(header.size()));
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("trial.csv: the table has 2 rows, not one")));
  write("trial.csv", header);
  EXPECT_THAT(faults(), Contains(HasSubstr("trial.csv: the table has 0 rows, not one")));
}

TEST_F(PlanFolder, NoticesComeWithASoundPlan) {
  change("entries.csv", ",novel,AX1,", ",novel,,");
  const auto plan = read();
  ASSERT_TRUE(plan.has_value());
  ASSERT_EQ(plan->notices.size(), 1U);
  EXPECT_THAT(one_line(plan->notices[0]),
              HasSubstr("entries.csv line 2: a novel endophyte without its strain"));
}

TEST_F(PlanFolder, EveryUniqueColumnOfTheSchemasIsHeldToIt) {
  const Plan sound = sample_plan();
  const std::vector<std::pair<std::string, TableSchema PlanSchemas::*>> tables{
      {"trial.csv", &PlanSchemas::trial},
      {"entries.csv", &PlanSchemas::entries},
      {"plots.csv", &PlanSchemas::plots},
      {"occasions.csv", &PlanSchemas::occasions}};
  int tried = 0;
  for (const auto& [name, schema] : tables) {
    for (const Field& field : (schemas_.*schema).fields) {
      if (!field.unique) continue;
      ++tried;
      ASSERT_TRUE(write_plan_folder(*files_, folder_.path(), sound, schemas_).has_value());
      // Copies the cell of the first row into the second.
      const auto table = Table::parse(text(name.c_str()), name).value();
      std::vector<std::vector<std::string>> rows;
      for (const CsvRow& row : table.rows()) rows.push_back(row.cells);
      const std::size_t at = table.find_column(field.name).value();
      rows[1][at] = rows[0][at];
      write(name.c_str(), csv_text(table.columns(), rows));
      EXPECT_THAT(faults(), Contains(HasSubstr(name + " line 3"))) << name << " " << field.name;
    }
  }
  EXPECT_EQ(tried, 4);
}

TEST_F(PlanFolder, EachActOfReadingAndWritingCanFailAndIsReported) {
  FaultyFileSystem faulty(*files_);
  ASSERT_TRUE(read_plan_folder(faulty, folder_.path(), schemas_, definitions_).has_value());
  ASSERT_EQ(faulty.acts(), 6U) << "four tables, and whether there are two more";
  for (std::size_t act = 1; act <= 6; ++act) {
    faulty.fail_at(act);
    const auto plan = read_plan_folder(faulty, folder_.path(), schemas_, definitions_);
    ASSERT_FALSE(plan.has_value());
    ASSERT_EQ(plan.error().size(), 1U);
    EXPECT_EQ(plan.error()[0].kind, ErrorKind::kIo);
  }
  faulty.fail_at(0);
  ASSERT_TRUE(write_plan_folder(faulty, folder_.path(), sample_plan(), schemas_).has_value());
  const std::size_t acts = faulty.acts();
  ASSERT_EQ(acts, 11U) << "one folder, four tables, four schemas, no others";
  for (std::size_t act = 1; act <= acts; ++act) {
    faulty.fail_at(act);
    const auto written = write_plan_folder(faulty, folder_.path(), sample_plan(), schemas_);
    ASSERT_FALSE(written.has_value()) << act;
    EXPECT_EQ(written.error().kind, ErrorKind::kIo);
  }
}

TEST_F(PlanFolder, TextsThatCannotStandInATableAreRefused) {
  for (const char* title : {"two\nlines", " blank before", "bell\x07"}) {
    Plan plan = sample_plan();
    plan.title = title;
    const auto written = write_plan_folder(*files_, folder_ / "new", plan, schemas_);
    ASSERT_FALSE(written.has_value());
    EXPECT_EQ(written.error().kind, ErrorKind::kInvalid);
    EXPECT_THAT(written.error().what, HasSubstr("title"));
  }
}

class PlanSchemaFiles : public testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(files_->make_folders(folder_ / "plan").has_value());
    for (const char* name : {"plan/trial.schema.json", "plan/entries.schema.json",
                             "plan/plots.schema.json", "plan/occasions.schema.json",
                             "plan/scores.schema.json", "plan/soil.schema.json", "soil.json"}) {
      ASSERT_TRUE(files_
                      ->copy_durably(Path(LIGULE_SOURCE_ASSETS) / name, folder_ / name,
                                     Access::kEveryone, 1U << 20U)
                      .has_value());
    }
  }
  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(PlanSchemaFiles, EveryFaultOfTheSchemasIsListed) {
  ASSERT_TRUE(load_plan_schemas(*files_, folder_.path()).has_value());
  ASSERT_TRUE(files_->remove(folder_ / "plan/trial.schema.json").has_value());
  ASSERT_TRUE(files_->remove(folder_ / "soil.json").has_value());
  ASSERT_TRUE(files_->write_durably(folder_ / "plan/plots.schema.json", "{", Access::kEveryone)
                  .has_value());
  ASSERT_TRUE(
      files_
          ->write_durably(folder_ / "plan/entries.schema.json",
                          R"({"fields": [{"name": "code", "description": "d", "type": "string"}]})",
                          Access::kEveryone)
          .has_value());
  const auto schemas = load_plan_schemas(*files_, folder_.path());
  ASSERT_FALSE(schemas.has_value());
  ASSERT_EQ(schemas.error().size(), 4U);
  EXPECT_THAT(one_line(schemas.error()[0]), HasSubstr("trial.schema.json: cannot read"));
  EXPECT_THAT(
      one_line(schemas.error()[1]),
      HasSubstr("plan/entries.schema.json: the schema does not describe the columns in use"));
  EXPECT_THAT(one_line(schemas.error()[2]), HasSubstr("plan/plots.schema.json line 1"));
  EXPECT_THAT(one_line(schemas.error()[3]), HasSubstr("soil.json: cannot read"));
}

}  // namespace
}  // namespace ligule::files
