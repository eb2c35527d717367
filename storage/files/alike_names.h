// Names that people take for one another: one name spelled two ways, or two that are a letter
// apart.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ligule::files {

enum class Alike {
  kNo,
  kSame,          // byte for byte
  kSpelledApart,  // but for capitals, accents, blanks, hyphens and other signs
  kLetterApart,   // one letter exchanged, missing, or changed with its neighbour
};

// UTF-8. Letters are told a letter apart (Damerau-Levenshtein distance 1) only where both names
// have at least five of them, and only where what numbers a series agrees: digits, Roman numerals
// and words of a single letter. "Test 11" and "Test 12", "Alder II" and "Alder III" are not alike.
// Five letters: common practice, no source.
[[nodiscard]] Alike alike(std::string_view a, std::string_view b);

// The words of a name, in small letters without accents; signs and blanks part them.
[[nodiscard]] std::vector<std::u32string> plain_words(std::string_view name);

}  // namespace ligule::files
