// The frame of every page for the printer: one self-contained HTML document that a browser prints
// on letter or A4. Black on white, so that a copier loses nothing.
#pragma once

#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule::print {

enum class Paper { kLetter, kA4 };
[[nodiscard]] std::string_view name_of(Paper paper);  // "letter", "a4"
[[nodiscard]] Result<Paper> parse_paper(std::string_view text);

// Millimetres, upright.
struct PaperSize {
  double width = 0;
  double height = 0;
};
[[nodiscard]] PaperSize size_of(Paper paper);

struct Page {
  std::string title;  // text, not HTML
  Paper paper = Paper::kLetter;
  bool lying = false;        // printed across the paper
  double margin = 12;        // millimetres on each side
  std::string_view style{};  // CSS of what the page holds, after that of every page
  std::string body;          // HTML
};

// The whole document.
[[nodiscard]] std::string page_text(const Page& page);

}  // namespace ligule::print
