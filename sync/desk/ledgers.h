// What the commands that work on a ledger share.
#pragma once

#include <string>
#include <string_view>

#include "storage/ledger/ledger.h"
#include "sync/desk/command.h"

namespace ligule::desk {

// The option every one of them has.
[[nodiscard]] Option ledger_option(std::string help);

// Opens the ledger, or makes an empty one and says so. For commands that begin a desk's ledger.
[[nodiscard]] Result<ledger::Ledger> open_or_create(const std::string& path, Console& console);

// For a file that could not be taken at all: as report_faults(), but a file of the wrong kind
// (kInvalid) is kCouldNot too.
[[nodiscard]] Exit refuse_file(Console& console, std::span<const Error> faults,
                               const std::string& summary);
[[nodiscard]] Exit refuse_file(Console& console, const Error& fault, const std::string& summary);

// The wall clock, to the millisecond.
[[nodiscard]] UtcInstant wall_clock();

// "1 record", "12 records".
[[nodiscard]] std::string counted(std::int64_t count, std::string_view one);

}  // namespace ligule::desk
