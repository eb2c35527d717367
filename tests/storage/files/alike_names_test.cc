#include "storage/files/alike_names.h"

#include <gtest/gtest.h>

namespace ligule::files {
namespace {

struct Pair {
  const char* a;
  const char* b;
  Alike wanted;
};

void expect_all(const std::vector<Pair>& pairs) {
  for (const Pair& c : pairs) {
    EXPECT_EQ(alike(c.a, c.b), c.wanted) << c.a << " | " << c.b;
    EXPECT_EQ(alike(c.b, c.a), c.wanted) << c.b << " | " << c.a;
  }
}

TEST(AlikeNames, WhatIsSpelledOtherwiseIsOneName) {
  expect_all({{"Alder Brook", "Alder Brook", Alike::kSame},
              {"Alder Brook", "alder brook", Alike::kSpelledApart},
              {"Alder Brook", "Alder-Brook", Alike::kSpelledApart},
              {"Alder Brook", "Alderbrook", Alike::kSpelledApart},
              {"Alder Brook", "Alder  Brook", Alike::kSpelledApart},
              {"Miller's Pride", "Millers Pride", Alike::kSpelledApart},
              {"Miller\xE2\x80\x99s Pride", "Miller's Pride", Alike::kSpelledApart},
              {"Peñón", "Penon", Alike::kSpelledApart},
              {"Pen\xCC\x83on", "Peñon", Alike::kSpelledApart},
              {"ŠUMAVA", "Sumava", Alike::kSpelledApart},
              {"AX-1", "AX1", Alike::kSpelledApart},
              {"Луг", "ЛУГ", Alike::kSpelledApart}});
}

TEST(AlikeNames, OneLetterIsExchangedMissingOrChangedWithItsNeighbour) {
  expect_all({{"Corrowen", "Corrawen", Alike::kLetterApart},
              {"Corrowen", "Corowen", Alike::kLetterApart},
              {"Corrowen", "Corrowens", Alike::kLetterApart},
              {"Corrowen", "Xorrowen", Alike::kLetterApart},
              {"Corrowen", "Corrowne", Alike::kLetterApart},
              {"Corrowen", "Corrwoen", Alike::kLetterApart},
              {"Corrowen 7", "corrawen-7", Alike::kLetterApart},
              {"Corrowen", "Carrawen", Alike::kNo},
              {"Corrowen", "Corroenw", Alike::kNo},
              {"Corrowen", "Corrow", Alike::kNo},
              {"Corrowen", "", Alike::kNo},
              {"", "", Alike::kSame}});
}

TEST(AlikeNames, NamesOfThreeLettersAreToldApartByALetter) {
  expect_all({{"Alder", "Elder", Alike::kLetterApart},
              {"Aldr", "Eldr", Alike::kLetterApart},
              {"Ald", "Eld", Alike::kLetterApart},
              {"Ald", "Adl", Alike::kLetterApart},
              {"Ald", "Alde", Alike::kLetterApart},
              {"Al", "Ald", Alike::kNo},
              {"Al", "El", Alike::kNo},
              {"Ald", "Edl", Alike::kNo},
              {"HV3001", "HW3001", Alike::kNo},
              {"HVA3001", "HWA3001", Alike::kLetterApart},
              {"Alders", "Alder", Alike::kLetterApart}});
}

TEST(AlikeNames, WhatNumbersASeriesTellsItsMembersApart) {
  expect_all({{"Test 11", "Test 12", Alike::kNo},
              {"Tester 11", "Tester 12", Alike::kNo},
              {"Alder 5", "Alder 6", Alike::kNo},
              {"Alder 5", "Alder 50", Alike::kNo},
              {"Alder 5", "Elder 6", Alike::kNo},
              {"Alder 5", "Alder", Alike::kNo},
              {"Alder II", "Alder III", Alike::kNo},
              {"Alder II", "Alder 3", Alike::kNo},
              {"Alder A", "Alder B", Alike::kNo},
              {"Alder", "Alder B", Alike::kNo},
              {"HV3001", "HV3002", Alike::kNo},
              {"A 4 B 2", "A 42 B", Alike::kNo},
              {"Alder II", "Elder II", Alike::kLetterApart}});
}

TEST(AlikeNames, ANumberIsOneHoweverItIsWritten) {
  expect_all({{"Corrowen II", "Corrowen 2", Alike::kSpelledApart},
              {"Corrowen XIV", "Corrowen-14", Alike::kSpelledApart},
              {"Corrowen IX", "Corrowen 9", Alike::kSpelledApart},
              {"Corrowen XXXIX", "Corrowen 39", Alike::kSpelledApart},
              {"Corrowen V", "Corrowen 5", Alike::kSpelledApart},
              {"Corrowen 02", "Corrowen2", Alike::kSpelledApart},
              {"HV 0031", "HV.31", Alike::kSpelledApart},
              {"AX-01", "AX1", Alike::kSpelledApart},
              {"Corrowen 0", "Corrowen 00", Alike::kSpelledApart},
              {"Corrowen 0", "Corrowen", Alike::kNo},
              {"Corrowen 20", "Corrowen 2", Alike::kNo},
              {"Corrowen IIX", "Corrowen 8", Alike::kNo},
              {"Corrowen 4 2", "Corrowen IV 2", Alike::kSpelledApart},
              {"Corrowen IV 2", "Corrowen 42", Alike::kNo},
              {"Corrowen II", "Corrawen 2", Alike::kLetterApart},
              {"Corrowen II", "Corrawen 3", Alike::kNo}});
  // In front it may be a word.
  expect_all({{"Xi Brook", "11 Brook", Alike::kNo}});
}

TEST(AlikeNames, WhatOnlyNumbersIsNoName) {
  for (const char* const name : {"B", "II", "14", "4 A", ""})
    EXPECT_TRUE(only_numbers(plain_words(name))) << name;
  for (const char* const name : {"AX", "A1", "AX1", "II B4"})
    EXPECT_FALSE(only_numbers(plain_words(name))) << name;
}

TEST(AlikeNames, WhatIsNoUtf8IsCompared) {
  EXPECT_EQ(alike("\x80\xFF\xC3", "Alder"), Alike::kNo);
  EXPECT_EQ(alike("Alder\xC3", "Alder\xC3"), Alike::kSame);
}

TEST(AlikeNames, WordsArePlain) {
  EXPECT_EQ(plain_words(" Old-Mill  Nº 4, Peñón "),
            (std::vector<std::u32string>{U"old", U"mill", U"n", U"4", U"penon"}));
  EXPECT_TRUE(plain_words(" - ").empty());
}

// The quick way over many names finds what comparing two by two finds.
TEST(AlikeNames, PairsOfManyAreThoseOfTwo) {
  std::vector<std::string> names = {"Alder Brook", "Alderbrook",  "alder brook",
                                    "Alder Brok",  "Alder Borok", "Elder Brook",
                                    "Corrowen II", "Corrowen 2",  "Corrowen-02",
                                    "Corrawen 2",  "Corrowen 3",  "HV3001",
                                    "HV3002",      "Ald",         "Adl",
                                    "Ald",         "Peñón",       "Penon",
                                    "B",           "7",           "",
                                    "-",           "A 4 B 2",     "A 42 B"};
  // Words of three letters out of few: any of them a letter apart, moved or missing.
  for (const char a : {'a', 'b', 'c'})
    for (const char b : {'a', 'b', 'c'})
      for (const char c : {'a', 'b', 'c'})
        for (const char* end : {"", "a", "b", " 2"}) names.push_back(std::string{a, b, c} + end);
  std::vector<AlikePair> wanted;
  for (std::size_t i = 0; i < names.size(); ++i) {
    for (std::size_t j = i + 1; j < names.size(); ++j) {
      const Alike how = alike(names[i], names[j]);
      if (how == Alike::kSpelledApart || how == Alike::kLetterApart) wanted.push_back({i, j, how});
    }
  }
  ASSERT_GT(wanted.size(), 100U);
  EXPECT_EQ(alike_pairs(names), wanted);
}

}  // namespace
}  // namespace ligule::files
