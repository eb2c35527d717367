#include "storage/files/soil_tables.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "storage/files/definitions.h"
#include "tests/storage/files/definition_files.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr std::string_view kSoundSoil = R"({"about": "a",
 "extractants": [{"code": "m3", "name": "M-3", "also": ["third"]}],
 "properties": [{"code": "p", "name": "P", "units": ["ppm", "lb/acre"], "ask_above": 300, "source": "s"},
                {"code": "ph", "name": "pH", "units": [], "refuse_below": 3, "source": "s"}],
 "classes": [{"property": "p", "unit": "lb/acre", "extractant": "m3", "optimum": "high",
              "classes": [{"name": "low", "from": 0}, {"name": "high", "from": 72}], "source": "s"}],
 "ranges": [{"property": "ph", "species": ["alfalfa"], "from": 6.5, "to": 7, "extractants": [], "source": "s"}],
 "checks": [{"property": "p", "group": "grass", "stand": "a stand", "unit": "lb/acre", "unit_assumed": true,
             "minimum": 30, "target": 60, "extractants": ["m3"], "source": "s"}]})";

class SoilTablesFile : public testing::Test {
 protected:
  Checked<SoilTables> read(std::string_view text) {
    EXPECT_TRUE(files_->write_durably(folder_ / "soil.json", text, Access::kEveryone).has_value());
    return load_soil_tables(*files_, folder_.path());
  }
  // Of the sound file with one place spoilt.
  std::vector<std::string> faults(std::string_view from, std::string_view to) {
    std::string text(kSoundSoil);
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    if (at != std::string::npos) text.replace(at, from.size(), to);
    const auto tables = read(text);
    return tables ? std::vector<std::string>{} : lines(tables.error());
  }

  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(SoilTablesFile, TheProgramsOwnAreSoundAndOfItsSpecies) {
  const auto tables = load_soil_tables(*files_, LIGULE_SOURCE_ASSETS);
  ASSERT_TRUE(tables.has_value()) << one_line(tables.error().front());
  const Definitions definitions = load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  for (const SoilRange& range : tables->ranges)
    for (const std::string& species : range.species)
      EXPECT_NE(definitions.find_species(species), nullptr) << species;
  for (const SoilCheck& check : tables->checks)
    EXPECT_THAT(definitions.species, Contains(testing::Field(&Species::group, check.group)));
  for (const char* wanted : {"ph", "p", "k", "mg", "ca", "organic_matter"})
    EXPECT_NE(tables->property(wanted), nullptr) << wanted;
}

TEST_F(SoilTablesFile, AnExtractantIsKnownHoweverItIsWritten) {
  const SoilTables tables = load_soil_tables(*files_, LIGULE_SOURCE_ASSETS).value();
  for (const char* written : {"mehlich_3", "Mehlich-3", "MEHLICH 3", "m3", "Mehlich3"}) {
    const SoilExtractant* const known = tables.extractant(written);
    ASSERT_NE(known, nullptr) << written;
    EXPECT_EQ(known->code, "mehlich_3");
  }
  EXPECT_EQ(tables.extractant("mehlich"), nullptr);
  EXPECT_EQ(tables.extractant(""), nullptr);
}

TEST_F(SoilTablesFile, ReadsWhatStandsThere) {
  const auto tables = read(kSoundSoil);
  ASSERT_TRUE(tables.has_value()) << one_line(tables.error().front());
  EXPECT_EQ(tables->property("p")->ask_above, 300);
  EXPECT_EQ(tables->property("p")->ask_below, std::nullopt);
  EXPECT_EQ(tables->property("q"), nullptr);
  EXPECT_EQ(tables->extractant("Third")->code, "m3");
  EXPECT_EQ(tables->classes[0].classes[1], (SoilClass{"high", 72}));
  EXPECT_EQ(tables->ranges[0].to, 7);
  EXPECT_EQ(tables->checks[0].target, 60);
}

TEST_F(SoilTablesFile, NothingStandsThereWithoutASource) {
  const std::string text(kSoundSoil);
  const std::string source = R"("source": "s")";
  std::size_t sources = 0;
  for (std::size_t at = text.find(source); at != std::string::npos;
       at = text.find(source, at + 1)) {
    ++sources;
    for (const char* without : {R"("source": " ")", R"("source": 1)"}) {
      const auto tables = read(std::string(text).replace(at, source.size(), without));
      ASSERT_FALSE(tables.has_value()) << at;
      EXPECT_THAT(lines(tables.error()), ElementsAre(HasSubstr("no source is named")));
    }
  }
  EXPECT_EQ(sources, 5U);
  EXPECT_THAT(faults(R"(, "source": "s"},)", "},"),
              ElementsAre(HasSubstr("soil.json, properties, item 1: no source is named")));
}

TEST_F(SoilTablesFile, EveryFaultOfARowIsToldWithItsPlace) {
  EXPECT_THAT(faults("", ""), IsEmpty());
  EXPECT_THAT(faults(R"("about")", R"("abut")"),
              ElementsAre(HasSubstr("soil.json: 'abut' is not known here")));
  EXPECT_THAT(faults(R"("also": ["third"])", R"("also": "third")"),
              ElementsAre(HasSubstr("extractants, item 1: 'also' should be a list of texts")));
  EXPECT_THAT(faults(R"("also": ["third"])", R"("also": [3])"),
              ElementsAre(HasSubstr("'also' should be a list of texts")));
  EXPECT_THAT(faults(R"("name": "P")", R"("name": 7)"),
              ElementsAre(HasSubstr("properties, item 1: 'name' should be a text")));
  EXPECT_THAT(faults(R"("code": "ph")", R"("code": "p")"),
              Contains(HasSubstr("properties, item 2: 'p' stands twice")));
  EXPECT_THAT(faults(R"("code": "ph")", R"("code": "p h")"),
              Contains(HasSubstr("'p h' is not a usable code")));
  EXPECT_THAT(faults(R"("ask_above": 300)", R"("ask_above": "300")"),
              ElementsAre(HasSubstr("'ask_above' should be a number")));
  EXPECT_THAT(faults(R"("ask_above": 300)", R"("ask_above": 300, "refuse_above": 300)"),
              ElementsAre(HasSubstr("its numbers are out of order (from 'refuse_below'")));
  EXPECT_THAT(faults(R"("unit_assumed": true)", R"("unit_assumed": 1)"),
              ElementsAre(HasSubstr("checks, item 1: 'unit_assumed' should be true or false")));
  EXPECT_THAT(faults(R"({"code": "m3", "name": "M-3", "also": ["third"]})", "3"),
              Contains(HasSubstr("extractants, item 1: this should be an object")));
}

TEST_F(SoilTablesFile, ATableIsOfWhatTheFileLists) {
  EXPECT_THAT(faults(R"("property": "p", "unit")", R"("property": "q", "unit")"),
              ElementsAre(HasSubstr("classes, item 1: property 'q' is not defined")));
  EXPECT_THAT(faults(R"("unit": "lb/acre")", R"("unit": "%")"),
              ElementsAre(HasSubstr("'%' is no unit of P")));
  EXPECT_THAT(faults(R"("property": "ph")", R"("property": "p")"),
              ElementsAre(HasSubstr("ranges, item 1: '' is no unit of P")));
  EXPECT_THAT(faults(R"("extractant": "m3")", R"("extractant": "m4")"),
              ElementsAre(HasSubstr("extractant 'm4' is not defined")));
  EXPECT_THAT(faults(R"("extractants": ["m3"])", R"("extractants": ["m4"])"),
              ElementsAre(HasSubstr("checks, item 1: extractant 'm4' is not defined")));
  EXPECT_THAT(faults(R"("optimum": "high")", R"("optimum": "higher")"),
              ElementsAre(HasSubstr("'higher' is none of its classes")));
  EXPECT_THAT(faults(R"("from": 72)", R"("from": 0)"),
              ElementsAre(HasSubstr("each class begins above the one before")));
  EXPECT_THAT(faults(R"([{"name": "low", "from": 0}, {"name": "high", "from": 72}])", "[]"),
              Contains(HasSubstr("'classes' should be a list with at least one class")));
  EXPECT_THAT(faults(R"("to": 7,)", R"("to": 6.5,)"),
              ElementsAre(HasSubstr("'from' is less than 'to'")));
  EXPECT_THAT(faults(R"("target": 60)", R"("target": 30)"),
              ElementsAre(HasSubstr("'minimum' is less than 'target'")));
}

TEST_F(SoilTablesFile, AFileThatIsNoneIsTold) {
  EXPECT_THAT(lines(load_soil_tables(*files_, folder_.path()).error()),
              ElementsAre(HasSubstr("soil.json: cannot read")));
  EXPECT_THAT(lines(read("{\n\"about\" 1}").error()), ElementsAre(HasSubstr("soil.json line 2")));
  EXPECT_THAT(lines(read("[]").error()),
              ElementsAre(HasSubstr("soil.json: this should be an object")));
  EXPECT_THAT(lines(read(R"({"classes": {}})").error()),
              Contains(HasSubstr("soil.json: the list 'classes' is missing")));
}

}  // namespace
}  // namespace ligule::files
