#include "sync/results/alike_entries.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <ctime>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<AlikeNames> alike_of(const std::vector<std::string>& labels,
                                 const std::vector<Alias>& aliases = {}) {
  std::vector<NamedEntry> entries;
  for (const std::string& label : labels) entries.push_back({label});
  return alike_names(entries, aliases);
}

TEST(AlikeEntries, ListsWhatIsSpelledApartOrALetterApart) {
  EXPECT_THAT(alike_of({"Corrowen", "Birch", "Alder-Brook", "Corrawen", "Alder Brook"}),
              ElementsAre(AlikeNames{"Alder Brook", "Alder-Brook", false},
                          AlikeNames{"Corrawen", "Corrowen", true}));
}

TEST(AlikeEntries, MembersOfASeriesAreNot) {
  EXPECT_THAT(alike_of({"Tester 11", "Tester 12", "Alder II", "Alder III"}), IsEmpty());
}

TEST(AlikeEntries, EndophytesOfOneVarietyAreNot) {
  EXPECT_THAT(alike_of({"Alder Brook (novel AX1)", "Alder Brook (novel AX2)",
                        "Alder Brook (endophyte-free)", "Alder Brook (toxic)", "Alder Brook"}),
              IsEmpty());
  EXPECT_THAT(
      alike_of({"Alder Brook (novel AX1)", "Alder Brook (novel AX-1)"}),
      ElementsAre(AlikeNames{"Alder Brook (novel AX-1)", "Alder Brook (novel AX1)", false}));
  EXPECT_THAT(alike_of({"Alder Brook E+", "Alder Brook (toxic)"}),
              ElementsAre(AlikeNames{"Alder Brook (toxic)", "Alder Brook E+", false}));
}

TEST(AlikeEntries, AlikeVarietiesAreListedByTheirEndophyte) {
  EXPECT_THAT(
      alike_of({"Corrowen (novel AX1)", "Corrowen (endophyte-free)", "Corrawen (novel AX1)",
                "Corrawen (endophyte-free)"}),
      ElementsAre(AlikeNames{"Corrawen (endophyte-free)", "Corrowen (endophyte-free)", true},
                  AlikeNames{"Corrawen (novel AX1)", "Corrowen (novel AX1)", true}));
  EXPECT_THAT(alike_of({"Corrowen (novel AX1)", "Corrawen (endophyte-free)"}),
              ElementsAre(AlikeNames{"Corrawen (endophyte-free)", "Corrowen (novel AX1)", true}));
}

TEST(AlikeEntries, WhatAnAliasDecidesIsDecided) {
  const std::vector<Alias> aliases = {{"Corrawen", "Corrowen", 2030, "MT", "", ""},
                                      {"Corrowenn", "Corrowen", 2030, "MT", "", ""}};
  EXPECT_THAT(alike_of({"Corrawen", "Corrowen"}, aliases), IsEmpty());
  EXPECT_THAT(alike_of({"Corrowen", "Corrowenn", "Corrowne"}, aliases),
              ElementsAre(AlikeNames{"Corrowen", "Corrowne", true}));
}

TEST(AlikeEntries, OtherSpeciesAreOtherEntries) {
  const auto listed = [](std::set<std::string> one, std::set<std::string> other) {
    const std::vector<NamedEntry> entries = {{"Corrowen", std::move(one)},
                                             {"Corrawen", std::move(other)}};
    return alike_names(entries, {}).size();
  };
  EXPECT_EQ(listed({"alfalfa"}, {"tall fescue"}), 0U);
  EXPECT_EQ(listed({"alfalfa"}, {"alfalfa"}), 1U);
  EXPECT_EQ(listed({"alfalfa"}, {}), 1U);
  EXPECT_EQ(listed({"alfalfa", "tall fescue"}, {"tall fescue"}), 1U);
}

// 2000 labels compared two by two take half a minute and more.
TEST(AlikeEntries, ThousandsOfNamesTakeNoTime) {
  std::vector<std::string> labels;
  for (int i = 0; i < 2000; ++i) {
    std::string name = "Variety ";
    for (int rest = i; rest > 0; rest /= 7)
      name += std::string(2, static_cast<char>('a' + rest % 7));
    labels.push_back(name + " Brook (novel AX1)");
  }
  labels.emplace_back("Variety aabb Brok (novel AX1)");
  labels.emplace_back("Variety aabb Brooc (novel AX1)");
  const std::clock_t before = std::clock();
  const std::vector<AlikeNames> found = alike_of(labels);
  // The processor's time: other programs on a busy machine take nothing of that.
  const double took = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
  EXPECT_THAT(found, ::testing::Contains(AlikeNames{"Variety aabb Brok (novel AX1)",
                                                    "Variety aabb Brook (novel AX1)", true}));
  EXPECT_LT(took, 5.0);
}

}  // namespace
}  // namespace ligule::results
