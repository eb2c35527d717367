#include "app/work/spare_copies.h"

#include <date/date.h>
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <filesystem>
#include <string_view>
#include <tuple>
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

// The number of the stream's last record comes first: a clock may be put back, a number never is.
std::string name_of(StreamId stream, std::int64_t last, UtcInstant at) {
  return fmt::format("{}-{:010}-{}{}", stream.text(), last, time_text(at), kEnding);
}

struct Named {
  StreamId stream;
  std::int64_t last = 0;  // number of the stream's last record
  UtcInstant at{};
  std::string file_name;
};

int number_in(std::string_view text) {
  int number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

std::optional<std::int64_t> parse_counted(std::string_view digits) {
  std::int64_t number = 0;
  for (const char digit : digits) {
    if (digit < '0' || digit > '9') return std::nullopt;
    number = 10 * number + (digit - '0');
  }
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
  constexpr std::size_t kId = 36, kNumber = 10, kTimeLetters = 16;
  if (name.size() != kId + kNumber + kTimeLetters + 2 + kEnding.size()) return std::nullopt;
  const auto stream = parse_uuid(name.substr(0, kId));
  const auto last = parse_counted(std::string_view(name).substr(kId + 1, kNumber));
  if (!stream || !last) return std::nullopt;
  const std::string_view time = std::string_view(name).substr(kId + kNumber + 2, kTimeLetters);
  Named named{StreamId{*stream}, *last, time_in(time), name};
  // Exactly as it would be written.
  if (name_of(named.stream, named.last, named.at) != name) return std::nullopt;
  return named;
}

// Newest first. A folder that is not there has none.
std::vector<Named> copies_in(files::FileSystem& files, const files::Path& place) {
  std::vector<Named> found;
  const auto names = files.list(place / kFolder);
  if (!names) return found;
  for (const std::string& name : *names)
    if (auto named = parse_name(name)) found.push_back(*std::move(named));
  std::ranges::stable_sort(found, std::ranges::greater{},
                           [](const Named& each) { return std::tuple(each.last, each.at); });
  return found;
}

// How far the ledger's own stream has come.
Result<std::int64_t> last_of(const ledger::Ledger& ledger, StreamId stream) {
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  std::int64_t last = 0;
  for (const ledger::Span& span : *spans)
    if (span.stream == stream) last = std::max(last, span.last);
  return last;
}

std::vector<Named> copies_of(files::FileSystem& files, const files::Path& place, StreamId stream) {
  std::vector<Named> mine = copies_in(files, place);
  std::erase_if(mine, [&](const Named& each) { return each.stream != stream; });
  return mine;
}

// What a pulled card left of a copy; versions up to 2026-11 named it .new.
void remove_unfinished(files::FileSystem& files, const files::Path& folder, StreamId stream) {
  const auto names = files.list(folder);
  if (!names) return;
  const auto is_unfinished = [](const std::string& name) {
    return name.find(".ledger.unfinished") != std::string::npos ||
           name.find(".ledger.new") != std::string::npos;
  };
  for (const std::string& name : *names)
    if (name.starts_with(stream.text()) && is_unfinished(name))
      static_cast<void>(files.remove(folder / name).has_value());
}

// Whether a card has no room for another copy. One that does not tell is taken to have it.
bool is_tight(const ledger::Ledger& ledger, files::FileSystem& files, const files::Path& folder) {
  const auto size = files.size(ledger.path());
  const auto room = files.free_bytes(folder);
  return size && room && *room < *size + *size / 4;
}

// The tablet a copy is of: the device of the stream in its name. Empty: it does not hold.
std::optional<flow::FoundCopy> look_into(const files::Path& file, const std::string& place,
                                         const Named& named) {
  const auto copy = ledger::Ledger::open(file.string(), ledger::Access::kReadOnly);
  if (!copy && copy.error().kind == ErrorKind::kNewerVersion)
    return flow::FoundCopy{file.string(), place, {}, named.at, 0, copy.error()};
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
  const auto last = last_of(ledger, mine->id);
  if (!last) return std::unexpected(last.error());
  const files::Path folder = place / kFolder;
  // A stranger's card may say that the folder lies elsewhere, on this tablet.
  if (std::error_code none; std::filesystem::is_symlink(folder, none))
    return fail(ErrorKind::kRefused, "the folder for spare copies is a link to somewhere else",
                folder.string(), "remove the link, or take another card");
  if (auto made = files.make_folders(folder); !made)
    return std::unexpected(std::move(made).error());
  remove_unfinished(files, folder, mine->id);
  std::vector<Named> old = copies_of(files, place, mine->id);
  const auto remove_oldest = [&] {
    // One that can't be removed takes room and does no other harm.
    static_cast<void>(files.remove(folder / old.back().file_name).has_value());
    old.pop_back();
  };
  // Never the last: it may be the only one that holds.
  while (old.size() > 1 && is_tight(ledger, files, folder)) remove_oldest();
  flow::SpareCopy copy{place.string(), name_of(mine->id, *last, now), now};
  // Two within a second: the second is of the next.
  while (std::ranges::find(old, copy.file_name, &Named::file_name) != old.end()) {
    copy.at += std::chrono::seconds{1};
    copy.file_name = name_of(mine->id, *last, copy.at);
  }
  if (auto made = ledger.backup_to((folder / copy.file_name).string()); !made)
    return std::unexpected(std::move(made).error());
  while (old.size() >= kKept) remove_oldest();
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
  std::int64_t reaches = 0;
  for (const flow::CopyPlace& place : copy_places(files, roots)) {
    const auto copies = copies_of(files, place.path, mine->id);
    if (copies.empty() || (newest && copies.front().last < reaches)) continue;
    reaches = copies.front().last;
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
  std::ranges::stable_sort(found, std::ranges::greater{},
                           &flow::FoundCopy::at);  // as people read it
  return found;
}

Result<TookOver> take_over(ledger::Ledger& ledger, const std::string& copy) {
  const auto named = parse_name(files::Path(copy).filename().string());
  TookOver took;
  auto gathered = gather::gather_ledger(ledger, copy, gather::Vouched::kByPerson);
  if (!gathered) return std::unexpected(std::move(gathered).error());
  if (!gathered->refused.empty()) took.refused = gathered->refused.front();
  if (gathered->taken.empty() && took.refused) return std::unexpected(*took.refused);
  for (const gather::Gathered& run : gathered->taken) {
    took.records += run.absorbed.added;
    if (named && run.span.stream == named->stream) took.device = run.device;
  }
  return took;
}

}  // namespace ligule::work
