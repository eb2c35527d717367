// A list of entries as people have one: the sheet that entrants sent in, or last year's book.
//
// Columns stand in whatever order and under the headings people use ("Cultivar", "Seed Lot #",
// "Germ. %", "Seeding rate (lb/ac)"); what no heading of ours is like is passed over and told. What
// a row says is taken as entries.csv would have it: an entry is a variety and its endophyte.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/table_schema.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::files {

struct EntryList {
  // In the list's order. Without a column of codes they are numbered 1, 2 ... and coded is false.
  std::vector<PlanEntry> entries;
  std::vector<int> repeats;         // how often each stands in a block
  std::vector<std::string> places;  // "list.csv line 5"
  bool coded = false;
  Faults notices;  // columns passed over, words that may mean something else
};

// schema: that of entries.csv. Species are taken by code or name, capitals and hyphens aside;
// `species`, by code or name, is that of rows that state none (empty: each must). Roles: test,
// check (also standard, control), filler; a column "check" with yes or x says the same. Endophyte:
// novel, free, toxic, the words and signs the trade has for them, a strain behind ("novel AX1").
// Percents may have their sign, a sowing rate its unit, in the cell or in the heading. Only checks
// may be repeated, at most 99 times in a block; there is one filler at most, which fills what is
// left of blocks. Every fault is listed, by line and heading.
[[nodiscard]] Checked<EntryList> read_entry_list(std::string_view text, const std::string& file,
                                                 const TableSchema& schema,
                                                 const Definitions& definitions,
                                                 const std::string& species);

}  // namespace ligule::files
