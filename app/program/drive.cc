#include "app/program/drive.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include "app/platform/picture.h"
#include "app/program/list.h"

namespace ligule::program {
namespace {

using platform::FingerMove;
using platform::Point;
using platform::Rect;
using platform::Window;
using touch::Widget;

std::string full_name(const Widget& widget) {
  const std::string name = widget.group.empty() ? widget.label : widget.group + "/" + widget.label;
  return "\"" + name + "\"";
}

std::string place(const Widget& widget) {
  const Point at = touch::visible_part(widget).centre();
  return " at " + std::to_string(static_cast<int>(at.x)) + "," +
         std::to_string(static_cast<int>(at.y));
}

// Why something of that name can't be tapped, if there is one at all.
std::string why_not(const touch::Register& seen, const std::string& label) {
  touch::Register all = seen;
  for (Widget& widget : all.widgets) {
    widget.enabled = true;
    widget.covered = false;
    widget.clip = widget.drawn;
  }
  const auto named = touch::find(all, label);
  if (named.empty()) return {};
  const auto index = static_cast<std::size_t>(named.front() - all.widgets.data());
  const Widget& widget = seen.widgets[index];
  if (widget.covered) return "; it lies under a panel";
  if (!touch::visible(widget)) return "; it is out of view, swipe first";
  return "; it is not enabled";
}

bool sideways(Verb verb) {
  return verb == Verb::kSwipeLeft || verb == Verb::kSwipeRight;
}

}  // namespace

std::string what_is_visible(const touch::Register& seen) {
  std::string keys;
  std::string texts;
  for (const Widget& widget : seen.widgets) {
    if (!touch::visible(widget) || widget.kind == touch::Kind::kShape) continue;
    std::string& part = touch::tappable(widget.kind) ? keys : texts;
    if (!part.empty()) part += ", ";
    part += full_name(widget);
    if (touch::tappable(widget.kind) && !widget.enabled) part += " (not enabled)";
  }
  return "visible keys: " + (keys.empty() ? "none" : keys) +
         "; texts: " + (texts.empty() ? "none" : texts);
}

Driver::Driver(Window& window, platform::Loop& loop, platform::Clock& clock,
               std::function<const touch::Register&()> seen)
    : window_(window), loop_(loop), clock_(clock), seen_(std::move(seen)) {}

Result<void> Driver::play(std::span<const Action> actions, const std::string& name) {
  if (auto played = play_until(actions, name, [] { return false; }); !played)
    return std::unexpected(std::move(played).error());
  return {};
}

Result<std::size_t> Driver::play_until(std::span<const Action> actions, const std::string& name,
                                       const std::function<bool()>& stop) {
  const auto at_line = [&](Error error, int line) {
    error.where =
        name + " line " + std::to_string(line) + (error.where.empty() ? "" : ", " + error.where);
    return std::unexpected(std::move(error));
  };
  if (auto calm = settle(); !calm) return at_line(calm.error(), 0);
  std::size_t played = 0;
  for (const Action& action : actions) {
    if (stop()) break;
    if (action.verb == Verb::kQuit) {
      played = actions.size();
      break;
    }
    const bool looks =
        action.verb == Verb::kExpect || action.verb == Verb::kShot || action.verb == Verb::kList;
    if (!looks) {
      if (auto paid = pay_time(); !paid) return at_line(paid.error(), action.line);
    }
    if (auto done = perform(action); !done) return at_line(done.error(), action.line);
    if (auto calm = settle(); !calm) return at_line(calm.error(), action.line);
    if (action.verb != Verb::kWait) owed_ms_ += kActionMs;
    ++played;
  }
  if (auto paid = pay_time(); !paid) return std::unexpected(std::move(paid).error());
  return played;
}

Result<void> Driver::perform(const Action& action) {
  switch (action.verb) {
    case Verb::kTap:
      return tap(action.text);
    case Verb::kType:
      return type(action.text);
    case Verb::kSwipeLeft:
    case Verb::kSwipeRight:
    case Verb::kSwipeUp:
    case Verb::kSwipeDown:
      return swipe(action.verb);
    case Verb::kWait:
      return wait(action.ms);
    case Verb::kExpect:
      return expect(action.text);
    case Verb::kShot:
      return shot(action.text);
    case Verb::kList:
      return write_list(action.text, seen_());
    case Verb::kQuit:
      break;
  }
  return {};
}

Result<void> Driver::pay_time() {
  if (owed_ms_ == 0) return {};
  clock_.pass(std::exchange(owed_ms_, 0));
  return settle();
}

Result<void> Driver::settle() {
  auto calm = loop_.settle(kPatienceMs);
  if (!calm) return std::unexpected(calm.error());
  if (!*calm) return fail(ErrorKind::kIo, "still at work after 5 s", {}, what_is_visible(seen_()));
  return {};
}

// As long as a person needs: what has just come up takes no tap before.
Result<void> Driver::read_panel() {
  const std::int64_t left = seen_().panel_read_at - clock_.steady_ms();
  return left > 0 ? wait(left) : Result<void>();
}

Result<void> Driver::tap(const std::string& label) {
  if (auto read = read_panel(); !read) return read;
  const auto found = touch::find(seen_(), label);
  if (found.empty())
    return fail(ErrorKind::kRefused,
                "nothing to tap is called \"" + label + "\"" + why_not(seen_(), label), {},
                what_is_visible(seen_()));
  if (found.size() > 1) {
    std::string all;
    for (const Widget* widget : found)
      all += (all.empty() ? "" : ", ") + full_name(*widget) + place(*widget);
    return fail(ErrorKind::kRefused,
                std::to_string(found.size()) + " keys are called \"" + label + "\": " + all, {},
                "narrow it as GROUP/LABEL");
  }
  const Point at = touch::visible_part(*found.front()).centre();
  Window::push_finger(FingerMove::kDown, at, window_.size());
  Window::push_finger(FingerMove::kUp, at, window_.size());
  return {};
}

Result<void> Driver::type(const std::string& text) {
  if (!seen_().takes_text)
    return fail(ErrorKind::kRefused, "nothing on the screen takes text", {},
                what_is_visible(seen_()));
  std::string_view rest = text;
  while (true) {
    const std::size_t end = rest.find('\n');
    if (end != 0 && !rest.empty()) Window::push_text(std::string(rest.substr(0, end)));
    if (end == std::string_view::npos) return {};
    Window::push_key(platform::HardKey::kEnter);
    rest.remove_prefix(end + 1);
  }
}

Result<void> Driver::swipe(Verb verb) {
  const touch::Register& seen = seen_();
  int top_layer = 0;
  for (const Widget& widget : seen.widgets) top_layer = std::max(top_layer, widget.layer);
  const touch::Register::Scroller* best = nullptr;
  for (const auto& part : seen.scrollers) {
    if (part.sideways != sideways(verb) || part.layer != top_layer) continue;
    if (best == nullptr || part.rect.area() > best->rect.area()) best = &part;
  }
  if (best == nullptr && !seen.takes_swipes)
    return fail(ErrorKind::kRefused, "nothing on the screen follows a stroke in that direction", {},
                what_is_visible(seen));
  const Rect area = best != nullptr ? best->rect
                                    : Rect{0, 0, static_cast<float>(seen.window.width),
                                           static_cast<float>(seen.window.height)};
  // Through the middle, over seven tenths of the part.
  const Point middle = area.centre();
  const float sign = verb == Verb::kSwipeLeft || verb == Verb::kSwipeUp ? -1.0F : 1.0F;
  const float dx = sideways(verb) ? sign * area.width() * 0.35F : 0;
  const float dy = sideways(verb) ? 0 : sign * area.height() * 0.35F;
  constexpr int kSteps = 8;
  const auto at = [&](int step) {
    const float part = 2 * static_cast<float>(step) / kSteps - 1;
    return Point{middle.x + part * dx, middle.y + part * dy};
  };
  Window::push_finger(FingerMove::kDown, at(0), window_.size());
  for (int step = 1; step <= kSteps; ++step)
    Window::push_finger(FingerMove::kMove, at(step), window_.size());
  Window::push_finger(FingerMove::kUp, at(kSteps), window_.size());
  return {};
}

Result<void> Driver::wait(std::int64_t ms) {
  if (clock_.driven()) {
    clock_.pass(ms);
    return {};
  }
  const std::int64_t end = clock_.steady_ms() + ms;
  while (clock_.steady_ms() < end) {
    auto drew = loop_.turn();
    if (!drew) return std::unexpected(drew.error());
    if (!*drew) window_.wait(std::min<std::int64_t>(20, end - clock_.steady_ms()));
  }
  return {};
}

Result<void> Driver::expect(const std::string& text) {
  // By the machine's own clock: the scripted one stands still meanwhile.
  using Clock = std::chrono::steady_clock;
  const auto end = Clock::now() + std::chrono::milliseconds(kPatienceMs);
  while (loop_.outside_moves() && !touch::shows(seen_(), text) && Clock::now() < end) {
    auto drew = loop_.turn();
    if (!drew) return std::unexpected(drew.error());
    if (!*drew) window_.wait(20);
  }
  if (touch::shows(seen_(), text)) return {};
  return fail(ErrorKind::kRefused, "the screen does not show \"" + text + "\"", {},
              what_is_visible(seen_()));
}

Result<void> Driver::shot(const std::string& file) {
  window_.keep_picture(true);
  loop_.request_frame();
  auto calm = settle();
  window_.keep_picture(false);
  if (!calm) return calm;
  return platform::write_png(file, window_.picture());
}

}  // namespace ligule::program
