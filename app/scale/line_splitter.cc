#include "app/scale/line_splitter.h"

#include <utility>

namespace ligule::scale {
namespace {

constexpr char kStartOfText = '\x02';
constexpr char kEndOfText = '\x03';

bool ends_line(char byte) {
  return byte == '\r' || byte == '\n' || byte == kEndOfText;
}
bool is_printable(char byte) {
  return byte >= 0x20 && byte < 0x7F;
}

}  // namespace

void LineSplitter::put(char byte) {
  if (spoiled_) return;
  spoiled_ = !is_printable(byte) || line_.size() == kMostLine;
  if (!spoiled_) line_ += byte;
}

std::vector<SplitLine> LineSplitter::take(std::string_view bytes, std::int64_t now_ms) {
  std::vector<SplitLine> lines;
  if (bytes.empty()) return lines;
  const bool stale = !line_.empty() && now_ms - last_ms_ > kHalfLineMs;
  // Its other half may still come: what follows begins somewhere inside a line.
  if (stale) restart();
  last_ms_ = now_ms;
  for (const char byte : bytes) {
    if (byte == kStartOfText) {
      line_.clear();
      spoiled_ = unheard_ = false;
    } else if (!ends_line(byte)) {
      put(byte);
    } else {
      const bool whole = !spoiled_ && !unheard_;
      if (spoiled_ || !line_.empty()) lines.push_back({std::exchange(line_, {}), whole});
      spoiled_ = unheard_ = false;
    }
  }
  return lines;
}

void LineSplitter::expect_start() {
  restart();
  unheard_ = false;
}

void LineSplitter::restart() {
  line_.clear();
  spoiled_ = false;
  unheard_ = true;
}

}  // namespace ligule::scale
