// The window, with or without a display, and the drawing context inside it.
//
// Headless uses SDL's dummy video driver, so pictures and events are the real ones. With a graphics
// chip SDL draws the triangles; without one our own Raster does. Owns SDL, the drawing library's
// context, the font texture and the feeder. One window at a time: SDL and the drawing library are
// global.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/platform/fonts.h"
#include "app/platform/geometry.h"
#include "app/platform/input.h"
#include "app/platform/picture.h"
#include "storage/trial/error.h"

namespace ligule::platform {

struct WindowOptions {
  std::string title = "Ligule";
  bool headless = false;
  std::optional<Size> size;   // pixels; none: the whole display, or 1280x800 headless
  std::optional<double> ppi;  // dots per inch; none: what the display says, or 189 headless
  std::filesystem::path fonts = font_folder();
  // Triangles through SDL even where it has no graphics chip: for the test that compares both ways.
  bool sdl_triangles = false;
};

enum class FingerMove { kDown, kMove, kUp };

class Window {
 public:
  // kIo when SDL can't open a display; kInvalid for a size or ppi no tablet has.
  [[nodiscard]] static Result<std::unique_ptr<Window>> open(const WindowOptions& options);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  [[nodiscard]] Size size() const;   // of the drawn picture, in pixels
  [[nodiscard]] double ppi() const;  // true dots per inch of the drawn picture
  void set_ppi(double ppi);          // after a person held a card against the drawn bar
  void resize(Size size);            // also turns the glass: width and height swapped

  // Asks for these fonts from the next frame on; building them takes some 0.1 s, so a request that
  // equals the present one does nothing.
  void request_fonts(std::vector<FontRequest> requests);
  // The font of that place in the last request; valid during the frame.
  [[nodiscard]] ImFont* font(std::size_t place) const;

  // Reads every waiting SDL event. Returns true if a frame must follow. Sets `closed`.
  bool pump();
  // Sleeps until an event or wake() arrives or the time is over.
  void wait(std::int64_t at_most_ms);
  // From any thread: ends a wait().
  static void wake();
  [[nodiscard]] bool closed() const;  // the person closed the window
  [[nodiscard]] InputFeeder& feeder();

  // A frame: begin, draw through the drawing library, end. false: the fonts could not be built and
  // the reason is in error(). paper is the colour of the empty ground, 0xRRGGBB.
  [[nodiscard]] bool begin_frame(const InputFrame& input, double seconds_since_last);
  void end_frame();
  void set_paper(std::uint32_t rgb);
  [[nodiscard]] const Error& error() const;

  // The picture of the last frame; empty before the first. Made only after keep_picture(true),
  // because it costs milliseconds; headless, nothing else is drawn into pixels.
  void keep_picture(bool keep);
  [[nodiscard]] const Picture& picture() const;

  // For drive files and tests: goes through SDL's own queue like a real finger or key.
  static void push_finger(FingerMove move, Point at, Size drawn, int finger = 1);
  static void push_text(const std::string& utf8);
  static void push_key(HardKey key);
  static void push_wheel(Point at, float notches);

 private:
  struct State;
  explicit Window(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace ligule::platform
