#include "storage/ledger/high_water.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <optional>
#include <string_view>
#include <thread>

#include "storage/ledger/digest.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/trial/number.h"

namespace ligule::ledger {
namespace {

constexpr std::size_t kIdLength = 36;
constexpr std::size_t kSeqLength = 20;
constexpr std::size_t kSaid = kIdLength + 1 + kSeqLength;
constexpr std::size_t kSum = 5;
constexpr std::size_t kLine = 64;
constexpr std::size_t kMostBytes = kLine * 4096;

using Lines = std::vector<std::optional<HighWater>>;  // empty: a line that says nothing

std::string sum_of(std::string_view said) {
  return sha256(said).hex().substr(0, kSum);
}

// A changed digit would have a whole ledger taken for one that lost records.
bool is_unchanged(std::string_view line) {
  const std::string_view behind = line.substr(kSaid).substr(0, 1 + kSum);
  const bool without_sum =
      behind.starts_with('\n') || behind.find_first_not_of(' ') == std::string_view::npos;
  return without_sum || behind == " " + sum_of(line.substr(0, kSaid));
}

std::optional<HighWater> said_in(std::string_view line) {
  if (line.size() < kSaid || line[kIdLength] != ' ' || !is_unchanged(line)) return std::nullopt;
  const auto stream = parse_uuid(line.substr(0, kIdLength));
  const auto seq = parse_integer(line.substr(kIdLength + 1, kSeqLength));
  if (!stream || !seq || *seq < 1) return std::nullopt;
  return HighWater{StreamId{*stream}, *seq};
}

Lines lines_in(std::string_view text) {
  Lines lines;
  lines.reserve(text.size() / kLine + 1);
  for (std::size_t at = 0; at < text.size(); at += kLine)
    lines.push_back(said_in(text.substr(at, kLine)));
  return lines;
}

std::string text_of(const Lines& lines) {
  std::string text;
  text.reserve(lines.size() * kLine);
  for (const auto& line : lines) {
    const std::size_t begin = text.size();
    if (line) {
      const std::string digits = std::to_string(line->seq);
      text.append(line->stream.text()).append(1, ' ');
      text.append(kSeqLength - digits.size(), '0').append(digits);
      const std::string sum = sum_of(std::string_view(text).substr(begin));
      text.append(1, ' ').append(sum);
    }
    text.append(begin + kLine - 1 - text.size(), ' ').push_back('\n');
  }
  return text;
}

// From where it stands to its end.
std::string all_of(int file) {
  std::string text;
  std::array<char, 4096> some{};
  for (ssize_t got = 0;
       text.size() < kMostBytes && (got = ::read(file, some.data(), some.size())) > 0;)
    text.append(some.data(), static_cast<std::size_t>(got));
  return text;
}

// The note, open and nobody else's to change: of two programs that note, the one that came first
// would else write over what the other noted since it read.
class Note {
 public:
  explicit Note(const std::string& ledger_path)
      : path_(beside(ledger_path, ".last")), file_(open_beside(ledger_path, ".last")) {
    struct stat about {};
    if (file_ < 0 ? errno == ELOOP : ::fstat(file_, &about) != 0 || !S_ISREG(about.st_mode)) {
      ::unlink(path_.c_str());  // whatever it is, it is in the way
      leave();
    }
    if (file_ >= 0 && !locked()) leave();
    if (file_ < 0) return;
    held_ = all_of(file_);
    lines_ = lines_in(held_);
  }
  Note(const Note&) = delete;
  Note& operator=(const Note&) = delete;
  Note(Note&&) = delete;
  Note& operator=(Note&&) = delete;
  ~Note() { leave(); }

  void raise(const HighWater& to) {
    std::optional<HighWater>* free = nullptr;
    for (auto& line : lines_) {
      if (!line) free = free == nullptr ? &line : free;
      if (!line || line->stream != to.stream) continue;
      if (line->seq >= to.seq) return;
      line = to;
      return write();
    }
    if (free != nullptr)
      *free = to;
    else
      lines_.emplace_back(to);
    write();
  }

  void lower(const HighWater& read, std::int64_t held) {
    for (auto& line : lines_) {
      if (!line || line->stream != read.stream) continue;
      if (line->seq > read.seq) return;
      line = held > 0 ? std::optional(HighWater{read.stream, held}) : std::nullopt;
    }
    write();
    if (file_ >= 0) ::fsync(file_);
  }

 private:
  // Not for long: who stands still with it must not make a tablet wait.
  [[nodiscard]] bool locked() const {
    for (int tries = 0; tries < 50; ++tries) {
      if (::flock(file_, LOCK_EX | LOCK_NB) == 0) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return false;
  }

  // The lines that changed, in one write.
  void write() {
    if (file_ < 0) return;
    const std::string text = text_of(lines_);
    std::size_t first = 0;
    std::size_t last = text.size();
    const auto same = [&](std::size_t at) {
      return at + kLine <= held_.size() && held_.compare(at, kLine, text, at, kLine) == 0;
    };
    while (first < last && same(first)) first += kLine;
    while (last > first && same(last - kLine)) last -= kLine;
    const std::size_t size = last - first;
    if (size == 0) return;
    const auto done = ::pwrite(file_, text.data() + first, size, static_cast<off_t>(first));
    // Half a line would mislead.
    if (done >= 0 && static_cast<std::size_t>(done) != size) ::unlink(path_.c_str());
  }

  void leave() {
    if (file_ >= 0) ::close(file_);
    file_ = -1;
  }

  std::string path_;
  int file_;
  std::string held_;
  Lines lines_;
};

}  // namespace

void note_high_water(const std::string& ledger_path, StreamId stream, std::int64_t seq) {
  if (ledger_path == kInMemory || seq < 1) return;
  Note(ledger_path).raise({stream, seq});
}

void lower_high_water(const std::string& ledger_path, const HighWater& read, std::int64_t held) {
  Note(ledger_path).lower(read, held);
}

std::vector<HighWater> high_waters(const std::string& ledger_path) {
  if (ledger_path == kInMemory) return {};
  const int file = ::open(beside(ledger_path, ".last").c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return {};
  const std::string text = all_of(file);
  ::close(file);
  std::vector<HighWater> noted;
  for (const auto& line : lines_in(text)) {
    if (!line) continue;
    // An older version may have written a second line for a stream.
    const auto before = std::ranges::find(noted, line->stream, &HighWater::stream);
    if (before == noted.end())
      noted.push_back(*line);
    else
      before->seq = std::max(before->seq, line->seq);
  }
  return noted;
}

std::int64_t high_water(const std::string& ledger_path, StreamId stream) {
  const auto noted = high_waters(ledger_path);
  const auto found = std::ranges::find(noted, stream, &HighWater::stream);
  return found == noted.end() ? 0 : found->seq;
}

}  // namespace ligule::ledger
