#include "app/platform/fonts.h"

#include <imgui.h>

#include <array>
#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>

namespace ligule::platform {
namespace {

// Latin-1 covers Spanish; then dash, quotes, dots, ellipsis, and the comparison signs.
constexpr ImWchar kText[] = {0x0020, 0x00FF, 0x2013, 0x2014, 0x2018, 0x2019, 0x201C, 0x201D,
                             0x2022, 0x2022, 0x2026, 0x2026, 0x2264, 0x2265, 0};
// Sign, digits, capitals: what a plot is called.
constexpr ImWchar kNumbers[] = {0x0020, 0x005A, 0};

// The drawing library stops the program on a file that is no font, so it is asked beforehand.
bool is_opentype(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::array<char, 4> magic{};
  return in.read(magic.data(), magic.size()) && std::string_view(magic.data(), 4) == "OTTO";
}

}  // namespace

std::filesystem::path font_folder() {
  // Read once at the start, before any thread.
  const char* chosen = std::getenv("LIGULE_FONTS");  // NOLINT(concurrency-mt-unsafe)
  return chosen != nullptr && *chosen != '\0' ? chosen : "/usr/share/fonts/opentype/b612";
}

Result<std::vector<ImFont*>> load_fonts(ImFontAtlas& atlas, const std::filesystem::path& folder,
                                        std::span<const FontRequest> requests) {
  atlas.Clear();
  // Lines drawn from the texture need filtering that the software renderer does badly.
  atlas.Flags |= ImFontAtlasFlags_NoBakedLines | ImFontAtlasFlags_NoMouseCursors;
  std::vector<ImFont*> fonts;
  for (const FontRequest& request : requests) {
    const auto file = folder / (request.face == Face::kBold ? "B612-Bold.otf" : "B612-Regular.otf");
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error))
      return fail(ErrorKind::kNotFound, "the font is missing", file.string(),
                  "install the package fonts-b612 or set LIGULE_FONTS");
    const auto damaged = [&] {
      return fail(ErrorKind::kDamaged, "the font can't be read", file.string(),
                  "install the package fonts-b612 again");
    };
    if (!is_opentype(file)) return damaged();
    ImFontConfig config;
    config.OversampleH = 1;  // at these sizes more only costs texture
    config.PixelSnapH = true;
    ImFont* font = atlas.AddFontFromFileTTF(file.c_str(), request.pixels, &config,
                                            request.numbers_only ? kNumbers : kText);
    if (font == nullptr) return damaged();
    fonts.push_back(font);
  }
  if (!atlas.Build())
    return fail(ErrorKind::kDamaged, "the fonts can't be drawn", folder.string(),
                "install the package fonts-b612 again");
  return fonts;
}

}  // namespace ligule::platform
