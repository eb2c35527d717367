#include "app/flow/keypad.h"

#include <array>
#include <utility>

namespace ligule::flow {
namespace {

constexpr std::size_t kMostNumber = 9;
constexpr std::size_t kMostLabel = 32;
constexpr std::size_t kMostStake = 2 * kMostLabel + 1;  // trial, stroke, plot
constexpr std::size_t kMostInitials = 12;               // bytes
constexpr std::size_t kMostWords = 400;

std::size_t most_of(Field field) {
  if (field == Field::kInitials) return kMostInitials;
  if (takes_stakes(field)) return kMostStake;
  switch (kind_of(field)) {
    case FieldKind::kNumber:
      return kMostNumber;
    case FieldKind::kLabel:
    case FieldKind::kCode:
      return kMostLabel;
    case FieldKind::kWords:
      break;
  }
  return kMostWords;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_label_letter(char c) {
  return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '-' ||
         c == '.';
}

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// What of a letter a field takes; empty: nothing.
std::string taken(Field field, const std::string& before, char c) {
  if (c == '/' && takes_stakes(field) && !before.empty()) return "/";
  const FieldKind kind = kind_of(field);
  switch (kind) {
    case FieldKind::kWords:
      return static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? std::string() : std::string(1, c);
    case FieldKind::kLabel:
      // A code does not begin with a point (identity.h).
      return is_label_letter(c) && !(before.empty() && c == '.') ? std::string(1, c)
                                                                 : std::string();
    case FieldKind::kCode:
      if (c != ',' && c != '.') return is_label_letter(c) ? std::string(1, c) : std::string();
      break;
    case FieldKind::kNumber:
      break;
  }
  if (c == '.' || c == ',') {
    return before.empty() ? "0." : ".";
  }
  // A minus or a second point stays where it was typed, for the checks to refuse: without it
  // another number would be kept than the one typed.
  return is_digit(c) || c == '-' ? std::string(1, c) : std::string();
}

}  // namespace

bool takes_stakes(Field field) {
  return field == Field::kPlot || field == Field::kSortPlot || field == Field::kAmount;
}

FieldKind kind_of(Field field) {
  switch (field) {
    case Field::kInitials:
    case Field::kNote:
    case Field::kMachine:
    case Field::kCutWidth:
    case Field::kStubble:
      return FieldKind::kWords;
    case Field::kPlot:
    case Field::kBag:
    case Field::kDryBag:
    case Field::kSortPlot:
    case Field::kSortBag:
      return FieldKind::kLabel;
    case Field::kAmount:
      return FieldKind::kCode;
    case Field::kGross:
    case Field::kTare:
    case Field::kSampleFresh:
    case Field::kSwathLength:
    case Field::kSwathWidth:
    case Field::kWeedsByEye:
    case Field::kCheckMass:
    case Field::kCheckAllowance:
    case Field::kDryFresh:
    case Field::kDryWeight:
    case Field::kSortWhole:
    case Field::kSortFresh:
    case Field::kOvenCelsius:
    case Field::kOvenHours:
      break;
  }
  return FieldKind::kNumber;
}

const std::string& Keypad::text(Field field) const {
  static const std::string none;
  const auto at = texts_.find(field);
  return at == texts_.end() ? none : at->second;
}

void Keypad::put(Field field, std::string text) {
  if (text.empty()) {
    texts_.erase(field);
  } else {
    texts_[field] = std::move(text);
  }
}

void Keypad::set(Field field, std::string text) {
  put(field, std::move(text));
  if (field == active_) focus(field);
}

void Keypad::focus(Field field) {
  active_ = field;
  standing_ = !text(field).empty();
}

void Keypad::clear(Field field) {
  set(field, {});
}

bool Keypad::type(std::string_view piece) {
  std::string now = standing_ ? std::string() : text(active_);
  const std::size_t most = most_of(active_);
  for (const char c : piece) {
    const std::string more = taken(active_, now, c);
    // A piece that does not fit whole is not taken at all: half a letter or half a scanned number
    // would be worse than none.
    if (more.empty() || now.size() + more.size() > most) return false;
    now += more;
  }
  if (piece.empty()) return false;
  put(active_, std::move(now));
  standing_ = false;
  return true;
}

bool Keypad::erase() {
  std::string now = text(active_);
  if (now.empty()) return false;
  while (now.size() > 1 && is_continuation(now.back())) now.pop_back();
  now.pop_back();
  put(active_, std::move(now));
  standing_ = false;
  return true;
}

}  // namespace ligule::flow
