#include "sync/gather/clock.h"

#include <algorithm>
#include <set>
#include <tuple>

#include "storage/trial/as_sown.h"
#include "storage/trial/details.h"
#include "storage/trial/record_line.h"
#include "storage/trial/scale.h"
#include "sync/gather/names.h"
#include "sync/gather/settle.h"

namespace ligule::gather {
namespace {

using std::chrono::milliseconds;

constexpr milliseconds kNoise = std::chrono::seconds{1};  // a clock that is set by the network
constexpr milliseconds kApart = std::chrono::minutes{1};  // of two clocks that go alike
constexpr std::size_t kMostLines = 10;                    // of one kind and stream

std::string moment_text(const Stamp& at) {
  return format_date(at.local_date) + " " + format_clock(at);
}

std::string run_text(std::int64_t first, std::int64_t last) {
  if (first == last) return "record " + std::to_string(first);
  return "records " + std::to_string(first) + " to " + std::to_string(last);
}

// Without its sign.
std::string span_text(milliseconds span) {
  const std::string text = shift_text(span < milliseconds{0} ? -span : span);
  return text.starts_with('+') ? text.substr(1) : text;
}

// When an id of version 7 was made, by the clock of its device.
std::optional<UtcInstant> made_at(RecordId id) {
  const auto& bytes = id.uuid.bytes;
  if (bytes[6] >> 4U != 7) return std::nullopt;
  std::int64_t ms = 0;
  for (std::size_t n = 0; n < 6; ++n) ms = ms * 256 + bytes[n];
  return UtcInstant(milliseconds(ms));
}

// Whether its time is that of a file or of a sheet of paper, not of the clock of the device.
bool is_from_file(const Record& record) {
  return record.source == Source::kImported || record.source == Source::kPaper ||
         (record.kind == kind::kHarvestRun && !detail(record.details, "file").empty());
}

// Records of a stream that can be read, as they were written, by number.
template <class Visit>
Result<void> each_readable(const ledger::Ledger& ledger, StreamId stream, std::int64_t first,
                           std::int64_t last, Visit visit) {
  return ledger.each_record(stream, first, last,
                            [&](std::int64_t, std::string_view body, const Digest&) {
                              if (const auto record = parse_record(body)) visit(*record);
                              return true;
                            });
}

// Lines of one kind, the first few and how many more there are.
class Lines {
 public:
  void add(std::string line) {
    ++count_;
    if (lines_.size() < kMostLines) lines_.push_back(std::move(line));
  }
  void move_to(std::vector<std::string>& out) && {
    std::ranges::move(lines_, std::back_inserter(out));
    if (count_ > lines_.size())
      out.push_back("and " + std::to_string(count_ - lines_.size()) + " more like these");
  }

 private:
  std::vector<std::string> lines_;
  std::size_t count_ = 0;
};

// Records one after another of which the same is odd, as one line.
struct Run {
  std::int64_t first = 0;  // 0: none is open
  std::int64_t last = 0;
  milliseconds most{0};
  Stamp latest{};

  void add(const Record& record, milliseconds by) {
    if (first == 0) *this = {record.seq, record.seq, by, record.at};
    last = record.seq;
    most = std::max(most, by);
    if (record.at.utc > latest.utc) latest = record.at;
  }
};

class StreamWalk {
 public:
  StreamWalk(const ledger::Shifts& shifts, std::optional<UtcInstant> now)
      : shifts_(shifts), now_(now) {}

  void look(Record record) {
    ++records_;
    const bool explained = shifts_.of(record.stream, record.seq) != milliseconds{0};
    const auto made = explained || is_from_file(record) ? std::nullopt : made_at(record.id);
    id_apart(record, made ? *made - record.at.utc : milliseconds{0});
    shifts_.put_right(record);
    const bool ahead = now_ && !is_from_file(record) && record.at.utc >= *now_ + kApart;
    if (ahead) ahead_.add(record, milliseconds{0});
    if (!ahead) close_ahead();
    if (is_from_file(record)) return;
    if (before_ && record.at.utc + kNoise <= before_->at.utc) {
      back_.add("record " + std::to_string(record.seq) + " is stamped " + moment_text(record.at) +
                ", " + span_text(before_->at.utc - record.at.utc) + " before record " +
                std::to_string(before_->seq));
    }
    before_ = std::move(record);
  }
  void finish(StreamClock& clock) {
    close_ids();
    close_ahead();
    clock.records = records_;
    std::move(back_).move_to(clock.odd);
    std::move(ids_).move_to(clock.odd);
    std::move(future_).move_to(clock.odd);
  }

 private:
  void id_apart(const Record& record, milliseconds by) {
    const bool odd = by >= kApart || by <= -kApart;
    const bool later = by > milliseconds{0};
    if (!odd || (id_run_.first != 0 && later != ids_later_)) close_ids();
    if (!odd) return;
    ids_later_ = later;
    id_run_.add(record, later ? by : -by);
  }
  void close_ids() {
    if (id_run_.first != 0)
      ids_.add(run_text(id_run_.first, id_run_.last) + ": the ids were made up to " +
               span_text(id_run_.most) + (ids_later_ ? " after" : " before") + " the times say");
    id_run_ = {};
  }
  void close_ahead() {
    if (ahead_.first != 0)
      future_.add(run_text(ahead_.first, ahead_.last) +
                  (ahead_.first == ahead_.last ? " is" : " are") + " stamped after now, up to " +
                  moment_text(ahead_.latest));
    ahead_ = {};
  }

  const ledger::Shifts& shifts_;
  std::optional<UtcInstant> now_;
  std::int64_t records_ = 0;
  std::optional<Record> before_;
  Run id_run_, ahead_;
  bool ids_later_ = false;
  Lines back_, ids_, future_;
};

std::string said_line(const ledger::HeldShift& held, const Names& names) {
  const Contender by = names.contender(held.record);
  return run_text(held.shift.first, held.shift.last) +
         (held.shift.shift == milliseconds{0} ? ": nothing is put right"
                                              : ": put right by " + shift_text(held.shift.shift)) +
         ", says " + by.person + " on " + by.device + ", " + moment_text(held.record.at) + ": " +
         held.record.reason;
}

// What is looked at, each text with the records it is said of.
class LookAt {
 public:
  void add(std::int64_t seq, const std::string& text) {
    auto [at, first] = of_.try_emplace(text, Said{seq, seq, 0});
    at->second.last = seq;
    ++at->second.count;
    if (first) order_.push_back(text);
  }
  [[nodiscard]] std::vector<std::string> lines() const {
    std::vector<std::string> lines;
    for (const std::string& text : order_) {
      const Said& said = of_.at(text);
      const bool whole = said.last - said.first + 1 == said.count;
      lines.push_back((whole ? "" : std::to_string(said.count) + " of ") +
                      run_text(said.first, said.last) + ": " + text);
    }
    return lines;
  }

 private:
  struct Said {
    std::int64_t first, last, count;
  };
  std::map<std::string, Said> of_;
  std::vector<std::string> order_;
};

// The definitions of scales of visits, each of which has a day of its own.
Result<std::set<std::string>> scales_of_visits(const ledger::Ledger& ledger) {
  const auto records = ledger.of_kind(kind::kDefinition);
  if (!records) return std::unexpected(records.error());
  std::set<std::string> visits;
  for (const Record& record : *records) {
    const auto scale = parse_scale_text(record.details);
    if (scale && scale->kind == ScaleKind::kReached) visits.insert(record.definition);
  }
  return visits;
}

// The days and hours that somebody said: a shift does not move them.
void look_at(const Record& record, const std::set<std::string>& visits, LookAt& look) {
  constexpr std::string_view kStays = "; it stays as it was said";
  const auto add = [&](std::string text) { look.add(record.seq, text.append(kStays)); };
  if (is_from_file(record)) {
    look.add(record.seq,
             "the times are those of a file, not of this clock, and would be moved all "
             "the same");
  }
  if (record.kind == kind::kAsSown) {
    const std::string since = detail(record.details, "since");
    if (!since.empty()) add("as sown since " + since);
  }
  if (record.kind == kind::kEvent) {
    for (const char* key : {"on", "ended", "no_entry_until"}) {
      const std::string said = detail(record.details, key);
      if (!said.empty()) add(record.entered + ", " + key + " " + said);
    }
  }
  if (record.is_claim() && visits.contains(record.definition))
    add(record.measure + ", the day of a visit");
}

Result<ledger::StreamInfo> held_stream(const ledger::Ledger& ledger, StreamId stream) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto at = std::ranges::find(*streams, stream, &ledger::StreamInfo::id);
  if (at != streams->end()) return *at;
  return fail(ErrorKind::kNotFound, "nothing of stream " + stream.text() + " is held",
              ledger.path(), "run it without options for those that are");
}

// Every record from the first to the last must be held.
Result<void> is_held(const ledger::Ledger& ledger, const ClockShift& shift) {
  const auto stream = held_stream(ledger, shift.stream);
  if (!stream) return std::unexpected(stream.error());
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  std::string held;
  for (const ledger::Span& span : *spans) {
    if (span.stream != shift.stream) continue;
    if (span.first <= shift.first && shift.last <= span.last) return {};
    held += (held.empty() ? "" : ", ") + run_text(span.first, span.last);
  }
  return fail(ErrorKind::kNotFound,
              run_text(shift.first, shift.last) + " of " + stream->device + " are not all held",
              ledger.path(), "of it " + held + " are held: name records of these");
}

}  // namespace

Result<std::vector<StreamClock>> stream_clocks(const ledger::Ledger& ledger,
                                               std::optional<UtcInstant> now) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  const auto names = Names::read(ledger);
  if (!names) return std::unexpected(names.error());
  const auto held = ledger::held_shifts(ledger);
  if (!held) return std::unexpected(held.error());
  const ledger::Shifts shifts = ledger::shifts_of(*held);
  std::map<StreamId, StreamClock> clocks;
  for (const ledger::StreamInfo& stream : *streams) {
    StreamClock& clock = clocks[stream.id];
    clock.stream = stream;
    StreamWalk walk(shifts, now);
    for (const ledger::Span& span : *spans) {
      if (span.stream != stream.id) continue;
      const auto read = each_readable(ledger, stream.id, span.first, span.last,
                                      [&](const Record& record) { walk.look(record); });
      if (!read) return std::unexpected(read.error());
    }
    walk.finish(clock);
  }
  for (const ledger::HeldShift& each : *held) {
    StreamClock& clock = clocks[each.shift.stream];
    clock.stream.id = each.shift.stream;
    clock.said.push_back(said_line(each, *names));
  }
  std::vector<StreamClock> all;
  all.reserve(clocks.size());
  for (auto& [id, clock] : clocks) all.push_back(std::move(clock));
  return all;
}

Result<StreamId> stream_of_tablet(const ledger::Ledger& ledger, const std::string& name) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  std::vector<StreamId> named;
  std::set<std::string> known;
  for (const ledger::StreamInfo& stream : *streams) {
    known.insert(stream.device);
    if (stream.device == name) named.push_back(stream.id);
  }
  if (named.size() == 1) return named.front();
  std::string list;
  if (named.empty()) {
    for (const std::string& each : known) list += (list.empty() ? "" : ", ") + each;
    return fail(ErrorKind::kNotFound, "nothing of a tablet called " + name + " is held",
                ledger.path(), "it holds records of " + (list.empty() ? "none" : list));
  }
  for (const StreamId& each : named) list += (list.empty() ? "" : ", ") + each.text();
  return fail(
      ErrorKind::kConflict,
      name + " wrote " + std::to_string(named.size()) + " streams, its name does not say which",
      ledger.path(), "give one with --stream: " + list);
}

std::vector<std::string> ClockChange::lines() const {
  const auto both = [](const std::pair<Stamp, Stamp>& at) {
    return moment_text(at.first) + " -> " + moment_text(at.second);
  };
  std::vector<std::string> lines{"first " + both(first), "last " + both(last)};
  if (shifted_already > 0)
    lines.push_back(std::to_string(shifted_already) +
                    " of them were put right before: this goes in the place of that, nothing is "
                    "added up");
  for (const auto& [day, count] : days)
    lines.push_back(std::to_string(count) + " of " + format_date(day.first) + " come to " +
                    format_date(day.second));
  if (days.empty()) lines.emplace_back("no day changes");
  for (const std::string& each : look_at) lines.push_back("look at " + each);
  return lines;
}

Result<ClockChange> clock_change(const ledger::Ledger& ledger, const ClockShift& shift) {
  if (const auto there = is_held(ledger, shift); !there) return std::unexpected(there.error());
  const auto held = ledger::held_shifts(ledger);
  if (!held) return std::unexpected(held.error());
  const ledger::Shifts shifts = ledger::shifts_of(*held);
  ClockChange change;
  const auto visits = scales_of_visits(ledger);
  if (!visits) return std::unexpected(visits.error());
  LookAt look;
  const auto take = [](Stamp& kept, const Stamp& at, bool earlier) {
    if (earlier ? at.utc < kept.utc : at.utc > kept.utc) kept = at;
  };
  const auto read =
      each_readable(ledger, shift.stream, shift.first, shift.last, [&](const Record& written) {
        Record now = written;
        shifts.put_right(now);
        if (shifts.of(written.stream, written.seq) != milliseconds{0}) ++change.shifted_already;
        const Stamp then = shifted(written.at, shift.shift);
        if (change.records++ == 0) change.first = change.last = {now.at, then};
        take(change.first.first, now.at, true);
        take(change.first.second, then, true);
        take(change.last.first, now.at, false);
        take(change.last.second, then, false);
        if (now.at.local_date != then.local_date)
          ++change.days[{now.at.local_date, then.local_date}];
        look_at(written, *visits, look);
      });
  if (!read) return std::unexpected(read.error());
  change.look_at = look.lines();
  return change;
}

Result<std::vector<Record>> clock_records(const ledger::Ledger& ledger, const ClockShift& shift,
                                          const ClockSaying& saying, UuidSequence& ids) {
  auto records = person_records(ledger, saying.person, saying.now, ids);
  if (!records) return records;
  Record record;
  record.id = RecordId{ids.next(saying.now.utc)};
  record.at = saying.now;
  record.person = person_id(saying.person);
  record.reason = saying.reason;
  write_clock_shift(shift, record);
  const auto held = ledger::held_shifts(ledger);
  if (!held) return std::unexpected(held.error());
  for (const ledger::HeldShift& each : *held) {
    const bool apart = each.shift.stream != shift.stream || each.shift.last < shift.first ||
                       shift.last < each.shift.first;
    if (apart || std::tie(each.record.at.utc, each.record.id) < std::tie(record.at.utc, record.id))
      continue;
    return fail(ErrorKind::kRefused,
                "this would not count: what is said of " +
                    run_text(each.shift.first, each.shift.last) + " on " +
                    moment_text(each.record.at) + " is newer",
                ledger.path(), "the newest counts: see whether the clock of this machine is right");
  }
  records->push_back(std::move(record));
  return records;
}

}  // namespace ligule::gather
