// The tables of a ledger: dry-matter yields into a folder, every rating into one below it.
#pragma once

#include <optional>
#include <string>

#include "sync/desk/command.h"
#include "sync/desk/table_output.h"
#include "sync/results/analysis.h"
#include "sync/results/entry_names.h"
#include "sync/results/next_test.h"

namespace ligule::desk {

struct TablesWanted {
  std::string folder;
  std::optional<results::Design> design;   // empty: as each plan says
  std::optional<int> year;                 // empty: all
  std::string unit;                        // of yields
  std::optional<std::string> source = {};  // what the report names; empty: the ledger's file
  ReportWanted report = {};
  bool by_eye = false;  // sown-species yields by the weeds that somebody saw, too
  std::optional<results::WishedLsd> wished_lsd = {};  // to plan the next test by; of yields
  results::EntryNames names = {};                     // aliases and varieties, nothing taken yet
};

// Besides the result files of the yields DIR holds plots.csv (how each yield came about), where a
// plot was cut several times over_cuttings.csv, of stands stand_persistence.csv, of grazed tests
// grazing.csv, with a wished LSD next_test.csv, and
// measures/CODE/ with the same four files for every rating. Where samples were separated by hand it
// also holds composition.csv, and measures/sown_yield/ the same four of the sown-species yield;
// with by_eye measures/sown_yield_by_eye/ those that use the weeds by eye where nothing was
// separated. Values that nobody has decided on are left out and listed on the error stream; that is
// no fault.
[[nodiscard]] Exit tables_of_ledger(const std::string& path, const TablesWanted& wanted,
                                    Console& console);

}  // namespace ligule::desk
