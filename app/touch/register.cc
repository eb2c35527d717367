#include "app/touch/register.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/touch/theme.h"

namespace ligule::touch {
namespace {

constexpr float kSlack = 0.75F;  // pixels; rounding of rectangles
constexpr double kLeastValueMm = 7;

bool group_matches(std::string_view group, std::string_view wanted) {
  if (group == wanted) return true;
  return group.size() > wanted.size() && group.ends_with(wanted) &&
         group[group.size() - wanted.size() - 1] == '/';
}

bool named(const Widget& widget, std::string_view label) {
  if (widget.label == label) return true;
  // A label may hold a '/' itself ("lb/acre"), so every one of them may be where the group ends.
  for (std::size_t at = label.find('/'); at != std::string_view::npos; at = label.find('/', at + 1))
    if (widget.label == label.substr(at + 1) && group_matches(widget.group, label.substr(0, at)))
      return true;
  return false;
}

std::string who(const Widget& widget) {
  std::string name(kind_name(widget.kind));
  name += " \"";
  if (!widget.group.empty()) name += widget.group + "/";
  return name + widget.label + "\"";
}

std::string in_mm(float pixels, double ppi) {
  const double tenths = std::round(static_cast<double>(pixels) / ppi * 254.0);
  const auto whole = static_cast<long>(tenths);
  return std::to_string(whole / 10) + "." + std::to_string(std::abs(whole % 10));
}

void check_sizes(const Register& seen, const Widget& widget, std::vector<std::string>& faults) {
  const auto px = [&](double mm) { return static_cast<float>(mm * seen.ppi / 25.4) - kSlack; };
  const auto least = [&](const Rect& rect) { return std::min(rect.width(), rect.height()); };
  if (least(widget.touch) < px(Sizes::kLeastMm))
    faults.push_back(who(widget) + " answers on " + in_mm(least(widget.touch), seen.ppi) +
                     " mm, least is 12");
  if (widget.primary && least(widget.drawn) < px(seen.key_mm))
    faults.push_back(who(widget) + " is drawn " + in_mm(least(widget.drawn), seen.ppi) +
                     " mm, a rating key is " + in_mm(px(seen.key_mm) + kSlack, seen.ppi));
}

// Two rating keys that stand closer together than they may.
void check_gap(const Register& seen, const Widget& first, const Widget& second,
               std::vector<std::string>& faults) {
  if (!first.primary || !second.primary) return;
  const auto between = [](float end, float start, float other_end, float other_start) {
    return std::max(start - end, other_start - other_end);
  };
  const Rect& a = first.drawn;
  const Rect& b = second.drawn;
  const float apart = std::max(between(a.right, b.left, b.right, a.left),
                               between(a.bottom, b.top, b.bottom, a.top));
  const auto least = static_cast<float>(seen.gap_mm * seen.ppi / 25.4);
  if (apart < least - kSlack)
    faults.push_back(who(first) + " and " + who(second) + " stand " + in_mm(apart, seen.ppi) +
                     " mm apart, rating keys " + in_mm(least, seen.ppi));
}

// Which ways the scrolled part a widget lies in can be dragged; neither: a fixed place.
struct Ways {
  bool across = false;
  bool down = false;
};
Ways dragged(const Register& seen, const Widget& widget) {
  const Rect window{0, 0, static_cast<float>(seen.window.width),
                    static_cast<float>(seen.window.height)};
  Ways ways;
  for (const Register::Scroller& part : seen.scrollers) {
    const Rect part_clip = part.rect.common(window);
    if (part.layer != widget.layer || part_clip.common(widget.clip) != widget.clip) continue;
    ways.across |= part.sideways;
    ways.down |= !part.sideways;
  }
  return ways;
}

// What is half out of sight at the end of a scrolled part can be dragged into it. What its clip
// cuts the other way stays cut.
void check_clip(const Register& seen, const Widget& widget, std::vector<std::string>& faults) {
  const Ways ways = dragged(seen, widget);
  if (!ways.across && !ways.down) return;  // check_inside says so
  const auto beyond = [](float from, float to, float limit_from, float limit_to) {
    return from < limit_from - kSlack || to > limit_to + kSlack;
  };
  const Rect& drawn = widget.drawn;
  const Rect& clip = widget.clip;
  const bool cut = (!ways.across && beyond(drawn.left, drawn.right, clip.left, clip.right)) ||
                   (!ways.down && beyond(drawn.top, drawn.bottom, clip.top, clip.bottom));
  if (cut) faults.push_back(who(widget) + " is cut by the edge of what scrolls it");
}

void check_inside(const Register& seen, const Widget& widget, std::vector<std::string>& faults) {
  const Rect window{0, 0, static_cast<float>(seen.window.width),
                    static_cast<float>(seen.window.height)};
  const auto outside = [](const Rect& rect, const Rect& limit) {
    return rect.left < limit.left - kSlack || rect.top < limit.top - kSlack ||
           rect.right > limit.right + kSlack || rect.bottom > limit.bottom + kSlack;
  };
  // Inside a scrolled part only the part itself must lie in the window.
  if (outside(widget.clip, window))
    faults.push_back(who(widget) + " lies in a part that leaves the window");
  if (widget.clip == window && outside(widget.drawn, window))
    faults.push_back(who(widget) + " leaves the window");
}

// No-break spaces as plain ones: a reader sees no difference.
std::string plain_spaces(std::string_view text) {
  constexpr std::string_view kNoBreak = "\u00A0";
  std::string out(text);
  for (std::size_t at = out.find(kNoBreak); at != std::string::npos; at = out.find(kNoBreak, at))
    out.replace(at, kNoBreak.size(), " ");
  return out;
}

}  // namespace

std::string_view kind_name(Kind kind) {
  constexpr std::array<std::string_view, 8> kNames{"text",  "key",   "tile",  "stage",
                                                   "field", "stake", "shape", "sheet"};
  return kNames.at(static_cast<std::size_t>(kind));
}

bool tappable(Kind kind) {
  return kind != Kind::kText && kind != Kind::kShape;
}

Rect visible_part(const Widget& widget) {
  return widget.drawn.common(widget.clip);
}

bool visible(const Widget& widget) {
  return !widget.covered && !widget.drawn.empty() &&
         visible_part(widget).area() * 2 >= widget.drawn.area();
}

std::vector<const Widget*> find(const Register& seen, std::string_view label) {
  std::vector<const Widget*> found;
  for (const Widget& widget : seen.widgets)
    if (tappable(widget.kind) && widget.enabled && visible(widget) && named(widget, label))
      found.push_back(&widget);
  return found;
}

bool shows(const Register& seen, std::string_view text) {
  const std::string wanted = plain_spaces(text);
  return std::ranges::any_of(seen.widgets, [&](const Widget& widget) {
    if (!visible(widget)) return false;
    return plain_spaces(widget.label).contains(wanted) || widget.value.contains(wanted);
  });
}

std::vector<std::string> geometry_faults(const Register& seen) {
  std::vector<std::string> faults;
  faults.reserve(seen.no_room.size());
  for (const std::string& label : seen.no_room) faults.push_back("no room for \"" + label + "\"");
  std::vector<const Widget*> touchables;
  for (const Widget& widget : seen.widgets) {
    if (widget.cut) faults.push_back(who(widget) + " is shortened");
    if (widget.value_mm > 0 && widget.value_mm < kLeastValueMm)
      faults.push_back(who(widget) + " shows its value " + std::to_string(widget.value_mm) +
                       " mm high, the value being entered and the plot number are 7");
    check_inside(seen, widget, faults);
    check_clip(seen, widget, faults);
    if (!tappable(widget.kind)) continue;
    check_sizes(seen, widget, faults);
    touchables.push_back(&widget);
  }
  for (std::size_t a = 0; a < touchables.size(); ++a) {
    for (std::size_t b = a + 1; b < touchables.size(); ++b) {
      const Widget& first = *touchables[a];
      const Widget& second = *touchables[b];
      if (first.layer != second.layer) continue;
      check_gap(seen, first, second, faults);
      const Rect both = first.touch.common(first.clip).common(second.touch.common(second.clip));
      if (both.width() > kSlack && both.height() > kSlack)
        faults.push_back(who(first) + " and " + who(second) + " overlap");
    }
  }
  return faults;
}

}  // namespace ligule::touch
