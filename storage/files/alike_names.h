// Names that people take for one another: one name spelled two ways, or two that are a letter
// apart.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ligule::files {

enum class Alike {
  kNo,
  kSame,  // byte for byte
  // But for capitals, accents, blanks, hyphens and other signs, or for how a number is written:
  // "Corrowen II", "Corrowen 2", "Corrowen-02".
  kSpelledApart,
  kLetterApart,  // one letter exchanged, missing, or changed with its neighbour
};

// UTF-8. Letters are told a letter apart (Damerau-Levenshtein distance 1) only where both names
// have at least three of them, and only where what numbers a series agrees: digits, Roman numerals
// behind another word and words of a single letter. "Test 11" and "Test 12", "Alder 5" and "Alder
// 6", "Alder II" and "Alder III" are not alike: a number is what members of a series are told apart
// by. Three letters: common practice, no source.
[[nodiscard]] Alike alike(std::string_view a, std::string_view b);

struct AlikePair {
  std::size_t first = 0, second = 0;  // places, first < second
  Alike how = Alike::kNo;             // kSpelledApart or kLetterApart

  bool operator==(const AlikePair&) const = default;
};
// Every two of many names that alike() so calls, by place; quick for thousands of names.
[[nodiscard]] std::vector<AlikePair> alike_pairs(std::span<const std::string> names);

// Whether nothing but figures, Roman numerals and single letters stands there: "B", "II", "4 A".
[[nodiscard]] bool only_numbers(const std::vector<std::u32string>& words);

// The words of a name, in small letters without accents; signs and blanks part them.
[[nodiscard]] std::vector<std::u32string> plain_words(std::string_view name);

}  // namespace ligule::files
