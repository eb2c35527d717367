#include "storage/files/columns.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::files {
namespace {

using enum CellType;

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

bool fits(const Column& column, std::string_view cell) {
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

std::string wanted(const Column& column) {
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
  for (const std::string& word : column.words) words += (words.empty() ? "one of " : ", ") + word;
  return words;
}

}  // namespace

std::optional<std::string> cell_fault(const Column& column, std::string_view cell) {
  if (cell.empty()) {
    if (!column.required) return std::nullopt;
    return "it is empty where " + wanted(column) + " must stand";
  }
  if (fits(column, cell)) return std::nullopt;
  return shown_cell(cell) + " is not " + wanted(column);
}

std::optional<std::string> row_fault(std::span<const Column> columns,
                                     std::span<const std::string_view> cells) {
  for (std::size_t at = 0; at < columns.size(); ++at) {
    if (const auto fault = cell_fault(columns[at], cells[at]))
      return "column " + columns[at].name + ": " + *fault;
  }
  return std::nullopt;
}

}  // namespace ligule::files
