#include "sync/gather/gather.h"

#include <algorithm>
#include <map>

#include "sync/gather/take_run.h"
#include "sync/gather/trusted.h"

namespace ligule::gather {
namespace {

// Records made for demonstration and real ones never share a ledger.
Result<void> same_purpose(const ledger::Ledger& ledger, const Offer& offer) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const bool mixed = std::ranges::any_of(
      *streams, [&](const ledger::StreamInfo& held) { return held.demo != offer.stream.demo; });
  if (!mixed) return {};
  return fail(ErrorKind::kRefused,
              offer.stream.demo ? "these records were made for demonstration, the ledger is real"
                                : "these records are real, the ledger is for demonstration",
              offer.file, "gather into another ledger");
}

// An error of the ledger, with the file it came by. A record that a whole file holds and the
// ledger cannot take is the file's fault.
Error named(Error error, const std::string& file) {
  if (error.kind == ErrorKind::kInvalid) error.kind = ErrorKind::kDamaged;
  error.where = error.where.empty() ? file : file + ", " + error.where;
  return error;
}

Result<std::vector<std::string>> bodies_of(const ledger::Ledger& ledger, const ledger::Span& span) {
  std::vector<std::string> bodies;
  const auto read = ledger.each_record(span.stream, span.first, span.last,
                                       [&](std::int64_t, std::string_view body, const Digest&) {
                                         bodies.emplace_back(body);
                                         return true;
                                       });
  if (!read) return std::unexpected(read.error());
  return bodies;
}

// A page of a card that reads back otherwise shows nowhere else: nobody signed these records.
bool is_whole(const ledger::Span& span, std::span<const std::string> bodies) {
  Digest digest = span.before;
  for (const std::string& body : bodies) digest = chained(digest, body);
  return digest == span.head;
}

Result<Gathered> not_whole(const ledger::StreamInfo& stream, const std::string& file) {
  return fail(ErrorKind::kDamaged,
              "the records of " + stream.device + " are not those its digests say", file,
              "take an older copy, or the tablet's season file");
}

}  // namespace

std::string records_text(std::int64_t first, std::int64_t last) {
  if (first == last) return "record " + std::to_string(first);
  return "records " + std::to_string(first) + " to " + std::to_string(last);
}

Result<Gathered> take_run(ledger::Ledger& ledger, const Offer& offer,
                          std::span<const std::string> bodies, ledger::Branch branch,
                          Vouched vouched) {
  const auto label = vouched_label(ledger, offer.stream, offer.span, offer.file, vouched);
  if (!label) return std::unexpected(label.error());
  if (const auto same = same_purpose(ledger, offer); !same) return std::unexpected(same.error());
  ledger::StreamInfo stream = offer.stream;
  stream.mine = false;
  auto absorbed = ledger.absorb(stream, offer.span.first, offer.span.before, bodies, branch);
  if (!absorbed) return std::unexpected(named(absorbed.error(), offer.file));
  Gathered gathered;
  gathered.device = stream.device;
  gathered.label = *label;
  gathered.span = offer.span;
  gathered.absorbed = *std::move(absorbed);
  return gathered;
}

files::Checked<Gathered> gather_season(ledger::Ledger& ledger, const seal::SeasonFile& season,
                                       const std::string& file, UtcInstant now,
                                       ledger::Branch branch, Vouched vouched) {
  const auto one = [](Error error) { return std::unexpected(files::Faults{std::move(error)}); };
  auto gathered =
      take_run(ledger, {season.stream, season.span, file}, season.bodies, branch, vouched);
  if (!gathered) return one(gathered.error());
  gathered->name = season.name;
  gathered->unread = season.unread;
  gathered->senseless = season.senseless.count;
  gathered->remarks = season.remarks.count;
  const auto noted = ledger.note_gathered(season.sha256, season.name, season.span, now);
  if (!noted) return one(named(noted.error(), file));
  return *std::move(gathered);
}

files::Checked<Gathered> gather_file(ledger::Ledger& ledger, files::FileSystem& files,
                                     const files::Path& file, UtcInstant now,
                                     ledger::Branch branch) {
  const auto season = seal::read_season_file(files, file);
  if (!season) return std::unexpected(season.error());
  return gather_season(ledger, *season, file.string(), now, branch, Vouched::kByKey);
}

Result<GatheredLedger> gather_ledger(ledger::Ledger& ledger, const std::string& file,
                                     Vouched vouched) {
  const auto other = ledger::Ledger::open(file, ledger::Access::kReadOnly);
  if (!other) return std::unexpected(other.error());
  const auto streams = other->streams();
  if (!streams) return std::unexpected(streams.error());
  const auto spans = other->spans();
  if (!spans) return std::unexpected(spans.error());
  GatheredLedger out;
  for (const ledger::Span& span : *spans) {
    const auto stream = std::ranges::find(*streams, span.stream, &ledger::StreamInfo::id);
    if (stream == streams->end()) continue;
    const auto bodies = bodies_of(*other, span);
    if (!bodies) return std::unexpected(bodies.error());
    auto gathered = is_whole(span, *bodies) ? take_run(ledger, {*stream, span, file}, *bodies,
                                                       ledger::Branch::kAny, vouched)
                                            : not_whole(*stream, file);
    if (gathered) {
      gathered->name = file;
      out.taken.push_back(*std::move(gathered));
    } else if (gathered.error().kind == ErrorKind::kIo) {
      return std::unexpected(gathered.error());
    } else {
      out.refused.push_back(gathered.error());
    }
  }
  return out;
}

std::string Gap::line() const {
  const std::string of = device + ", stream " + stream.text() + ",";
  if (last == 0)
    return "no record of the stream that " + of + " went on from is in a file gathered so far";
  return records_text(first, last) + " of " + of + (first == last ? " is" : " are") +
         " in no file gathered so far";
}

Result<std::vector<Gap>> gaps(const ledger::Ledger& ledger) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  return gaps(*streams, *spans);
}

std::vector<Gap> gaps(std::span<const ledger::StreamInfo> streams,
                      std::span<const ledger::Span> spans) {
  std::map<StreamId, std::string> devices;
  for (const ledger::StreamInfo& stream : streams) devices[stream.id] = stream.device;
  // Every stream begins at 1, so what lacks in front is a gap too.
  std::map<StreamId, std::int64_t> held_to;
  std::vector<Gap> gaps;
  for (const ledger::Span& span : spans) {
    std::int64_t& held = held_to[span.stream];
    if (span.first > held + 1) {
      gaps.push_back({span.stream, devices[span.stream], held + 1, span.first - 1});
    }
    held = span.last;
  }
  for (const ledger::StreamInfo& stream : streams)
    if (stream.continues && !devices.contains(*stream.continues))
      gaps.push_back({stream.id, stream.device, 1, 0});
  return gaps;
}

}  // namespace ligule::gather
