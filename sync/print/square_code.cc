#include "sync/print/square_code.h"

#include <fmt/format.h>
#include <qrencode.h>

#include <iterator>
#include <memory>
#include <span>

#include "sync/results/html.h"

namespace ligule::print {

Result<SquareCode> square_code(std::string_view text) {
  const std::string terminated(text);
  // Digits and capitals take less room than bytes: the library finds which parts are what.
  const std::unique_ptr<QRcode, void (*)(QRcode*)> made(
      text.empty() ? nullptr
                   : QRcode_encodeString(terminated.c_str(), 0, QR_ECLEVEL_Q, QR_MODE_8,
                                         /*casesensitive=*/1),
      QRcode_free);
  if (!made) return fail(ErrorKind::kInvalid, "no code holds this", {}, "a shorter text");
  SquareCode code{.side = static_cast<std::size_t>(made->width), .dark = {}};
  code.dark.reserve(code.side * code.side);
  for (const unsigned char module : std::span(made->data, code.side * code.side))
    code.dark.push_back((module & 1U) != 0);
  return code;
}

std::string svg_of(const SquareCode& code, std::string_view title) {
  // Neighbours of a row are one piece, so that no hair of light shows between them.
  std::string path;
  for (std::size_t row = 0; row < code.side; ++row) {
    for (std::size_t at = 0; at < code.side; ++at) {
      if (!code.dark.at(row * code.side + at)) continue;
      const std::size_t from = at;
      while (at + 1 < code.side && code.dark.at(row * code.side + at + 1)) ++at;
      const std::size_t wide = at - from + 1;
      fmt::format_to(std::back_inserter(path), "M{} {}h{}v1h-{}z", from + kQuietModules,
                     row + kQuietModules, wide, wide);
    }
  }
  return fmt::format(
      "<svg viewBox=\"0 0 {0} {0}\" role=\"img\" "
      "aria-label=\"{1}\"><rect width=\"{0}\" height=\"{0}\" fill=\"#fff\"/>"
      "<path fill=\"#000\" d=\"{2}\"/></svg>",
      code.whole_side(), results::escaped(title), path);
}

}  // namespace ligule::print
