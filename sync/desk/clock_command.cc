// clock: a tablet's clock was wrong, and its records are put right by what it was off; without
// more, which clocks look wrong.
#include <algorithm>
#include <array>
#include <utility>

#include "storage/trial/number.h"
#include "sync/desk/ledgers.h"
#include "sync/gather/clock.h"
#include "sync/seal/begin.h"

namespace ligule::desk {
namespace {

struct ClockWish {
  std::optional<std::string> tablet;
  std::optional<StreamId> stream;
  std::optional<std::int64_t> from;
  std::optional<std::int64_t> to;
  std::optional<std::chrono::milliseconds> shift;
  std::string reason;
  std::string person;
  bool keep = false;
  std::optional<std::string> device;
  std::optional<CalendarDate> today;

  [[nodiscard]] bool only_lists() const {
    return !tablet && !stream && !from && !to && !shift && reason.empty() && person.empty() &&
           !keep;
  }
};

std::unexpected<Error> no_shift(const std::string& text) {
  return fail(ErrorKind::kInvalid, "'" + text + "' is no time to shift by", "--shift",
              "write +1:00:00 where the clock was an hour slow, -0:20:05 where it was fast, 0 to "
              "take back; at most 100 years");
}

// Digits and nothing else, at most `most` of them.
std::optional<std::int64_t> digits(std::string_view text, std::size_t most) {
  if (text.size() > most || text.starts_with('-')) return std::nullopt;
  const auto number = parse_integer(text);
  return number ? std::optional(*number) : std::nullopt;
}

// "+1:00", "+1:00:00", "-0:20:05.250" or "0": hours, minutes, seconds. The sign must be said: a
// shift the wrong way is worse than none.
Result<std::chrono::milliseconds> parse_shift(const std::string& text) {
  if (text == "0") return std::chrono::milliseconds{0};
  std::string_view rest = text;
  const bool back = rest.starts_with('-');
  if (!back && !rest.starts_with('+')) return no_shift(text);
  rest.remove_prefix(1);
  std::int64_t fraction = 0;
  if (const auto point = rest.find('.'); point != std::string_view::npos) {
    const auto ms = digits(rest.substr(point + 1), 3);
    if (!ms || rest.size() - point != 4) return no_shift(text);
    fraction = *ms;
    rest = rest.substr(0, point);
  }
  std::array<std::int64_t, 3> parts{};
  std::size_t count = 0;
  for (bool more = true; more; ++count) {
    const auto colon = rest.find(':');
    more = colon != std::string_view::npos;
    const std::string_view part = rest.substr(0, colon);
    if (count == parts.size() || (count > 0 && part.size() != 2)) return no_shift(text);
    const auto number = digits(part, count == 0 ? 6 : 2);
    if (!number || (count > 0 && *number > 59)) return no_shift(text);
    parts[count] = *number;
    if (more) rest.remove_prefix(colon + 1);
  }
  if (count < 2 || (fraction > 0 && count < 3)) return no_shift(text);
  const std::chrono::milliseconds shift{((parts[0] * 60 + parts[1]) * 60 + parts[2]) * 1000 +
                                        fraction};
  if (shift > kFarthestShift) return no_shift(text);
  return back ? -shift : shift;
}

// Whether what was given goes together.
Result<void> goes_together(const ClockWish& wish) {
  if (wish.only_lists()) {
    if (!wish.device) return {};
    return fail(ErrorKind::kInvalid, "nothing is kept without --keep", "--device", "leave it out");
  }
  if (wish.tablet && wish.stream)
    return fail(ErrorKind::kInvalid, "one of the two says whose clock was wrong",
                "--tablet and --stream", "give one of them");
  const bool whole = (wish.tablet || wish.stream) && wish.from && wish.to && wish.shift;
  if (!whole)
    return fail(ErrorKind::kInvalid, "it takes all four to say what is put right",
                "--tablet or --stream, --from, --to and --shift",
                "give them all; without any the clocks that look wrong are listed");
  if (*wish.to < *wish.from)
    return fail(ErrorKind::kInvalid, "the last record comes before the first", "--from and --to",
                "give the smaller number with --from");
  if (wish.keep && (wish.reason.empty() || wish.person.empty()))
    return fail(ErrorKind::kInvalid, "it is not said why, or who says so", "--keep",
                "give --reason and --person");
  return {};
}

Result<std::optional<std::int64_t>> record_given(const Arguments& arguments,
                                                 std::string_view option) {
  const auto number = arguments.whole_number(option, 1, kMostRecords);
  if (!number) return std::unexpected(number.error());
  return *number;
}

Result<ClockWish> read_clock_wish(const Arguments& arguments) {
  ClockWish wish;
  auto tablet = name_given(arguments, "--tablet");
  if (!tablet) return std::unexpected(tablet.error());
  wish.tablet = *std::move(tablet);
  if (const auto text = arguments.find("--stream")) {
    const auto id = parse_uuid(*text);
    if (!id)
      return fail(ErrorKind::kInvalid, "'" + *text + "' is no id of a stream", "--stream",
                  "copy it whole from the list");
    wish.stream = StreamId{*id};
  }
  const auto from = record_given(arguments, "--from");
  if (!from) return std::unexpected(from.error());
  wish.from = *from;
  const auto to = record_given(arguments, "--to");
  if (!to) return std::unexpected(to.error());
  wish.to = *to;
  if (const auto text = arguments.find("--shift")) {
    const auto shift = parse_shift(*text);
    if (!shift) return std::unexpected(shift.error());
    wish.shift = *shift;
  }
  auto reason = words_given(arguments, "--reason");
  if (!reason) return std::unexpected(reason.error());
  wish.reason = *std::move(reason);
  auto person = words_given(arguments, "--person");
  if (!person) return std::unexpected(person.error());
  wish.person = *std::move(person);
  wish.keep = arguments.has("--keep");
  auto device = name_given(arguments, "--device");
  if (!device) return std::unexpected(device.error());
  wish.device = *std::move(device);
  const auto today = date_given(arguments, "--today");
  if (!today) return std::unexpected(today.error());
  wish.today = *today;
  if (const auto fits = goes_together(wish); !fits) return std::unexpected(fits.error());
  return wish;
}

// The moment by the wall of a site of this ledger.
Result<Stamp> now_at(const ledger::Ledger& ledger, const std::optional<CalendarDate>& today) {
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  return moment(plans->empty() ? "UTC" : plans->front().plan.zone, today);
}

Result<bool> is_demo(const ledger::Ledger& ledger) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  return std::ranges::any_of(*streams, &ledger::StreamInfo::demo);
}

// The clocks that look wrong.
Result<void> list_clocks(const ledger::Ledger& ledger, const ClockWish& wish, Console& console) {
  const auto demo = is_demo(ledger);
  if (!demo) return std::unexpected(demo.error());
  // A demonstration's days are invented: without its day none of them lies ahead.
  std::optional<UtcInstant> now;
  if (!*demo || wish.today) {
    if (const auto fits = day_fits(ledger, *demo, wish.today); !fits) return fits;
    const auto moment = now_at(ledger, wish.today);
    if (!moment) return std::unexpected(moment.error());
    now = moment->utc;
  }
  const auto clocks = gather::stream_clocks(ledger, now);
  if (!clocks) return std::unexpected(clocks.error());
  std::int64_t odd = 0;
  for (const gather::StreamClock& clock : *clocks) {
    console.out << (clock.stream.device.empty() ? "not held here" : clock.stream.device)
                << ", stream " << clock.stream.id.text() << ": " << counted(clock.records, "record")
                << "\n";
    for (const std::string& line : clock.odd) console.out << "  odd: " << line << "\n";
    for (const std::string& line : clock.said) console.out << "  " << line << "\n";
    if (!clock.odd.empty()) ++odd;
  }
  console.out << counted(odd, "clock") << " of " << counted(std::ssize(*clocks), "stream") << " in "
              << ledger.path() << " to look at\n";
  return {};
}

Result<ClockShift> shift_of(const ledger::Ledger& ledger, const ClockWish& wish) {
  ClockShift shift;
  shift.first = wish.from.value_or(1);
  shift.last = wish.to.value_or(1);
  shift.shift = wish.shift.value_or(std::chrono::milliseconds{0});
  if (wish.stream) {
    shift.stream = *wish.stream;
    return shift;
  }
  const auto named = gather::stream_of_tablet(ledger, wish.tablet.value_or(""));
  if (!named) return std::unexpected(named.error());
  shift.stream = *named;
  return shift;
}

// What would change, or has.
Result<ClockShift> tell_change(const ledger::Ledger& ledger, const ClockWish& wish,
                               Console& console) {
  auto shift = shift_of(ledger, wish);
  if (!shift) return shift;
  const auto change = gather::clock_change(ledger, *shift);
  if (!change) return std::unexpected(change.error());
  console.out << counted(change->records, "record") << " of stream " << shift->stream.text() << ", "
              << shift->first << " to " << shift->last << ", by " << shift_text(shift->shift)
              << "\n";
  for (const std::string& line : change->lines()) console.out << "  " << line << "\n";
  return shift;
}

Result<void> keep(ledger::Ledger& ledger, const ClockShift& shift, const ClockWish& wish,
                  Console& console) {
  const auto demo = is_demo(ledger);
  if (!demo) return std::unexpected(demo.error());
  if (const auto fits = day_fits(ledger, *demo, wish.today); !fits) return fits;
  if (const auto can = can_write(ledger, wish.device); !can) return can;
  const auto now = now_at(ledger, wish.today);
  if (!now) return std::unexpected(now.error());
  const auto mine = ledger.my_stream();
  const seal::Beginning beginning{mine ? mine->device : wish.device.value_or(""),
                                  std::string("ligule-desk ") + LIGULE_VERSION, *now, *demo};
  const auto make = [&]() -> Result<std::vector<Record>> {
    auto ids = seal::continued_ids(ledger, beginning);
    if (!ids) return std::unexpected(ids.error());
    return gather::clock_records(ledger, shift, {wish.reason, wish.person, *now}, *ids);
  };
  // Before a stream is begun, so that what is refused keeps nothing; its ids come after the
  // stream's.
  if (const auto tried = make(); !tried) return std::unexpected(tried.error());
  const auto stream = begin_own_stream(ledger, beginning, console);
  if (!stream) return std::unexpected(stream.error());
  auto records = make();
  if (!records) return std::unexpected(records.error());
  const std::string id = records->back().id.text();
  const auto kept = ledger.append(*std::move(records));
  if (!kept) return std::unexpected(kept.error());
  console.out << "put right: " << wish.reason << ", " << wish.person << " (by " << id << ")\n";
  return {};
}

Result<void> put_right(ledger::Ledger& ledger, const ClockWish& wish, Console& console) {
  const auto shift = tell_change(ledger, wish, console);
  if (!shift) return std::unexpected(shift.error());
  if (wish.keep) return keep(ledger, *shift, wish, console);
  console.out << "nothing is kept yet: say it again with --keep, --reason and --person\n";
  return {};
}

Exit run_clock(const Arguments& arguments, Console& console) {
  const auto wish = read_clock_wish(arguments);
  if (!wish) return refuse_arguments(console, wish.error());
  const std::string without =
      wish->only_lists() ? "the list was not made" : "nothing was put right";
  const std::string path = arguments.text("--ledger");
  auto ledger = wish->keep ? open_to_write(path, console)
                           : ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) return refuse_file(console, ledger.error(), without);
  const auto done = wish->only_lists() ? list_clocks(*ledger, *wish, console)
                                       : put_right(*ledger, *wish, console);
  if (done) return Exit::kDone;
  const ErrorKind kind = done.error().kind;
  if (kind == ErrorKind::kIo || kind == ErrorKind::kDamaged)
    return refuse_file(console, done.error(), without);
  // All but trouble with the file lies in what was asked for.
  return refuse_arguments(console, done.error());
}

}  // namespace

Command clock_command() {
  return {
      .name = "clock",
      .help =
          "List tablets whose clock looks wrong; put the times of records right by what it was off",
      .options =
          {
              ledger_option("Ledger to look at; with --keep a record is added to it"),
              {.name = "--tablet", .value = "NAME", .help = "Whose clock was wrong, by its name"},
              {.name = "--stream",
               .value = "ID",
               .help = "The same by its stream in the list, where a tablet has several"},
              {.name = "--from", .value = "N", .help = "The first of its records it was wrong for"},
              {.name = "--to", .value = "N", .help = "The last"},
              {.name = "--shift",
               .value = "H:MM:SS",
               .help = "What is added to their times: +1:00:00 where the clock was an hour slow; 0 "
                       "takes back"},
              {.name = "--reason", .value = "WORDS", .help = "How that is known"},
              {.name = "--person", .value = "INITIALS", .help = "Who says so"},
              {.name = "--keep", .help = "Keep it; without, only what would change is told"},
              device_option(),
              today_option(),
          },
      .run = run_clock,
  };
}

}  // namespace ligule::desk
