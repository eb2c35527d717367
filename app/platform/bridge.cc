#include "app/platform/bridge.h"

#include <cstddef>

namespace ligule::platform {

SDL_Texture* make_font_texture(SDL_Renderer* renderer, ImFontAtlas& atlas) {
  unsigned char* pixels = nullptr;
  int width = 0;
  int height = 0;
  atlas.GetTexDataAsRGBA32(&pixels, &width, &height);
  SDL_Texture* texture =
      SDL_CreateTexture(renderer, SDL_PIXELFORMAT_RGBA32, SDL_TEXTUREACCESS_STATIC, width, height);
  if (texture == nullptr) return nullptr;
  SDL_UpdateTexture(texture, nullptr, pixels, 4 * width);
  SDL_SetTextureBlendMode(texture, SDL_BLENDMODE_BLEND);
  SDL_SetTextureScaleMode(texture, SDL_ScaleModeLinear);
  atlas.SetTexID(texture);
  atlas.ClearTexData();
  return texture;
}

void draw_triangles(SDL_Renderer* renderer, const ImDrawData& data) {
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& command : list.CmdBuffer) {
      const SDL_Rect clip{
          static_cast<int>(command.ClipRect.x), static_cast<int>(command.ClipRect.y),
          static_cast<int>(command.ClipRect.z) - static_cast<int>(command.ClipRect.x),
          static_cast<int>(command.ClipRect.w) - static_cast<int>(command.ClipRect.y)};
      // SDL takes an empty clip for none at all.
      if (clip.w <= 0 || clip.h <= 0 || command.ElemCount == 0) continue;
      SDL_RenderSetClipRect(renderer, &clip);
      const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
      const auto* bytes = reinterpret_cast<const char*>(vertices);
      SDL_RenderGeometryRaw(
          renderer, static_cast<SDL_Texture*>(command.GetTexID()),
          reinterpret_cast<const float*>(bytes + offsetof(ImDrawVert, pos)), sizeof(ImDrawVert),
          reinterpret_cast<const SDL_Color*>(bytes + offsetof(ImDrawVert, col)), sizeof(ImDrawVert),
          reinterpret_cast<const float*>(bytes + offsetof(ImDrawVert, uv)), sizeof(ImDrawVert),
          list.VtxBuffer.Size - static_cast<int>(command.VtxOffset),
          list.IdxBuffer.Data + command.IdxOffset, static_cast<int>(command.ElemCount),
          sizeof(ImDrawIdx));
    }
  }
  SDL_RenderSetClipRect(renderer, nullptr);
}

}  // namespace ligule::platform
