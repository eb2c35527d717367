#include "sync/results/html.h"

#include <algorithm>

namespace ligule::results {
namespace {

bool is_plain(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return c != '&' && c != '<' && c != '>' && c != '"' && c != '\'' && byte >= 0x20 && byte != 0x7f;
}

std::string_view as_html(char c) {
  switch (c) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return " ";
  }
}

}  // namespace

void add_escaped(std::string& html, std::string_view text) {
  while (!text.empty()) {
    const auto odd = std::ranges::find_if_not(text, is_plain);
    const auto plain = static_cast<std::size_t>(odd - text.begin());
    html += text.substr(0, plain);
    if (odd == text.end()) return;
    html += as_html(*odd);
    text.remove_prefix(plain + 1);
  }
}

void add_element(std::string& html, std::string_view name, std::string_view content,
                 std::string_view attributes) {
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
}

void add_entry_head(std::string& html, std::string_view entry, std::string_view more) {
  constexpr std::size_t kLong = 44;  // bytes
  html += "<th scope=\"row\"";
  if (entry.size() > kLong) html += " class=\"long\"";
  html += '>';
  add_escaped(html, entry);
  html += more;
  html += "</th>";
}

std::string escaped(std::string_view text) {
  std::string html;
  html.reserve(text.size());
  add_escaped(html, text);
  return html;
}

std::string element(std::string_view name, std::string_view content, std::string_view attributes) {
  std::string html;
  html.reserve(2 * name.size() + attributes.size() + content.size() + 6);
  add_element(html, name, content, attributes);
  return html;
}

std::string entry_head(std::string_view entry, std::string_view more) {
  std::string html;
  add_entry_head(html, entry, more);
  return html;
}

}  // namespace ligule::results
