#include "sync/seal/package.h"

#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "sync/seal/encoding.h"
#include "sync/seal/package_columns.h"
#include "sync/seal/season_layout.h"

namespace ligule::seal {
namespace {

std::unexpected<Error> bad_stream(std::string what, std::string_view column = {}) {
  return fail(ErrorKind::kDamaged, std::move(what),
              "data/stream.csv" + (column.empty() ? "" : ", column " + std::string(column)),
              "take the file from the tablet again");
}

// One reader over the row's cells: the first fault is kept.
class Row {
 public:
  explicit Row(const std::vector<std::string>& cells) : cells_(cells) {}

  template <class T>
  T take(std::size_t column, const Result<T>& value) {
    if (value) return *value;
    if (!fault_) fault_ = bad_stream(value.error().what, stream_columns()[column].name).error();
    return T{};
  }
  [[nodiscard]] const std::string& text(std::size_t column) const { return cells_[column]; }
  [[nodiscard]] const std::optional<Error>& fault() const { return fault_; }

 private:
  const std::vector<std::string>& cells_;
  std::optional<Error> fault_;
};

}  // namespace

std::string season_name(const ledger::Span& span) {
  return "season-" + span.stream.text() + "-" + std::to_string(span.first) + "-" +
         std::to_string(span.last);
}

std::string stream_csv(const StreamTable& table) {
  const auto& [stream, span] = table;
  std::vector<std::string> header;
  for (const files::Column& column : stream_columns()) header.emplace_back(column.name);
  const std::vector<std::string> row{stream.id.text(),
                                     stream.device,
                                     hex(stream.public_key),
                                     stream.continues ? stream.continues->text() : "",
                                     stream.demo ? "1" : "0",
                                     std::to_string(span.first),
                                     std::to_string(span.last),
                                     span.before.hex(),
                                     span.head.hex()};
  return join_line(header) + std::string(kLineEnd) + join_line(row) + std::string(kLineEnd);
}

Result<StreamTable> parse_stream_csv(std::string_view text) {
  const std::size_t end = text.find(kLineEnd);
  if (end == std::string_view::npos || !text.ends_with(kLineEnd)) {
    return bad_stream("the table is not two lines");
  }
  const std::string_view rest = text.substr(end + kLineEnd.size());
  if (rest.empty()) return bad_stream("the table has no row");
  const auto cells = split_line(rest.substr(0, rest.size() - kLineEnd.size()));
  if (!cells) return bad_stream(cells.error().what);
  if (cells->size() != stream_columns().size()) return bad_stream("the row has not 9 columns");
  for (std::size_t at = 0; at < cells->size(); ++at) {
    const files::Column& column = stream_columns()[at];
    if (auto fault = cell_fault(column, (*cells)[at]))
      return bad_stream(*std::move(fault), column.name);
  }

  Row row(*cells);
  StreamTable table;
  table.stream.id = StreamId{row.take(0, parse_uuid(row.text(0)))};
  table.stream.device = row.text(1);
  table.stream.public_key = row.take(2, parse_digest(row.text(2))).bytes;
  if (!row.text(3).empty()) {
    table.stream.continues = StreamId{row.take(3, parse_uuid(row.text(3)))};
  }
  table.stream.demo = row.text(4) == "1";
  table.span.stream = table.stream.id;
  table.span.first = row.take(5, parse_integer(row.text(5)));
  table.span.last = row.take(6, parse_integer(row.text(6)));
  table.span.before = row.take(7, parse_digest(row.text(7)));
  table.span.head = row.take(8, parse_digest(row.text(8)));
  if (const auto& fault = row.fault()) return std::unexpected(*fault);
  if (table.span.first < 1 || table.span.last < table.span.first) {
    return bad_stream("first and last are not 1 <= first <= last", "first");
  }
  if (stream_csv(table) != text) return bad_stream("the table is not in canonical form");
  return table;
}

std::string records_header() {
  return join_line({kRecordColumns.begin(), kRecordColumns.end()}) + std::string(kLineEnd);
}

}  // namespace ligule::seal
