#include "app/touch/ui.h"

#include <imgui.h>
#include <imgui_internal.h>  // ClearActiveID: the only way to take a press back

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/touch/hands.h"

namespace ligule::touch {
namespace {

constexpr std::int64_t kFlashMs = 700;
constexpr double kSwipeMm = 15;
constexpr double kDragMm = 1.5;
constexpr float kDragPx = 12;     // and never less than that
constexpr double kFrameMm = 2.8;  // within the narrowest margin of a page

// A frame that asks is broken where one that confirms is whole: seen without its colour.
void draw_breaks(const Canvas& paint, const Rect& all, float thick) {
  const float pitch = thick * 5;
  const float gap = thick * 1.4F;
  for (float x = all.left + pitch; x < all.right - gap; x += pitch)
    for (const float y : {all.top, all.bottom - thick})
      paint.fill({x, y, x + gap, y + thick}, Tone::kGround);
  for (float y = all.top + pitch; y < all.bottom - gap; y += pitch)
    for (const float x : {all.left, all.right - thick})
      paint.fill({x, y, x + thick, y + gap}, Tone::kGround);
}

std::string_view id_of(std::string_view id) {
  const std::size_t at = id.find("##");
  if (at == std::string_view::npos) return id;
  const std::string_view own = id.substr(id.find_first_not_of('#', at) == std::string_view::npos
                                             ? id.size()
                                             : id.find_first_not_of('#', at));
  return own.empty() ? id.substr(0, at) : own;
}

}  // namespace

std::string_view label_of(std::string_view id) {
  return id.substr(0, id.find("##"));
}

Ui::Ui(platform::Window& window, const Look& look)
    : window_(window),
      look_(look),
      next_look_(look),
      sizes_(look, window.ppi()),
      hands_(std::make_unique<Hands>()) {
  window_.request_fonts(sizes_.fonts());
}
Ui::~Ui() = default;

void Ui::set_look(const Look& look) {
  next_look_ = look;
}

Rect Ui::window_rect() const {
  const auto size = window_.size();
  return {0, 0, static_cast<float>(size.width), static_cast<float>(size.height)};
}

Rect Ui::page() const {
  return window_rect().grown(-mm(4));
}
bool Ui::portrait() const {
  return window_rect().height() > window_rect().width();
}
const Palette& Ui::palette() const {
  return look_.dusk ? dusk_palette() : paper_palette();
}
ImFont* Ui::font(Font font) const {
  return window_.font(static_cast<std::size_t>(font));
}
Canvas Ui::canvas() {
  return {*ImGui::GetWindowDrawList(), palette(), sizes_};
}
std::pmr::memory_resource* Ui::frame_memory() const {
  return &hands_->memory;
}
Rect Ui::clip() const {
  return hands_->clips.empty() ? window_rect() : hands_->clips.back();
}

void Ui::begin(const platform::InputFrame& input, std::int64_t now_ms) {
  input_ = input;
  now_ms_ = now_ms;
  halo_ = gap() / 2;
  another_frame_ = false;
  window_.set_paper(palette()[Tone::kGround]);
  hands_->panels_before = hands_->panels_open;
  const bool uncovered = hands_->panels.size() > hands_->panels_open;
  hands_->panels.resize(hands_->panels_open);
  if (uncovered && !hands_->panels.empty()) hands_->panels.back().since = now_ms_;
  hands_->panels_open = 0;
  hands_->tapped = false;
  hands_->sized.clear();
  hands_->flash_place.reset();
  follow_finger();
  hands_->memory.release();
  begin_register();

  const Rect all = window_rect();
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({all.width(), all.height()});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowMinSize, {1, 1});
  ImGui::Begin("##glass", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBackground |
                   ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse);
  hands_->clips.push_back(all);
}

void Ui::end() {
  draw_flash();
  std::erase_if(hands_->sizes,
                [&](const auto& list) { return !hands_->sized.contains(list.first); });
  hands_->clips.clear();
  ImGui::End();
  ImGui::PopStyleVar(3);
  if (const std::size_t top = hands_->panels_open; top > 0) {
    seen_.panel_read_at = hands_->panels[top - 1].since + kUnreadMs;
    for (Widget& widget : seen_.widgets)
      if (widget.layer < static_cast<int>(top))
        widget.covered = tappable(widget.kind) || widget.drawn.overlaps(hands_->panel_card);
  }
  if (hands_->panels_open != hands_->panels_before) another_frame_ = true;
  if (input_.released || input_.cancelled) hands_->origin.reset();
  if (next_look_ != look_ || window_.ppi() != sizes_.ppi()) {
    look_ = next_look_;
    sizes_ = Sizes(look_, window_.ppi());
    window_.request_fonts(sizes_.fonts());
    another_frame_ = true;
  }
}

std::optional<std::int64_t> Ui::next_change_ms() const {
  if (another_frame_) return now_ms_;
  if (hands_->flash) return hands_->flash_until;
  return std::nullopt;
}

// Before any widget: which part scrolls under the finger, and whether the stroke is a swipe.
void Ui::follow_finger() {
  Hands& hands = *hands_;
  hands.stroke.reset();
  if (input_.pressed) {
    hands.origin = input_.position;
    hands.pressed_at = now_ms_;
    hands.dragging = false;
    hands.dragged.clear();
  }
  if (input_.cancelled) {
    ImGui::ClearActiveID();
    hands.dragging = false;
    hands.origin.reset();
  }
  const auto layer = static_cast<int>(hands.panels_before);
  if (input_.wheel != 0 && input_.position) {
    for (const auto& scroller : seen_.scrollers)
      if (scroller.layer == layer && scroller.rect.contains(*input_.position))
        hands.scrolls[scroller.name].offset -= input_.wheel * mm(12);
  }
  if (!hands.origin) return;
  const float far = std::max(kDragPx, mm(kDragMm));
  for (const Point& at : input_.path) {
    const float dx = at.x - hands.origin->x;
    const float dy = at.y - hands.origin->y;
    if (!hands.dragging && std::max(std::abs(dx), std::abs(dy)) > far) {
      const bool sideways = std::abs(dx) > std::abs(dy);
      for (const auto& scroller : seen_.scrollers) {
        if (scroller.layer != layer || scroller.sideways != sideways ||
            !scroller.rect.contains(*hands.origin))
          continue;
        hands.dragging = true;
        hands.dragged = scroller.name;
        hands.offset_at_start = hands.scrolls[scroller.name].offset;
      }
      // From here on the finger moves the page, so the key it came down on lets go.
      if (hands.dragging) ImGui::ClearActiveID();
    }
    if (hands.dragging) {
      for (const auto& scroller : seen_.scrollers)
        if (scroller.name == hands.dragged)
          hands.scrolls[scroller.name].offset =
              hands.offset_at_start - (scroller.sideways ? dx : dy);
    }
  }
  if (input_.released && !hands.dragging && input_.position) {
    const float dx = input_.position->x - hands.origin->x;
    const float dy = input_.position->y - hands.origin->y;
    const float far_enough = mm(kSwipeMm);
    if (std::abs(dx) >= far_enough && std::abs(dx) > 2 * std::abs(dy))
      hands.stroke = dx < 0 ? Swipe::kLeft : Swipe::kRight;
    if (std::abs(dy) >= far_enough && std::abs(dy) > 2 * std::abs(dx))
      hands.stroke = dy < 0 ? Swipe::kUp : Swipe::kDown;
  }
}

bool Ui::blocked() const {
  return hands_->layer < hands_->panels_before;
}

// Nobody has read the panel yet whose finger came down so soon.
bool Ui::unread() const {
  const std::size_t layer = hands_->layer;
  return layer > 0 && hands_->pressed_at < hands_->panels[layer - 1].since + kUnreadMs;
}

const std::vector<platform::KeyPress>& Ui::typed() {
  static const std::vector<platform::KeyPress> none;
  if (blocked()) return none;
  seen_.takes_text = true;
  return input_.keys;
}

std::optional<Swipe> Ui::swiped(const Rect& rect) {
  if (!blocked()) seen_.takes_swipes = true;
  if (hands_->tapped || blocked()) return std::nullopt;
  const std::optional<Point> origin = hands_->origin;
  return origin && rect.contains(*origin) ? hands_->stroke : std::nullopt;
}

void Ui::flash(Flash flash) {
  hands_->flash = flash;
  hands_->flash_until = now_ms_ + kFlashMs;
}

void Ui::draw_flash() {
  const std::optional<Flash> flash = hands_->flash;
  if (!flash) return;
  if (now_ms_ >= hands_->flash_until) {
    hands_->flash.reset();
    return;
  }
  const bool kept = *flash == Flash::kKept;
  const Rect all = window_rect();
  const Canvas paint = canvas();
  const float thick = mm(kFrameMm);
  paint.outline(all, kept ? Tone::kDone : Tone::kAttention, thick);
  if (!kept) draw_breaks(paint, all, thick);
  const Rect corner{all.left + thick, all.top + thick, all.left + mm(16), all.top + mm(16)};
  const Rect place = hands_->flash_place.value_or(corner);
  const float side = std::min({place.width(), place.height(), mm(16)});
  const Rect face = centred(place, side, side);
  paint.fill(face, Tone::kCard, mm(2.4));
  const Rect sign = face.grown(-mm(1));
  Shape shape = Shape::kDone;
  if (*flash == Flash::kQuestioned) shape = Shape::kQuestioned;
  if (*flash == Flash::kNotSaved) shape = Shape::kHeld;
  paint.shape(shape, sign);
  Widget widget;
  widget.kind = Kind::kShape;
  widget.label = kept ? "flash kept" : "flash attention";
  widget.drawn = face;
  enter(std::move(widget));
}

void Ui::flash_at(const Rect& place) {
  hands_->flash_place = place;
}

// --- one size a list ---

namespace {

// In size, or of one size in weight.
bool smaller(const Sizes& sizes, Font a, Font b) {
  return (a == Font::kCaption && b == Font::kFirm) ||
         sizes.capital_mm(a) < sizes.capital_mm(b) - 0.01;
}

}  // namespace

void Ui::begin_sizes(std::string name, bool sticky) {
  if (hands_->layer > 0) name += "/panel";
  hands_->sized.insert(name);
  hands_->scopes.push_back({std::move(name), sticky, {}});
}

void Ui::end_sizes() {
  Hands::SizeScope scope = std::move(hands_->scopes.back());
  hands_->scopes.pop_back();
  Hands::Steps& used = hands_->sizes[scope.name];
  if (scope.sticky)
    for (const auto& [wanted, stepped] : used) {
      const auto at = scope.now.try_emplace(wanted, stepped).first;
      if (smaller(sizes_, stepped, at->second)) at->second = stepped;
    }
  if (used == scope.now) return;
  used = std::move(scope.now);
  another_frame_ = true;
}

Font Ui::common_size(Font wanted, Font own, bool in_key) {
  if (hands_->scopes.empty()) return own;
  Hands::SizeScope& scope = hands_->scopes.back();
  const auto least = scope.now.try_emplace({wanted, in_key}, own).first;
  if (smaller(sizes_, own, least->second)) least->second = own;
  const Hands::Steps& used = hands_->sizes[scope.name];
  const auto at = used.find({wanted, in_key});
  return at != used.end() && smaller(sizes_, at->second, own) ? at->second : own;
}

Ui::SameSize Ui::same_size(std::string_view name) {
  begin_sizes(std::string(name), false);
  return SameSize(*this);
}
Ui::SameSize::~SameSize() {
  ui_->end_sizes();
}

// --- groups and panels ---

Ui::Group Ui::group(std::string_view name) {
  hands_->groups.emplace_back(name);
  return Group(*this);
}
Ui::Group::~Group() {
  ui_->end_group();
}
void Ui::end_group() {
  hands_->groups.pop_back();
}

Ui::Panel Ui::panel(const Rect& card, std::string_view title) {
  std::string name;
  for (const std::string& group : hands_->groups) name.append(group).append("/");
  name += title;
  const std::size_t at = hands_->panels_open++;
  // Told apart by place too: a notice may lie under a question, in every frame.
  if (at == hands_->panels.size()) hands_->panels.push_back({name, now_ms_});
  if (hands_->panels[at].name != name) hands_->panels[at] = {std::move(name), now_ms_};
  hands_->layer = hands_->panels_open;
  hands_->panel_card = card;
  return Panel(*this);
}
Ui::Panel::~Panel() {
  ui_->end_panel();
}
void Ui::end_panel() {
  hands_->layer = 0;
}

// --- the register ---

// Empty, with the room it had.
void Ui::begin_register() {
  Register fresh;
  fresh.widgets.swap(seen_.widgets);
  fresh.no_room.swap(seen_.no_room);
  fresh.scrollers.swap(seen_.scrollers);
  fresh.widgets.clear();
  fresh.no_room.clear();
  fresh.scrollers.clear();
  fresh.window = window_.size();
  fresh.ppi = sizes_.ppi();
  fresh.key_mm = sizes_.key_mm();
  fresh.gap_mm = sizes_.gap_mm();
  seen_ = std::move(fresh);
}

void Ui::enter(Widget widget) {
  for (const std::string& name : hands_->groups) {
    if (!widget.group.empty()) widget.group += '/';
    widget.group += name;
  }
  widget.clip = clip();
  widget.layer = static_cast<int>(hands_->layer);
  const Rect& far = tappable(widget.kind) ? widget.touch : widget.drawn;
  reach({far.right, far.bottom});
  seen_.widgets.push_back(std::move(widget));
}

void Ui::no_room(std::string_view label) {
  seen_.no_room.emplace_back(label_of(label));
}

TouchState Ui::touch(std::string_view id, Widget widget, float halo) {
  widget.label = label_of(id);
  widget.touch = widget.drawn.grown(halo);
  TouchState state;
  const Rect reachable = widget.touch.common(clip());
  if (widget.enabled && !blocked() && !unread() && !reachable.empty()) {
    std::pmr::string name(frame_memory());
    for (const std::string& group : hands_->groups) name.append(group).append("/");
    name += id_of(id);
    ImGui::SetCursorScreenPos({widget.touch.left, widget.touch.top});
    state.tapped =
        ImGui::InvisibleButton(name.c_str(), {widget.touch.width(), widget.touch.height()});
    state.held = ImGui::IsItemActive();
    const bool slid_off =
        std::ranges::any_of(input_.path, [&](Point p) { return !reachable.contains(p); });
    if ((state.held || state.tapped) && slid_off) {
      // Coming back does not count: a finger that left has changed its mind.
      if (state.held) ImGui::ClearActiveID();
      state = {};
    }
    hands_->tapped |= state.tapped;
    // What is asked next may say the same of another thing.
    if (state.tapped && hands_->layer > 0) hands_->panels[hands_->layer - 1].since = now_ms_;
  }
  enter(std::move(widget));
  return state;
}

}  // namespace ligule::touch
