// What is wrong, in Spanish: every fault of the faulty plans that tests try, and the screens that
// show errors.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>
#include <set>

#include "app/screens/screens.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_check.h"
#include "storage/files/plan_folder.h"
#include "storage/files/words.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/files/faulty_plans.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder
using files::Faults;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

// Words of three letters and more outside single quotes that are no code, file or unit.
std::set<std::string> words_of(std::string text) {
  text = std::regex_replace(text, std::regex("'[^']*'"), " ");
  text = std::regex_replace(text, std::regex("[A-Za-z0-9/]*[-_./0-9][A-Za-z0-9_./-]*"), " ");
  std::set<std::string> words;
  const std::regex word("[A-Za-z]{3,}");
  for (std::sregex_iterator at(text.begin(), text.end(), word), end; at != end; ++at)
    words.insert(at->str());
  return words;
}

// Codes that stand in a plan's tables as they are, names of columns, and words that are the same.
const std::set<std::string>& kept_words() {
  static const std::set<std::string> kept{
      "control", "number", "use",     "decimal", "alfalfa", "timothy", "station", "site",  "trial",
      "zone",    "field",  "sown",    "drilled", "species", "entry",   "row",     "code",  "lowest",
      "highest", "path",   "texture", "note",    "cut",     "rcb",     "crd",     "latin", "novel",
      "free",    "toxic",  "test",    "check",   "filler",  "rate",    "harvest", "high",  "low",
      "none",    "true",   "false",   "plan",    "CSV",     "UTF",     "JSON",    "rep",   "bytes",
      "not",     "stated", "plot",    "wet",     "variety", "strain",  "alpha"};
  return kept;
}

// English words that are left in what a Spanish screen says of an error.
std::vector<std::string> english_left(const Error& error) {
  const std::string said = spanish().error(error);
  const auto there = words_of(said);
  std::vector<std::string> left;
  for (const std::string& word : words_of(error.what + " " + error.mend))
    if (there.contains(word) && !kept_words().contains(word))
      left.push_back(std::string(word).append(": ").append(said));
  return left;
}

class SpanishFaults : public testing::Test {
 protected:
  void SetUp() override {
    definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
    schemas_ = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
    const auto read = files::load_phrases(*files_, LIGULE_SOURCE_ASSETS, "es").value();
    book_ = PhraseBook::make(read.texts, read.places, "errors/es.json").value();
    renew();
  }
  void renew() {
    ASSERT_TRUE(
        files::write_plan_folder(*files_, folder_.path(), sample_plan(), schemas_).has_value());
  }
  void write(const char* name, std::string_view text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, files::Access::kEveryone).has_value());
  }
  void change(const char* name, std::string_view from, std::string_view to) {
    std::string bytes = files_->read(folder_ / name, 1U << 20U).value();
    ASSERT_NE(bytes.find(from), std::string::npos) << from;
    write(name, bytes.replace(bytes.find(from), from.size(), to));
  }
  Faults read() {
    const auto plan = files::read_plan_folder(*files_, folder_.path(), schemas_, definitions_);
    return plan ? plan->notices : plan.error();
  }
  // Every fault has its phrases, and no English is left in them.
  void expect_spanish(const Faults& faults, std::string_view name) {
    EXPECT_THAT(faults, Not(IsEmpty())) << name;
    for (const Error& fault : faults) {
      EXPECT_TRUE(book_.text(fault.what)) << name << ": " << fault.what;
      if (!fault.mend.empty()) {
        EXPECT_TRUE(book_.text(fault.mend)) << name << ": " << fault.mend;
      }
      if (fault.where.find(' ') != std::string::npos) {
        EXPECT_TRUE(book_.place(fault.where)) << name << ": " << fault.where;
      }
      EXPECT_THAT(english_left(fault), IsEmpty()) << name << ": " << one_line(fault);
    }
    tried_ += faults.size();
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  files::TestFolder folder_;
  Definitions definitions_;
  files::PlanSchemas schemas_;
  PhraseBook book_;
  std::size_t tried_ = 0;
};

TEST_F(SpanishFaults, OfAPlanThatCannotBeMeant) {
  for (const files::SpoiltPlan& spoilt : files::spoilt_plans()) {
    Plan plan = sample_plan();
    spoilt.spoil(plan);
    expect_spanish(files::check_plan(plan, definitions_).faults, spoilt.name);
  }
  EXPECT_GT(tried_, 40U);
}

TEST_F(SpanishFaults, OfABadCell) {
  for (const files::BadCell& bad : files::bad_cells()) {
    renew();
    change(bad.table, bad.from, bad.to);
    expect_spanish(read(), bad.wanted);
  }
}

TEST_F(SpanishFaults, OfEveryEmptyCellThatIsNeeded) {
  for (const auto& [name, schema] : {std::pair{"trial.csv", &files::PlanSchemas::trial},
                                     std::pair{"entries.csv", &files::PlanSchemas::entries},
                                     std::pair{"plots.csv", &files::PlanSchemas::plots},
                                     std::pair{"occasions.csv", &files::PlanSchemas::occasions},
                                     std::pair{"scores.csv", &files::PlanSchemas::scores}}) {
    std::string text;
    std::string row;
    for (const files::Field& field : (schemas_.*schema).fields) {
      text += text.empty() ? "" : ",";
      text += field.name;
      row += row.empty() ? "\"\"" : ",";
    }
    text += "\r\n";
    text += row;
    text += "x\r\n";
    renew();
    write(name, text);
    expect_spanish(read(), name);
  }
  EXPECT_GT(tried_, 25U);
}

TEST_F(SpanishFaults, OfScoresAndBlocks) {
  write("scores.csv",
        "code,name,lowest,highest,step,best,low_word,high_word,definition,source\r\n"
        "texture,Leaf texture,1,9,2,low,soft,harsh,How harsh.,\r\n"
        "b,Bee,5,5,,high,a,b,d,\r\nc,Sea,0,10,3,high,a,b,d,\r\nd,Dee,0,30,,high,a,b,d,\r\n"
        "lodging,Lie,1,9,,high,a,b,d,\r\ntexture,Again,1,9,,high,a,b,d,\r\n");
  expect_spanish(read(), "scores");
  Plan plan = sample_plan();
  plan.plots.push_back({"104", 1, "A", 1, 4, 10});
  expect_spanish(files::check_plan(plan, definitions_).faults, "twice in a block");
  plan = sample_plan();
  plan.plots[0].entry = "Z";
  expect_spanish(files::check_plan(plan, definitions_).faults, "unknown entry");
  plan.entries.clear();
  plan.plots.clear();
  expect_spanish(files::check_plan(plan, definitions_).faults, "nothing in it");
  plan = sample_plan();
  std::erase_if(plan.plots, [](const PlanPlot& p) { return p.block > 1; });
  plan.entries[0].strain.clear();
  plan.entries[1].endophyte = Endophyte::kNotStated;
  plan.occasions[0].due = date::year{2026} / 1 / 10;
  expect_spanish(files::check_plan(plan, definitions_).notices, "notices");
}

// What is asked of seed, as a plan is loaded: every notice of entry_check.h, with its place in the
// plan's tables.
TEST_F(SpanishFaults, OfTheSeedOfEntries) {
  using date::year;
  using Spoil = void (*)(std::vector<PlanEntry>&);
  const std::vector<std::pair<const char*, Spoil>> asked{
      {"no status", [](auto& e) { e[0].endophyte = Endophyte::kNotStated, e[0].strain.clear(); }},
      {"no strain", [](auto& e) { e[0].strain.clear(); }},
      {"strain in the variety", [](auto& e) { e[1].variety = "Old Mill AX1"; }},
      {"percent without date", [](auto& e) { e[1].endophyte_percent = "1"; }},
      {"date without percent", [](auto& e) { e[1].endophyte_tested = year{2024} / 8 / 1; }},
      {"tested before harvest",
       [](auto& e) {
         e[0].endophyte_percent = "95";
         e[0].endophyte_tested = year{2024} / 5 / 1;
       }},
      {"carried by too few",
       [](auto& e) {
         e[0].endophyte_percent = "10";
         e[0].endophyte_tested = year{2024} / 8 / 1;
       }},
      {"found in what is free",
       [](auto& e) {
         e[1].endophyte_percent = "60";
         e[1].endophyte_tested = year{2024} / 8 / 1;
       }},
      {"harvest not stated", [](auto& e) { e[0].seed_harvested.reset(); }},
      {"old seed", [](auto& e) { e[0].seed_harvested = year{2022} / 7 / 1; }},
      {"germination", [](auto& e) { e[0].germination = "20"; }},
      {"purity", [](auto& e) { e[0].purity = "20"; }},
      {"seed lot twice", [](auto& e) { e[2].seed_lot = e[0].seed_lot; }},
      {"spelled otherwise", [](auto& e) { e[2].variety = "Alder-brook"; }},
      {"number written otherwise",
       [](auto& e) { e[1].variety = "Corrowen II", e[2].variety = "Corrowen 2"; }},
      {"a letter away", [](auto& e) { e[2].variety = "Elder Brook"; }}};
  for (const auto& [name, spoil] : asked) {
    Plan plan = sample_plan();
    spoil(plan.entries);
    expect_spanish(files::check_plan(plan, definitions_).notices, name);
    ASSERT_TRUE(files::write_plan_folder(*files_, folder_.path(), plan, schemas_).has_value());
    const auto loaded = files::read_plan_folder(*files_, folder_.path(), schemas_, definitions_);
    ASSERT_TRUE(loaded.has_value()) << name;
    expect_spanish(loaded->notices, name);
  }
  EXPECT_GE(tried_, 2 * asked.size());
}

TEST_F(SpanishFaults, OfTablesThatAreNone) {
  for (const char* text :
       {"", "number;block\r\n1;2\r\n", "number,block\r\n101\r\n", "number,,number\r\n1,2,3\r\n",
        "number\r\n\"101\r\n", "num\"ber\"\r\n1\r\n", "number\r\n\xff\r\n", "number\r\n\x01\r\n"}) {
    write("plots.csv", text);
    expect_spanish(read(), text);
  }
  ASSERT_TRUE(files_->remove(folder_ / "plots.csv").has_value());
  expect_spanish(read(), "a table that is not there");
  write("plots.csv", "number,block,entry,row,column\r\n101,1,A,1,1\r\n");
  expect_spanish(read(), "a column that is not there");
  std::string trial = files_->read(folder_ / "trial.csv", 1U << 20U).value();
  write("trial.csv", trial + trial.substr(trial.find('\n') + 1));
  expect_spanish(read(), "two trials");
}

TEST_F(SpanishFaults, OfADiskThatFails) {
  files::FaultyFileSystem faulty(*files_);
  for (std::size_t act = 1; act <= 5; ++act) {
    faulty.fail_at(act);
    const auto plan = files::read_plan_folder(faulty, folder_.path(), schemas_, definitions_);
    ASSERT_FALSE(plan.has_value());
    expect_spanish(plan.error(), "act " + std::to_string(act));
  }
}

TEST(SpanishErrors, AreWholeSentencesOfTheTrade) {
  EXPECT_EQ(spanish().error({ErrorKind::kInvalid, "bag_tare: 'stone' is not a unit of weight",
                             "trial.csv line 2", "use one of kg, g, lb, oz"}),
            "trial.csv línea 2: bag_tare: 'stone' no es una unidad de peso (use una de: kg, g, lb, "
            "oz)");
  EXPECT_EQ(
      spanish().error({ErrorKind::kInvalid, "plot 204 stands twice",
                       "plots.csv line 9, column number",
                       "first at plots.csv line 4; keep one of them"}),
      "plots.csv línea 9, columna number: la parcela 204 está dos veces (primero en plots.csv "
      "línea 4; deje solo una)");
  EXPECT_EQ(spanish().error(
                {ErrorKind::kConflict, "another plan is enrolled for trial TF24 at site CREEK", "",
                 "if this plan revises it, name it as the parent: " + std::string(64, '7')}),
            "ya hay otro plan para el ensayo TF24 en el sitio CREEK (si este plan lo revisa, "
            "nómbrelo en parent: 77777777…)");
  EXPECT_EQ(
      spanish().error({ErrorKind::kIo, "the disk failed; nothing of this was kept (disk I/O error)",
                       "/x.ledger", "do it again; if it fails again, restart the program"}),
      "/x.ledger: el disco falló; nada de esto se guardó (hágalo otra vez; si falla de nuevo, "
      "reinicie el programa)");
}

TEST(SpanishErrors, ReadNoWordsOfTheMachineRoom) {
  const auto files = files::real_file_system();
  const auto phrases = files::load_phrases(*files, LIGULE_SOURCE_ASSETS, "es").value();
  const std::regex inner("\\b(libro mayor|flujo|hash|base de datos)\\b", std::regex::icase);
  for (const auto& [english, said] : phrases.texts)
    EXPECT_FALSE(std::regex_search(said, inner)) << english << ": " << said;
}

// --- the screens ---

class SpanishScreens : public testing::TestWithParam<Device> {
 protected:
  // Where it is stands before it or after it, or not at all where there is no room.
  static std::string shown(Error error) {
    error.where.clear();
    return spanish().error(error);
  }
  // All that a Spanish screen says, and none of the error's English in it.
  void check(const flow::View& view, const flow::Overlay& overlay, const Error& error,
             const std::string& name, std::string said = {}) {
    if (said.empty()) said = shown(error);
    Glass glass(GetParam(), {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    const auto& seen =
        glass.show([&](touch::Ui& ui) { draw(ui, spanish(), view, overlay, scratch, out); });
    EXPECT_THAT(touch::geometry_faults(seen), IsEmpty()) << name;
    std::string all;
    for (const touch::Widget& widget : seen.widgets)
      all += widget.label + "\n" + widget.value + "\n";
    const auto there = words_of(all);
    for (const std::string& word : words_of(error.what + " " + error.mend))
      EXPECT_FALSE(there.contains(word)) << name << ": " << word;
    EXPECT_THAT(all, HasSubstr(said)) << name;
    glass.save("es-" + name + "-" + std::string(GetParam().name));
  }
};

TEST_P(SpanishScreens, SayAPlansFaults) {
  const flow::TrialsView view = plan_faulty();
  check(view, {}, std::get<flow::PlanFaultyView>(view.page).faults.front(), "plan-faulty");
}

TEST_P(SpanishScreens, SayWhyADayIsNotSealedOrCopied) {
  check(days_end_not_sealed(), {}, *days_end_not_sealed().seal.error, "days-end-not-sealed");
  check(days_end_failed(), {}, *days_end_failed().copy.error, "days-end-failed");
}

TEST_P(SpanishScreens, SayWhyNothingWasKept) {
  check(sample_rate(1), unsaved_overlay(), unsaved_overlay().unsaved->error, "unsaved");
}

TEST_P(SpanishScreens, SayWhySomethingCouldNotBeOpened) {
  flow::Overlay overlay;
  const Error error{ErrorKind::kDamaged, "a record can't be read: the record has not 29 columns",
                    "/home/field/ligule.ledger",
                    "leave the ledger as it is; run ligule-desk ledger-check on it"};
  overlay.notice = flow::NoticeView{{"notice.load_failed", {}}, error};
  // A notice has the room of a head only: what it says first stays.
  check(busy_today(), overlay, error, "notice", "un registro no se puede leer: ");
}

INSTANTIATE_TEST_SUITE_P(Tablets, SpanishScreens,
                         testing::Values(kDevices[0], kDevices[1], kDevices[2]),
                         [](const auto& tablet) {
                           std::string name(tablet.param.name);
                           std::ranges::replace(name, '-', '_');
                           return name;
                         });

}  // namespace
}  // namespace ligule::screens
