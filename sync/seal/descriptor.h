// datapackage.json, which describes the tables of a season file (FORMAT.md 4; Data Package standard
// 2.0 with Table Schemas): written, and what it declares of the wide tables read back.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sync/seal/package.h"
#include "sync/wide/wide_tables.h"

namespace ligule::seal {

// Of season files. kFirst is read for ever and written no more.
enum class Format { kFirst = 1, kSecond = 2 };

// A wide table without its rows, and its bytes.
struct WideMember {
  wide::WideTable table;
  std::string_view csv;
};

struct Contents {
  std::string_view stream_csv;
  std::string_view records_csv;
  std::span<const wide::Reference> record_references;  // that hold in every row of records.csv
  std::span<const WideMember> wide;
};

// datapackage.json of format 1. created is the last record's instant. No byte of it may change.
[[nodiscard]] std::string first_descriptor(const StreamTable& table, UtcInstant created,
                                           std::string_view stream_csv,
                                           std::string_view records_csv);

// datapackage.json of format 2.
[[nodiscard]] std::string descriptor(const StreamTable& table, UtcInstant created,
                                     const Contents& contents);

// What a descriptor declares of the tables beside records and stream, without rows. It is read as
// descriptor() writes it, so the caller writes it again and compares. kDamaged: it is not JSON, or
// declares what no column here can be.
[[nodiscard]] Result<std::vector<wide::WideTable>> declared_tables(std::string_view descriptor);

}  // namespace ligule::seal
