#include "app/screens/language.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "storage/checks/rules.h"
#include "storage/checks/soil_verdict.h"
#include "storage/files/definitions.h"
#include "storage/files/soil_tables.h"
#include "storage/files/words.h"
#include "tests/app/screens/sample_views.h"

namespace ligule::screens {
namespace {

using testing::IsEmpty;

TEST(Language, ArgumentsStandWhereTheTextSays) {
  const Language words({{"a.b", "{1} of {0}, {2}"}, {"n.one", "{0} bag"}, {"n.many", "{0} bags"}});
  EXPECT_EQ(words.fill("a.b", {"x", "y"}), "y of x, {2}");
  EXPECT_EQ(words.fill(flow::Words{"a.b", {"x", "y", "z"}}), "y of x, z");
  EXPECT_EQ(words.count("n", 1), "1 bag");
  EXPECT_EQ(words.count("n", 0), "0 bags");
}

// Proves: a limit without an upper or a lower end is told by the end it has, with its unit.
TEST(Language, ALimitWithAnOpenEndHasWordsOfItsOwn) {
  const auto told = [](const Language& words, const char* rule, const char* low, const char* high) {
    return words.fill(flow::Words{rule, {"12\u00a0in", low, high}});
  };
  const Language& english = tests::english();
  EXPECT_EQ(told(english, "check.unusual", "4", "\u2026\u00a0in"),
            "12\u00a0in is unusual. Mostly it is 4\u00a0in or more.");
  EXPECT_EQ(told(english, "check.unusual", "\u2026", "18\u00a0in"),
            "12\u00a0in is unusual. Mostly it is 18\u00a0in or less.");
  EXPECT_EQ(told(english, "check.unusual", "4", "18\u00a0in"),
            "12\u00a0in is unusual. Mostly it is 4 to 18\u00a0in.");
  for (const Language* const words : {&english, &tests::spanish()}) {
    for (const char* const rule : {"check.unusual", "check.out_of_limits", "check.yield_unusual"}) {
      EXPECT_FALSE(told(*words, rule, "4", "\u2026").contains("\u2026")) << rule;
      EXPECT_FALSE(told(*words, rule, "\u2026", "18").contains("\u2026")) << rule;
    }
  }
}

TEST(Language, BracesThatAreNoPlacesStay) {
  const Language words({{"a", "{x} {0"}, {"b", "{}{-1}"}});
  EXPECT_EQ(words.fill("a", {"1"}), "{x} {0");
  EXPECT_EQ(words.fill("b", {"1"}), "{}{-1}");
}

TEST(Language, AFamilyIsGivenInOrder) {
  const Language words({{"a.c", "1"}, {"a.b", "2"}, {"ab.c", "3"}, {"b", "4"}});
  EXPECT_THAT(words.family("a."), testing::ElementsAre("b", "c"));
  EXPECT_THAT(words.family("z."), IsEmpty());
}

TEST(Language, AMissingKeyComesBackItself) {
  EXPECT_EQ(Language()("key.later"), "key.later");
}

// --- every word there, and none too many ---

std::string text_of(const std::filesystem::path& file) {
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

// The texts in quotes of everything that may name a key or the end of one.
std::set<std::string> quoted(std::initializer_list<const char*> folders) {
  std::set<std::string> found;
  const std::filesystem::path top = std::filesystem::path(LIGULE_TEST_DATA).parent_path();
  const std::regex literal("\"([^\"\\n]*)\"");
  for (const char* folder : folders)
    for (const auto& entry : std::filesystem::recursive_directory_iterator(top / folder)) {
      const auto ending = entry.path().extension();
      if (ending != ".cc" && ending != ".h" && ending != ".json") continue;
      const auto folder_name = entry.path().parent_path().filename();
      if (folder_name == "words" || folder_name == "errors") continue;
      // Comments may name keys that nobody uses.
      const std::string text =
          std::regex_replace(text_of(entry.path()), std::regex("//[^\n]*"), "");
      for (std::sregex_iterator at(text.begin(), text.end(), literal), end; at != end; ++at)
        found.insert((*at)[1]);
    }
  return found;
}

using Texts = Language::Texts;

Texts texts_of(std::string_view language) {
  const auto files = files::real_file_system();
  const auto words = files::load_words(*files, LIGULE_SOURCE_ASSETS, language);
  if (!words) ADD_FAILURE() << one_line(words.error().front());
  return words ? words->texts : Texts();
}

std::set<std::string> keys() {
  std::set<std::string> all;
  for (const auto& [key, text] : texts_of("en")) all.insert(key);
  return all;
}

bool begins(const std::set<std::string>& all, const std::string& start) {
  const auto at = all.lower_bound(start);
  return at != all.end() && at->starts_with(start);
}

TEST(EnglishWords, EveryKeyInTheSourcesIsThere) {
  const auto all = keys();
  std::set<std::string> families;
  for (const std::string& key : all) families.insert(key.substr(0, key.find('.') + 1));
  const std::regex looks_like_key("[a-z_]+\\.[a-z_.]*");
  std::vector<std::string> missing;
  for (const std::string& text : quoted({"app/screens", "app/flow"})) {
    if (!std::regex_match(text, looks_like_key)) continue;
    if (!families.contains(text.substr(0, text.find('.') + 1))) continue;
    // A key, the stem of a counted one, or the first part of one put together.
    const bool known =
        all.contains(text) || begins(all, text + ".") || (text.ends_with('.') && begins(all, text));
    if (!known) missing.push_back(text);
  }
  EXPECT_THAT(missing, IsEmpty());
}

TEST(EnglishWords, EveryKeyIsUsed) {
  const auto texts =
      quoted({"app/screens", "app/flow", "storage/checks", "storage/trial", "assets"});
  std::vector<std::string> unused;
  for (const std::string& key : keys()) {
    if (texts.contains(key)) continue;
    if (key.starts_with("note_phrase.")) continue;  // all of the family are offered
    if (key.starts_with("soil.class.")) continue;   // made of the names in soil.json
    // Put together: every part between dots stands in quotes somewhere, alone or with its dots.
    bool used = false;
    for (std::size_t dot = key.find('.'); dot != std::string::npos && !used;
         dot = key.find('.', dot + 1)) {
      const std::string front = key.substr(0, dot);
      const std::string back = key.substr(dot + 1);
      const bool front_known = texts.contains(front) || texts.contains(front + ".") ||
                               (front.starts_with("scale.") && texts.contains(front.substr(6))) ||
                               (front.starts_with("check.") && texts.contains(front.substr(6))) ||
                               front.starts_with("age.");
      const bool back_known = texts.contains(back) || texts.contains("." + back);
      used = front_known && back_known;
    }
    if (!used) unused.push_back(key);
  }
  EXPECT_THAT(unused, IsEmpty());
}

TEST(Words, WhateverASoilTestMayNameHasItsWordsInEveryLanguage) {
  const auto files = files::real_file_system();
  const SoilTables tables = files::load_soil_tables(*files, LIGULE_SOURCE_ASSETS).value();
  std::vector<std::string> keys;
  keys.reserve(tables.properties.size() + tables.extractants.size());
  for (const SoilProperty& property : tables.properties)
    keys.push_back("soil.property." + property.code);
  for (const SoilExtractant& extractant : tables.extractants)
    keys.push_back("soil.extractant." + extractant.code);
  for (const SoilClasses& classes : tables.classes)
    for (const SoilClass& each : classes.classes)
      keys.push_back("soil.class." + checks::soil_class_code(each.name));
  for (const std::string& said : quoted({"storage/checks"}))
    if (said.starts_with("soil.") && !said.ends_with('.')) keys.push_back(said);
  ASSERT_GT(keys.size(), 50U);
  for (const Language* words : {&tests::english(), &tests::spanish()})
    for (const std::string& key : keys) EXPECT_TRUE(words->has(key)) << key;
}

TEST(EnglishWords, EveryRulePhraseMarkAndFieldHasItsWords) {
  const Language& words = tests::english();
  std::vector<std::string> missing;
  const auto need = [&](const std::string& key) {
    if (!words.has(key)) missing.push_back(key);
  };
  for (const checks::Rule& rule : checks::rules()) {
    need("check." + std::string(rule.key));
    if (rule.outcome != checks::Outcome::kRefuse) need("asked." + std::string(rule.code));
    for (const checks::Phrase& phrase : rule.phrases) need("phrase." + std::string(phrase.code));
  }
  for (int mark = 0; mark <= static_cast<int>(flow::Mark::kNotSaved); ++mark)
    need("mark." + std::string(flow::name_of(static_cast<flow::Mark>(mark))));
  for (const flow::Field field :
       {flow::Field::kInitials,       flow::Field::kMachine,    flow::Field::kCutWidth,
        flow::Field::kStubble,        flow::Field::kPlot,       flow::Field::kGross,
        flow::Field::kTare,           flow::Field::kBag,        flow::Field::kSampleFresh,
        flow::Field::kSwathLength,    flow::Field::kSwathWidth, flow::Field::kCheckMass,
        flow::Field::kCheckAllowance, flow::Field::kDryBag,     flow::Field::kDryWeight,
        flow::Field::kSortPlot,       flow::Field::kSortWhole,  flow::Field::kSortBag,
        flow::Field::kSortFresh,      flow::Field::kWeedsByEye})
    need("field." + std::string(flow::name_of(field)));
  EXPECT_THAT(missing, IsEmpty());
}

TEST(EnglishWords, EveryMeasureAndStepAPersonMeetsHasItsWords) {
  const auto files = files::real_file_system();
  const auto definitions = files::load_definitions(*files, LIGULE_SOURCE_ASSETS);
  ASSERT_TRUE(definitions);
  const Language& words = tests::english();
  // No card or form shows these yet.
  const std::set<std::string> elsewhere{"bag_tare"};
  std::vector<std::string> missing;
  for (const Measure& measure : definitions->measures)
    if (!elsewhere.contains(measure.code) && !words.has("measure." + measure.code))
      missing.push_back(measure.code);
  for (const Scale& scale : definitions->scales)
    for (const ScaleStep& step : scale.steps) {
      if (step.name.empty()) continue;  // a score that names its ends only
      const std::string key = "scale." + scale.code + "." + step.code;
      if (!words.has(key)) missing.push_back(key);
    }
  EXPECT_THAT(missing, IsEmpty());
}

TEST(EnglishWords, CrewsReadNoWordsOfTheMachineRoom) {
  const std::regex inner("\\b(ledger|stream|digest|database)\\b", std::regex::icase);
  for (const auto& [key, text] : texts_of("en"))
    EXPECT_FALSE(std::regex_search(text, inner)) << key << ": " << text;
}

TEST(EnglishErrors, CrewsReadNoWordsOfTheMachineRoom) {
  const Language& words = tests::english();
  EXPECT_EQ(words.error({ErrorKind::kIo,
                         "no space is left where the ledger lies; nothing of this was kept", "",
                         "make room"}),
            "no space is left on the tablet; nothing of this was kept (make room)");
  EXPECT_EQ(words.error({ErrorKind::kIo, "the ledger is damaged (disk I/O error)", "", ""}),
            "the tablet's data are damaged (disk I/O error)");
  // What has no phrase is told as it is written.
  EXPECT_EQ(words.error({ErrorKind::kInvalid, "plot 101 stands twice", "plots.csv line 3",
                         "mend the number"}),
            "plots.csv line 3: plot 101 stands twice (mend the number)");
}

TEST(SpanishWords, CrewsReadNoWordsOfTheMachineRoom) {
  const std::regex inner("\\b(libro mayor|flujo|hash|base de datos)\\b", std::regex::icase);
  for (const auto& [key, text] : texts_of("es"))
    EXPECT_FALSE(std::regex_search(text, inner)) << key << ": " << text;
}

// --- the other languages say the same ---

// Code and texts of every language but English.
std::map<std::string, Texts> others() {
  const auto files = files::real_file_system();
  std::map<std::string, Texts> all;
  const auto codes = files::languages(*files, LIGULE_SOURCE_ASSETS).value();
  for (const std::string& code : codes)
    if (code != "en") all.emplace(code, texts_of(code));
  return all;
}

// The places in a text that the program fills, in order of number: "{0}{0}{1}".
std::string places(const std::string& text) {
  std::multiset<std::string> found;
  const std::regex place("\\{[0-9]\\}");
  for (std::sregex_iterator at(text.begin(), text.end(), place), end; at != end; ++at)
    found.insert(at->str());
  std::string all;
  for (const std::string& each : found) all += each;
  return all;
}

TEST(OtherLanguages, SpanishIsOneOfThem) {
  EXPECT_TRUE(others().contains("es"));
}

TEST(OtherLanguages, HaveTheKeysOfEnglishAndNoMore) {
  const Texts english = texts_of("en");
  for (const auto& [code, texts] : others()) {
    for (const auto& [key, text] : english) EXPECT_TRUE(texts.contains(key)) << code << ": " << key;
    for (const auto& [key, text] : texts) EXPECT_TRUE(english.contains(key)) << code << ": " << key;
  }
}

TEST(OtherLanguages, FillTheSamePlaces) {
  const Texts english = texts_of("en");
  for (const auto& [code, texts] : others())
    for (const auto& [key, text] : texts) {
      const auto at = english.find(key);
      if (at == english.end()) continue;
      EXPECT_EQ(places(text), places(at->second)) << code << ": " << key;
    }
}

TEST(OtherLanguages, LeaveNothingInEnglish) {
  // Short texts and those of signs alone may well be the same; these words are, and names of people
  // that extractants are called by.
  const std::set<std::string> same{"Vigor", "Mehlich-1", "Mehlich-3", "Bray P1", "Morgan", "Olsen"};
  const std::regex word("[A-Za-z]{4}");
  const Texts english = texts_of("en");
  for (const auto& [code, texts] : others())
    for (const auto& [key, text] : texts) {
      if (!std::regex_search(text, word) || same.contains(text)) continue;
      const auto at = english.find(key);
      if (at == english.end()) continue;
      EXPECT_NE(text, at->second) << code << ": " << key;
    }
}

// A text that lost its last sentence in translation would pass everything above: as many
// sentences, lines and colons-and-semicolons in a caution.
TEST(OtherLanguages, SayCautionsWhole) {
  const auto parts = [](const std::string& text) {
    return std::ranges::count_if(text, [](char c) { return c == '.' || c == ':'; });
  };
  const Texts english = texts_of("en");
  for (const auto& [code, texts] : others())
    for (const auto& [key, text] : english) {
      if (!key.starts_with("caution.") || !texts.contains(key)) continue;
      EXPECT_EQ(parts(texts.at(key)), parts(text)) << code << ": " << key;
    }
}

TEST(SpanishWords, CautionsNameWhatMustBeDone) {
  const Language& words = tests::spanish();
  for (const char* must : {"pare", "toma de fuerza", "apague el motor", "nada gire", "manual"})
    EXPECT_THAT(std::string(words("caution.harvest")), testing::HasSubstr(must));
  for (const char* must : {"guantes", "aire", "apague", "quemado", "manual"})
    EXPECT_THAT(std::string(words("caution.oven")), testing::HasSubstr(must));
}

}  // namespace
}  // namespace ligule::screens
