// What the command line of the touch program asks for.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/platform/geometry.h"
#include "storage/trial/calendar.h"
#include "storage/trial/error.h"

namespace ligule::program {

struct Arguments {
  std::optional<std::filesystem::path> ledger;  // none: the one of whoever is logged in
  bool headless = false;
  std::optional<platform::Size> size;  // pixels
  std::optional<double> ppi;
  std::optional<CalendarDate> today;  // a demonstration on this day
  std::optional<std::filesystem::path> drive;
};

// --help and --version: a text to print, and nothing else to do.
struct Told {
  std::string text;
};

// Arguments without the program's own name. kInvalid for what can't be meant.
[[nodiscard]] Result<std::variant<Arguments, Told>> parse_arguments(
    const std::vector<std::string>& given);

}  // namespace ligule::program
