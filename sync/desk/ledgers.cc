#include "sync/desk/ledgers.h"

#include <algorithm>

#include "storage/trial/record_line.h"

namespace ligule::desk {

Option ledger_option(std::string help) {
  return {.name = "--ledger", .value = "LEDGER", .help = std::move(help), .required = true};
}

Result<ledger::Ledger> open_or_create(const std::string& path, Console& console) {
  const auto there = console.files.exists(path);
  if (!there) return std::unexpected(there.error());
  if (*there) return ledger::Ledger::open(path);
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

UtcInstant wall_clock() {
  return date::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

std::string counted(std::int64_t count, std::string_view one) {
  return std::to_string(count) + " " + std::string(one) + (count == 1 ? "" : "s");
}

}  // namespace ligule::desk
