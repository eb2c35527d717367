// The letters: B612 at sizes asked for in pixels.
//
// touch asks for fonts by place in a list; the window builds one texture of them all and gives
// them back by the same place. B612 carries Latin-1 and the common punctuation; what it lacks is
// drawn as shapes.
#pragma once

#include <filesystem>
#include <span>
#include <vector>

#include "storage/trial/error.h"

struct ImFont;
struct ImFontAtlas;

namespace ligule::platform {

enum class Face { kRegular, kBold };

struct FontRequest {
  Face face = Face::kRegular;
  float pixels = 0;           // height of a line; capitals of B612 stand 0.64 of it
  bool numbers_only = false;  // digits, point, signs and capitals: for the very large sizes
  bool operator==(const FontRequest&) const = default;
};

// Share of the pixel size that a capital of B612 takes. Measured from the font file.
inline constexpr double kCapitalShare = 0.64;

// The folder of the installed package fonts-b612; LIGULE_FONTS names another one.
[[nodiscard]] std::filesystem::path font_folder();

// Clears the atlas and fills it with one font a request. kNotFound when a font file is missing.
[[nodiscard]] Result<std::vector<ImFont*>> load_fonts(ImFontAtlas& atlas,
                                                      const std::filesystem::path& folder,
                                                      std::span<const FontRequest> requests);

}  // namespace ligule::platform
