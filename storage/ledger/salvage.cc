#include "storage/ledger/salvage.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <map>
#include <new>
#include <optional>
#include <system_error>
#include <utility>

#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/found_rows.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"

namespace ligule::ledger {
namespace {

// A ledger of 600,000 records; what is read stands in memory.
constexpr std::int64_t kMostBytes = std::int64_t{512} << 20U;

// What of a file the disk gives; zeros where it does not: one bad place must not hide the rest.
Result<std::string> readable_bytes(const std::string& path) {
  constexpr std::size_t kPiece = 4096;
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  struct stat about {};
  if (file < 0 || ::fstat(file, &about) != 0 || !S_ISREG(about.st_mode)) {
    const int code = file < 0 ? errno : EINVAL;
    if (file >= 0) ::close(file);
    return fail(code == ENOENT || code == ENOTDIR ? ErrorKind::kNotFound : ErrorKind::kIo,
                "it can't be read: " + std::generic_category().message(code), path,
                "check the name and the rights of the file");
  }
  if (about.st_size > kMostBytes) {
    ::close(file);
    return fail(ErrorKind::kRefused, "it is larger than the 512 MiB that are searched for records",
                path, "take its records from season files and older copies");
  }
  std::string bytes(static_cast<std::size_t>(about.st_size), '\0');
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t wanted = std::min(kPiece, bytes.size() - at);
    const ssize_t got = ::pread(file, bytes.data() + at, wanted, static_cast<off_t>(at));
    at += got > 0 ? static_cast<std::size_t>(got) : wanted;
  }
  ::close(file);
  return bytes;
}

// Tells a file that is written to: half of one moment and half of another looks like damage.
struct Written {
  std::int64_t bytes = 0;
  std::int64_t seconds = 0;
  std::int64_t nanoseconds = 0;

  bool operator==(const Written&) const = default;
};

Written written(const std::string& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) != 0) return {};
  return {about.st_size, about.st_mtim.tv_sec, about.st_mtim.tv_nsec};
}

struct Left {
  FoundRows rows;
  std::vector<HighWater> told;
};

// Of one moment of the ledger, its log and its note; their bytes are not needed any more after it.
Result<Left> left_of(const std::string& path) {
  const std::string log_path = beside(path, "-wal");
  const auto now = [&] { return std::pair(written(path), written(log_path)); };
  const auto before = now();
  const auto file = readable_bytes(path);
  if (!file) return std::unexpected(file.error());
  const auto log = readable_bytes(log_path);
  if (!log && log.error().kind == ErrorKind::kRefused) return std::unexpected(log.error());
  std::vector<HighWater> told = high_waters(path);
  if (now() != before)
    return fail(ErrorKind::kConflict, "another program writes to it while it is searched", path,
                "close the other program, then do it again");
  return Left{found_rows(*file, log ? *log : std::string()), std::move(told)};
}

struct Seen {
  std::string body;
  Digest digest;
};

struct Link {
  std::int64_t seq = 0;
  Digest before;
  Digest after;
  std::string body;
};

// The rows that are left of one stream, and which of them hang together.
class Chain {
 public:
  // Damage makes a few rows of one record; a file with more is made to take time.
  void add(std::int64_t seq, Seen seen) {
    constexpr std::size_t kMostRows = 16;
    if (auto& rows = seen_[seq]; rows.size() < kMostRows) rows.push_back(std::move(seen));
  }
  void add_start(std::int64_t first, const Digest& before) { starts_[first] = before; }
  // The stream is known to have come so far.
  void reached(std::int64_t seq) { last_ = std::max(last_, seq); }

  void walk() {
    for (auto& [seq, rows] : seen_) {
      std::optional<Link> link;
      for (const Digest& before : befores(seq))
        for (Seen& row : rows)
          if (!link) link = linked(seq, before, row);
      if (link) links_.push_back(*std::move(link));
    }
    if (!seen_.empty()) reached(seen_.rbegin()->first);
  }

  // Leaves the bodies to the runs.
  std::vector<WholeRun> runs(StreamId stream) {
    std::vector<WholeRun> runs;
    for (Link& link : links_) {
      if (runs.empty() || runs.back().span.last + 1 != link.seq ||
          runs.back().span.head != link.before)
        runs.push_back({{stream, link.seq, link.seq, link.before, link.after}, {}});
      runs.back().span.last = link.seq;
      runs.back().span.head = link.after;
      runs.back().bodies.push_back(std::move(link.body));
    }
    return runs;
  }

  [[nodiscard]] std::vector<LostRun> lost(StreamId stream) const {
    std::vector<LostRun> lost;
    std::int64_t next = starts_.empty() || starts_.contains(1) ? 1 : starts_.begin()->first;
    const auto add_hole = [&](std::int64_t end) {  // next..end - 1 are not whole
      if (next >= end) return;
      // Where a run begins anew the records before it were never here, but those of which a row is
      // left.
      if (!starts_.contains(end)) return lost.push_back({stream, next, end - 1});
      const auto row = seen_.lower_bound(end);
      if (row != seen_.begin() && std::prev(row)->first >= next)
        lost.push_back({stream, next, std::prev(row)->first});
    };
    for (const Link& link : links_) {
      add_hole(link.seq);
      next = link.seq + 1;
    }
    add_hole(last_ + 1);
    return lost;
  }

 private:
  // What the record before may have for a digest: that which was walked to, else what rows say.
  [[nodiscard]] std::vector<Digest> befores(std::int64_t seq) const {
    if (!links_.empty() && links_.back().seq == seq - 1) return {links_.back().after};
    std::vector<Digest> befores;
    if (seq == 1) befores.emplace_back();
    if (const auto start = starts_.find(seq); start != starts_.end())
      befores.push_back(start->second);
    if (const auto rows = seen_.find(seq - 1); rows != seen_.end())
      for (const Seen& row : rows->second) befores.push_back(row.digest);
    return befores;
  }

  // Takes the body of a row that hangs together; of the others the digests are still asked for.
  [[nodiscard]] std::optional<Link> linked(std::int64_t seq, const Digest& before,
                                           Seen& row) const {
    const Digest after = chained(before, row.body);
    if (after == row.digest || leads_on(after, seq + 1))
      return Link{seq, before, after, std::move(row.body)};
    return std::nullopt;
  }
  // Its own digest is damaged, the next one proves it.
  [[nodiscard]] bool leads_on(const Digest& after, std::int64_t seq) const {
    const auto rows = seen_.find(seq);
    return rows != seen_.end() && std::ranges::any_of(rows->second, [&](const Seen& row) {
             return chained(after, row.body) == row.digest;
           });
  }

  std::map<std::int64_t, std::vector<Seen>> seen_;
  std::map<std::int64_t, Digest> starts_;
  std::vector<Link> links_;  // in order of seq
  std::int64_t last_ = 0;
};

std::map<StreamId, Chain> chains_of(FoundRows& found) {
  std::map<StreamId, Chain> chains;
  const auto most = static_cast<std::int64_t>(found.records.size());
  std::int64_t highest = 0;
  std::vector<FoundRecord> unread;
  for (FoundRecord& record : found.records) {
    const auto envelope = parse_envelope(record.body);
    if (!envelope) {
      unread.push_back(std::move(record));
      continue;
    }
    highest = std::max(highest, envelope->seq);
    chains[envelope->stream].add(envelope->seq, {std::move(record.body), record.digest});
  }
  // Of a damaged body the columns tell the place, unless they are damaged as well.
  for (FoundRecord& record : unread) {
    const auto chain = chains.find(record.stream);
    if (chain != chains.end() && record.seq <= highest + most)
      chain->second.add(record.seq, {std::move(record.body), record.digest});
  }
  for (const StreamInfo& stream : found.streams) chains.try_emplace(stream.id);
  for (const FoundStart& start : found.starts)
    if (const auto chain = chains.find(start.stream); chain != chains.end())
      chain->second.add_start(start.first, start.before);
  return chains;
}

// As its first record says, else as the row of the ledger, if there is one: that may be damaged.
std::optional<StreamInfo> info_of(const std::vector<WholeRun>& runs, const StreamInfo* row) {
  const bool mine = row != nullptr && row->mine;
  if (!runs.empty() && runs.front().span.first == 1) {
    const auto record = parse_record(runs.front().bodies.front());
    auto info = record ? read_stream_record(*record) : fail(ErrorKind::kInvalid, "");
    if (info) {
      info->mine = mine;
      return *std::move(info);
    }
  }
  return row == nullptr ? std::nullopt : std::optional(*row);
}

Result<Salvaged> salvage_in_memory(const std::string& path) {
  auto left = left_of(path);
  if (!left) return std::unexpected(left.error());
  std::map<StreamId, const StreamInfo*> rows;
  for (const StreamInfo& stream : left->rows.streams) rows.try_emplace(stream.id, &stream);
  Salvaged out;
  for (auto& [stream, chain] : chains_of(left->rows)) {
    const auto noted = std::ranges::find(left->told, stream, &HighWater::stream);
    if (noted != left->told.end()) chain.reached(noted->seq);
    chain.walk();
    auto runs = chain.runs(stream);
    const auto lost = chain.lost(stream);
    const auto row = rows.find(stream);
    auto info = info_of(runs, row == rows.end() ? nullptr : row->second);
    // A row alone tells nothing: it may be damage that looks like one.
    if (!info || (runs.empty() && lost.empty())) continue;
    out.streams.push_back(*std::move(info));
    std::ranges::move(runs, std::back_inserter(out.runs));
    std::ranges::copy(lost, std::back_inserter(out.lost));
  }
  if (out.streams.empty())
    return fail(ErrorKind::kInvalid, "no record of a ledger can be found in it", path,
                "name another file");
  return out;
}

}  // namespace

Result<Salvaged> salvage(const std::string& path) {
  try {
    return salvage_in_memory(path);
  } catch (const std::bad_alloc&) {
    return fail(ErrorKind::kIo, "there is not memory enough to search it", path,
                "close other programs, or do it on a machine that has more");
  }
}

}  // namespace ligule::ledger
