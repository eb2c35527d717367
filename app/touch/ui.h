// One frame of the touch surface: what widgets are drawn with.
//
// Owns the theme, the register, scroll places and the state of the finger. Widgets (key.h, text.h,
// tiles.h ...) are plain functions that take a Ui and a rectangle; screens call those and never the
// drawing library. Begin and end belong to app/program; screens see a Ui between the two.
#pragma once

#include <cstdint>
#include <memory>
#include <memory_resource>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/platform/input.h"
#include "app/platform/window.h"
#include "app/touch/canvas.h"
#include "app/touch/layout.h"
#include "app/touch/register.h"
#include "app/touch/theme.h"

struct ImFont;

namespace ligule::touch {

// A finger on its way lands before anyone has read what came under it. To see something new takes
// a person about 0.2 s, to choose what to tap and to get there as long again (from memory).
inline constexpr std::int64_t kUnreadMs = 400;

enum class Flash { kKept, kQuestioned, kNotSaved };
enum class Swipe { kLeft, kRight, kUp, kDown };

// What a key needs to know of the finger.
struct TouchState {
  bool held = false;    // the finger came down here and has not slid off
  bool tapped = false;  // it was let go here, in this frame
};

class Ui {
 public:
  Ui(platform::Window& window, const Look& look);
  ~Ui();
  Ui(const Ui&) = delete;
  Ui& operator=(const Ui&) = delete;

  // New sizes come with the next frame. Calling it with the present look does nothing.
  void set_look(const Look& look);
  [[nodiscard]] const Look& look() const { return look_; }

  // now_ms: steady milliseconds of the Clock.
  void begin(const platform::InputFrame& input, std::int64_t now_ms);
  void end();
  // The frame that was ended last (between begin and end: what was entered so far).
  [[nodiscard]] const Register& seen() const { return seen_; }
  // When the picture changes by itself: the end of a flash. None: never.
  // At once, when a widget learned something in this frame that changes the next one (how far a
  // scrolled page reaches).
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const;

  // --- for screens ---
  [[nodiscard]] const Sizes& sizes() const { return sizes_; }
  [[nodiscard]] float mm(double millimetres) const { return sizes_.mm(millimetres); }
  [[nodiscard]] float gap() const { return sizes_.gap(); }
  [[nodiscard]] float key() const { return sizes_.key(); }
  // How far keys and fields answer beyond their edge unless they say otherwise: half the gap, until
  // a screen that stands closer together says so. Holds to the end of the frame.
  [[nodiscard]] float halo() const { return halo_; }
  void set_halo(float pixels) { halo_ = pixels; }
  [[nodiscard]] Rect window_rect() const;
  [[nodiscard]] Rect page() const;  // the window without its margin
  [[nodiscard]] bool portrait() const;
  [[nodiscard]] bool left_handed() const { return look_.hand == Hand::kLeft; }
  // For drawn backgrounds; valid during the frame.
  [[nodiscard]] Canvas canvas();
  // Keys typed on a hardware keyboard or by a barcode reader in this frame. Reading them says that
  // the screen takes text, which drive files check.
  [[nodiscard]] const std::vector<platform::KeyPress>& typed();
  // A finished stroke of 15 mm and more that began inside rect and tapped nothing.
  [[nodiscard]] std::optional<Swipe> swiped(const Rect& rect);
  // A frame of colour round the glass and a sign for 0.7 s: seen from the corner of the eye. The
  // frame lies in the margin, the sign where nothing has to be read: in the corner of the way out,
  // or where the screen says.
  void flash(Flash flash);
  void flash_at(const Rect& place);  // in this frame

  // A name that groups what is drawn while it lives: auto group = ui.group("Vigor");
  class Group {
   public:
    explicit Group(Ui& ui) : ui_(&ui) {}
    ~Group();
    Group(const Group&) = delete;
    Group& operator=(const Group&) = delete;

   private:
    Ui* ui_;
  };
  [[nodiscard]] Group group(std::string_view name);

  // A part of the screen that a finger drags. area() is where the content goes: as wide as the part
  // (as high, sideways) and endless the other way; how far it reaches is learned from what is
  // drawn.
  class Scroll {
   public:
    Scroll(Ui& ui, const Rect& area) : ui_(&ui), area_(area) {}
    ~Scroll();
    Scroll(const Scroll&) = delete;
    Scroll& operator=(const Scroll&) = delete;
    [[nodiscard]] const Rect& area() const { return area_; }

   private:
    Ui* ui_;
    Rect area_;
  };
  [[nodiscard]] Scroll scroll(std::string_view name, const Rect& rect, Axis axis = Axis::kDown);
  // Texts that are read together and stand in one size: where one of them gives way to a smaller
  // type, all that were asked for in the same type do. What a part scrolls is such a list by
  // itself.
  class SameSize {
   public:
    explicit SameSize(Ui& ui) : ui_(&ui) {}
    ~SameSize();
    SameSize(const SameSize&) = delete;
    SameSize& operator=(const SameSize&) = delete;

   private:
    Ui* ui_;
  };
  [[nodiscard]] SameSize same_size(std::string_view name);
  // Says that the content reaches to here although nothing is drawn there (rows out of view may be
  // left out).
  void reach(Point to);
  // Brings a stretch of the content (pixels from its start) into view, once.
  void scroll_to(std::string_view name, float from, float to);
  // Puts this place of the content into the middle whenever `item`, or the length of the part, is
  // not the one of the last frame.
  void keep_in_middle(std::string_view name, std::size_t item, float place, float length);

  // A panel over the screen: while it lives widgets belong to it; what lies beneath, another panel
  // too, can't be tapped. Draw it last. card is the rectangle of the sheet, title tells one panel
  // from the next. A finger that came down sooner than kUnreadMs after the panel was first drawn or
  // uncovered, or after one of its keys was tapped, aimed at what was there before: the panel does
  // not answer it.
  class Panel {
   public:
    explicit Panel(Ui& ui) : ui_(&ui) {}
    ~Panel();
    Panel(const Panel&) = delete;
    Panel& operator=(const Panel&) = delete;

   private:
    Ui* ui_;
  };
  [[nodiscard]] Panel panel(const Rect& card, std::string_view title);

  // --- for widgets ---
  // Enters the widget and asks what the finger does to it. id: the label with its `##` part.
  TouchState touch(std::string_view id, Widget widget, float halo);
  void enter(Widget widget);
  void no_room(std::string_view label);
  // What a text that was asked for in one type, and by itself would stand in another, stands in
  // among its list; keys among keys.
  [[nodiscard]] Font common_size(Font wanted, Font own, bool in_key);
  [[nodiscard]] ImFont* font(Font font) const;
  [[nodiscard]] const Palette& palette() const;
  [[nodiscard]] Rect clip() const;
  // For what a widget needs while it lays itself out: asked of the system once, and given out again
  // in every frame. Nothing that lies in it may outlive the frame.
  [[nodiscard]] std::pmr::memory_resource* frame_memory() const;
  [[nodiscard]] std::int64_t now_ms() const { return now_ms_; }

 private:
  struct Hands;

  void follow_finger();
  void begin_register();
  void end_scroll();
  void begin_sizes(std::string name, bool sticky);
  void end_sizes();
  void end_panel();
  void end_group();
  void draw_flash();
  [[nodiscard]] bool blocked() const;
  [[nodiscard]] bool unread() const;

  platform::Window& window_;
  Look look_;
  Look next_look_;  // taken over between frames, together with its fonts
  Sizes sizes_;
  Register seen_;
  platform::InputFrame input_;
  std::int64_t now_ms_ = 0;
  float halo_ = 0;
  bool another_frame_ = false;
  std::unique_ptr<Hands> hands_;
};

// "Vigor 5##v5" -> "Vigor 5".
[[nodiscard]] std::string_view label_of(std::string_view id);

}  // namespace ligule::touch
