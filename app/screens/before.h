// A page before there is anything to work on: what is about to be done to this tablet's data, or
// why it can't be opened.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/screens/screens.h"

namespace ligule::screens {

struct BeforePage {
  std::string title;
  std::string first;               // what matters most
  bool good = false;               // that is nothing to worry about
  std::vector<std::string> texts;  // a paragraph each
  std::vector<std::string> keys;   // the usual one first
};

// Of data that an older version wrote: what will be done to it, and the name of the file that it is
// copied to first. The first key goes on.
[[nodiscard]] BeforePage older_page(const Language& words, std::int64_t records,
                                    const std::string& copy);
// Of data that can't be opened.
[[nodiscard]] BeforePage closed_page(const Language& words, const Error& error);

// Draws it; the key tapped, by its place.
[[nodiscard]] std::optional<std::size_t> draw_before(touch::Ui& ui, const BeforePage& page);

}  // namespace ligule::screens
