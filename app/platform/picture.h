// A picture of the screen as a PNG file.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

#include "app/platform/geometry.h"
#include "storage/trial/error.h"

namespace ligule::platform {

// Rows from the top, 3 bytes a pixel (red, green, blue), no padding.
struct Picture {
  Size size;
  std::vector<std::uint8_t> rgb;
};

// Writes or replaces the file. kIo when it can't be written.
[[nodiscard]] Result<void> write_png(const std::filesystem::path& file, const Picture& picture);
// Reads a PNG back; kIo or kDamaged. For tests that count pixels.
[[nodiscard]] Result<Picture> read_png(const std::filesystem::path& file);

}  // namespace ligule::platform
