#include "app/platform/window.h"

#include <SDL.h>
#include <imgui.h>

#include <algorithm>
#include <string_view>
#include <utility>

#include "app/platform/bridge.h"
#include "app/platform/raster.h"

namespace ligule::platform {
namespace {

constexpr Size kHeadlessSize{1280, 800};
constexpr double kHeadlessPpi = 189;  // 8 in across 1280x800
constexpr double kUnknownPpi = 160;   // when a display tells nonsense; a person can set it
constexpr int kSmallest = 480;
constexpr int kLargest = 8192;

struct SdlWindowEnd {
  void operator()(SDL_Window* window) const { SDL_DestroyWindow(window); }
  void operator()(SDL_Renderer* renderer) const { SDL_DestroyRenderer(renderer); }
  void operator()(SDL_Texture* texture) const { SDL_DestroyTexture(texture); }
};

std::unexpected<Error> sdl_failed(std::string_view what) {
  return fail(ErrorKind::kIo, std::string(what) + ": " + SDL_GetError(), "display",
              "check the display, or run with --headless");
}

bool sane_ppi(double ppi) {
  return ppi >= 60 && ppi <= 700;
}

Uint32 wake_event() {
  static const Uint32 type = SDL_RegisterEvents(1);
  return type;
}

}  // namespace

struct Window::State {
  std::unique_ptr<SDL_Window, SdlWindowEnd> window;
  std::unique_ptr<SDL_Renderer, SdlWindowEnd> renderer;
  std::unique_ptr<SDL_Texture, SdlWindowEnd> font_texture;  // with a graphics chip
  std::unique_ptr<Raster> raster;                           // without one
  std::unique_ptr<SDL_Texture, SdlWindowEnd> sheet;         // what raster drew, for SDL to show
  Size sheet_size;
  ImGuiContext* context = nullptr;
  std::filesystem::path font_folder;
  std::vector<FontRequest> wanted_fonts;
  std::vector<FontRequest> built_fonts;
  std::vector<ImFont*> fonts;
  InputFeeder feeder;
  Error error{};
  Picture picture;
  std::uint32_t paper = 0xFFFFFF;
  double ppi = kUnknownPpi;
  bool keep_picture = false;
  bool unseen = false;  // no glass shows it
  bool closed = false;
  bool sdl_started = false;

  State() = default;
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  ~State() {
    if (context != nullptr) ImGui::DestroyContext(context);
    font_texture.reset();
    sheet.reset();
    renderer.reset();
    window.reset();
    if (sdl_started) SDL_Quit();
  }

  [[nodiscard]] Size drawn() const {
    Size size;
    SDL_GetRendererOutputSize(renderer.get(), &size.width, &size.height);
    return size;
  }
  [[nodiscard]] Size counted() const {
    Size size;
    SDL_GetWindowSize(window.get(), &size.width, &size.height);
    return size;
  }

  Result<void> start(const WindowOptions& options);
  Result<void> build_fonts();
  void start_drawing_library();
  void draw_with_sdl();
  void draw_with_raster();
};

Result<void> Window::State::start(const WindowOptions& options) {
  // Fingers are read as fingers; a mouse made of them would count every tap twice.
  SDL_SetHint(SDL_HINT_TOUCH_MOUSE_EVENTS, "0");
  SDL_SetHint(SDL_HINT_MOUSE_TOUCH_EVENTS, "0");
  if (options.headless) SDL_SetHint(SDL_HINT_VIDEODRIVER, "dummy");
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return sdl_failed("no display opens");
  sdl_started = true;

  Uint32 flags = SDL_WINDOW_ALLOW_HIGHDPI | SDL_WINDOW_RESIZABLE;
  Size size = options.size.value_or(kHeadlessSize);
  if (!options.headless && !options.size) {
    flags |= SDL_WINDOW_FULLSCREEN_DESKTOP;
    SDL_Rect whole{};
    if (SDL_GetDisplayBounds(0, &whole) == 0) size = {whole.w, whole.h};
  }
  window.reset(SDL_CreateWindow(options.title.c_str(), SDL_WINDOWPOS_CENTERED,
                                SDL_WINDOWPOS_CENTERED, size.width, size.height, flags));
  if (!window) return sdl_failed("no window opens");
  const Uint32 software = SDL_RENDERER_SOFTWARE;
  if (!options.headless)
    renderer.reset(SDL_CreateRenderer(window.get(), -1, SDL_RENDERER_ACCELERATED));
  if (!renderer) renderer.reset(SDL_CreateRenderer(window.get(), -1, software));
  if (!renderer) return sdl_failed("nothing draws into the window");
  SDL_RendererInfo info{};
  SDL_GetRendererInfo(renderer.get(), &info);
  if ((info.flags & software) != 0 && !options.sdl_triangles) raster = std::make_unique<Raster>();

  float display_ppi = 0;
  if (options.ppi) {
    ppi = *options.ppi;
  } else if (options.headless) {
    ppi = kHeadlessPpi;
  } else if (SDL_GetDisplayDPI(0, nullptr, &display_ppi, nullptr) == 0 &&
             sane_ppi(static_cast<double>(display_ppi))) {
    ppi = static_cast<double>(display_ppi);
  }
  unseen = options.headless;
  font_folder = options.fonts;
  SDL_StartTextInput();
  start_drawing_library();
  return {};
}

void Window::State::start_drawing_library() {
  context = ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;  // nothing of the layout outlives the run
  io.LogFilename = nullptr;
  io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  io.ConfigInputTextCursorBlink = false;
  ImGuiStyle& style = ImGui::GetStyle();
  style.AntiAliasedLinesUseTex = false;
  style.CircleTessellationMaxError = 0.15F;
}

Result<void> Window::State::build_fonts() {
  if (wanted_fonts == built_fonts && !fonts.empty()) return {};
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  auto loaded = load_fonts(atlas, font_folder, wanted_fonts);
  if (!loaded) return std::unexpected(loaded.error());
  fonts = std::move(*loaded);
  if (raster) {
    unsigned char* alpha = nullptr;
    Size size;
    atlas.GetTexDataAsAlpha8(&alpha, &size.width, &size.height);
    const auto bytes = static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height);
    raster->set_letters({alpha, bytes}, size, atlas.TexUvWhitePixel);
    atlas.SetTexID(raster.get());
    atlas.ClearTexData();
  } else {
    font_texture.reset(make_font_texture(renderer.get(), atlas));
    if (!font_texture) return sdl_failed("the letters don't fit the graphics memory");
  }
  built_fonts = wanted_fonts;
  return {};
}

void Window::State::draw_with_sdl() {
  const auto channel = [&](unsigned shift) { return static_cast<Uint8>((paper >> shift) & 0xFFU); };
  SDL_SetRenderDrawColor(renderer.get(), channel(16), channel(8), channel(0), 255);
  SDL_RenderClear(renderer.get());
  draw_triangles(renderer.get(), *ImGui::GetDrawData());
  if (!keep_picture) return;
  picture.size = drawn();
  const auto width = static_cast<std::size_t>(picture.size.width);
  picture.rgb.resize(width * static_cast<std::size_t>(picture.size.height) * 3);
  SDL_RenderReadPixels(renderer.get(), nullptr, SDL_PIXELFORMAT_RGB24, picture.rgb.data(),
                       static_cast<int>(width * 3));
}

void Window::State::draw_with_raster() {
  const Size size = drawn();
  raster->clear(size, paper);
  raster->draw(*ImGui::GetDrawData());
  if (!sheet || sheet_size != size) {
    sheet.reset(SDL_CreateTexture(renderer.get(), SDL_PIXELFORMAT_RGB888,
                                  SDL_TEXTUREACCESS_STREAMING, size.width, size.height));
    sheet_size = size;
  }
  SDL_UpdateTexture(sheet.get(), nullptr, raster->pixels().data(), size.width * 4);
  SDL_RenderCopy(renderer.get(), sheet.get(), nullptr, nullptr);
  if (!keep_picture) return;
  picture.size = size;
  picture.rgb.clear();
  picture.rgb.reserve(raster->pixels().size() * 3);
  for (const std::uint32_t pixel : raster->pixels())
    for (const unsigned shift : {16U, 8U, 0U})
      picture.rgb.push_back(static_cast<std::uint8_t>((pixel >> shift) & 0xFFU));
}

Window::Window(std::unique_ptr<State> state) : state_(std::move(state)) {}
Window::~Window() = default;

Result<std::unique_ptr<Window>> Window::open(const WindowOptions& options) {
  if (options.size) {
    const auto [width, height] = *options.size;
    if (std::min(width, height) < kSmallest || std::max(width, height) > kLargest)
      return fail(ErrorKind::kInvalid,
                  "no screen is " + std::to_string(width) + "x" + std::to_string(height), "--size",
                  "give 480 to 8192 each way, such as 1280x800");
  }
  if (options.ppi && !sane_ppi(*options.ppi))
    return fail(ErrorKind::kInvalid, "no screen has so many dots per inch", "--ppi",
                "give 60 to 700, such as 189");
  auto state = std::make_unique<State>();
  if (auto started = state->start(options); !started) return std::unexpected(started.error());
  return std::unique_ptr<Window>(new Window(std::move(state)));
}

Size Window::size() const {
  return state_->drawn();
}
double Window::ppi() const {
  return state_->ppi;
}
void Window::set_ppi(double ppi) {
  if (sane_ppi(ppi)) state_->ppi = ppi;
}
void Window::resize(Size size) {
  SDL_SetWindowSize(state_->window.get(), size.width, size.height);
}

void Window::request_fonts(std::vector<FontRequest> requests) {
  state_->wanted_fonts = std::move(requests);
}

ImFont* Window::font(std::size_t place) const {
  return place < state_->fonts.size() ? state_->fonts[place] : nullptr;
}

bool Window::pump() {
  bool changed = false;
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) {
    if (event.type == SDL_QUIT) state_->closed = true;
    if (event.type == SDL_WINDOWEVENT) {
      const auto what = event.window.event;
      changed |= what == SDL_WINDOWEVENT_SIZE_CHANGED || what == SDL_WINDOWEVENT_EXPOSED ||
                 what == SDL_WINDOWEVENT_SHOWN;
      if (what == SDL_WINDOWEVENT_FOCUS_LOST) {
        state_->feeder.reset();
        changed |= state_->feeder.waiting();
      }
      continue;
    }
    changed |= state_->feeder.push(event, state_->drawn(), state_->counted());
  }
  return changed;
}

void Window::wait(std::int64_t at_most_ms) {
  SDL_WaitEventTimeout(nullptr, static_cast<int>(std::clamp<std::int64_t>(at_most_ms, 1, 60'000)));
}

void Window::wake() {
  SDL_Event event{};
  event.type = wake_event();
  SDL_PushEvent(&event);
}

bool Window::closed() const {
  return state_->closed;
}
InputFeeder& Window::feeder() {
  return state_->feeder;
}

bool Window::begin_frame(const InputFrame& input, double seconds_since_last) {
  if (auto built = state_->build_fonts(); !built) {
    state_->error = built.error();
    return false;
  }
  const Size size = state_->drawn();
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
  io.DeltaTime = static_cast<float>(std::clamp(seconds_since_last, 0.001, 1.0));
  constexpr float kNowhere = -3.4e38F;
  io.MousePos =
      input.position ? ImVec2(input.position->x, input.position->y) : ImVec2(kNowhere, kNowhere);
  io.MouseDown[0] = input.touching;
  ImGui::NewFrame();
  return true;
}

void Window::end_frame() {
  ImGui::Render();
  if (state_->unseen && !state_->keep_picture) return;
  // Pictures are kept inside, before presenting: afterwards the content is undefined.
  if (state_->raster)
    state_->draw_with_raster();
  else
    state_->draw_with_sdl();
  SDL_RenderPresent(state_->renderer.get());
}

void Window::set_paper(std::uint32_t rgb) {
  state_->paper = rgb;
}
const Error& Window::error() const {
  return state_->error;
}
void Window::keep_picture(bool keep) {
  state_->keep_picture = keep;
}
const Picture& Window::picture() const {
  return state_->picture;
}

}  // namespace ligule::platform
