#include "app/work/preferences.h"

#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "storage/files/preference_file.h"
#include "storage/trial/number.h"

namespace ligule::work {
namespace {

using Group = std::map<std::string, std::string>;

constexpr std::string_view kTablet = "tablet";
constexpr std::string_view kScale = "scale";
constexpr std::string_view kNobody = "nobody";
constexpr std::string_view kPerson = "person ";
constexpr std::string_view kCautions = "cautions ";
constexpr std::string_view kYes = "yes";
// Beyond these no glass was measured: the text is not what this program wrote.
constexpr double kLeastPpi = 30;
constexpr double kMostPpi = 1000;

std::string text_of(const Group& group, const char* name) {
  const auto at = group.find(name);
  return at == group.end() ? std::string() : at->second;
}

flow::PersonChoices choices_of(const Group& group) {
  flow::PersonChoices choices;
  if (auto language = text_of(group, "language"); !language.empty())
    choices.language = std::move(language);
  choices.left_handed = text_of(group, "left_handed") == kYes;
  choices.gloves = text_of(group, "gloves") == kYes;
  choices.large_text = text_of(group, "large_text") == kYes;
  choices.mass = text_of(group, "mass");
  choices.length = text_of(group, "length");
  return choices;
}

Group texts_of(const flow::PersonChoices& choices) {
  const auto said = [](bool yes) { return std::string(yes ? kYes : "no"); };
  Group group{{"language", choices.language},
              {"left_handed", said(choices.left_handed)},
              {"gloves", said(choices.gloves)},
              {"large_text", said(choices.large_text)}};
  if (!choices.mass.empty()) group["mass"] = choices.mass;
  if (!choices.length.empty()) group["length"] = choices.length;
  return group;
}

// A number the program did not write is left as it is without one.
void read_whole(const Group& group, const char* name, int& number) {
  const auto read = parse_number(text_of(group, name));
  if (read && *read >= 1 && *read <= 1'000'000) number = static_cast<int>(*read);
}

flow::ScaleChoice scale_of(const Group& group) {
  flow::ScaleChoice scale;
  scale.port = text_of(group, "port");
  scale.form = text_of(group, "form");
  read_whole(group, "baud", scale.baud);
  if (auto framing = text_of(group, "framing"); !framing.empty())
    scale.framing = std::move(framing);
  read_whole(group, "interval", scale.interval);
  scale.check_mass = text_of(group, "check_mass");
  scale.check_allowance = text_of(group, "check_allowance");
  scale.check_unit = text_of(group, "check_unit");
  return scale;
}

Group texts_of(const flow::ScaleChoice& scale) {
  return {{"port", scale.port},
          {"form", scale.form},
          {"baud", std::to_string(scale.baud)},
          {"framing", scale.framing},
          {"interval", std::to_string(scale.interval)},
          {"check_mass", scale.check_mass},
          {"check_allowance", scale.check_allowance},
          {"check_unit", scale.check_unit}};
}

void read_tablet(const Group& group, flow::Preferences& preferences) {
  preferences.dusk = text_of(group, "dusk") == kYes;
  const std::string repeats = text_of(group, "repeats");
  preferences.repeats = repeats == "20" ? 20 : repeats == "10" ? 10 : 0;
  const auto ppi = parse_number(text_of(group, "ppi"));
  if (ppi && *ppi >= kLeastPpi && *ppi <= kMostPpi) preferences.ppi = *ppi;
}

}  // namespace

files::Path preferences_path(const std::string& ledger) {
  return ledger + ".preferences";
}

Result<flow::Preferences> load_preferences(files::FileSystem& files, const files::Path& file) {
  flow::Preferences preferences;
  const auto read = files::read_preferences(files, file);
  if (!read && read.error().kind == ErrorKind::kNotFound) return preferences;
  if (!read) return std::unexpected(read.error());
  for (const auto& [name, group] : *read) {
    if (name == kTablet) read_tablet(group, preferences);
    if (name == kScale) preferences.scale = scale_of(group);
    if (name == kNobody) preferences.nobody = choices_of(group);
    if (name.starts_with(kCautions)) {
      if (const auto id = parse_uuid(std::string_view(name).substr(kCautions.size())))
        preferences.cautions_read[PersonId{*id}] = group;
    }
    if (!name.starts_with(kPerson)) continue;
    if (const auto id = parse_uuid(std::string_view(name).substr(kPerson.size())))
      preferences.people[PersonId{*id}] = choices_of(group);
  }
  return preferences;
}

Result<void> keep_preferences(files::FileSystem& files, const files::Path& file,
                              const flow::Preferences& preferences) {
  files::PreferenceTexts texts;
  Group& tablet = texts[std::string(kTablet)];
  tablet["dusk"] = preferences.dusk ? kYes : "no";
  if (preferences.repeats > 0) tablet["repeats"] = std::to_string(preferences.repeats);
  if (const std::optional<double>& ppi = preferences.ppi; ppi.has_value())
    tablet["ppi"] = format_number(*ppi);
  texts[std::string(kScale)] = texts_of(preferences.scale);
  texts[std::string(kNobody)] = texts_of(preferences.nobody);
  for (const auto& [id, choices] : preferences.people)
    texts[std::string(kPerson) + id.text()] = texts_of(choices);
  for (const auto& [id, read] : preferences.cautions_read)
    texts[std::string(kCautions) + id.text()] = read;
  return files::write_preferences(files, file, texts);
}

}  // namespace ligule::work
