// The screen as JSON: an array of the visible widgets, in drawing order.
//
// Each has label, group, kind, drawn and touch ({x, y, width, height} in pixels; touch is null for
// what can't be tapped), clip, enabled, selected and value.
#pragma once

#include <filesystem>
#include <string>

#include "app/touch/register.h"
#include "storage/trial/error.h"

namespace ligule::program {

[[nodiscard]] std::string list_json(const touch::Register& seen);
// Writes or replaces the file; kIo when it can't.
[[nodiscard]] Result<void> write_list(const std::filesystem::path& file,
                                      const touch::Register& seen);

}  // namespace ligule::program
