// Reads the words of one language, which screens look up by key.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"

namespace ligule::files {

struct WordFile {
  std::string language;  // "en"
  std::string name;      // of the language in itself: "English"
  std::map<std::string, std::string, std::less<>> texts;
};

// words/LANGUAGE.json below the assets folder. Lists every fault: a file missing or unreadable, no
// language, name or texts, a language other than the file's name says, a key that stands twice, a
// text that is empty or none.
[[nodiscard]] Checked<WordFile> load_words(FileSystem& files, const Path& assets,
                                           std::string_view language);

// What errors say in a language that is not the English they are written in: English to it. The
// screens know what stands in a phrase (app/screens/phrase_book.h).
struct PhraseFile {
  std::map<std::string, std::string, std::less<>> texts;
  std::map<std::string, std::string, std::less<>> places;
};

// errors/LANGUAGE.json below the assets folder. Lists every fault, as load_words() does.
[[nodiscard]] Checked<PhraseFile> load_phrases(FileSystem& files, const Path& assets,
                                               std::string_view language);

// The languages there are words for, by code: the names of words/*.json. kNotFound or kIo when the
// folder can't be read.
[[nodiscard]] Result<std::vector<std::string>> languages(FileSystem& files, const Path& assets);

}  // namespace ligule::files
