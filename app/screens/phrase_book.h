// What errors say, in another language than the English they are written in.
//
// A book is two lists of phrases, an English text and what it is in the other language; one list
// for texts ("plot {0} stands twice"), one for places in files ("{0} line {1}"). {0} is a hole,
// which matches anything; in the translation it stands where the language wants it. What a hole
// holds is translated too when the book knows it, but never between single quotes: there stands
// what a person wrote into a cell. {0!} makes the phrase hold only for what the book knows.
// [ ({0})] in a translation is left out when the book does not know what {0} holds: the machine's
// own words. Pure.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::screens {

class PhraseBook {
 public:
  // English to the other language.
  using Phrases = std::map<std::string, std::string, std::less<>>;

  // kInvalid for a phrase that can't be used: no letters but holes, a hole the other side lacks, a
  // bracket that is not closed; its English stands in `where`, behind what `where` says.
  [[nodiscard]] static Result<PhraseBook> make(const Phrases& texts, const Phrases& places,
                                               std::string_view where);

  // The whole text in the other language by the phrase with the most letters of its own that
  // matches it; nullopt when none does. place(): by the list of places.
  [[nodiscard]] std::optional<std::string> text(std::string_view english) const;
  [[nodiscard]] std::optional<std::string> place(std::string_view english) const;

 private:
  // English: literal, hole, literal, hole ... literal. A literal may be empty.
  struct Hole {
    std::size_t number = 0;
    bool must_be_known = false;
  };
  struct Piece {
    std::string before;
    std::optional<std::size_t> hole;  // none: only text
    std::string after;                // up to the end of the bracket
    bool may_go = false;              // in a bracket
  };
  struct Phrase {
    std::vector<std::string> literals;
    std::vector<Hole> holes;
    std::vector<Piece> said;
    std::size_t weight = 0;  // letters of the literals
  };

  static Result<Phrase> parse(std::string_view english, std::string_view said);
  static Result<void> parse_english(std::string_view text, Phrase& phrase);
  static Result<void> parse_said(std::string_view text, Phrase& phrase);
  static Result<std::vector<Phrase>> parse_all(const Phrases& phrases, std::string_view where);

  [[nodiscard]] std::optional<std::string> by(const std::vector<Phrase>& phrases,
                                              std::string_view english) const;
  [[nodiscard]] std::optional<std::string> said_by(const Phrase& phrase,
                                                   std::string_view english) const;
  [[nodiscard]] std::optional<std::string> known(const Phrase& phrase, std::size_t at,
                                                 std::string_view held) const;

  std::vector<Phrase> texts_;  // the weightiest first
  std::vector<Phrase> places_;
};

// Names of 64 hexadecimal digits, which nobody reads, as their first eight and an ellipsis.
[[nodiscard]] std::string with_short_digests(std::string_view text);

}  // namespace ligule::screens
