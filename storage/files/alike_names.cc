#include "storage/files/alike_names.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <iterator>
#include <map>
#include <string>
#include <utility>

namespace ligule::files {
namespace {

// Of two letters every other pair is one letter apart.
constexpr std::size_t kLeastLetters = 3;

// Code points of valid UTF-8; what is no UTF-8 gives some code point or other, never a fault.
std::u32string code_points(std::string_view text) {
  std::u32string points;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80)
      points += static_cast<char32_t>(byte);
    else if (byte >= 0xF0)
      points += static_cast<char32_t>(byte & 0x07U);
    else if (byte >= 0xE0)
      points += static_cast<char32_t>(byte & 0x0FU);
    else if (byte >= 0xC0)
      points += static_cast<char32_t>(byte & 0x1FU);
    else if (!points.empty())
      points.back() = static_cast<char32_t>((points.back() << 6U) | (byte & 0x3FU));
  }
  return points;
}

// Small letters of ASCII, Latin-1, Latin Extended-A and Cyrillic.
char32_t small(char32_t c) {
  const auto within = [c](char32_t first, char32_t last) { return first <= c && c <= last; };
  if (within(U'A', U'Z')) return c + 0x20;
  if (within(0xC0, 0xDE) && c != 0xD7) return c + 0x20;
  const bool even_is_capital = within(0x100, 0x137) || within(0x14A, 0x177);
  const bool odd_is_capital = within(0x139, 0x148) || within(0x179, 0x17E);
  if ((even_is_capital && c % 2 == 0) || (odd_is_capital && c % 2 == 1)) return c + 1;
  if (c == 0x178) return 0xFF;
  if (within(0x410, 0x42F)) return c + 0x20;
  return c;
}

// Letters of Latin-1 and Latin Extended-A, and what they are without their accent.
constexpr std::array<std::pair<std::u32string_view, std::u32string_view>, 23> kPlain{
    {{U"àáâãäåāăą", U"a"}, {U"çćĉċč", U"c"}, {U"ďđð", U"d"},       {U"èéêëēĕėęě", U"e"},
     {U"ĝğġģ", U"g"},      {U"ĥħ", U"h"},    {U"ìíîïĩīĭįı", U"i"}, {U"ĵ", U"j"},
     {U"ķ", U"k"},         {U"ĺļľŀł", U"l"}, {U"ñńņňŉ", U"n"},     {U"òóôõöøōŏő", U"o"},
     {U"ŕŗř", U"r"},       {U"śŝşš", U"s"},  {U"ţťŧ", U"t"},       {U"ùúûüũūŭůűų", U"u"},
     {U"ŵ", U"w"},         {U"ýÿŷ", U"y"},   {U"źżž", U"z"},       {U"æ", U"ae"},
     {U"œ", U"oe"},        {U"ß", U"ss"},    {U"þ", U"th"}}};

std::u32string without_accent(char32_t c) {
  for (const auto& [accented, plain] : kPlain)
    if (accented.contains(c)) return std::u32string(plain);
  return {c};
}

bool is_figure(char32_t c) {
  return U'0' <= c && c <= U'9';
}
bool is_letter(char32_t c) {
  return (U'a' <= c && c <= U'z') || (c > 0xBF && !(c >= 0x2000 && c <= 0x206F));
}
// Signs within a word: apostrophes, and accents that stand as characters of their own.
bool is_within_word(char32_t c) {
  return c == U'\'' || c == 0xB4 || c == 0x2018 || c == 0x2019 || c == 0x2BC ||
         (c >= 0x300 && c <= 0x36F);
}

// 1 to 39 in Roman numerals; 0: it is none of these, as "IIX".
int roman_value(std::u32string_view word) {
  static constexpr std::array<std::u32string_view, 10> kOnes{U"",  U"i",  U"ii",  U"iii",  U"iv",
                                                             U"v", U"vi", U"vii", U"viii", U"ix"};
  for (int value = 1; value < 40; ++value) {
    std::u32string numeral(static_cast<std::size_t>(value / 10), U'x');
    numeral += kOnes.at(static_cast<std::size_t>(value % 10));
    if (numeral == word) return value;
  }
  return 0;
}

// A word that numbers a series: "B", "7", "II", "XIV".
bool is_number_word(std::u32string_view word) {
  return word.size() == 1 || word.find_first_not_of(U"ivx") == std::u32string_view::npos ||
         std::ranges::all_of(word, is_figure);
}

std::u32string without_zeros(std::u32string_view figures) {
  figures.remove_prefix(std::min(figures.find_first_not_of(U'0'), figures.size() - 1));
  return std::u32string(figures);
}

std::u32string figures_of(int value) {
  std::u32string figures;
  for (const char c : std::to_string(value)) figures += static_cast<char32_t>(c);
  return figures;
}

// "07" and, behind another word, "VII" as "7"; all other words as they are.
std::u32string one_writing(std::u32string_view word, bool first) {
  const int roman = first ? 0 : roman_value(word);
  if (roman > 0) return figures_of(roman);
  std::u32string made;
  while (!word.empty()) {
    const bool figures = is_figure(word.front());
    const auto end =
        std::ranges::find_if(word, [&](char32_t c) { return is_figure(c) != figures; });
    const auto length = static_cast<std::size_t>(end - word.begin());
    const std::u32string_view run = word.substr(0, length);
    made += figures ? without_zeros(run) : std::u32string(run);
    word.remove_prefix(length);
  }
  return made;
}

struct PlainName {
  std::u32string all;      // letters and figures, nothing between them
  std::u32string written;  // the same, numbers in one writing and kept apart
  std::u32string letters;  // of words that number nothing
  std::u32string numbers;  // figures, and words that number, in one writing
};

PlainName plain_name(std::string_view name) {
  PlainName plain;
  bool first = true;
  for (const std::u32string& raw : plain_words(name)) {
    const std::u32string word = one_writing(raw, std::exchange(first, false));
    plain.all += raw;
    // "4 2" is not 42.
    const bool beside = !plain.written.empty() && is_figure(plain.written.back());
    if (beside && is_figure(word.front())) plain.written += U' ';
    plain.written += word;
    if (is_number_word(word)) {
      plain.numbers += U' ' + word;
      continue;
    }
    bool within = false;
    for (const char32_t c : word) {
      const bool figure = is_figure(c);
      if (figure && !within) plain.numbers += U' ';
      (figure ? plain.numbers : plain.letters) += c;
      within = figure;
    }
  }
  return plain;
}

bool one_letter_apart(std::u32string_view a, std::u32string_view b) {
  if (a.size() > b.size()) std::swap(a, b);
  if (a.size() < kLeastLetters || b.size() > a.size() + 1 || a == b) return false;
  const auto same = std::ranges::mismatch(a, b).in1 - a.begin();
  a.remove_prefix(static_cast<std::size_t>(same));
  b.remove_prefix(static_cast<std::size_t>(same));
  if (b.size() > a.size()) return a == b.substr(1);
  if (a.substr(1) == b.substr(1)) return true;
  return a.size() > 1 && a[0] == b[1] && a[1] == b[0] && a.substr(2) == b.substr(2);
}

Alike how_alike(const PlainName& a, const PlainName& b) {
  if (a.all == b.all || a.written == b.written) return Alike::kSpelledApart;
  return a.numbers == b.numbers && one_letter_apart(a.letters, b.letters) ? Alike::kLetterApart
                                                                          : Alike::kNo;
}

// Two names that are alike share one of these at least: what makes them spelled apart, or their
// letters less one (an exchanged, missing or moved letter left out of both gives the same).
std::vector<std::u32string> keys_of(const PlainName& name) {
  std::vector<std::u32string> keys{U"all " + name.all, U"written " + name.written};
  if (name.letters.size() < kLeastLetters) return keys;
  const std::u32string numbers = U"letters" + name.numbers + U':';
  keys.push_back(numbers + name.letters);
  for (std::size_t i = 0; i < name.letters.size(); ++i) {
    std::u32string less = name.letters;
    less.erase(i, 1);
    keys.push_back(numbers + less);
  }
  return keys;
}

}  // namespace

std::vector<std::u32string> plain_words(std::string_view name) {
  std::vector<std::u32string> words;
  std::u32string word;
  for (const char32_t c : code_points(name) + U' ') {
    const char32_t low = small(c);
    if (is_within_word(low)) continue;
    if (is_letter(low) || is_figure(low))
      word += without_accent(low);
    else if (!word.empty())
      words.push_back(std::exchange(word, {}));
  }
  return words;
}

bool only_numbers(const std::vector<std::u32string>& words) {
  return std::ranges::all_of(words, is_number_word);
}

Alike alike(std::string_view a, std::string_view b) {
  return a == b ? Alike::kSame : how_alike(plain_name(a), plain_name(b));
}

std::vector<AlikePair> alike_pairs(std::span<const std::string> names) {
  std::vector<PlainName> plain;
  plain.reserve(names.size());
  std::map<std::u32string, std::vector<std::size_t>> by_key;
  for (std::size_t i = 0; i < names.size(); ++i) {
    plain.push_back(plain_name(names[i]));
    for (std::u32string& key : keys_of(plain.back())) by_key[std::move(key)].push_back(i);
  }
  std::map<std::pair<std::size_t, std::size_t>, Alike> found;
  for (const auto& [key, places] : by_key) {
    for (auto a = places.begin(); a != places.end(); ++a) {
      for (auto b = std::next(a); b != places.end(); ++b) {
        if (*a == *b || names[*a] == names[*b] || found.contains({*a, *b})) continue;
        const Alike how = how_alike(plain[*a], plain[*b]);
        if (how != Alike::kNo) found[{*a, *b}] = how;
      }
    }
  }
  std::vector<AlikePair> pairs;
  pairs.reserve(found.size());
  for (const auto& [places, how] : found) pairs.push_back({places.first, places.second, how});
  return pairs;
}

}  // namespace ligule::files
