#include "sync/seal/package_columns.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::seal {
namespace {

constexpr std::array<std::string_view, 4> kPurposes{"survey", "repeat", "second", "practice"};
constexpr std::array<std::string_view, 5> kStates{"value", "zero", "missing", "on hold", "later"};
constexpr std::array<std::string_view, 5> kSources{"tapped", "typed", "scale", "imported", "paper"};

constexpr bool kRequired = true, kMayBeEmpty = false;

constexpr TableColumn column(std::string_view name, CellType type, bool required,
                             std::string_view description,
                             std::span<const std::string_view> words = {}) {
  return {name, type, required, description, words};
}

using enum CellType;

constexpr std::array<TableColumn, 29> kRecords{
    column("stream", kUuid, kRequired, "the stream the record belongs to"),
    column("seq", kCounted, kRequired, "place in the stream, from 1 without gaps"),
    column("id", kUuid, kRequired, "id of the record, made when the act happened"),
    column("kind", kText, kRequired, "what the record says: reading, correction, plan ..."),
    column("format", kCounted, kRequired, "format of the record"),
    column("utc_ms", kInteger, kRequired, "Unix milliseconds by the device's clock"),
    column("offset_min", kInteger, kRequired, "local time minus UTC, minutes"),
    column("local_date", kDate, kRequired, "date on the wall"),
    column("person", kUuid, kMayBeEmpty, "who; empty for what the program does itself"),
    column("trial", kUuid, kMayBeEmpty, "the trial (study in MIAPPE)"),
    column("plan", kDigest, kMayBeEmpty, "SHA-256 of the canonical plan text in force"),
    column("subject", kUuid, kMayBeEmpty,
           "plot (observation unit in MIAPPE), or the bag_number reading of a bag"),
    column("measure", kText, kMayBeEmpty,
           "code of the measure (with its scale the observed variable in MIAPPE)"),
    column("occasion", kUuid, kMayBeEmpty, "rating pass or cutting"),
    column("part", kCounted, kMayBeEmpty, "n-th of several in one act"),
    column("run", kUuid, kMayBeEmpty, "the harvest_run record"),
    column("purpose", kWord, kMayBeEmpty, "only survey values count in results", kPurposes),
    column("state", kWord, kMayBeEmpty, "what kind of value it is", kStates),
    column("entered", kText, kMayBeEmpty, "exactly as entered"),
    column("unit", kText, kMayBeEmpty, "unit it was entered in"),
    column("value", kNumber, kMayBeEmpty, "entered, parsed once"),
    column("definition", kDigest, kMayBeEmpty, "SHA-256 of the canonical scale text"),
    column("targets", kUuids, kMayBeEmpty, "records whose claim this one replaces"),
    column("reason", kText, kMayBeEmpty, "why"),
    column("answers", kText, kMayBeEmpty, "rule=answer, one semicolon between"),
    column("blind", kBoolean, kMayBeEmpty,
           "1: entry not shown to this person in this rating before the value"),
    column("source", kWord, kMayBeEmpty, "how the value came in", kSources),
    column("raw", kText, kMayBeEmpty, "the indicator's line as received"),
    column("details", kObject, kMayBeEmpty, "what this kind of record has besides"),
};
static_assert(std::ranges::equal(kRecords, kRecordColumns, {}, &TableColumn::name));

constexpr std::array<TableColumn, 9> kStream{
    column("stream", kUuid, kRequired, "one unbroken run of one ledger"),
    column("device", kText, kRequired, "name of the tablet or desk when the stream began"),
    column("public_key", kDigest, kRequired, "Ed25519 public key that signs the stream's files"),
    column("continues", kUuid, kMayBeEmpty, "the stream this ledger wrote before"),
    column("demo", kBoolean, kRequired, "1: made for demonstration, never mix into real results"),
    column("first", kCounted, kRequired, "seq of the first record in this file"),
    column("last", kCounted, kRequired, "seq of the last record in this file"),
    column("digest_before", kDigest, kRequired, "digest of the chain before the first record"),
    column("head", kDigest, kRequired, "digest of the chain at the last record"),
};

// A cell as an error may show it: somebody may have put a megabyte there.
std::string shown_cell(std::string_view cell) {
  constexpr std::size_t kShown = 40;
  return "'" + cleaned(cell.substr(0, kShown)) + (cell.size() > kShown ? "...'" : "'");
}

bool is_digest(std::string_view cell) {
  return cell.size() == 64 && std::ranges::all_of(cell, [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

bool are_uuids(std::string_view cell) {
  constexpr std::size_t kUuidLetters = 36;
  for (;;) {
    if (!parse_uuid(cell.substr(0, kUuidLetters))) return false;
    if (cell.size() == kUuidLetters) return true;
    if (cell[kUuidLetters] != ' ') return false;
    cell.remove_prefix(kUuidLetters + 1);
  }
}

// How deep a text that may be JSON is nested, at most: what stands in its strings counts for
// nothing.
std::size_t depth_of(std::string_view text) {
  std::size_t depth = 0, deepest = 0;
  bool in_string = false;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    if (in_string && c == '\\') {
      ++at;
    } else if (c == '"') {
      in_string = !in_string;
    } else if (!in_string && (c == '{' || c == '[')) {
      deepest = std::max(deepest, ++depth);
    } else if (!in_string && (c == '}' || c == ']') && depth > 0) {
      --depth;
    }
  }
  return deepest;
}

// Looked at without keeping anything of it.
bool is_object(std::string_view cell) {
  return cell.starts_with('{') && depth_of(cell) <= kDeepestObject && nlohmann::json::accept(cell);
}

bool fits(const TableColumn& column, std::string_view cell) {
  switch (column.type) {
    case kText:
      return true;
    case kUuid:
      return parse_uuid(cell).has_value();
    case kUuids:
      return are_uuids(cell);
    case kDigest:
      return is_digest(cell);
    case kWord:
      return std::ranges::find(column.words, cell) != column.words.end();
    case kBoolean:
      return cell == "1" || cell == "0";
    case kInteger:
      return parse_integer(cell).has_value();
    case kCounted:
      return parse_integer(cell).value_or(0) >= 1;
    case kDate:
      return parse_date(cell).has_value();
    case kNumber:
      return parse_number(cell).has_value();
    case kObject:
      return is_object(cell);
  }
  return false;
}

std::string wanted(const TableColumn& column) {
  switch (column.type) {
    case kText:
      return "a text";
    case kUuid:
      return "an id";
    case kUuids:
      return "ids with one space between";
    case kDigest:
      return "a digest of 64 hex digits";
    case kWord:
      break;
    case kBoolean:
      return "1 or 0";
    case kInteger:
      return "a whole number";
    case kCounted:
      return "a whole number from 1";
    case kDate:
      return "a date";
    case kNumber:
      return "a number";
    case kObject:
      return "a JSON object, nested no deeper than " + std::to_string(kDeepestObject);
  }
  std::string words;
  for (const std::string_view word : column.words)
    words += (words.empty() ? "one of " : ", ") + std::string(word);
  return words;
}

}  // namespace

std::span<const TableColumn> record_columns() {
  return kRecords;
}

std::span<const TableColumn> stream_columns() {
  return kStream;
}

std::optional<std::string> cell_fault(const TableColumn& column, std::string_view cell) {
  if (cell.empty()) {
    if (!column.required) return std::nullopt;
    return "it is empty where " + wanted(column) + " must stand";
  }
  if (fits(column, cell)) return std::nullopt;
  return shown_cell(cell) + " is not " + wanted(column);
}

std::optional<std::string> row_fault(std::span<const TableColumn> columns,
                                     const std::vector<std::string>& cells) {
  for (std::size_t at = 0; at < columns.size(); ++at) {
    if (const auto fault = cell_fault(columns[at], cells[at]))
      return "column " + std::string(columns[at].name) + ": " + *fault;
  }
  return std::nullopt;
}

}  // namespace ligule::seal
