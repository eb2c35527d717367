// A label that many values share: kept once, so that a value is small and quickly copied, and
// equal labels are found equal by where they stand.
#pragma once

#include <compare>
#include <concepts>
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace ligule::results {

// Takes part wherever a string does. Labels are never given back: a run knows few beside its
// values. May be made and read on several threads at a time.
class Label {
 public:
  Label() : text_(&nothing) {}
  Label(std::string_view text) : text_(text.empty() ? &nothing : &kept(text)) {}  // NOLINT
  Label(const std::string& text) : Label(std::string_view(text)) {}               // NOLINT
  Label(const char* text) : Label(std::string_view(text)) {}                      // NOLINT

  operator const std::string&() const { return *text_; }  // NOLINT
  operator std::string_view() const { return *text_; }    // NOLINT
  [[nodiscard]] const std::string& text() const { return *text_; }
  [[nodiscard]] bool empty() const { return text_->empty(); }

  friend bool operator==(Label a, Label b) { return a.text_ == b.text_; }
  template <class Text>
  requires std::convertible_to<const Text&, std::string_view>
  friend bool operator==(Label a, const Text& b) { return *a.text_ == std::string_view(b); }
  // By byte.
  friend std::strong_ordering operator<=>(Label a, Label b) { return *a.text_ <=> *b.text_; }

 private:
  friend struct std::hash<Label>;

  static const std::string nothing;
  static const std::string& kept(std::string_view text);

  const std::string* text_;
};

}  // namespace ligule::results

template <>
struct std::hash<ligule::results::Label> {
  std::size_t operator()(ligule::results::Label label) const {
    // Strings lie apart by more than their alignment: the lowest bits tell nothing.
    return std::hash<const std::string*>()(label.text_) >> 4U;
  }
};
