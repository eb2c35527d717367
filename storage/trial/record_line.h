// A record as the one line of text that is hashed, kept and exported, and back.
//
// The form is fixed (sync/seal/FORMAT.md, "records.csv"): RFC 4180 cells, quoted only when they
// hold a comma or a quote, no line end inside, one spelling for each value. Reading is strict: what
// does not write back to the same bytes is refused, so a record has exactly one body and one
// digest.
#pragma once

#include <array>
#include <cstddef>
#include <list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/record.h"

namespace ligule {

// Column names in order, the header of records.csv.
inline constexpr std::array<std::string_view, 29> kRecordColumns{
    "stream",  "seq",   "id",      "kind",    "format",  "utc_ms",     "offset_min", "local_date",
    "person",  "trial", "plan",    "subject", "measure", "occasion",   "part",       "run",
    "purpose", "state", "entered", "unit",    "value",   "definition", "targets",    "reason",
    "answers", "blind", "source",  "raw",     "details"};

// The newest format this program writes and reads in full.
inline constexpr int kRecordFormat = 1;

// What can be read of a record of any format, newer ones included: the first five cells.
struct Envelope {
  StreamId stream;
  std::int64_t seq = 0;
  RecordId id;
  std::string kind;
  int format = 0;

  bool operator==(const Envelope&) const = default;
};

// Text that may stand in a cell: valid UTF-8 without control characters. Free text must be cleaned
// before (cleaned()).
[[nodiscard]] bool is_cell_text(std::string_view text);
// Control characters become spaces, invalid UTF-8 becomes U+FFFD, ends are trimmed: what a keyboard
// field hands on.
[[nodiscard]] std::string cleaned(std::string_view text);

// The body, without a line end. kInvalid when a field can't stand in a line (control characters,
// seq below 1, a value that is not finite); nothing is changed silently.
[[nodiscard]] Result<std::string> record_body(const Record& record);

// The cells of a canonical line, split once for everybody who looks at them; views into the line,
// which must outlive them. A line has one spelling only: cells are quoted where they have to be and
// nowhere else.
class LineCells {
 public:
  // kInvalid: stray or needless quotes, line ends, more than 10,000 cells.
  [[nodiscard]] static Result<LineCells> of(std::string_view line);

  // A copy would look into the texts of the other; moving leaves each text of a list where it is.
  LineCells(const LineCells&) = delete;
  LineCells& operator=(const LineCells&) = delete;
  LineCells(LineCells&&) = default;
  LineCells& operator=(LineCells&&) = default;
  ~LineCells() = default;

  [[nodiscard]] std::size_t size() const { return cells_.size(); }
  [[nodiscard]] std::string_view operator[](std::size_t column) const { return cells_[column]; }
  [[nodiscard]] std::span<const std::string_view> all() const { return cells_; }

 private:
  // The first cell of what is left of the line, and the comma behind it.
  bool take(std::string_view& rest);
  bool take_plain(std::string_view& rest);
  bool take_quoted(std::string_view& rest);

  // No table has so many columns; a megabyte of commas would take sixteen times as much memory.
  static constexpr std::size_t kMostCells = 10'000;

  LineCells() = default;

  std::vector<std::string_view> cells_;
  std::list<std::string> unquoted_;  // what cells that were quoted say; they stay where they are
  bool quotes_ = false;              // there are some in the line
  bool more_ = false;
};

// Reads the envelope of a body of any format. kInvalid.
[[nodiscard]] Result<Envelope> parse_envelope(std::string_view body);
[[nodiscard]] Result<Envelope> parse_envelope(const LineCells& cells);

// Reads a body of format 1. kNewerVersion for a later format (carry it unread), kInvalid for
// anything that is not exactly what record_body() writes; the error names the column.
[[nodiscard]] Result<Record> parse_record(std::string_view body);
[[nodiscard]] Result<Record> parse_record(const LineCells& cells);

// LineCells as texts of their own. kInvalid as there.
[[nodiscard]] Result<std::vector<std::string>> split_line(std::string_view line);
// Joins cells into one canonical line.
[[nodiscard]] std::string join_line(const std::vector<std::string>& cells);

}  // namespace ligule
