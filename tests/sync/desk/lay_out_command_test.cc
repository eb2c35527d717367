#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iomanip>
#include <map>
#include <set>
#include <sstream>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/environment.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/sync/desk/ran.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

const std::string sample_sheet =
    "what,value\nstation,HILL\nsite,north\ntrial,TF26\ntitle,Fescue\nsite_name,North farm\n"
    "zone,America/New_York\nfield,7\nsown,2026-09-10\ndrilled,yes\nplot_length,20 ft\n"
    "plot_width,5 ft\nswath_length,18 ft\nswath_width,3 ft\nbag_tare,12 g\nalley,4 ft\n"
    "border,5 ft\nspecies,tall fescue\n";
const std::string sample_list =
    "Variety,Endophyte,Check\nAlder,free,\nAlder,novel AX1,\nBirch,free,\nMill,toxic,x\n";
const std::string sample_occasions =
    "code,job,cutting,measures,due\nstand,rate,,percent_stand,+35\n"
    "cut-1,harvest,1,gross_weight sample_fresh bag_number,2027-05-10\n";

constexpr const char* kScores =
    "code,name,lowest,highest,step,best,low_word,high_word,definition,source\n"
    "texture,Texture,1,9,2,low,soft,harsh,How harsh leaves feel.,\n";
constexpr const char* kSoil =
    "property,value,unit,extractant,depth,depth_unit,lab,sampled\nph,6.4,,,,,,\n";

class LayOutCommand : public testing::Test {
 protected:
  void write(const std::string& name, const std::string& text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name.c_str(), text, files::Access::kEveryone));
  }
  Ran desk(const std::vector<std::string>& arguments, files::FileSystem& files) {
    std::ostringstream out, err;
    const int exit = run(arguments, out, err, files);
    return {exit, out.str(), err.str()};
  }
  // Lays out what stands in the folder: list.csv, sheet.csv and occasions.csv.
  Ran lay_out(const std::vector<std::string>& more, files::FileSystem& files) {
    std::vector<std::string> arguments{"lay-out",      "--entries",           folder_ / "list.csv",
                                       "--site-sheet", folder_ / "sheet.csv", "--out",
                                       plan_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments, files);
  }
  Ran lay_out(const std::vector<std::string>& more = {"--seed", "7"}) {
    return lay_out(more, *files_);
  }
  Ran laid(const std::string& lines, const std::string& list = sample_list,
           const std::vector<std::string>& more = {"--seed", "7"}) {
    write("list.csv", list);
    write("sheet.csv", sample_sheet + lines);
    write("due.csv", sample_occasions);
    std::vector<std::string> options{"--occasions", folder_ / "due.csv"};
    options.insert(options.end(), more.begin(), more.end());
    return lay_out(options);
  }
  Plan plan() {
    const auto assets = files::find_assets(*files_).value();
    const auto read =
        files::read_plan_folder(*files_, plan_, files::load_plan_schemas(*files_, assets).value(),
                                files::load_definitions(*files_, assets).value());
    EXPECT_TRUE(read.has_value()) << (read ? "" : one_line(read.error().front()));
    return read ? read->plan : Plan{};
  }
  std::string text_of(const std::string& name) {
    return files_->read(files::Path(plan_) / name, 1U << 20U).value_or("");
  }
  bool anything_written() { return files_->exists(files::Path(plan_)).value(); }

  files::TestFolder folder_;
  std::string plan_ = folder_ / "plan";
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
};

TEST_F(LayOutCommand, GivesAPlanThatIsSoundAndSaysWhatItIs) {
  const Ran ran = laid("blocks,3\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("trial HILL/north/TF26: 4 entries, design rcb, 3 blocks of 4 plots, "
                              "12 plots\nseed 7, kept in the plan"),
                    HasSubstr("ground: 3 rows of 4 plots, 30.0 ft wide, 78.0 ft deep with"),
                    HasSubstr("\n  row 3  ")));
  const Plan plan = this->plan();
  EXPECT_EQ(plan.random_seed, "7");
  EXPECT_EQ(plan.alley, (StatedLength{"4", "ft"}));
  ASSERT_THAT(plan.plots, SizeIs(12));
  EXPECT_EQ(plan.plots.front().number, "101");
  EXPECT_EQ(plan.plots.back().number, "304");
  ASSERT_THAT(plan.occasions, SizeIs(2));
  EXPECT_EQ(plan.occasions[0].year, 2026);
  EXPECT_EQ(desk({"plan-check", plan_}, *files_).exit, 0);
  EXPECT_EQ(desk({"enrol", "--ledger", folder_ / "t.ligule", "--device", "T", plan_}, *files_).exit,
            0);
}

TEST_F(LayOutCommand, DrawsTheMapAsOneSeesTheField) {
  const Ran ran = laid("blocks,2\n", "Variety,Endophyte,Code\nAlder,free,A\nBirch,free,B\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  std::map<std::string, std::string> of;
  for (const PlanPlot& plot : plan().plots) of[plot.number] = plot.entry;
  EXPECT_THAT(ran.out, HasSubstr("the last row at the top:\n  row 2    202 " + of["202"] +
                                 "  201 " + of["201"] + "\n  row 1    101 " + of["101"] + "  102 " +
                                 of["102"] + "\nwritten to"));
}

TEST_F(LayOutCommand, TheSameSeedGivesTheSameFolderAndAnotherAnother) {
  ASSERT_EQ(laid("blocks,4\n").exit, 0);
  const auto first = files_below(plan_);
  plan_ = folder_ / "again";
  ASSERT_EQ(laid("blocks,4\nrandom_seed,7\n", sample_list, {}).exit, 0) << "the sheet may keep it";
  EXPECT_EQ(files_below(plan_), first);
  plan_ = folder_ / "other";
  ASSERT_EQ(laid("blocks,4\nrandom_seed,7\n", sample_list, {"--seed", "8"}).exit, 0);
  EXPECT_NE(files_below(plan_).at("plots.csv"), first.at("plots.csv"));
}

TEST_F(LayOutCommand, WithoutASeedOneIsDrawnAndKept) {
  std::set<std::string> seeds;
  for (const char* name : {"one", "two", "three"}) {
    plan_ = folder_ / name;
    const Ran ran = laid("blocks,4\n", sample_list, {});
    ASSERT_EQ(ran.exit, 0) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("seed " + plan().random_seed));
    const auto plots = text_of("plots.csv");
    const std::string seed = plan().random_seed;
    seeds.insert(seed);
    plan_ = folder_ / (std::string(name) + " again").c_str();
    ASSERT_EQ(laid("blocks,4\n", sample_list, {"--seed", seed}).exit, 0);
    EXPECT_EQ(text_of("plots.csv"), plots);
  }
  EXPECT_EQ(seeds.size(), 3U);
}

TEST_F(LayOutCommand, CodesAreBlindUnlessTheListHasSome) {
  ASSERT_EQ(laid("blocks,3\n").exit, 0);
  std::set<std::string> codes;
  for (const PlanEntry& entry : plan().entries) {
    EXPECT_THAT(entry.code, SizeIs(3));
    codes.insert(entry.code);
  }
  EXPECT_EQ(codes.size(), 4U);
  EXPECT_EQ(plan().entries[1].label(), "Alder (novel AX1)");
}

TEST_F(LayOutCommand, OfIncompleteBlocksPrintsTheirEfficiency) {
  std::string list = "Variety,Endophyte\n";
  for (int i = 10; i < 34; ++i) list += "Line " + std::to_string(i) + ",free\n";
  const Ran ran = laid("design,alpha\nblocks,3\nincomplete_block_size,4\nplots_per_row,12\n", list);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, AllOf(HasSubstr("6 incomplete blocks of 4 plots in each block; two entries "
                                       "stand in 1 incomplete block together at most\n"
                                       "average efficiency factor 0.7"),
                             HasSubstr("no design of these sizes exceeds 0.7541")));
  EXPECT_THAT(ran.out, Not(HasSubstr("cuts incomplete blocks")));
  std::set<std::pair<int, int>> parts;
  for (const PlanPlot& plot : plan().plots) parts.insert({plot.block, plot.incomplete_block});
  EXPECT_THAT(parts, SizeIs(18));
  const Ran cut = laid("design,alpha\nblocks,3\nincomplete_block_size,4\nplots_per_row,6\n", list,
                       {"--seed", "7", "--replace"});
  ASSERT_EQ(cut.exit, 0) << cut.err;
  EXPECT_THAT(cut.out, HasSubstr("the end of a row cuts incomplete blocks in two"));
}

TEST_F(LayOutCommand, OfASquareAndOfRowsAndColumns) {
  EXPECT_EQ(laid("design,latin\n").exit, 0) << "as many blocks as entries";
  EXPECT_EQ(plan().design, "latin");
  plan_ = folder_ / "spread";
  const Ran ran = laid(
      "design,row_column\nblocks,3\nstart_corner,Back-Right\ndirection,columns\n"
      "numbering,plain\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(plan().plots.front().row, 3);
  EXPECT_EQ(plan().plots.front().column, 4);
  EXPECT_THAT(ran.out, Not(HasSubstr("touch")));
}

TEST_F(LayOutCommand, FillersFillAndAreAskedAboutWhereNobodyNamedThem) {
  Ran ran = laid("blocks,2\nplots_per_row,3\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, AllOf(HasSubstr("12 plots with 4 fillers"),
                             HasSubstr("nobody said what is sown in the fillers")));
  EXPECT_EQ(plan().entries.back().code, "FILL");
  EXPECT_EQ(plan().entries.back().role, EntryRole::kFiller);
  plan_ = folder_ / "named";
  ran = laid("blocks,2\nplots_per_row,3\n",
             "Variety,Endophyte,Role\nAlder,free,\nBirch,free,\nCorrie,free,\nRye,free,filler\n"
             "Dunlin,free,\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, Not(HasSubstr("nobody said")));
  EXPECT_THAT(plan().entries, SizeIs(5));
}

TEST_F(LayOutCommand, ACheckMayBeRepeatedInEachBlock) {
  const Ran ran = laid("blocks,3\n",
                       "Variety,Endophyte,Check,Repeats\nAlder,free,,\nBirch,free,,\n"
                       "Mill,toxic,yes,3\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  std::map<std::pair<std::string, int>, int> stands;
  for (const PlanPlot& plot : plan().plots)
    ++stands[{plan().find_entry(plot.entry)->variety, plot.block}];
  EXPECT_EQ((stands[{"Mill", 1}]), 3);
  EXPECT_EQ((stands[{"Alder", 3}]), 1);
}

TEST_F(LayOutCommand, NamesThatAreAlikeAreListed) {
  const Ran ran = laid("blocks,3\n", "Variety,Endophyte\nAlder,free\nAldor,free\nBirch,free\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("to look at: " + (folder_ / "list.csv").string() + " line 3"));
}

TEST_F(LayOutCommand, EveryFaultOfEveryFileIsToldAtOnceAndNothingWritten) {
  write("list.csv", "Variety,Endophyte\nAlder,red\n");
  write("sheet.csv", sample_sheet + "blocks,3\nhue,red\n");
  write("due.csv", "code,job,measures,due\nstand,weed,percent_stand,+1\n");
  const Ran ran = lay_out({"--occasions", folder_ / "due.csv"});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_EQ(ran.out, "");
  EXPECT_THAT(ran.err, AllOf(HasSubstr("list.csv line 2, column Endophyte: 'red'"),
                             HasSubstr("sheet.csv line 20: 'hue' is not a line"),
                             HasSubstr("due.csv line 2, column job: 'weed'")));
  EXPECT_TRUE(ran.err.ends_with("3 faults; nothing was laid out\n")) << ran.err;
  EXPECT_FALSE(anything_written());
}

TEST_F(LayOutCommand, AListOfTooFewOrTooManyEntriesIsTheListsFault) {
  EXPECT_THAT(laid("blocks,3\n", "Variety,Endophyte\n").err,
              HasSubstr("list.csv: there are fewer than two entries"));
  std::string list = "Variety,Endophyte\n";
  for (int n = 0; n < 1001; ++n) list += fmt::format("{}-{}-{},free\n", n * 7919, n, n * 104729);
  EXPECT_THAT(laid("blocks,1\n", list).err,
              HasSubstr("list.csv: there are more entries than blind codes"));
  EXPECT_FALSE(anything_written());
}

TEST_F(LayOutCommand, WhatOnlyTheWholeShowsIsToldAtItsLine) {
  Ran ran = laid("blocks,3\n", "Variety,Endophyte\nAlder,free\nBirch,free\nAlder,E-\n");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("list.csv line 4: 'Alder (endophyte-free)' is entry "));
  EXPECT_FALSE(anything_written());
  ran = laid("blocks,3\ndesign,latin\n");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("sheet.csv: a Latin square of 4 entries has 4 rows, not 3"));
}

TEST_F(LayOutCommand, LinesOfTheLayOutThatCannotBeMeantAreFaults) {
  const Ran ran = laid(
      "blocks,none\nstart_corner,middle\ndirection,up\nnumbering,round\n"
      "plots_per_row,0\n");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err,
              AllOf(HasSubstr("sheet.csv line 19: 'none' is no number of blocks"),
                    HasSubstr("line 20: 'middle' is no start_corner (use one of: front left"),
                    HasSubstr("line 21: 'up' is no direction"),
                    HasSubstr("line 22: 'round' is no numbering"),
                    HasSubstr("line 23: '0' is no number of plots_per_row")));
  EXPECT_THAT(laid("design,alpha\n").err,
              AllOf(HasSubstr("the line 'blocks' is missing"),
                    HasSubstr("the line 'incomplete_block_size' is missing")));
}

TEST_F(LayOutCommand, ATrialThatTheFieldCannotHoldIsAFault) {
  const std::string lines = "blocks,3\nfield width,30 ft\n";
  EXPECT_EQ(laid(lines + "field depth,78 ft\n").exit, 0) << "it fits to the foot";
  plan_ = folder_ / "other";
  const Ran ran = laid("blocks,3\nfield width,8 m\nfield depth,77.9 ft\n");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(
      ran.err,
      AllOf(HasSubstr("sheet.csv line 20: the trial is 9.1 m wide with alleys and border, "
                      "1.144 m more than the field (8 m) (make plots_per_row"),
            HasSubstr("sheet.csv line 21: the trial is 78.0 ft deep with alleys and border, 0.1 "
                      "ft more than the field (77.9 ft)")));
  EXPECT_THAT(laid("blocks,3\nfield width,wide\nfield depth,-7 ft\n").err,
              AllOf(HasSubstr("'wide' is no size of a field (write a number and its unit"),
                    HasSubstr("'-7 ft' is no size of a field")));
  EXPECT_FALSE(anything_written());
}

// As plan-check does, at once.
TEST_F(LayOutCommand, RatesAndSoilAreToldAsPlanCheckTellsThem) {
  write("ground.csv",
        "property,value,unit,extractant,depth,depth_unit,lab,sampled\n"
        "ph,6.4,,,6,in,Lab,2026-08-01\n");
  const Ran ran =
      laid("blocks,3\n", "Variety,Endophyte,Rate (lb/acre)\nAlder,free,1500\nBirch,free,14\n",
           {"--seed", "7", "--soil", folder_ / "ground.csv"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const Ran check = desk({"plan-check", plan_}, *files_);
  EXPECT_THAT(ran.out, AllOf(HasSubstr("1500 lb/acre"), HasSubstr("soil: pH 6.4: for tall fescue"),
                             HasSubstr("soil: No amounts are prescribed")));
  EXPECT_THAT(check.out, AllOf(HasSubstr("1500 lb/acre"), HasSubstr("soil: pH 6.4")));
}

TEST_F(LayOutCommand, ASeedIsAWholeNumber) {
  for (const char* seed : {"-1", "seven", "1234567890123456789"}) {
    const Ran ran = laid("blocks,3\n", sample_list, {"--seed", seed});
    EXPECT_EQ(ran.exit, 2);
    EXPECT_THAT(ran.err, HasSubstr("is no seed"));
  }
}

TEST_F(LayOutCommand, AFolderWithAPlanIsLeftAloneUnlessToldOtherwise) {
  ASSERT_EQ(laid("blocks,3\n").exit, 0);
  const auto before = files_below(plan_);
  Ran ran = laid("blocks,4\n");
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("a plan is there already"), HasSubstr("revised")));
  EXPECT_EQ(files_below(plan_), before);

  write("plan/soil.csv", kSoil);
  write("plan/scores.csv", kScores);
  write("list.csv", sample_list);
  write("sheet.csv", sample_sheet + "blocks,4\n");
  ran = lay_out({"--seed", "7", "--replace"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(plan().plots, SizeIs(16));
  EXPECT_THAT(plan().occasions, SizeIs(2)) << "stay where no others are given";
  EXPECT_THAT(plan().scores, SizeIs(1));
  EXPECT_THAT(plan().soil, SizeIs(1));
}

TEST_F(LayOutCommand, ATableOfOccasionsMayNameTheProgramsOwnScores) {
  write("list.csv", sample_list);
  write("sheet.csv", sample_sheet + "blocks,3\n");
  write("due.csv", "code,job,measures,due\ntextures,rate,texture,+35\n");
  write("texture.csv", kScores);
  write("ground.csv", kSoil);
  const std::vector<std::string> due{"--occasions", folder_ / "due.csv", "--seed", "7"};
  const Ran without = lay_out(due);
  EXPECT_EQ(without.exit, 1);
  EXPECT_THAT(without.err, HasSubstr("one of scores.csv"));
  std::vector<std::string> all = due;
  all.insert(all.end(), {"--scores", folder_ / "texture.csv", "--soil", folder_ / "ground.csv"});
  const Ran ran = lay_out(all);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  ASSERT_THAT(plan().scores, SizeIs(1));
  EXPECT_EQ(plan().scores[0].code, "texture");
  EXPECT_THAT(plan().soil, SizeIs(1));
  EXPECT_EQ(desk({"enrol", "--ledger", folder_ / "t.ligule", "--device", "T", plan_}, *files_).exit,
            0);
}

// Proves: who puts tables into the folder first loses nothing.
TEST_F(LayOutCommand, TablesThatLieInTheFolderGoIntoThePlan) {
  ASSERT_TRUE(files_->make_folders(files::Path(plan_)));
  write("plan/scores.csv", kScores);
  write("plan/soil.csv", kSoil);
  write("plan/occasions.csv", "code,job,measures,due\ntextures,rate,texture,+35\n");
  write("list.csv", sample_list);
  write("sheet.csv", sample_sheet + "blocks,3\n");
  const Ran ran = lay_out();
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(plan().scores, SizeIs(1));
  EXPECT_THAT(plan().soil, SizeIs(1));
  ASSERT_THAT(plan().occasions, SizeIs(1));
  EXPECT_EQ(plan().occasions[0].year, 2026);
}

TEST_F(LayOutCommand, FaultsOfScoresAndSoilAreToldAtTheirLinesAndNothingWritten) {
  write("list.csv", sample_list);
  write("sheet.csv", sample_sheet + "blocks,3\n");
  write("texture.csv", std::string(kScores) + "lush,Lush,9,1,2,low,a,b,What.,\n");
  write("ground.csv", std::string(kSoil) + "ph,66,,,,,,\n");
  write("empty.csv", "code\n");
  Ran ran = lay_out({"--scores", folder_ / "texture.csv", "--soil", folder_ / "ground.csv"});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("texture.csv line 3"), HasSubstr("ground.csv line 3")));
  ran = lay_out({"--scores", folder_ / "empty.csv", "--soil", folder_ / "none.csv"});
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("empty.csv"), HasSubstr("none.csv")));
  EXPECT_FALSE(anything_written());
}

TEST_F(LayOutCommand, WhatMayBeEnrolledIsNeverReplaced) {
  ASSERT_EQ(laid("blocks,3\n").exit, 0);
  std::string trial = text_of("trial.csv");
  write("plan/trial.csv", trial.replace(trial.find("TF26"), 4, "TF25"));
  EXPECT_THAT(laid("blocks,3\n", sample_list, {"--replace"}).err,
              HasSubstr("another trial is there"));
  trial.replace(trial.find("TF25"), 4, "TF26");
  ASSERT_TRUE(trial.ends_with(",,\r\n"));
  write("plan/trial.csv", trial.substr(0, trial.size() - 3) + std::string(64, 'a') + ",lost\r\n");
  EXPECT_THAT(laid("blocks,3\n", sample_list, {"--replace"}).err, HasSubstr("revises one"));
  write("plan/trial.csv", "station\n");
  const Ran ran = laid("blocks,3\n", sample_list, {"--replace"});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, HasSubstr("nothing was laid out"));
}

TEST_F(LayOutCommand, AFileThatIsNotThereOrADiskThatFailsIsToldAndTwo) {
  const Ran ran = lay_out();
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("list.csv"), HasSubstr("sheet.csv")));
  write("list.csv", sample_list);
  write("sheet.csv", sample_sheet + "blocks,3\n");
  files::FaultyFileSystem faulty(*files_);
  ASSERT_EQ(lay_out({"--seed", "7"}, faulty).exit, 0);
  const std::size_t acts = faulty.acts();
  for (std::size_t act = 1; act <= acts; ++act) {
    plan_ = folder_ / ("plan " + std::to_string(act)).c_str();
    faulty.fail_at(act, /*and_after=*/true);
    const Ran failed = lay_out({"--seed", "7"}, faulty);
    EXPECT_EQ(failed.exit, 2) << act << failed.err;
    EXPECT_THAT(failed.err, Not(IsEmpty())) << act;
  }
}

// The words of a line of the shell, quotes taken off, files put where a test may read and write.
std::vector<std::string> words_of(const std::string& line, const std::string& folder) {
  std::vector<std::string> words;
  std::istringstream in(line);
  for (std::string word; in >> std::quoted(word);) {
    if (word.starts_with("demo-plots/"))
      word.insert(0, std::string(LIGULE_TEST_DATA) + "/../");
    else if (word.starts_with("plans/") || word.ends_with(".html") || word.ends_with(".ligule"))
      word.insert(0, folder + "/");
    words.push_back(word);
  }
  return words;
}

// What the README tells a trial lead to paste, line by line.
TEST_F(LayOutCommand, TheExampleOfTheReadmeWorksAsItStands) {
  std::ifstream readme(std::string(LIGULE_TEST_DATA) + "/../README.md");
  std::string line, command, told;
  while (std::getline(readme, line) && line != "## Before the season") {
  }
  std::vector<std::string> names;
  while (std::getline(readme, line) && !line.starts_with("    build/ligule --ledger")) {
    if (!line.starts_with("    ")) continue;
    command += line;
    if (command.ends_with('\\')) {
      command.pop_back();
      continue;
    }
    std::vector<std::string> words = words_of(command, folder_ / "");
    command.clear();
    ASSERT_EQ(words.front(), "build/ligule-desk");
    words.erase(words.begin());
    names.push_back(words.front());
    const Ran ran = desk(words, *files_);
    EXPECT_EQ(ran.exit, 0) << ran.err;
    told += ran.out;
  }
  EXPECT_THAT(names, ElementsAre("lay-out", "planting-list", "labels", "labels", "enrol"));
  EXPECT_THAT(told,
              AllOf(HasSubstr("10 entries, design row_column, 4 blocks of 11 plots"),
                    HasSubstr("passed over: Entrant"), HasSubstr("seed lot CO-220 is 9 g short"),
                    Not(HasSubstr("touch")), Not(HasSubstr("no packet weight"))));
  plan_ = folder_ / "plans/TF26";
  EXPECT_THAT(plan().occasions, SizeIs(5));
  const Ran check = desk({"plan-check", plan_}, *files_);
  EXPECT_EQ(check.exit, 0) << check.err;
  EXPECT_EQ(check.out.find("to look at"), std::string::npos) << check.out;
}

}  // namespace
}  // namespace ligule::desk
