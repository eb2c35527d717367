#include "sync/desk/ledgers.h"

#include <algorithm>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/zone.h"
#include "storage/ledger/file_form.h"
#include "storage/trial/record_line.h"

namespace ligule::desk {

Option ledger_option(std::string help) {
  return {.name = "--ledger", .value = "LEDGER", .help = std::move(help), .required = true};
}

Option device_option() {
  return {.name = "--device",
          .value = "NAME",
          .help =
              "What people call this desk; needed where the ledger has no records of its own "
              "yet"};
}

Option today_option() {
  return {.name = "--today",
          .value = "YYYY-MM-DD",
          .help = "With a demonstration's ledger: the invented day"};
}

Result<ledger::Ledger> open_to_write(const std::string& path, Console& console) {
  const auto form = ledger::file_form(path);
  if (!form) return std::unexpected(form.error());
  if (!form->older()) return ledger::Ledger::open(path);
  const auto copy = ledger::copy_before(console.files, path, *form);
  if (!copy) return std::unexpected(copy.error());
  if (const auto kept = ledger::keep_copy(console.files, path, *copy); !kept)
    return std::unexpected(kept.error());
  auto ledger = ledger::Ledger::open(path);
  if (ledger)
    console.out << path << ": was written by an older version and is brought to this one; all "
                << counted(form->records, "record")
                << " stay as they are, and the file as it was is " << copy->filename().string()
                << " beside it\n";
  return ledger;
}

Result<ledger::Ledger> open_or_create(const std::string& path, Console& console) {
  const auto there = console.files.exists(path);
  if (!there) return std::unexpected(there.error());
  if (*there) return open_to_write(path, console);
  auto made = ledger::Ledger::create(path);
  if (made) console.out << path << ": new ledger\n";
  return made;
}

Exit exit_of_file(std::span<const Error> faults) {
  const bool wrong_kind = std::ranges::any_of(
      faults, [](const Error& fault) { return fault.kind == ErrorKind::kInvalid; });
  return wrong_kind ? Exit::kCouldNot : exit_of(faults);
}

Exit refuse_file(Console& console, std::span<const Error> faults, const std::string& summary) {
  static_cast<void>(report_faults(console, faults, summary));
  return exit_of_file(faults);
}

Exit refuse_file(Console& console, const Error& fault, const std::string& summary) {
  return refuse_file(console, {&fault, 1}, summary);
}

Result<std::optional<std::string>> name_given(const Arguments& arguments,
                                              const std::string& option) {
  std::optional<std::string> name = arguments.find(option);
  if (name && (name->empty() || cleaned(*name) != *name)) {
    return fail(ErrorKind::kInvalid, "that is no name for a tablet", option,
                "give letters and figures on one line");
  }
  return name;
}

Result<std::optional<CalendarDate>> date_given(const Arguments& arguments,
                                               const std::string& option) {
  const auto text = arguments.find(option);
  if (!text) return std::nullopt;
  const auto day = parse_date(*text);
  if (!day) return fail(ErrorKind::kInvalid, day.error().what, option, "write 2026-06-01");
  return *day;
}

Result<std::string> words_given(const Arguments& arguments, const std::string& option) {
  std::string text = cleaned(arguments.text(option));
  if (text.empty() && arguments.has(option))
    return fail(ErrorKind::kInvalid, "it is empty", option, "write a few words on one line");
  return text;
}

Result<Stamp> moment(const std::string& zone, const std::optional<CalendarDate>& demo_day) {
  constexpr std::chrono::minutes kDemoMorning = std::chrono::hours(8);
  UtcInstant utc = wall_clock();
  if (demo_day) {
    const auto morning = files::local_to_utc(zone, *demo_day, kDemoMorning);
    if (!morning) return std::unexpected(morning.error());
    utc = *morning;
  }
  const auto offset = files::offset_at(zone, utc);
  if (!offset) return std::unexpected(offset.error());
  return stamp_at(utc, *offset);
}

Result<void> day_fits(const ledger::Ledger& ledger, bool demo,
                      const std::optional<CalendarDate>& today) {
  if (demo == today.has_value()) return {};
  return fail(ErrorKind::kRefused,
              demo ? "the ledger was made for demonstration" : "the ledger is real", ledger.path(),
              demo ? "give --today, its invented day" : "leave --today out");
}

Result<void> can_write(const ledger::Ledger& ledger, const std::optional<std::string>& device) {
  const auto mine = ledger.my_stream();
  if (!mine && !device) {
    return fail(ErrorKind::kRefused, "this ledger begins a stream and needs a name", ledger.path(),
                "give --device NAME, what people call this desk");
  }
  if (mine && device && *device != mine->device) {
    return fail(ErrorKind::kConflict, "the ledger is that of " + mine->device, ledger.path(),
                "leave --device out");
  }
  return {};
}

Result<ledger::StreamInfo> begin_own_stream(ledger::Ledger& ledger,
                                            const seal::Beginning& beginning, Console& console) {
  const auto before = ledger.my_stream();
  auto begun = seal::begin_stream(ledger, console.files, beginning);
  if (begun && before && before->id != begun->id)
    console.out << "the key of " << ledger.path() << " was lost; a new one was made, "
                << seal::fingerprint(begun->public_key)
                << ": desks that gather its season files must trust "
                << seal::public_key_path(ledger.path()).string() << "\n";
  return begun;
}

UtcInstant wall_clock() {
  return date::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

files::Checked<Definitions> everybodys_definitions(Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return std::unexpected(files::Faults{assets.error()});
  return files::load_definitions(console.files, *assets);
}

files::Checked<Definitions> definitions_beside(const std::string& ledger, Console& console) {
  auto definitions = everybodys_definitions(console);
  if (!definitions) return definitions;
  return files::with_own_limits(console.files, ledger, *std::move(definitions));
}

std::string counted(std::int64_t count, std::string_view one) {
  return std::to_string(count) + " " + std::string(one) + (count == 1 ? "" : "s");
}

}  // namespace ligule::desk
