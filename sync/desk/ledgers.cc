#include "sync/desk/ledgers.h"

#include <algorithm>

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

Exit refuse_file(Console& console, std::span<const Error> faults, const std::string& summary) {
  const Exit exit = report_faults(console, faults, summary);
  const bool wrong_kind = std::ranges::any_of(
      faults, [](const Error& fault) { return fault.kind == ErrorKind::kInvalid; });
  return wrong_kind ? Exit::kCouldNot : exit;
}

Exit refuse_file(Console& console, const Error& fault, const std::string& summary) {
  return refuse_file(console, {&fault, 1}, summary);
}

UtcInstant wall_clock() {
  return date::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

std::string counted(std::int64_t count, std::string_view one) {
  return std::to_string(count) + " " + std::string(one) + (count == 1 ? "" : "s");
}

}  // namespace ligule::desk
