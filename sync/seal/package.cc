#include "sync/seal/package.h"

#include <array>
#include <nlohmann/json.hpp>

#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "sync/seal/encoding.h"
#include "sync/seal/season_layout.h"

namespace ligule::seal {
namespace {

using nlohmann::json;

constexpr std::array<std::string_view, 9> kStreamColumns{"stream",    "device",        "public_key",
                                                         "continues", "demo",          "first",
                                                         "last",      "digest_before", "head"};

// --- the Table Schemas; every text here is part of format 1 -------------------------------------

json described(std::string_view name, std::string_view type, std::string_view description) {
  return {{"name", name}, {"type", type}, {"description", description}};
}

json required(json field) {
  field["constraints"]["required"] = true;
  return field;
}

json uuid(std::string_view name, std::string_view description) {
  json field = described(name, "string", description);
  field["format"] = "uuid";
  return field;
}

json digest(std::string_view name, std::string_view description) {
  json field = described(name, "string", description);
  field["constraints"]["pattern"] = "[0-9a-f]{64}";
  return field;
}

json text(std::string_view name, std::string_view description) {
  return described(name, "string", description);
}

json patterned(std::string_view name, std::string_view description, std::string_view pattern) {
  json field = text(name, description);
  field["constraints"]["pattern"] = pattern;
  return field;
}

json one_of(std::string_view name, std::string_view description,
            std::initializer_list<std::string_view> words) {
  json field = text(name, description);
  field["constraints"]["enum"] = json::array();
  for (const std::string_view word : words) field["constraints"]["enum"].push_back(word);
  return field;
}

json boolean(std::string_view name, std::string_view description) {
  json field = described(name, "boolean", description);
  field["trueValues"] = {"1"};
  field["falseValues"] = {"0"};
  return field;
}

json counted(std::string_view name, std::string_view description) {
  json field = described(name, "integer", description);
  field["constraints"]["minimum"] = 1;
  return field;
}

json record_fields() {
  return json::array({
      required(uuid("stream", "the stream the record belongs to")),
      required(counted("seq", "place in the stream, from 1 without gaps")),
      required(uuid("id", "id of the record, made when the act happened")),
      required(text("kind", "what the record says: reading, correction, plan ...")),
      required(counted("format", "format of the record")),
      required(described("utc_ms", "integer", "Unix milliseconds by the device's clock")),
      required(described("offset_min", "integer", "local time minus UTC, minutes")),
      required(described("local_date", "date", "date on the wall")),
      uuid("person", "who; empty for what the program does itself"),
      uuid("trial", "the trial (study in MIAPPE)"),
      digest("plan", "SHA-256 of the canonical plan text in force"),
      uuid("subject", "plot (observation unit in MIAPPE), or the bag_number reading of a bag"),
      text("measure", "code of the measure (with its scale the observed variable in MIAPPE)"),
      uuid("occasion", "rating pass or cutting"),
      counted("part", "n-th of several in one act"),
      uuid("run", "the harvest_run record"),
      one_of("purpose", "only survey values count in results",
             {"survey", "repeat", "second", "practice"}),
      one_of("state", "what kind of value it is", {"value", "zero", "missing", "on hold", "later"}),
      text("entered", "exactly as entered"),
      text("unit", "unit it was entered in"),
      described("value", "number", "entered, parsed once"),
      digest("definition", "SHA-256 of the canonical scale text"),
      patterned("targets", "records whose claim this one replaces",
                "[0-9a-f-]{36}( [0-9a-f-]{36})*"),
      text("reason", "why"),
      text("answers", "rule=answer, one semicolon between"),
      boolean("blind", "1: entry not shown to this person in this rating before the value"),
      one_of("source", "how the value came in", {"tapped", "typed", "scale", "imported", "paper"}),
      text("raw", "the indicator's line as received"),
      described("details", "object", "what this kind of record has besides"),
  });
}

json stream_fields() {
  return json::array({
      required(uuid("stream", "one unbroken run of one ledger")),
      required(text("device", "name of the tablet or desk when the stream began")),
      required(digest("public_key", "Ed25519 public key that signs the stream's files")),
      uuid("continues", "the stream this ledger wrote before"),
      required(boolean("demo", "1: made for demonstration, never mix into real results")),
      required(counted("first", "seq of the first record in this file")),
      required(counted("last", "seq of the last record in this file")),
      required(digest("digest_before", "digest of the chain before the first record")),
      required(digest("head", "digest of the chain at the last record")),
  });
}

json resource(std::string_view name, std::string_view content, json schema) {
  const std::string path = std::string(name) + ".csv";
  return {{"name", name},
          {"path", path},
          {"type", "table"},
          {"format", "csv"},
          {"mediatype", "text/csv"},
          {"encoding", "utf-8"},
          {"bytes", content.size()},
          {"hash", "sha256:" + sha256(content).hex()},
          {"dialect", {{"delimiter", ","}, {"lineTerminator", kLineEnd}, {"header", true}}},
          {"schema", std::move(schema)}};
}

// "2026-06-01T09:15:00.123Z" (RFC 3339).
std::string rfc3339(UtcInstant instant) {
  const auto day = date::floor<date::days>(instant);
  const date::hh_mm_ss<std::chrono::milliseconds> clock(instant - day);
  const auto padded = [](auto number, std::size_t width) {
    const std::string digits = std::to_string(number);
    return std::string(width - std::min(width, digits.size()), '0') + digits;
  };
  return format_date(CalendarDate(day)) + "T" + padded(clock.hours().count(), 2) + ":" +
         padded(clock.minutes().count(), 2) + ":" + padded(clock.seconds().count(), 2) + "." +
         padded(clock.subseconds().count(), 3) + "Z";
}

// --- reading stream.csv -------------------------------------------------------------------------

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
    if (!fault_) fault_ = bad_stream(value.error().what, kStreamColumns[column]).error();
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
  std::vector<std::string> header(kStreamColumns.begin(), kStreamColumns.end());
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
  if (cells->size() != kStreamColumns.size()) return bad_stream("the row has not 9 columns");

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

std::string data_package(const StreamTable& table, UtcInstant created, std::string_view stream_csv,
                         std::string_view records_csv) {
  const json record_schema{
      {"fields", record_fields()},
      {"primaryKey", {"stream", "seq"}},
      {"uniqueKeys", json::array({json::array({"id"})})},
      {"foreignKeys",
       json::array({{{"fields", {"stream"}},
                     {"reference", {{"resource", "stream"}, {"fields", {"stream"}}}}}})},
      {"missingValues", {""}}};
  const json stream_schema{
      {"fields", stream_fields()}, {"primaryKey", {"stream"}}, {"missingValues", {""}}};
  const json package{{"$schema", "https://datapackage.org/profiles/2.0/datapackage.json"},
                     {"name", season_name(table.span)},
                     {"title", "Field records of a forage variety trial program"},
                     {"description",
                      "Records of one stream, as recorded, each hashed into a chain; the current "
                      "value of a plot is what no later record replaces. MIAPPE words are given "
                      "where they fit."},
                     {"created", rfc3339(created)},
                     {"resources", json::array({resource("records", records_csv, record_schema),
                                                resource("stream", stream_csv, stream_schema)})}};
  return package.dump() + "\n";
}

}  // namespace ligule::seal
