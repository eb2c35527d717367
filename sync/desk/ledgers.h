// What the commands that work on a ledger share.
#pragma once

#include <string>
#include <string_view>

#include "storage/files/faults.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/scale.h"
#include "sync/desk/command.h"
#include "sync/seal/begin.h"

namespace ligule::desk {

// The highest number of a record that an option may name.
inline constexpr long kMostRecords = 1'000'000'000;

// The option every one of them has.
[[nodiscard]] Option ledger_option(std::string help);
// Those of commands that add records of the desk's own: its name, and a demonstration's day.
[[nodiscard]] Option device_option();
[[nodiscard]] Option today_option();

// Opens a ledger to write. One that an older version wrote is first copied as it is, as the tablet
// does, and that is said: opening brings it to this version. Errors: those of Ledger::open() and
// ledger::keep_copy().
[[nodiscard]] Result<ledger::Ledger> open_to_write(const std::string& path, Console& console);
// Opens the ledger, or makes an empty one and says so. For commands that begin a desk's ledger.
[[nodiscard]] Result<ledger::Ledger> open_or_create(const std::string& path, Console& console);

// What faults of a file stand for that could not be taken at all: as exit_of(), but a file of the
// wrong kind (kInvalid) is kCouldNot too.
[[nodiscard]] Exit exit_of_file(std::span<const Error> faults);

// As report_faults(), with the exit of exit_of_file().
[[nodiscard]] Exit refuse_file(Console& console, std::span<const Error> faults,
                               const std::string& summary);
[[nodiscard]] Exit refuse_file(Console& console, const Error& fault, const std::string& summary);

// The name that people give a tablet or desk, from the option it was given by; nothing without.
// kInvalid where it is empty or would not stand on one line.
[[nodiscard]] Result<std::optional<std::string>> name_given(const Arguments& arguments,
                                                            const std::string& option);

// The wall clock, to the millisecond.
[[nodiscard]] UtcInstant wall_clock();

// A day, from the option it was given by; nothing without. kInvalid.
[[nodiscard]] Result<std::optional<CalendarDate>> date_given(const Arguments& arguments,
                                                             const std::string& option);
// A line of words, cleaned; kInvalid where nothing is left of it.
[[nodiscard]] Result<std::string> words_given(const Arguments& arguments,
                                              const std::string& option);

// The moment at a site: now, or 08:00 of a demonstration's day.
[[nodiscard]] Result<Stamp> moment(const std::string& zone,
                                   const std::optional<CalendarDate>& demo_day);
// A ledger made for demonstration has an invented day (--today), a real one has not. kRefused.
[[nodiscard]] Result<void> day_fits(const ledger::Ledger& ledger, bool demo,
                                    const std::optional<CalendarDate>& today);
// Whether records of this desk's own can be added: a ledger that begins a stream needs a name
// (--device), one that has a stream no other. kRefused, kConflict.
[[nodiscard]] Result<void> can_write(const ledger::Ledger& ledger,
                                     const std::optional<std::string>& device);

// Begins the stream of a ledger that has none, as seal::begin_stream(), and says so where the key
// of the one it has was lost and a new one made.
[[nodiscard]] Result<ledger::StreamInfo> begin_own_stream(ledger::Ledger& ledger,
                                                          const seal::Beginning& beginning,
                                                          Console& console);

// Scales and limits as everybody has them; every fault where they can't be read.
[[nodiscard]] files::Checked<Definitions> everybodys_definitions(Console& console);
// Those that hold for this ledger: everybody's, and the program's own limits beside it, whether the
// ledger is there or not.
[[nodiscard]] files::Checked<Definitions> definitions_beside(const std::string& ledger,
                                                             Console& console);

// "1 record", "12 records".
[[nodiscard]] std::string counted(std::int64_t count, std::string_view one);

}  // namespace ligule::desk
