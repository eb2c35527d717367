#include "storage/files/preference_file.h"

#include <nlohmann/json.hpp>

#include "storage/files/json_fault.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::uint64_t kLargest = 1U << 20U;
constexpr int kFormat = 1;

std::unexpected<Error> no_preferences(const Path& file) {
  return fail(ErrorKind::kInvalid, "this is no file of preferences", file.string(),
              "remove it, then choose again");
}

}  // namespace

Result<PreferenceTexts> read_preferences(FileSystem& files, const Path& file) {
  const auto text = files.read(file, kLargest);
  if (!text) return std::unexpected(text.error());
  const json read = json::parse(*text, nullptr, /*allow_exceptions=*/false);
  if (read.is_discarded()) return std::unexpected(json_fault(*text, file.string()));
  if (!read.is_object()) return no_preferences(file);
  const auto format = read.find("format");
  if (format == read.end() || !format->is_number_integer()) return no_preferences(file);
  if (format->get<std::int64_t>() > kFormat)
    return fail(ErrorKind::kNewerVersion, "a later version wrote these preferences", file.string(),
                "use that version, or choose again");
  const auto groups = read.find("preferences");
  if (groups == read.end() || !groups->is_object()) return no_preferences(file);
  PreferenceTexts preferences;
  for (const auto& [name, group] : groups->items()) {
    if (!group.is_object()) return no_preferences(file);
    for (const auto& [key, value] : group.items()) {
      if (!value.is_string()) return no_preferences(file);
      preferences[name][key] = value.get<std::string>();
    }
  }
  return preferences;
}

Result<void> write_preferences(FileSystem& files, const Path& file,
                               const PreferenceTexts& preferences) {
  const json whole{{"format", kFormat}, {"preferences", preferences}};
  // A text that is not UTF-8 is mended rather than thrown at the caller.
  const std::string text = whole.dump(1, ' ', false, json::error_handler_t::replace) + "\n";
  return files.write_durably(file, text, Access::kOwnerOnly);
}

}  // namespace ligule::files
