#include "storage/files/words.h"

#include <nlohmann/json.hpp>
#include <set>

#include "storage/files/json_fault.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::uint64_t kLargestWordFile = 1U << 20U;
constexpr std::string_view kEnding = ".json";

struct Parsed {
  json value;
  std::vector<std::string> twice;
};

// JSON readers keep the last of two equal keys and say nothing; a word given twice is a mistake.
Parsed parse_watching_keys(std::string_view text) {
  Parsed parsed;
  std::vector<std::set<std::string>> open;
  const auto watch = [&](int, json::parse_event_t event, json& piece) {
    if (event == json::parse_event_t::object_start) open.emplace_back();
    if (event == json::parse_event_t::object_end) open.pop_back();
    if (event == json::parse_event_t::key) {
      auto key = piece.get<std::string>();
      if (!open.back().insert(key).second) parsed.twice.push_back(std::move(key));
    }
    return true;
  };
  parsed.value = json::parse(text, watch, /*allow_exceptions=*/false);
  return parsed;
}

std::string text_member(const json& object, const char* key) {
  const auto at = object.is_object() ? object.find(key) : object.end();
  return at != object.end() && at->is_string() ? at->get<std::string>() : std::string();
}

using Texts = std::map<std::string, std::string, std::less<>>;

// A file of one language, and what is wrong with it.
struct LanguageFile {
  std::string name;
  json value;
  Faults faults;

  void note(std::string what, std::string mend) {
    faults.push_back({ErrorKind::kInvalid, std::move(what), name, std::move(mend)});
  }
  // The texts of a member that is an object, by their keys.
  Texts texts(const char* member) {
    Texts all;
    const auto at = value.is_object() ? value.find(member) : value.end();
    if (at == value.end() || !at->is_object()) {
      note(std::string("the object '") + member + "' is missing",
           "write it as in the file of another language");
      return all;
    }
    for (const auto& [key, text] : at->items()) {
      if (text.is_string() && !text.get_ref<const std::string&>().empty())
        all.emplace(key, text.get<std::string>());
      else
        note("'" + key + "' should be a text", "write the words of the screen");
    }
    return all;
  }
};

Checked<LanguageFile> read_language_file(FileSystem& files, const Path& assets, const char* folder,
                                         std::string_view language) {
  const std::string name = std::string(folder) + "/" + std::string(language) + std::string(kEnding);
  const auto text = files.read(assets / name, kLargestWordFile);
  if (!text) return std::unexpected(Faults{text.error()});
  auto [parsed, twice] = parse_watching_keys(*text);
  if (parsed.is_discarded()) return std::unexpected(Faults{json_fault(*text, name)});
  LanguageFile file{name, std::move(parsed), {}};
  const std::string named = text_member(file.value, "language");
  if (named != language)
    file.note("the language is '" + named + "'", "name the file after its language");
  for (const std::string& key : twice) file.note("'" + key + "' stands twice", "keep one of them");
  return file;
}

}  // namespace

Checked<WordFile> load_words(FileSystem& files, const Path& assets, std::string_view language) {
  auto file = read_language_file(files, assets, "words", language);
  if (!file) return std::unexpected(std::move(file).error());
  WordFile words{std::string(language), text_member(file->value, "name"), file->texts("texts")};
  if (words.name.empty())
    file->note("'name' should be a text", "state what the language is called");
  if (!file->faults.empty()) return std::unexpected(std::move(file->faults));
  return words;
}

Checked<PhraseFile> load_phrases(FileSystem& files, const Path& assets, std::string_view language) {
  auto file = read_language_file(files, assets, "errors", language);
  if (!file) return std::unexpected(std::move(file).error());
  PhraseFile phrases{file->texts("texts"), file->texts("places")};
  if (!file->faults.empty()) return std::unexpected(std::move(file->faults));
  return phrases;
}

Result<std::vector<std::string>> languages(FileSystem& files, const Path& assets) {
  const auto names = files.list(assets / "words");
  if (!names) return std::unexpected(names.error());
  std::vector<std::string> codes;
  for (const std::string& name : *names)
    if (name.ends_with(kEnding)) codes.push_back(name.substr(0, name.size() - kEnding.size()));
  return codes;
}

}  // namespace ligule::files
