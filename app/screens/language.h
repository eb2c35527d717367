// The words on the screen, by key, in the language of the person who holds the tablet.
//
// One file a language in assets/words (en.json, es.json) holds all of them; sources hold keys
// only ("rate.later"). Somebody above reads the file and hands the texts in: this room reads none.
// Texts may ask for arguments by place: "{0} of {1} plots".
#pragma once

#include <initializer_list>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/views.h"
#include "app/screens/phrase_book.h"

namespace ligule::screens {

// What is said of an error that the book has no phrase for: what it says itself, or the words of
// its kind.
enum class Untold { kAsWritten, kByKind };

class Language {
 public:
  using Texts = std::map<std::string, std::string, std::less<>>;

  Language() = default;
  // phrases: what errors say in it; none: as they are written.
  explicit Language(Texts texts, std::optional<PhraseBook> phrases = {},
                    Untold untold = Untold::kByKind)
      : texts_(std::move(texts)), phrases_(std::move(phrases)), untold_(untold) {}

  // The text of a key; lives as long as the Language and the key. A key that is not there comes
  // back itself, so that the screen can still be used; a test keeps that from happening.
  [[nodiscard]] std::string_view operator()(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key) const { return texts_.contains(key); }
  // What stands behind `front` in every key that begins with it, in order: the codes of a family.
  [[nodiscard]] std::vector<std::string_view> family(std::string_view front) const;

  // The text with {0}, {1} ... replaced. A place nobody fills stays as it is.
  [[nodiscard]] std::string fill(std::string_view key,
                                 std::initializer_list<std::string_view> arguments) const;
  [[nodiscard]] std::string fill(const flow::Words& words) const;
  // The same for one of two keys: key + ".one" when count is 1, else key + ".many"; {0} is the
  // count.
  [[nodiscard]] std::string count(std::string_view key, std::int64_t count) const;

  // What the program calls something in English (a species), in this language; as it is where the
  // book has no phrase for it.
  [[nodiscard]] std::string name(std::string_view english) const;

  // An error as one line: where, what and, in brackets, how to mend it. What has no phrase in
  // another language is told by the words of its kind ("error.io"), and how to mend it is left out.
  [[nodiscard]] std::string error(const Error& error) const;

 private:
  [[nodiscard]] std::string filled(std::string_view key,
                                   std::span<const std::string_view> arguments) const;

  [[nodiscard]] flow::Words one_ended(const flow::Words& words) const;

  Texts texts_;
  std::optional<PhraseBook> phrases_;
  Untold untold_ = Untold::kByKind;
};

}  // namespace ligule::screens
