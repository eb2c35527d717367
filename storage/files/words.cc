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

}  // namespace

Checked<WordFile> load_words(FileSystem& files, const Path& assets, std::string_view language) {
  const std::string name = "words/" + std::string(language) + std::string(kEnding);
  const auto text = files.read(assets / name, kLargestWordFile);
  if (!text) return std::unexpected(Faults{text.error()});
  const auto [parsed, twice] = parse_watching_keys(*text);
  if (parsed.is_discarded()) return std::unexpected(Faults{json_fault(*text, name)});
  Faults faults;
  const auto note = [&](std::string what, std::string mend) {
    faults.push_back({ErrorKind::kInvalid, std::move(what), name, std::move(mend)});
  };
  WordFile words{text_member(parsed, "language"), text_member(parsed, "name"), {}};
  if (words.language != language)
    note("the language is '" + words.language + "'", "name the file after its language");
  if (words.name.empty()) note("'name' should be a text", "state what the language is called");
  const auto texts = parsed.is_object() ? parsed.find("texts") : parsed.end();
  if (texts == parsed.end() || !texts->is_object())
    note("the object 'texts' is missing", "write it as in words/en.json");
  else
    for (const auto& [key, value] : texts->items()) {
      if (value.is_string() && !value.get_ref<const std::string&>().empty())
        words.texts.emplace(key, value.get<std::string>());
      else
        note("'" + key + "' should be a text", "write the words of the screen");
    }
  for (const std::string& key : twice) note("'" + key + "' stands twice", "keep one of them");
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return words;
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
