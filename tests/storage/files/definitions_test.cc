#include "storage/files/definitions.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/composition.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "tests/storage/files/definition_files.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

TEST_F(DefinitionFiles, ASoundSetLoads) {
  const auto loaded = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(loaded.has_value()) << lines(loaded.error())[0];
  ASSERT_NE(loaded->scale_for("stand", "timothy"), nullptr);
  EXPECT_EQ(loaded->scale_for("stand", "timothy")->maximum, 100.0);
}

TEST_F(DefinitionFiles, EveryFaultOfEveryFileIsListed) {
  write("scales/stand.json", "{\n\"code\": \"stand\",,\n}");
  write("scales/other.json",
        std::string(kStand).replace(std::string(kStand).find("\"s\""), 3, "\"\""));
  write("species.json",
        R"({"species": [{"code": "a", "name": "a", "group": "g", "endophyte": false, "spreads": 1},
                        {"code": "a", "name": 3, "group": "g h"}]})");
  write(
      "measures.json",
      R"({"measures": [{"code": "x y", "subject": "barn", "scales": [{"group": "moss", "scale": "none"}]},
                         {"code": "z", "subject": "bag", "scales": []}, 5]})");
  const auto found = faults();
  for (const char* part :
       {"scales/stand.json line 2: the text is not JSON", "scales/other.json: no source is named",
        "scales/other.json: the scale's code is 'stand'", "species.json, item 2: 'a' stands twice",
        "species.json, item 2: 'name' should be a text",
        "species.json, item 2: 'g h' is not a usable group",
        "species.json, item 2: 'endophyte' should be true or false",
        "species.json, item 1: 'spreads' should be true or false",
        "measures.json, item 1: 'x y' is not a usable code",
        "measures.json, item 1: the subject of a measure is 'plot' or 'bag'",
        "measures.json, item 1: scale 'none' is not defined",
        "measures.json, item 1: no species is of group 'moss'",
        "measures.json, item 2: 'scales' should be a list",
        "measures.json, item 3: 'code' should be a text"}) {
    EXPECT_THAT(found, Contains(HasSubstr(part)));
  }
}

TEST_F(DefinitionFiles, AScaleThatIsNoScaleNamesTheKey) {
  write("scales/stand.json", R"({"code": "stand", "kind": "smell"})");
  EXPECT_THAT(faults(), Contains(HasSubstr("scales/stand.json, scale.kind: 'smell'")));
  write("scales/stand.json", "[]");
  EXPECT_THAT(faults(), Contains(HasSubstr("scales/stand.json, scale")));
}

TEST_F(DefinitionFiles, OneGroupHasOneScale) {
  write("limits.json", R"({"limits": []})");
  write("measures.json",
        R"({"measures": [{"code": "m", "subject": "plot",
            "scales": [{"group": "", "scale": "stand"}, {"group": "", "scale": "stand"}]}]})");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("group '' has two scales")));
}

TEST_F(DefinitionFiles, FilesOfAnotherShapeAreNamed) {
  for (const char* text : {"[]", "{}", R"({"species": {}})"}) {
    write("species.json", text);
    EXPECT_THAT(faults(), Contains(HasSubstr("species.json: the list 'species' is missing")))
        << text;
  }
  write("species.json", "");
  EXPECT_THAT(faults(), Contains(HasSubstr("species.json line 1: the text is not JSON")));
}

TEST_F(DefinitionFiles, AFolderWithoutScalesIsAFault) {
  ASSERT_TRUE(files_->remove(folder_ / "scales/stand.json").has_value());
  EXPECT_THAT(faults(), Contains(HasSubstr("no scale could be read")));
}

TEST_F(DefinitionFiles, EachFileThatCannotBeReadIsAFault) {
  FaultyFileSystem faulty(*files_);
  ASSERT_TRUE(load_definitions(faulty, folder_.path()).has_value());
  const std::size_t acts = faulty.acts();
  ASSERT_EQ(acts, 5U) << "one list and four files";
  for (std::size_t act = 1; act <= acts; ++act) {
    faulty.fail_at(act);
    const auto loaded = load_definitions(faulty, folder_.path());
    ASSERT_FALSE(loaded.has_value()) << act;
    EXPECT_THAT(lines(loaded.error()), Contains(HasSubstr("No space left"))) << act;
  }
}

class ShippedDefinitions : public testing::Test {
 protected:
  void SetUp() override {
    const auto files = real_file_system();
    auto loaded = load_definitions(*files, LIGULE_SOURCE_ASSETS);
    ASSERT_TRUE(loaded.has_value()) << lines(loaded.error())[0];
    definitions_ = *std::move(loaded);
  }
  Definitions definitions_;
};

TEST_F(ShippedDefinitions, EveryMeasureOfTheYieldComputationIsThere) {
  for (const std::string_view code :
       {measure::kGrossWeight, measure::kTareWeight, measure::kBagNumber, measure::kSampleFresh,
        measure::kSampleDry, measure::kBagTare, measure::kSwathLength, measure::kSwathWidth,
        measure::kNote, measure::kSeparatedFresh, measure::kPartBag, measure::kWeedsByEye,
        measure::kGrazingPreference, measure::kPercentRemoved}) {
    EXPECT_NE(definitions_.measure(code), nullptr) << code;
  }
}

TEST_F(ShippedDefinitions, WeightsOfASampleBelongToItsBag) {
  for (const std::string_view code :
       {measure::kSampleFresh, measure::kSampleDry, measure::kBagTare})
    EXPECT_EQ(definitions_.measure(code)->subject, Subject::kBag) << code;
  EXPECT_EQ(definitions_.measure(measure::kBagNumber)->subject, Subject::kPlot);
}

// The definition that travels with a part's bag says what the program calls its parts.
TEST_F(ShippedDefinitions, ASortedSampleHasThePartsThatItsDefinitionNames) {
  const Scale* const parts = definitions_.scale("part_bag");
  ASSERT_NE(parts, nullptr);
  ASSERT_EQ(parts->steps.size(), composition::kPartCount);
  for (std::size_t n = 0; n < parts->steps.size(); ++n) {
    EXPECT_EQ(parts->steps[n].code, composition::kParts.at(n));
    EXPECT_EQ(parts->steps[n].value, static_cast<double>(n + 1));
  }
  EXPECT_EQ(composition::name_of_part(3), "grass_weed");
  EXPECT_EQ(composition::name_of_part(0), "");
  EXPECT_EQ(composition::name_of_part(6), "");
}

TEST_F(ShippedDefinitions, GrassesHeadAndLegumesFlower) {
  for (const Species& species : definitions_.species) {
    const bool legume = species.group == "legume";
    EXPECT_EQ(definitions_.scale_for("heading_date", species.code) == nullptr, legume);
    EXPECT_EQ(definitions_.scale_for("first_flower_date", species.code) != nullptr, legume);
  }
}

TEST_F(ShippedDefinitions, EveryMeasureHasAScaleForEverySpecies) {
  for (const Measure& measure : definitions_.measures) {
    if (measure.code == "heading_date" || measure.code == "first_flower_date") continue;  // below
    for (const Species& species : definitions_.species)
      EXPECT_NE(definitions_.scale_for(measure.code, species.code), nullptr)
          << measure.code << " of " << species.code;
  }
}

TEST_F(ShippedDefinitions, EveryScaleServesSomeMeasure) {
  for (const Scale& scale : definitions_.scales) {
    bool used = false;
    for (const Measure& measure : definitions_.measures)
      for (const MeasureScale& line : measure.scales) used = used || line.scale == scale.code;
    EXPECT_TRUE(used) << scale.code;
  }
}

TEST_F(ShippedDefinitions, FiveIsTheMostVigorous) {
  const Scale* vigor = definitions_.scale("seedling_vigor");
  ASSERT_NE(vigor, nullptr);
  EXPECT_EQ(vigor->direction, Direction::kHighIsBest);
  EXPECT_EQ(vigor->steps.back().code, "5");
  EXPECT_EQ(vigor->steps.back().name, "most vigorous");
}

// What animals like is easily grazed too close: neither end is the better one.
TEST_F(ShippedDefinitions, WhatAnimalsTakeHasNoBetterEnd) {
  const Scale* const preference = definitions_.scale("grazing_preference");
  ASSERT_NE(preference, nullptr);
  EXPECT_EQ(preference->direction, Direction::kNone);
  ASSERT_EQ(preference->steps.size(), 6U);
  for (std::size_t n = 0; n < 6; ++n) EXPECT_EQ(preference->steps[n].value, static_cast<double>(n));
  EXPECT_THAT(preference->source, HasSubstr("2008report07.htm"));
  const Scale* const removed = definitions_.scale("percent_removed");
  ASSERT_NE(removed, nullptr);
  EXPECT_EQ(removed->direction, Direction::kNone);
  EXPECT_EQ(removed->minimum, 0.0);
  EXPECT_EQ(removed->maximum, 100.0);
}

// Which end is the bad one differs between programs, so each scale says it itself.
TEST_F(ShippedDefinitions, ScoresOfInjuryRunFromNoneToTheWorst) {
  struct Ends {
    const char* scale;
    const char* first;
    const char* last;
    std::size_t steps;
  };
  for (const Ends& ends :
       {Ends{"winter_injury", "no injury", "dead", 5}, Ends{"lodging", "erect", "flat", 9},
        Ends{"disease", "none", "severe", 9}}) {
    const Scale* scale = definitions_.scale_for(ends.scale, "tall_fescue");
    ASSERT_NE(scale, nullptr) << ends.scale;
    EXPECT_EQ(scale->direction, Direction::kLowIsBest) << ends.scale;
    ASSERT_EQ(scale->steps.size(), ends.steps);
    EXPECT_EQ(scale->steps.front().code, "1");
    EXPECT_EQ(scale->steps.front().name, ends.first);
    EXPECT_EQ(scale->steps.back().name, ends.last);
  }
}

// Stages and names: Kalu and Fick 1981, Crop Science 21:267-271.
TEST_F(ShippedDefinitions, LegumesRipenFromNoughtToNine) {
  const Scale* scale = definitions_.scale_for("maturity", "red_clover");
  ASSERT_NE(scale, nullptr);
  ASSERT_EQ(scale->steps.size(), 10U);
  for (int stage = 0; stage <= 9; ++stage) {
    EXPECT_EQ(scale->steps[static_cast<std::size_t>(stage)].code, std::to_string(stage));
    EXPECT_EQ(scale->steps[static_cast<std::size_t>(stage)].value, stage);
  }
  EXPECT_EQ(scale->steps[4].name, "late bud");
  EXPECT_EQ(scale->steps[5].name, "early flower");
}

// Indexes: Moore et al. 1991, Agronomy Journal 83:1073-1077 (values from memory).
TEST_F(ShippedDefinitions, GrassesRipenOnTheirOwnScaleAnnualsToo) {
  const Scale* scale = definitions_.scale_for("maturity", "tall_fescue");
  ASSERT_NE(scale, nullptr);
  EXPECT_EQ(scale, definitions_.scale_for("maturity", "sorghum_sudangrass"));
  EXPECT_EQ(scale, definitions_.scale_for("maturity", "bermudagrass"));
  const auto index = [&](const char* code) { return read_entered(*scale, code, "")->value; };
  EXPECT_EQ(index("R0"), 3.0);
  EXPECT_EQ(index("R1"), 3.1);
  EXPECT_EQ(index("R2"), 3.3);
  EXPECT_EQ(index("R3"), 3.5);
  EXPECT_EQ(index("R4"), 3.7);
  EXPECT_EQ(index("R5"), 3.9);
  EXPECT_EQ(index("S5"), 4.9);
  EXPECT_GE(scale->steps.front().value, 1.0);
  EXPECT_LT(scale->steps.front().value, 2.0);
}

TEST_F(ShippedDefinitions, StandAndStubbleRefuseWhatCannotBe) {
  const Scale* stand = definitions_.scale("percent_stand");
  EXPECT_EQ(read_entered(*stand, "100", "")->value, 100.0);
  EXPECT_EQ(read_entered(*stand, "101", "").error().kind, ErrorKind::kRefused);
  EXPECT_EQ(read_entered(*stand, "-1", "").error().kind, ErrorKind::kRefused);
  EXPECT_EQ(read_entered(*stand, "92.5", "").error().kind, ErrorKind::kRefused);
  const Scale* stubble = definitions_.scale("stubble_height");
  EXPECT_TRUE(read_entered(*stubble, "24", "in").has_value());
  EXPECT_FALSE(read_entered(*stubble, "24.1", "in").has_value());
  EXPECT_TRUE(read_entered(*stubble, "60.9", "cm").has_value());
  EXPECT_FALSE(read_entered(*stubble, "61", "cm").has_value()) << "61 cm is above 24 in";
}

// Figures and their sources: assets/limits.json.
TEST_F(ShippedDefinitions, EverySpeciesHasALeastStubbleAndADryMatterToExpect) {
  for (const Species& species : definitions_.species) {
    const Limit* const stubble = definitions_.limit_for("stubble_height", species.code);
    ASSERT_NE(stubble, nullptr) << species.code;
    EXPECT_EQ(stubble->unit, "in");
    EXPECT_GE(stubble->ask_below, 2) << species.code;
    const Limit* const dry = definitions_.limit_for(kDryMatterPercent, species.code);
    ASSERT_NE(dry, nullptr) << species.code;
    EXPECT_EQ(dry->ask_below, 10) << species.code;
  }
  for (const Limit& limit : definitions_.limits) EXPECT_FALSE(limit.source.empty());
  const auto above = [&](const char* species) {
    return definitions_.limit_for(kDryMatterPercent, species)->ask_above;
  };
  for (const Species& species : definitions_.species) {
    const Limit* const yield = definitions_.limit_for(kCuttingYield, species.code);
    ASSERT_NE(yield, nullptr) << species.code;
    EXPECT_EQ(yield->ask_above, species.group == "warm_season_annual" ? 10 : 4) << species.code;
  }
  EXPECT_EQ(definitions_.limit_for("sample_fresh", "teff")->ask_below, 100);
  EXPECT_EQ(above("tall_fescue"), 50);
  EXPECT_EQ(above("alfalfa"), 50);
  EXPECT_EQ(above("white_clover"), 25);
  EXPECT_EQ(above("forage_sorghum"), 35);
  const auto stubble = [&](const char* species) {
    return definitions_.limit_for("stubble_height", species)->ask_below;
  };
  EXPECT_EQ(stubble("tall_fescue"), 4);
  EXPECT_EQ(stubble("orchardgrass"), 4);
  EXPECT_EQ(stubble("alfalfa"), 2);
  EXPECT_EQ(stubble("pearl_millet"), 6);
  EXPECT_EQ(stubble("teff"), 4);
  EXPECT_EQ(stubble("bermudagrass"), 2);
}

// Common practice, no source: what a slip of ten makes of a usual height is asked about.
TEST_F(ShippedDefinitions, EveryHeightHasEndsThatATenfoldSlipLiesBeyond) {
  for (const Species& species : definitions_.species) {
    const Limit* const canopy = definitions_.limit_for("plant_height_canopy", species.code);
    const Limit* const plant = definitions_.limit_for("plant_height_stretched", species.code);
    ASSERT_TRUE(canopy != nullptr && plant != nullptr) << species.code;
    for (const Limit* const limit : {canopy, plant}) {
      EXPECT_EQ(limit->unit, "in") << species.code;
      EXPECT_GE(limit->ask_below, 1) << species.code;
      EXPECT_LT(limit->ask_above, 220) << species.code;
    }
    EXPECT_GT(plant->ask_above, canopy->ask_above) << species.code;
  }
}

// Runners and rhizomes: common practice, no source.
TEST_F(ShippedDefinitions, SomeSpeciesSpreadByThemselves) {
  for (const char* code : {"white_clover", "bermudagrass", "kentucky_bluegrass"})
    EXPECT_TRUE(definitions_.find_species(code)->spreads) << code;
  for (const char* code : {"tall_fescue", "orchardgrass", "alfalfa"})
    EXPECT_FALSE(definitions_.find_species(code)->spreads) << code;
}

TEST_F(ShippedDefinitions, EndophytesLiveInFescuesAndRyegrass) {
  for (const char* code : {"tall_fescue", "meadow_fescue", "perennial_ryegrass"})
    EXPECT_TRUE(definitions_.find_species(code)->endophyte) << code;
  for (const char* code : {"alfalfa", "orchardgrass", "timothy", "pearl_millet"})
    EXPECT_FALSE(definitions_.find_species(code)->endophyte) << code;
}

TEST_F(ShippedDefinitions, EveryScaleSurvivesItsCanonicalText) {
  for (const Scale& scale : definitions_.scales)
    EXPECT_EQ(parse_scale_text(scale_text(scale)).value(), scale) << scale.code;
}

}  // namespace
}  // namespace ligule::files
