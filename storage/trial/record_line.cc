#include "storage/trial/record_line.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <utility>

#include "storage/trial/number.h"
#include "storage/trial/utf8.h"

namespace ligule {
namespace {

// Column numbers, so that writer and reader cannot drift apart.
enum Column : std::size_t {
  kStreamAt,
  kSeqAt,
  kIdAt,
  kKindAt,
  kFormatAt,
  kUtcAt,
  kOffsetAt,
  kDateAt,
  kPersonAt,
  kTrialAt,
  kPlanAt,
  kSubjectAt,
  kMeasureAt,
  kOccasionAt,
  kPartAt,
  kRunAt,
  kPurposeAt,
  kStateAt,
  kEnteredAt,
  kUnitAt,
  kValueAt,
  kDefinitionAt,
  kTargetsAt,
  kReasonAt,
  kAnswersAt,
  kBlindAt,
  kSourceAt,
  kRawAt,
  kDetailsAt,
  kColumnCount
};
static_assert(kColumnCount == kRecordColumns.size());

// Line ends stand in no record, but may in a label of somebody's table.
bool needs_quotes(std::string_view cell) {
  bool needed = false;  // of most cells not: looking at all of one is quicker than asking each time
  for (const char c : cell) needed |= c == ',' || c == '"' || c == '\r' || c == '\n';
  return needed;
}

void append_cell(std::string& line, std::string_view cell) {
  if (!needs_quotes(cell)) {
    line += cell;
    return;
  }
  line += '"';
  for (const char c : cell) {
    if (c == '"') line += '"';
    line += c;
  }
  line += '"';
}

std::unexpected<Error> bad_cell(std::size_t column, std::string what) {
  return fail(ErrorKind::kInvalid, std::move(what), "column " + std::string(kRecordColumns[column]),
              "the record was not written by this format");
}

bool is_hex_digest(std::string_view text) {
  return text.size() == 64 && std::ranges::all_of(text, [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

template <class T>
std::string text_or_empty(const std::optional<T>& id) {
  return id ? id->text() : std::string();
}

std::string targets_text(const std::vector<RecordId>& targets) {
  std::string text;
  for (const RecordId& target : targets) {
    if (!text.empty()) text += ' ';
    text += target.text();
  }
  return text;
}

std::string answers_text(const std::vector<Answer>& answers) {
  std::string text;
  for (const Answer& answer : answers) {
    if (!text.empty()) text += ';';
    text.append(answer.rule).append("=").append(answer.answer);
  }
  return text;
}

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(at), text.size());
    parts.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return parts;
}

// One reader over the cells of a line: the first fault is kept, everything after it is skipped.
class CellReader {
 public:
  explicit CellReader(const LineCells& cells) : cells_(cells) {}

  [[nodiscard]] std::string_view text(std::size_t column) const { return cells_[column]; }

  std::int64_t integer(std::size_t column) { return take(column, parse_integer(cells_[column])); }
  Uuid uuid(std::size_t column) { return take(column, parse_uuid(cells_[column])); }

  template <class T>
  std::optional<T> optional_id(std::size_t column) {
    if (cells_[column].empty()) return std::nullopt;
    return T{uuid(column)};
  }
  template <class T>
  std::optional<T> optional_named(std::size_t column, Result<T> (*parse)(std::string_view)) {
    if (cells_[column].empty()) return std::nullopt;
    const auto value = parse(cells_[column]);
    if (!value) note(column, value.error().what);
    return value ? std::optional<T>(*value) : std::nullopt;
  }
  template <class T>
  T take(std::size_t column, const Result<T>& value) {
    if (!value) note(column, value.error().what);
    return value ? *value : T{};
  }
  void note(std::size_t column, std::string what) {
    if (!fault_) fault_ = bad_cell(column, std::move(what)).error();
  }
  [[nodiscard]] const std::optional<Error>& fault() const { return fault_; }

 private:
  const LineCells& cells_;
  std::optional<Error> fault_;
};

Envelope read_envelope(CellReader& in) {
  Envelope envelope{
      {in.uuid(kStreamAt)}, in.integer(kSeqAt), {in.uuid(kIdAt)}, std::string(in.text(kKindAt)), 0};
  const std::int64_t format = in.integer(kFormatAt);
  if (envelope.seq < 1) in.note(kSeqAt, "a record's seq starts at 1");
  if (!is_code(envelope.kind)) in.note(kKindAt, "the kind is not a code");
  if (format < 1 || format > 1'000'000) in.note(kFormatAt, "the format is out of range");
  envelope.format = static_cast<int>(format);
  return envelope;
}

void read_lists(CellReader& in, Record& record) {
  for (const std::string_view target : split(in.text(kTargetsAt), ' ')) {
    record.targets.push_back({in.take(kTargetsAt, parse_uuid(target))});
  }
  for (const std::string_view answer : split(in.text(kAnswersAt), ';')) {
    const std::size_t sign = std::min(answer.find('='), answer.size());
    record.answers.push_back({std::string(answer.substr(0, sign)),
                              std::string(answer.substr(std::min(sign + 1, answer.size())))});
  }
}

void read_value(CellReader& in, Record& record) {
  record.subject = in.optional_id<Uuid>(kSubjectAt);
  record.measure = in.text(kMeasureAt);
  record.occasion = in.optional_id<OccasionId>(kOccasionAt);
  record.part = static_cast<int>(in.integer(kPartAt));
  record.run = in.optional_id<RecordId>(kRunAt);
  record.purpose = in.optional_named<Purpose>(kPurposeAt, parse_purpose);
  record.state = in.optional_named<ValueState>(kStateAt, parse_state);
  record.entered = in.text(kEnteredAt);
  record.unit = in.text(kUnitAt);
  if (!in.text(kValueAt).empty()) record.value = in.take(kValueAt, parse_number(in.text(kValueAt)));
  record.definition = in.text(kDefinitionAt);
  record.reason = in.text(kReasonAt);
  if (!in.text(kBlindAt).empty()) record.blind = in.text(kBlindAt) == "1";
  record.source = in.optional_named<Source>(kSourceAt, parse_source);
  record.raw = in.text(kRawAt);
  record.details = in.text(kDetailsAt);
}

std::optional<Error> field_fault(const Record& record) {
  const auto code_or_empty = [](const std::string& text) { return text.empty() || is_code(text); };
  const auto digest_or_empty = [](const std::string& text) {
    return text.empty() || is_hex_digest(text);
  };
  const auto fault = [](std::size_t column, std::string what) {
    return bad_cell(column, std::move(what)).error();
  };
  if (record.seq < 1) return fault(kSeqAt, "a record's seq starts at 1");
  if (!is_code(record.kind)) return fault(kKindAt, "the kind is not a code");
  if (record.format != kRecordFormat) return fault(kFormatAt, "only format 1 is written");
  if (!digest_or_empty(record.plan)) return fault(kPlanAt, "the plan is not named by a digest");
  if (!digest_or_empty(record.definition))
    return fault(kDefinitionAt, "the scale is not named by a digest");
  if (!code_or_empty(record.measure)) return fault(kMeasureAt, "the measure is not a code");
  if (record.part < 1 || record.part > 9999)
    return fault(kPartAt, "the part is out of range 1 to 9999");
  if (record.value && !std::isfinite(*record.value))
    return fault(kValueAt, "the value is not finite");
  for (const Answer& answer : record.answers) {
    if (!is_code(answer.rule) || !is_code(answer.answer))
      return fault(kAnswersAt, "rule and answer must be codes");
  }
  return std::nullopt;
}

// Whether the cells are spelled as record_body() would write what was read of them. What is not
// looked at here has one spelling only: ids, dates, words of a list, and texts, which are what they
// are.
bool is_canonical(const Record& record, const LineCells& cells) {
  const std::string_view blind = cells[kBlindAt];
  return cells[kSeqAt] == std::to_string(record.seq) &&
         cells[kFormatAt] == std::to_string(record.format) &&
         cells[kUtcAt] == std::to_string(record.at.utc.time_since_epoch().count()) &&
         cells[kOffsetAt] == std::to_string(record.at.offset.count()) &&
         cells[kPartAt] == std::to_string(record.part) &&
         (!record.value || cells[kValueAt] == format_number(*record.value)) &&
         (record.targets.empty() ? cells[kTargetsAt].empty()
                                 : cells[kTargetsAt] == targets_text(record.targets)) &&
         (record.answers.empty() ? cells[kAnswersAt].empty()
                                 : cells[kAnswersAt] == answers_text(record.answers)) &&
         (blind.empty() || blind == "0" || blind == "1");
}

// A line of kRecordColumns, cell by cell in their order.
class LineWriter {
 public:
  LineWriter() { line_.reserve(kUsualBytes); }

  void add(std::string_view cell) {
    if (at_ > 0) line_ += ',';
    if (!fault_ && !is_cell_text(cell))
      fault_ = bad_cell(at_, "the text holds control characters or is not UTF-8").error();
    append_cell(line_, cell);
    ++at_;
  }
  Result<std::string> take() && {
    if (fault_) return std::unexpected(*std::move(fault_));
    return std::move(line_);
  }

 private:
  static constexpr std::size_t kUsualBytes = 512;

  std::string line_;
  std::size_t at_ = 0;
  std::optional<Error> fault_;
};

}  // namespace

bool is_cell_text(std::string_view whole) {
  std::string_view text = whole;
  // Eight bytes at a time: every text that is kept or read goes through here. The highest bit of a
  // byte of `low` says that it is below 0x20, of `del` that it is 0x7f (both only of ASCII).
  constexpr std::uint64_t kOnes = 0x0101010101010101U, kHigh = kOnes * 0x80U;
  std::uint64_t high = 0, control = 0;
  const auto look = [&](std::uint64_t bytes) {
    const std::uint64_t ascii = bytes & ~kHigh;
    const std::uint64_t not_low = ascii + kOnes * 0x60U;  // 0x20 and above reach the highest bit
    const std::uint64_t del = ascii + kOnes;              // of 0x7f alone
    high |= bytes;
    control |= (~not_low | del) & ~bytes;
  };
  for (; text.size() >= sizeof(std::uint64_t); text.remove_prefix(sizeof(std::uint64_t))) {
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, text.data(), sizeof bytes);
    look(bytes);
  }
  std::uint64_t rest = kOnes * 0x20U;
  if (!text.empty()) std::memcpy(&rest, text.data(), text.size());
  look(rest);
  if ((control & kHigh) != 0) return false;
  return (high & kHigh) == 0 || is_valid_utf8(whole);
}

std::string cleaned(std::string_view text) {
  std::string out = with_valid_utf8(text);
  for (char& c : out) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) c = ' ';
  }
  const std::size_t first = out.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return out.substr(first, out.find_last_not_of(' ') - first + 1);
}

std::string join_line(const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += ',';
    append_cell(line, cells[i]);
  }
  return line;
}

Result<LineCells> LineCells::of(std::string_view line) {
  constexpr std::string_view kMend = "the record was not written by this format";
  const auto not_canonical = [&] {
    return fail(ErrorKind::kInvalid, "the line is not in canonical form", {}, std::string(kMend));
  };
  if (!is_cell_text(line)) return not_canonical();
  LineCells cells;
  cells.cells_.reserve(kColumnCount);
  cells.quotes_ = line.find('"') != std::string_view::npos;
  do {
    if (cells.size() == kMostCells)
      return fail(ErrorKind::kInvalid, "the line has more than 10000 cells", {},
                  std::string(kMend));
    if (!cells.take(line)) return not_canonical();
  } while (cells.more_);
  return cells;
}

bool LineCells::take(std::string_view& rest) {
  const bool taken = rest.starts_with('"') ? take_quoted(rest) : take_plain(rest);
  if (!taken) return false;
  more_ = !rest.empty();
  if (!more_) return true;
  if (rest.front() != ',') return false;
  rest.remove_prefix(1);
  return true;
}

bool LineCells::take_plain(std::string_view& rest) {
  const std::size_t end = std::min(rest.find(','), rest.size());
  const std::string_view cell = rest.substr(0, end);
  if (quotes_ && cell.find('"') != std::string_view::npos) return false;
  cells_.push_back(cell);
  rest.remove_prefix(end);
  return true;
}

bool LineCells::take_quoted(std::string_view& rest) {
  rest.remove_prefix(1);
  std::string& cell = unquoted_.emplace_back();
  for (;;) {
    const std::size_t quote = rest.find('"');
    if (quote == std::string_view::npos) return false;
    cell += rest.substr(0, quote);
    rest.remove_prefix(quote + 1);
    if (!rest.starts_with('"')) break;
    cell += '"';
    rest.remove_prefix(1);
  }
  cells_.push_back(cell);
  return needs_quotes(cell);
}

Result<std::vector<std::string>> split_line(std::string_view line) {
  const auto cells = LineCells::of(line);
  if (!cells) return std::unexpected(cells.error());
  return std::vector<std::string>(cells->all().begin(), cells->all().end());
}

Result<std::string> record_body(const Record& record) {
  if (auto fault = field_fault(record)) return std::unexpected(*std::move(fault));
  if (!record.at.local_date.ok() || !parse_date(format_date(record.at.local_date)))
    return bad_cell(kDateAt, "the local date does not exist or has no text form");
  LineWriter line;
  line.add(record.stream.text());
  line.add(std::to_string(record.seq));
  line.add(record.id.text());
  line.add(record.kind);
  line.add(std::to_string(record.format));
  line.add(std::to_string(record.at.utc.time_since_epoch().count()));
  line.add(std::to_string(record.at.offset.count()));
  line.add(format_date(record.at.local_date));
  line.add(text_or_empty(record.person));
  line.add(text_or_empty(record.trial));
  line.add(record.plan);
  line.add(text_or_empty(record.subject));
  line.add(record.measure);
  line.add(text_or_empty(record.occasion));
  line.add(std::to_string(record.part));
  line.add(text_or_empty(record.run));
  line.add(record.purpose ? name_of(*record.purpose) : "");
  line.add(record.state ? name_of(*record.state) : "");
  line.add(record.entered);
  line.add(record.unit);
  line.add(record.value ? format_number(*record.value) : "");
  line.add(record.definition);
  line.add(targets_text(record.targets));
  line.add(record.reason);
  line.add(answers_text(record.answers));
  line.add(!record.blind ? "" : *record.blind ? "1" : "0");
  line.add(record.source ? name_of(*record.source) : "");
  line.add(record.raw);
  line.add(record.details);
  return std::move(line).take();
}

Result<Envelope> parse_envelope(const LineCells& cells) {
  if (cells.size() <= kFormatAt) return fail(ErrorKind::kInvalid, "the record has too few columns");
  CellReader in(cells);
  Envelope envelope = read_envelope(in);
  if (const auto& fault = in.fault()) return std::unexpected(*fault);
  return envelope;
}

Result<Envelope> parse_envelope(std::string_view body) {
  const auto cells = LineCells::of(body);
  if (!cells) return std::unexpected(cells.error());
  return parse_envelope(*cells);
}

Result<Record> parse_record(std::string_view body) {
  const auto cells = LineCells::of(body);
  if (!cells) return std::unexpected(cells.error());
  return parse_record(*cells);
}

Result<Record> parse_record(const LineCells& cells) {
  auto envelope = parse_envelope(cells);
  if (!envelope) return std::unexpected(std::move(envelope).error());
  if (envelope->format > kRecordFormat) {
    return fail(ErrorKind::kNewerVersion,
                "the record is of format " + std::to_string(envelope->format), {},
                "read it with a newer version of the program");
  }
  if (cells.size() != kColumnCount)
    return fail(ErrorKind::kInvalid, "the record has not 29 columns");
  CellReader in(cells);
  Record record;
  record.stream = envelope->stream;
  record.seq = envelope->seq;
  record.id = envelope->id;
  record.kind = std::move(envelope->kind);
  record.format = envelope->format;
  record.at.utc = UtcInstant(std::chrono::milliseconds(in.integer(kUtcAt)));
  record.at.offset = std::chrono::minutes(in.integer(kOffsetAt));
  record.at.local_date = in.take(kDateAt, parse_date(in.text(kDateAt)));
  record.person = in.optional_id<PersonId>(kPersonAt);
  record.trial = in.optional_id<TrialId>(kTrialAt);
  record.plan = in.text(kPlanAt);
  read_value(in, record);
  read_lists(in, record);
  if (const auto& fault = in.fault()) return std::unexpected(*fault);
  if (auto fault = field_fault(record)) return std::unexpected(*std::move(fault));
  if (!is_canonical(record, cells))
    return fail(ErrorKind::kInvalid, "the record is not in canonical form", {},
                "the record was not written by this format");
  return record;
}

}  // namespace ligule
