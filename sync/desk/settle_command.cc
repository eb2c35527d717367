// settle: what was asked about, is on hold or contradicts another value, looked at at the desk.
#include <algorithm>

#include "sync/desk/ledgers.h"
#include "sync/gather/settle.h"
#include "sync/seal/begin.h"

namespace ligule::desk {
namespace {

constexpr std::string_view kNothing = "nothing was settled";

struct Wish {
  std::optional<RecordId> value;
  std::string reason;
  std::string person;
  std::optional<std::string> device;
  std::optional<CalendarDate> today;
};

Result<Wish> read_wish(const Arguments& arguments) {
  Wish wish;
  if (const auto text = arguments.find("--value")) {
    const auto id = parse_uuid(*text);
    if (!id)
      return fail(ErrorKind::kInvalid, "'" + *text + "' is no id of a record", "--value",
                  "copy it whole from the list");
    wish.value = RecordId{*id};
  }
  wish.reason = arguments.text("--reason");
  const auto person = words_given(arguments, "--person");
  if (!person) return std::unexpected(person.error());
  wish.person = *person;
  const bool whole = !wish.reason.empty() && !wish.person.empty();
  if (wish.value.has_value() != whole)
    return fail(ErrorKind::kInvalid, "the three go together", "--value, --reason and --person",
                "say which value stands, why, and who says so; without them the list is printed");
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
  for (const gather::ToSettle& each : *all) console.out << each.line() << "\n";
  console.out << counted(std::ssize(*all), "value") << " to settle in " << ledger.path() << "\n";
  return Exit::kDone;
}

Result<std::string> zone_of(const ledger::Ledger& ledger, const Record& record) {
  const auto plan = ledger.plan(record.trial.value_or(TrialId{}));
  if (!plan) return std::unexpected(plan.error());
  return plan->plan.zone;
}

Result<void> settle(ledger::Ledger& ledger, RecordId which, const Wish& wish, Console& console) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const bool demo = std::ranges::any_of(*streams, &ledger::StreamInfo::demo);
  if (const auto fits = day_fits(ledger, demo, wish.today); !fits)
    return std::unexpected(fits.error());
  if (const auto can = can_write(ledger, wish.device); !can) return std::unexpected(can.error());
  const auto value = gather::find_to_settle(ledger, which);
  if (!value) return std::unexpected(value.error());
  const auto zone = zone_of(ledger, value->record);
  if (!zone) return std::unexpected(zone.error());
  const auto now = moment(*zone, wish.today);
  if (!now) return std::unexpected(now.error());
  const auto mine = ledger.my_stream();
  const seal::Beginning beginning{mine ? mine->device : wish.device.value_or(""),
                                  std::string("ligule-desk ") + LIGULE_VERSION, *now, demo};
  const auto stream = seal::begin_stream(ledger, console.files, beginning);
  if (!stream) return std::unexpected(stream.error());
  auto ids = seal::continued_ids(ledger, beginning);
  if (!ids) return std::unexpected(ids.error());
  auto records = gather::settling_records(ledger, *value, {wish.reason, wish.person, *now}, *ids);
  if (!records) return std::unexpected(records.error());
  const auto kept = ledger.append(*std::move(records));
  if (!kept) return std::unexpected(kept.error());
  return {};
}

Exit run_settle(const Arguments& arguments, Console& console) {
  const auto wish = read_wish(arguments);
  if (!wish) return refuse_arguments(console, wish.error());
  const std::string path = arguments.text("--ledger");
  const std::optional<RecordId> which = wish->value;
  if (!which) {
    const auto ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
    if (!ledger) return refuse_file(console, ledger.error(), "the list was not made");
    return list(*ledger, console);
  }
  auto ledger = ledger::Ledger::open(path);
  if (!ledger) return refuse_file(console, ledger.error(), std::string(kNothing));
  if (const auto done = settle(*ledger, *which, *wish, console); !done) {
    // All but trouble with the file lies in what was asked for.
    if (done.error().kind != ErrorKind::kIo) return refuse_arguments(console, done.error());
    return refuse_file(console, done.error(), std::string(kNothing));
  }
  console.out << which->text() << " stands: " << wish->reason << ", " << wish->person << "\n";
  return Exit::kDone;
}

}  // namespace

Command settle_command() {
  return {
      .name = "settle",
      .help =
          "List values that were asked about, are on hold or contradict others, and settle them",
      .options =
          {
              ledger_option("Ledger to look at; with --value a settlement is added to it"),
              {.name = "--value",
               .value = "ID",
               .help = "The value that stands, by its id in the list"},
              {.name = "--reason",
               .value = "REASON",
               .help = "Why: looked_again, agreed or on_paper",
               .allowed = gather::settle_reasons()},
              {.name = "--person", .value = "INITIALS", .help = "Who says so"},
              device_option(),
              today_option(),
          },
      .run = run_settle,
  };
}

}  // namespace ligule::desk
