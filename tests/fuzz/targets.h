// What strangers, spreadsheets, sticks and machines hand to the programs, tried with any bytes.
//
// Each target takes one input, reads it as the programs do, and ends the process where a promise is
// broken (require.h). Whatever the input, that is to be an answer or a list of faults. The fuzzer
// calls them (entry.cc), and the ordinary tests replay with them what it found worth keeping.
#pragma once

#include <array>
#include <string_view>

namespace ligule::fuzz {

// A season file: 'z' and bytes; or 'm' and sections of what lies in the bag (sections.h), whose
// manifests and signature are made for it, so that what lies behind those is reached.
void season_file(std::string_view input);
// Lines of records.csv, sealed as a tablet's: number, stream, chain and tables are put right.
void season_rows(std::string_view input);
// A letter that names a reader of tables (kTableReaders), and the table.
void tables(std::string_view input);
// Bytes from a scale's port, in any form of indicators.json; or forms and bytes (scale_lines.cc).
void scale_lines(std::string_view input);
void drive_file(std::string_view input);
// 'f' and the tables of a plan's folder as sections; or 'p' and a plan's canonical text.
void plan_folder(std::string_view input);
// A ledger on the disk, with bytes of it changed (ledger_file.cc).
void ledger_file(std::string_view input);

struct Target {
  std::string_view name;
  void (*run)(std::string_view input);
};
inline constexpr std::array<Target, 7> kTargets{{{"season_file", season_file},
                                                 {"season_rows", season_rows},
                                                 {"tables", tables},
                                                 {"scale_lines", scale_lines},
                                                 {"drive_file", drive_file},
                                                 {"plan_folder", plan_folder},
                                                 {"ledger_file", ledger_file}}};

}  // namespace ligule::fuzz
