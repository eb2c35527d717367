// What writer and reader of season files share: the members in order, and when the last record was.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"
#include "storage/trial/record_line.h"

namespace ligule::seal {

// What every file holds, paths from the bag's top, in the order of the container (FORMAT.md 2). The
// wide tables of format 2 stand among them in byte order of their paths.
inline constexpr std::array<std::string_view, 10> kSeasonMembers{
    "bag-info.txt",           "bagit.txt",
    "data/datapackage.json",  "data/records.csv",
    "data/stream.csv",        "manifest-sha256.txt",
    "manifest-sha512.txt",    "tagmanifest-sha256.txt",
    "tagmanifest-sha512.txt", "tagmanifest-sha512.txt.minisig",
};

// Of datapackage.json in format 2: it describes each column of each table.
inline constexpr std::size_t kMostDescriptorBytes = std::size_t{1} << 20;

// Between the rows of CSV members (RFC 4180).
inline constexpr std::string_view kLineEnd = "\r\n";

struct RowTime {
  UtcInstant utc;
  CalendarDate local_date{};
};

// Columns 6 and 8 of a row, which are the same in every record format. kInvalid, also for an
// instant outside the years 1970 to 9999 and an offset of more than a week, so that nobody's sums
// of times overflow.
[[nodiscard]] Result<RowTime> row_time(std::string_view body);
[[nodiscard]] Result<RowTime> row_time(const LineCells& cells);

// The trusted comment of the signature: "NAME head:HEX".
[[nodiscard]] std::string trusted_comment(std::string_view name, std::string_view head_hex);

}  // namespace ligule::seal
