#include "app/work/dot_code.h"

#include <qrencode.h>

#include <memory>
#include <span>
#include <string>

namespace ligule::work {

Result<flow::DotCode> dot_code(std::string_view text) {
  const std::string bytes(text);
  const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
      QRcode_encodeData(static_cast<int>(bytes.size()),
                        reinterpret_cast<const unsigned char*>(bytes.data()), 0, QR_ECLEVEL_M),
      QRcode_free);
  if (!code) return fail(ErrorKind::kInvalid, "no code holds this", {}, "a shorter text");
  flow::DotCode made;
  made.side = static_cast<std::size_t>(code->width);
  for (const unsigned char module : std::span(code->data, made.side * made.side))
    made.dark.push_back((module & 1U) != 0);
  return made;
}

}  // namespace ligule::work
