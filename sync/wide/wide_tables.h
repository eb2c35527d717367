// The tables that an analyst opens first: one row a plot and rating, one row a plot and cutting,
// and what their ids mean. A season file carries them beside its records (sync/seal/FORMAT.md 6).
//
// They say what the records of one ledger say by themselves, and add nothing: whoever has the
// records can make them again.
#pragma once

#include <string>
#include <vector>

#include "storage/files/columns.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/error.h"

namespace ligule::wide {

// Goes up when the same records would give other cells.
inline constexpr int kRulesVersion = 2;

// Every cell of `column` that is not empty stands in column `key` of table `table`.
struct Reference {
  std::string column;
  std::string table;
  std::string key;

  bool operator==(const Reference&) const = default;
};

struct WideTable {
  std::string name;  // of letters; the file is NAME.csv
  std::string description;
  std::vector<files::Column> columns;
  std::vector<std::string> primary_key;  // columns that tell its rows apart
  std::vector<Reference> references = {};
  std::vector<std::vector<std::string>> rows = {};  // as many cells as columns

  // Appends a row; `cells` as many as columns.
  void add(std::vector<std::string> cells) { rows.push_back(std::move(cells)); }
};

// By name: cuttings, definitions, entries, occasions, people, plots, raters, ratings, soil, trials;
// those without a row are left out; all of them where the plans have more than a million plots
// times ratings and cuttings. Rows stand in the order of trials by site, field and code, then along
// the plot path. Errors: those of reading the ledger.
[[nodiscard]] Result<std::vector<WideTable>> wide_tables(const ledger::Ledger& ledger);

// RFC 4180 with a header line, CRLF after every line; control characters are left out.
[[nodiscard]] std::string csv_text(const WideTable& table);

}  // namespace ligule::wide
