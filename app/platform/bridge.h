// From the drawing library's triangles to SDL's renderer. Inside platform only.
#pragma once

#include <SDL.h>
#include <imgui.h>

namespace ligule::platform {

// Makes the texture of the atlas; null with SDL_GetError() set when it can't.
[[nodiscard]] SDL_Texture* make_font_texture(SDL_Renderer* renderer, ImFontAtlas& atlas);

// Draws a finished frame. Only the font texture is ever bound.
void draw_triangles(SDL_Renderer* renderer, const ImDrawData& data);

}  // namespace ligule::platform
