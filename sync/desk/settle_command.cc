// settle: what was asked about, is on hold or contradicts another value, looked at at the desk: it
// is right as it stands, it was another, or there is none.
#include <algorithm>
#include <utility>

#include "sync/desk/ledgers.h"
#include "sync/gather/mend_value.h"
#include "sync/gather/settle.h"
#include "sync/seal/begin.h"

namespace ligule::desk {
namespace {

constexpr std::string_view kNothingSettled = "nothing was settled";

struct SettleWish {
  std::optional<RecordId> value;
  std::optional<std::string> correct;
  bool missing = false;
  std::string reason;
  std::string person;
  std::optional<std::string> device;
  std::optional<CalendarDate> today;
};

// Whether what was given goes together.
Result<void> is_whole(const SettleWish& wish) {
  const bool said = !wish.reason.empty() && !wish.person.empty();
  if (wish.value.has_value() != said)
    return fail(ErrorKind::kInvalid, "the three go together", "--value, --reason and --person",
                "say which value, why, and who says so; without them the list is printed");
  if (wish.correct && wish.missing)
    return fail(ErrorKind::kInvalid, "a value is another, or there is none",
                "--correct and --missing", "give one of the two");
  const bool mends = wish.correct || wish.missing;
  if (mends && !wish.value)
    return fail(ErrorKind::kInvalid, "it is not said which value is wrong",
                wish.missing ? "--missing" : "--correct", "give its id with --value");
  const auto& reasons = gather::settle_reasons();
  if (!said || mends || std::ranges::find(reasons, wish.reason) != reasons.end()) return {};
  std::string known;
  for (const std::string& reason : reasons) known += (known.empty() ? "" : ", ") + reason;
  return fail(ErrorKind::kInvalid, "'" + wish.reason + "' is no reason why a value stands",
              "--reason", "give one of " + known + "; words go with --correct and --missing");
}

Result<SettleWish> read_settle_wish(const Arguments& arguments) {
  SettleWish wish;
  if (const auto text = arguments.find("--value")) {
    const auto id = parse_uuid(*text);
    if (!id)
      return fail(ErrorKind::kInvalid, "'" + *text + "' is no id of a record", "--value",
                  "copy it whole from the list");
    wish.value = RecordId{*id};
  }
  if (arguments.has("--correct")) {
    const auto correct = words_given(arguments, "--correct");
    if (!correct) return std::unexpected(correct.error());
    wish.correct = *correct;
  }
  wish.missing = arguments.has("--missing");
  const auto reason = words_given(arguments, "--reason");
  if (!reason) return std::unexpected(reason.error());
  wish.reason = *reason;
  const auto person = words_given(arguments, "--person");
  if (!person) return std::unexpected(person.error());
  wish.person = *person;
  if (const auto whole = is_whole(wish); !whole) return std::unexpected(whole.error());
  const auto device = name_given(arguments, "--device");
  if (!device) return std::unexpected(device.error());
  wish.device = *device;
  const auto today = date_given(arguments, "--today");
  if (!today) return std::unexpected(today.error());
  wish.today = *today;
  return wish;
}

Exit list(const ledger::Ledger& ledger, Console& console) {
  const auto all = gather::to_settle(ledger);
  if (!all) return refuse_file(console, all.error(), "the list was not made");
  for (const gather::ToSettle& each : *all) {
    console.out << each.line() << "\n";
    if (const std::string beside = each.beside_line(); !beside.empty())
      console.out << "    " << beside << "\n";
  }
  console.out << counted(std::ssize(*all), "value") << " to settle in " << ledger.path() << "\n";
  return Exit::kDone;
}

// What a run came to.
struct Done {
  std::vector<Record> records;
  std::string says;
  std::vector<Error> questions;
};

Result<std::string> zone_of(const ledger::Ledger& ledger, RecordId value) {
  const auto found = ledger.find(value);
  if (!found) return std::unexpected(found.error());
  const std::optional<Record>& record = *found;
  const TrialId trial = record ? record->trial.value_or(TrialId{}) : TrialId{};
  const auto plan = ledger.plan(trial);
  if (plan) return plan->plan.zone;
  // What is wrong with the id is told where it is looked for; a clock needs some zone till then.
  if (plan.error().kind == ErrorKind::kNotFound) return std::string("UTC");
  return std::unexpected(plan.error());
}

// It stands as it is.
Result<Done> stands(const ledger::Ledger& ledger, RecordId which, const SettleWish& wish,
                    const Stamp& now, UuidSequence& ids) {
  const auto value = gather::find_to_settle(ledger, which);
  if (!value) return std::unexpected(value.error());
  auto records = gather::settling_records(ledger, *value, {wish.reason, wish.person, now}, ids);
  if (!records) return std::unexpected(records.error());
  const std::string id = records->back().id.text();
  return Done{
      *std::move(records),
      which.text() + " stands: " + wish.reason + ", " + wish.person + " (settled by " + id + ")",
      {}};
}

// It was another, or there is none.
Result<Done> mended(const ledger::Ledger& ledger, RecordId which, const SettleWish& wish,
                    const Stamp& now, UuidSequence& ids, const Definitions& definitions) {
  auto mended = gather::mend_value(ledger, definitions, which,
                                   {wish.correct, wish.reason, wish.person, now}, ids);
  if (!mended) return std::unexpected(mended.error());
  return Done{std::move(mended->records),
              which.text() + " is put right, " + mended->says + ": " + wish.reason + ", " +
                  wish.person + " (corrected by " + mended->id.text() + ")",
              std::move(mended->questions)};
}

Result<Done> settle(ledger::Ledger& ledger, RecordId which, const SettleWish& wish,
                    const Definitions& definitions, Console& console) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const bool demo = std::ranges::any_of(*streams, &ledger::StreamInfo::demo);
  if (const auto fits = day_fits(ledger, demo, wish.today); !fits)
    return std::unexpected(fits.error());
  if (const auto can = can_write(ledger, wish.device); !can) return std::unexpected(can.error());
  const auto zone = zone_of(ledger, which);
  if (!zone) return std::unexpected(zone.error());
  const auto now = moment(*zone, wish.today);
  if (!now) return std::unexpected(now.error());
  const auto mine = ledger.my_stream();
  const seal::Beginning beginning{mine ? mine->device : wish.device.value_or(""),
                                  std::string("ligule-desk ") + LIGULE_VERSION, *now, demo};
  const auto make = [&]() -> Result<Done> {
    auto ids = seal::continued_ids(ledger, beginning);
    if (!ids) return std::unexpected(ids.error());
    if (wish.correct || wish.missing) return mended(ledger, which, wish, *now, *ids, definitions);
    return stands(ledger, which, wish, *now, *ids);
  };
  // Before a stream is begun, so that what is refused keeps nothing; its ids come after the
  // stream's.
  if (auto tried = make(); !tried) return tried;
  const auto stream = begin_own_stream(ledger, beginning, console);
  if (!stream) return std::unexpected(stream.error());
  auto done = make();
  if (!done) return done;
  const auto kept = ledger.append(std::exchange(done->records, {}));
  if (!kept) return std::unexpected(kept.error());
  return done;
}

Exit run_settle(const Arguments& arguments, Console& console) {
  const auto wish = read_settle_wish(arguments);
  if (!wish) return refuse_arguments(console, wish.error());
  const std::string path = arguments.text("--ledger");
  const std::optional<RecordId> which = wish->value;
  if (!which) {
    const auto ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
    if (!ledger) return refuse_file(console, ledger.error(), "the list was not made");
    return list(*ledger, console);
  }
  auto ledger = open_to_write(path, console);
  if (!ledger) return refuse_file(console, ledger.error(), std::string(kNothingSettled));
  // Only what is put right is held against scales and limits.
  const bool mends = wish->correct || wish->missing;
  const auto definitions = mends ? definitions_beside(path, console) : Definitions{};
  if (!definitions) return refuse_file(console, definitions.error(), std::string(kNothingSettled));
  const auto done = settle(*ledger, *which, *wish, *definitions, console);
  if (!done) {
    // All but trouble with the file lies in what was asked for.
    if (done.error().kind != ErrorKind::kIo) return refuse_arguments(console, done.error());
    return refuse_file(console, done.error(), std::string(kNothingSettled));
  }
  for (const Error& question : done->questions)
    console.out << "on hold: " << one_line(question) << "\n";
  console.out << done->says << "\n";
  return Exit::kDone;
}

}  // namespace

Command settle_command() {
  return {
      .name = "settle",
      .help =
          "List values that were asked about, are on hold or contradict others, with the plots "
          "beside them; settle them, or put them right",
      .options =
          {
              ledger_option("Ledger to look at; with --value a settlement is added to it"),
              {.name = "--value",
               .value = "ID",
               .help = "A value by its id in the list: it stands, if nothing else is said of it"},
              {.name = "--correct",
               .value = "VALUE",
               .help = "It is this instead, in its own unit unless one is written behind it"},
              {.name = "--missing", .help = "It is none, and none is to be guessed"},
              {.name = "--reason",
               .value = "REASON",
               .help = "Why it stands: looked_again, agreed or on_paper; why it is wrong: words"},
              {.name = "--person", .value = "INITIALS", .help = "Who says so"},
              device_option(),
              today_option(),
          },
      .run = run_settle,
  };
}

}  // namespace ligule::desk
