#include "app/work/spare_copies.h"

#include <date/date.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <string_view>
#include <utility>

#include "sync/gather/gather.h"

namespace ligule::work {
namespace {

constexpr std::string_view kFolder = "ligule-spare";
constexpr std::string_view kEnding = ".ledger";
constexpr const char* kTime = "%Y%m%dT%H%M%SZ";
constexpr std::size_t kKept = 2;  // the one before may be the last that holds

std::string time_text(UtcInstant at) {
  return date::format(kTime, date::floor<std::chrono::seconds>(at));
}

std::string name_of(StreamId stream, UtcInstant at) {
  return stream.text() + "-" + time_text(at) + std::string(kEnding);
}

struct Named {
  StreamId stream;
  UtcInstant at{};
  std::string file_name;
};

int number_in(std::string_view text) {
  int number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

// What name_of() wrote, or some time or other where it is something else.
UtcInstant time_in(std::string_view text) {
  if (text.size() != 16) return {};
  const auto month = static_cast<unsigned>(number_in(text.substr(4, 2)));
  const auto day = static_cast<unsigned>(number_in(text.substr(6, 2)));
  const date::year_month_day on{date::year{number_in(text.substr(0, 4))}, date::month{month},
                                date::day{day}};
  if (!on.ok()) return {};
  return date::sys_days{on} + std::chrono::hours{number_in(text.substr(9, 2))} +
         std::chrono::minutes{number_in(text.substr(11, 2))} +
         std::chrono::seconds{number_in(text.substr(13, 2))};
}

// Empty: something else.
std::optional<Named> parse_name(const std::string& name) {
  constexpr std::size_t kId = 36;
  if (!name.ends_with(kEnding) || name.size() <= kId + 1 + kEnding.size()) return std::nullopt;
  const auto stream = parse_uuid(name.substr(0, kId));
  if (!stream) return std::nullopt;
  const std::string_view time =
      std::string_view(name).substr(kId + 1, name.size() - kId - 1 - kEnding.size());
  Named named{StreamId{*stream}, time_in(time), name};
  // Exactly as it would be written.
  if (name_of(named.stream, named.at) != name) return std::nullopt;
  return named;
}

// Newest first. A folder that is not there has none.
std::vector<Named> copies_in(files::FileSystem& files, const files::Path& place) {
  std::vector<Named> found;
  const auto names = files.list(place / kFolder);
  if (!names) return found;
  for (const std::string& name : *names)
    if (auto named = parse_name(name)) found.push_back(*std::move(named));
  std::ranges::stable_sort(found, std::ranges::greater{}, &Named::at);
  return found;
}

std::vector<Named> copies_of(files::FileSystem& files, const files::Path& place, StreamId stream) {
  std::vector<Named> mine = copies_in(files, place);
  std::erase_if(mine, [&](const Named& each) { return each.stream != stream; });
  return mine;
}

// What a pulled card left of a copy.
void remove_unfinished(files::FileSystem& files, const files::Path& folder, StreamId stream) {
  const auto names = files.list(folder);
  if (!names) return;
  for (const std::string& name : *names)
    if (name.starts_with(stream.text()) && name.find(".ledger.new") != std::string::npos)
      static_cast<void>(files.remove(folder / name).has_value());
}

// The tablet a copy is of: the device of the stream in its name.
std::optional<flow::FoundCopy> look_into(const files::Path& file, const std::string& place,
                                         const Named& named) {
  const auto copy = ledger::Ledger::open(file.string(), ledger::Access::kReadOnly);
  if (!copy) return std::nullopt;
  const auto streams = copy->streams();
  const auto spans = copy->spans();
  if (!streams || !spans) return std::nullopt;
  const auto own = std::ranges::find(*streams, named.stream, &ledger::StreamInfo::id);
  if (own == streams->end()) return std::nullopt;
  flow::FoundCopy found{file.string(), place, own->device, named.at, 0};
  for (const ledger::Span& span : *spans) found.records += span.last - span.first + 1;
  return found;
}

}  // namespace

Result<flow::SpareCopy> make_spare_copy(const ledger::Ledger& ledger, files::FileSystem& files,
                                        const files::Path& place, UtcInstant now) {
  const auto mine = ledger.my_stream();
  if (!mine)
    return fail(ErrorKind::kRefused, "there is nothing to copy yet", ledger.path(),
                "sign in on this tablet first");
  const files::Path folder = place / kFolder;
  if (auto made = files.make_folders(folder); !made)
    return std::unexpected(std::move(made).error());
  remove_unfinished(files, folder, mine->id);
  std::vector<Named> old = copies_of(files, place, mine->id);
  flow::SpareCopy copy{place.string(), name_of(mine->id, now), now};
  // Two within a second: the second is of the next.
  while (std::ranges::find(old, copy.file_name, &Named::file_name) != old.end()) {
    copy.at += std::chrono::seconds{1};
    copy.file_name = name_of(mine->id, copy.at);
  }
  auto made = ledger.backup_to((folder / copy.file_name).string());
  if (!made && old.size() >= kKept) {
    // The card may be full; the last copy stays whatever comes.
    static_cast<void>(files.remove(folder / old.back().file_name).has_value());
    old.pop_back();
    made = ledger.backup_to((folder / copy.file_name).string());
  }
  if (!made) return std::unexpected(std::move(made).error());
  // One that can't be removed takes room and does no other harm.
  while (old.size() >= kKept) {
    static_cast<void>(files.remove(folder / old.back().file_name).has_value());
    old.pop_back();
  }
  return copy;
}

flow::LedgerCopied make_spare_copies(const ledger::Ledger& ledger, files::FileSystem& files,
                                     const MediaRoots& roots, UtcInstant now) {
  flow::LedgerCopied done;
  for (const flow::CopyPlace& place : copy_places(files, roots)) {
    auto made = make_spare_copy(ledger, files, place.path, now);
    if (made)
      done.made.push_back(*std::move(made));
    else
      done.failed.push_back({place.path, std::move(made).error()});
  }
  return done;
}

std::optional<flow::SpareCopy> newest_spare_copy(const ledger::Ledger& ledger,
                                                 files::FileSystem& files,
                                                 const MediaRoots& roots) {
  const auto mine = ledger.my_stream();
  if (!mine) return std::nullopt;
  std::optional<flow::SpareCopy> newest;
  for (const flow::CopyPlace& place : copy_places(files, roots)) {
    const auto copies = copies_of(files, place.path, mine->id);
    if (!copies.empty() && (!newest || newest->at < copies.front().at))
      newest = flow::SpareCopy{place.path, copies.front().file_name, copies.front().at};
  }
  return newest;
}

std::vector<flow::FoundCopy> spare_copies_of_others(const ledger::Ledger& ledger,
                                                    files::FileSystem& files,
                                                    const MediaRoots& roots) {
  const auto mine = ledger.my_stream();
  std::vector<flow::FoundCopy> found;
  for (const flow::CopyPlace& place : copy_places(files, roots)) {
    std::vector<StreamId> seen;
    for (const Named& named : copies_in(files, place.path)) {
      if ((mine && mine->id == named.stream) || std::ranges::find(seen, named.stream) != seen.end())
        continue;
      auto copy = look_into(files::Path(place.path) / kFolder / named.file_name, place.name, named);
      if (!copy) continue;  // the one before it may hold
      seen.push_back(named.stream);
      found.push_back(*std::move(copy));
    }
  }
  std::ranges::stable_sort(found, std::ranges::greater{}, &flow::FoundCopy::at);
  return found;
}

Result<TookOver> take_over(ledger::Ledger& ledger, const std::string& copy) {
  const auto named = parse_name(files::Path(copy).filename().string());
  TookOver took;
  {
    const auto other = ledger::Ledger::open(copy, ledger::Access::kReadOnly);
    if (!other) return std::unexpected(other.error());
    const auto streams = other->streams();
    if (!streams) return std::unexpected(streams.error());
    const auto known = ledger.trusted_keys();
    if (!known) return std::unexpected(known.error());
    for (const ledger::StreamInfo& stream : *streams) {
      if (named && stream.id == named->stream) took.device = stream.device;
      const bool judged =
          std::ranges::find(*known, stream.public_key, &ledger::TrustedKey::key) != known->end();
      if (judged) continue;
      if (auto trusted = ledger.trust({stream.public_key, stream.device, ledger::Trust::kTrusted});
          !trusted)
        return std::unexpected(std::move(trusted).error());
    }
  }
  auto gathered = gather::gather_ledger(ledger, copy);
  if (!gathered) return std::unexpected(std::move(gathered).error());
  if (!gathered->refused.empty()) return std::unexpected(gathered->refused.front());
  for (const gather::Gathered& run : gathered->taken) took.records += run.absorbed.added;
  return took;
}

}  // namespace ligule::work
