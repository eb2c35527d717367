// Bytes of a serial line into whole lines.
//
// Lines arrive in pieces and may be noise. A line ends at CR, LF or ETX; STX begins one anew. A
// byte outside printable ASCII spoils the line it stands in, a line longer than kMostLine is thrown
// away up to the next end, and half a line is dropped after kHalfLineMs without another byte:
// common practice, no source.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace ligule::scale {

inline constexpr std::size_t kMostLine = 128;
inline constexpr std::int64_t kHalfLineMs = 200;

struct SplitLine {
  std::string text;   // printable; of a spoiled line the part before the fault
  bool whole = true;  // false: spoiled or too long, no reading whatever it looks like

  bool operator==(const SplitLine&) const = default;
};

class LineSplitter {
 public:
  // The lines that end within these bytes, in order. now_ms: steady milliseconds, never going back.
  // What came before a first end mark may be the tail of a line that began unheard: it is given as
  // not whole.
  [[nodiscard]] std::vector<SplitLine> take(std::string_view bytes, std::int64_t now_ms);
  // A line was asked for, so the next byte is its first one.
  void expect_start();
  // The other end was gone: what was begun is dropped, and the next line counts as begun unheard.
  void restart();

 private:
  void put(char byte);

  std::string line_;
  bool spoiled_ = false;
  bool unheard_ = true;  // where the line began is not known
  std::int64_t last_ms_ = 0;
};

}  // namespace ligule::scale
