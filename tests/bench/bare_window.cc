// The peer of the touch program's start: a window of the same size, the drawing library with one
// size of the same typeface, one key, one frame; then it waits to be ended.
//
//   bare_window WIDTH HEIGHT
#include <SDL.h>
#include <imgui.h>

#include <array>
#include <cstdio>
#include <string>

#include "app/platform/bridge.h"
#include "app/platform/fonts.h"
#include "app/platform/geometry.h"

int main(int count, char** words) {
  using namespace ligule;
  if (count != 3) {
    std::fprintf(stderr, "bare_window: give width and height\n");
    return 2;
  }
  const platform::Size size{std::stoi(words[1]), std::stoi(words[2])};
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return 1;
  SDL_Window* const window =
      SDL_CreateWindow("bare", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, size.width,
                       size.height, SDL_WINDOW_ALLOW_HIGHDPI | SDL_WINDOW_RESIZABLE);
  SDL_Renderer* renderer = SDL_CreateRenderer(window, -1, SDL_RENDERER_ACCELERATED);
  if (renderer == nullptr) renderer = SDL_CreateRenderer(window, -1, SDL_RENDERER_SOFTWARE);
  if (renderer == nullptr) return 1;
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
  const std::array<platform::FontRequest, 1> fonts{{{platform::Face::kRegular, 40, false}}};
  if (!platform::load_fonts(*io.Fonts, platform::font_folder(), fonts)) return 1;
  SDL_Texture* const letters = platform::make_font_texture(renderer, *io.Fonts);
  if (letters == nullptr) return 1;
  ImGui::NewFrame();
  ImGui::Begin("bare");
  ImGui::Button("Today");
  ImGui::End();
  ImGui::Render();
  SDL_SetRenderDrawColor(renderer, 255, 255, 255, 255);
  SDL_RenderClear(renderer);
  platform::draw_triangles(renderer, *ImGui::GetDrawData());
  SDL_RenderPresent(renderer);
  for (SDL_Event event; SDL_WaitEvent(&event) == 1;)
    if (event.type == SDL_QUIT) break;
  return 0;
}
