// Text into HTML, safely: whatever a label holds stays text.
#pragma once

#include <string>
#include <string_view>

namespace ligule::results {

// With & < > " ' as entities, fit for content and for quoted attributes. Control characters, which
// HTML does not allow, become spaces.
[[nodiscard]] std::string escaped(std::string_view text);

// <name attributes>content</name>; `content` is HTML already.
[[nodiscard]] std::string element(std::string_view name, std::string_view content,
                                  std::string_view attributes = {});

// The same behind what stands there already.
void add_escaped(std::string& html, std::string_view text);
void add_element(std::string& html, std::string_view name, std::string_view content,
                 std::string_view attributes = {});

// The head of an entry's row; `more` is HTML that stands behind its name. A name that would push
// the figures out of sight may go over several lines.
[[nodiscard]] std::string entry_head(std::string_view entry, std::string_view more = {});
void add_entry_head(std::string& html, std::string_view entry, std::string_view more = {});

}  // namespace ligule::results
