#include "sync/results/html.h"

namespace ligule::results {

std::string escaped(std::string_view text) {
  std::string html;
  html.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        html += "&amp;";
        break;
      case '<':
        html += "&lt;";
        break;
      case '>':
        html += "&gt;";
        break;
      case '"':
        html += "&quot;";
        break;
      case '\'':
        html += "&#39;";
        break;
      default: {
        const auto byte = static_cast<unsigned char>(c);
        html += byte < 0x20 || byte == 0x7f ? ' ' : c;
      }
    }
  }
  return html;
}

std::string element(std::string_view name, std::string_view content, std::string_view attributes) {
  std::string html;
  html.reserve(2 * name.size() + attributes.size() + content.size() + 6);
  html += '<';
  html += name;
  if (!attributes.empty()) {
    html += ' ';
    html += attributes;
  }
  html += '>';
  html += content;
  html += "</";
  html += name;
  html += '>';
  return html;
}

std::string entry_head(std::string_view entry, std::string_view more) {
  constexpr std::size_t kLong = 44;  // bytes
  return element("th", escaped(entry) + std::string(more),
                 entry.size() > kLong ? "scope=\"row\" class=\"long\"" : "scope=\"row\"");
}

}  // namespace ligule::results
