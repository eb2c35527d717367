#include "storage/ledger/high_water.h"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <string_view>

#include "storage/trial/number.h"

namespace ligule::ledger {
namespace {

// "stream seq\n", the seq padded, so that one write replaces the whole line.
constexpr std::size_t kIdLength = 36;
constexpr std::size_t kSeqLength = 20;
constexpr std::size_t kLineLength = kIdLength + 1 + kSeqLength + 1;

std::string note_of(const std::string& ledger_path) {
  return ledger_path + ".last";
}

}  // namespace

void note_high_water(const std::string& ledger_path, StreamId stream, std::int64_t seq) {
  const int file = ::open(note_of(ledger_path).c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
  if (file < 0) return;
  const std::string digits = std::to_string(seq);
  const std::string line =
      stream.text() + " " + std::string(kSeqLength - digits.size(), '0') + digits + "\n";
  if (::pwrite(file, line.data(), line.size(), 0) != static_cast<ssize_t>(kLineLength)) {
    ::unlink(note_of(ledger_path).c_str());  // half a note would mislead
  }
  ::close(file);
}

std::int64_t high_water(const std::string& ledger_path, StreamId stream) {
  const int file = ::open(note_of(ledger_path).c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return 0;
  std::array<char, kLineLength> line{};
  const ssize_t got = ::read(file, line.data(), line.size());
  ::close(file);
  const std::string_view text(line.data(), line.size());
  if (got != static_cast<ssize_t>(kLineLength) || !text.starts_with(stream.text())) return 0;
  return parse_integer(text.substr(kIdLength + 1, kSeqLength)).value_or(0);
}

}  // namespace ligule::ledger
