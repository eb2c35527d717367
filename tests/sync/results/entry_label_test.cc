#include "sync/results/entry_label.h"

#include <gtest/gtest.h>

#include <vector>

namespace ligule::results {
namespace {

struct LabelCase {
  const char* label;
  const char* variety;
  Endophyte endophyte;
  const char* strain;
};

TEST(EntryLabel, IsVarietyStatusAndStrain) {
  const std::vector<LabelCase> cases = {
      {"Alder Brook (novel AX1)", "Alder Brook", Endophyte::kNovel, "AX1"},
      {"Alder Brook (novel)", "Alder Brook", Endophyte::kNovel, ""},
      {"Alder Brook (endophyte-free)", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook (toxic KX 3)", "Alder Brook", Endophyte::kToxic, "KX 3"},
      {"Alder Brook E+", "Alder Brook", Endophyte::kToxic, ""},
      {"Alder Brook (e-)", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook E\u2212", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook E\u2013", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook, Endophyte free", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook (free)", "Alder Brook", Endophyte::kFree, ""},
      {"Alder Brook wild type", "Alder Brook", Endophyte::kToxic, ""},
      {"Alder Brook (Wild-type)", "Alder Brook", Endophyte::kToxic, ""},
      {"Alder Brook (beneficial AX1)", "Alder Brook", Endophyte::kNovel, "AX1"},
      {"Alder Brook", "Alder Brook", Endophyte::kNotStated, ""},
      {"Alder Brook (old seed)", "Alder Brook (old seed)", Endophyte::kNotStated, ""},
      {"Carefree", "Carefree", Endophyte::kNotStated, ""},
      {"Alder free", "Alder free", Endophyte::kNotStated, ""},
      {"Novel Gold", "Novel Gold", Endophyte::kNotStated, ""},
      {"", "", Endophyte::kNotStated, ""},
  };
  for (const LabelCase& c : cases) {
    const EntryLabel parts = split_label(c.label);
    EXPECT_EQ(parts.variety, c.variety) << c.label;
    EXPECT_EQ(parts.endophyte, c.endophyte) << c.label;
    EXPECT_EQ(parts.strain, c.strain) << c.label;
  }
}

// Whatever a plan prints comes apart again.
TEST(EntryLabel, TakesApartWhatAPlanPrints) {
  PlanEntry entry;
  entry.variety = "Alder Brook";
  for (const Endophyte status :
       {Endophyte::kNotStated, Endophyte::kNovel, Endophyte::kFree, Endophyte::kToxic}) {
    entry.endophyte = status;
    EXPECT_EQ(split_label(entry.label()).variety, "Alder Brook");
    EXPECT_EQ(split_label(entry.label()).endophyte, status);
  }
}

TEST(EntryLabel, StatusAndStrainMakeTheEndophyte) {
  const auto same = [](const char* a, const char* b) {
    return same_endophyte(split_label(a), split_label(b));
  };
  EXPECT_TRUE(same("A (novel AX1)", "B (novel AX1)"));
  EXPECT_TRUE(same("A (novel AX1)", "A (novel AX-1)"));
  EXPECT_TRUE(same("A E+", "A (toxic)"));
  EXPECT_TRUE(same("A", "B"));
  EXPECT_FALSE(same("A (novel AX1)", "A (novel AX2)"));
  EXPECT_FALSE(same("A (novel ABX)", "A (novel ACX)"));
  EXPECT_FALSE(same("A (novel AX1)", "A (novel)"));
  EXPECT_FALSE(same("A (novel AX1)", "A (endophyte-free)"));
  EXPECT_FALSE(same("A (endophyte-free)", "A"));
  EXPECT_FALSE(same("A (toxic)", "A"));
}

TEST(EntryLabel, TheEndophyteIsToldInWords) {
  EXPECT_EQ(endophyte_words(split_label("A (novel AX1)")), "novel AX1");
  EXPECT_EQ(endophyte_words(split_label("A E-")), "endophyte-free");
  EXPECT_EQ(endophyte_words(split_label("A E+")), "toxic");
  EXPECT_EQ(endophyte_words(split_label("A")), "no endophyte stated");
}

}  // namespace
}  // namespace ligule::results
