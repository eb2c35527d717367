#include "sync/seal/descriptor.h"

#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>
#include <utility>

#include "storage/ledger/digest.h"
#include "sync/seal/package_columns.h"
#include "sync/seal/season_layout.h"

namespace ligule::seal {
namespace {

using files::CellType;
using files::Column;
using nlohmann::json;

// What a Table Schema says of a column that no type of its own stands for.
constexpr const char* kUuidsPattern = "[0-9a-f-]{36}( [0-9a-f-]{36})*";
constexpr const char* kDigestPattern = "[0-9a-f]{64}";

// --- writing; every text here and in package_columns.cc is part of the format
// ---------------------

json field_of(const Column& column, Format format) {
  json field{{"name", column.name}, {"type", "string"}, {"description", column.description}};
  switch (column.type) {
    case CellType::kText:
      break;
    case CellType::kUuid:
      field["format"] = "uuid";
      break;
    case CellType::kUuids:
      field["constraints"]["pattern"] = kUuidsPattern;
      break;
    case CellType::kDigest:
      field["constraints"]["pattern"] = kDigestPattern;
      break;
    case CellType::kWord:
      field["constraints"]["enum"] = column.words;
      break;
    case CellType::kBoolean:
      field["type"] = "boolean";
      field["trueValues"] = {"1"};
      field["falseValues"] = {"0"};
      break;
    case CellType::kInteger:
      field["type"] = "integer";
      break;
    case CellType::kCounted:
      field["type"] = "integer";
      field["constraints"]["minimum"] = 1;
      break;
    case CellType::kDate:
      field["type"] = "date";
      break;
    case CellType::kNumber:
      field["type"] = "number";
      break;
    case CellType::kObject:
      field["type"] = "object";
      break;
  }
  if (column.required) field["constraints"]["required"] = true;
  if (format == Format::kFirst) return field;
  if (!column.miappe.empty()) field["miappe"] = column.miappe;
  if (!column.brapi.empty()) field["brapi"] = column.brapi;
  return field;
}

json fields_of(std::span<const Column> columns, Format format) {
  json fields = json::array();
  for (const Column& column : columns) fields.push_back(field_of(column, format));
  return fields;
}

json foreign_key(const std::string& column, const std::string& table, const std::string& key) {
  return {{"fields", {column}}, {"reference", {{"resource", table}, {"fields", {key}}}}};
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

json stream_schema(Format format) {
  return {{"fields", fields_of(stream_columns(), format)},
          {"primaryKey", {"stream"}},
          {"missingValues", {""}}};
}

json record_schema(Format format, std::span<const wide::Reference> references) {
  json keys = json::array({foreign_key("stream", "stream", "stream")});
  for (const wide::Reference& reference : references)
    keys.push_back(foreign_key(reference.column, reference.table, reference.key));
  return {{"fields", fields_of(record_columns(), format)},
          {"primaryKey", {"stream", "seq"}},
          {"uniqueKeys", json::array({json::array({"id"})})},
          {"foreignKeys", std::move(keys)},
          {"missingValues", {""}}};
}

json wide_schema(const wide::WideTable& table) {
  json schema{{"fields", fields_of(table.columns, Format::kSecond)}, {"missingValues", {""}}};
  if (!table.primary_key.empty()) schema["primaryKey"] = table.primary_key;
  for (const wide::Reference& reference : table.references)
    schema["foreignKeys"].push_back(foreign_key(reference.column, reference.table, reference.key));
  return schema;
}

json package_of(const StreamTable& table, UtcInstant created, const char* description,
                json resources) {
  return {{"$schema", "https://datapackage.org/profiles/2.0/datapackage.json"},
          {"name", season_name(table.span)},
          {"title", "Field records of a forage variety trial program"},
          {"description", description},
          {"created", rfc3339(created)},
          {"resources", std::move(resources)}};
}

// --- reading ------------------------------------------------------------------------------------

std::unexpected<Error> not_read(const std::string& what) {
  return fail(ErrorKind::kDamaged, what, "data/datapackage.json",
              "take the file from the tablet again");
}

std::string text_of(const json& object, const char* key) {
  const auto at = object.find(key);
  return at != object.end() && at->is_string() ? at->get<std::string>() : std::string();
}

// Texts of a list; empty where it is no list of texts.
std::vector<std::string> texts_of(const json& object, const char* key) {
  const auto at = object.find(key);
  if (at == object.end() || !at->is_array()) return {};
  std::vector<std::string> texts;
  for (const json& item : *at) {
    if (!item.is_string()) return {};
    texts.push_back(item.get<std::string>());
  }
  return texts;
}

CellType string_type(const json& field, const json& constraints) {
  if (text_of(field, "format") == "uuid") return CellType::kUuid;
  const std::string pattern = text_of(constraints, "pattern");
  if (pattern == kUuidsPattern) return CellType::kUuids;
  if (pattern == kDigestPattern) return CellType::kDigest;
  return constraints.contains("enum") ? CellType::kWord : CellType::kText;
}

std::optional<CellType> type_of(const json& field, const json& constraints) {
  const std::string type = text_of(field, "type");
  if (type == "string") return string_type(field, constraints);
  if (type == "integer")
    return constraints.contains("minimum") ? CellType::kCounted : CellType::kInteger;
  if (type == "boolean") return CellType::kBoolean;
  if (type == "date") return CellType::kDate;
  if (type == "number") return CellType::kNumber;
  if (type == "object") return CellType::kObject;
  return std::nullopt;
}

// The column that field_of() wrote so. That it is all the field says is seen when the descriptor is
// written again.
std::optional<Column> column_of(const json& field) {
  if (!field.is_object()) return std::nullopt;
  const auto stated = field.find("constraints");
  const json constraints = stated != field.end() && stated->is_object() ? *stated : json::object();
  const auto type = type_of(field, constraints);
  Column column{text_of(field, "name"), CellType::kText, false, text_of(field, "description")};
  if (!type || column.name.empty()) return std::nullopt;
  column.type = *type;
  column.required = constraints.contains("required");
  column.words = texts_of(constraints, "enum");
  column.miappe = text_of(field, "miappe");
  column.brapi = text_of(field, "brapi");
  return column;
}

std::optional<wide::Reference> reference_of(const json& key) {
  if (!key.is_object()) return std::nullopt;
  const auto to = key.find("reference");
  if (to == key.end() || !to->is_object()) return std::nullopt;
  const auto columns = texts_of(key, "fields");
  const auto keys = texts_of(*to, "fields");
  if (columns.size() != 1 || keys.size() != 1) return std::nullopt;
  return wide::Reference{columns.front(), text_of(*to, "resource"), keys.front()};
}

template <class List, class Projection = std::identity>
bool all_different(const List& list, Projection projection = {}) {
  std::vector<std::string_view> names;
  names.reserve(list.size());
  for (const auto& item : list) names.push_back(std::invoke(projection, item));
  std::ranges::sort(names);
  return std::ranges::adjacent_find(names) == names.end();
}

// Nothing is declared twice, and little of what takes a pass over the rows each: a stranger's file
// must not keep anybody busy.
bool is_bounded(const wide::WideTable& table) {
  constexpr std::size_t kMostKeys = 8;
  constexpr std::size_t kMostWords = 100;  // of a column, of which each cell is one
  return std::ranges::all_of(
             table.columns,
             [](const Column& column) { return column.words.size() <= kMostWords; }) &&
         table.primary_key.size() <= kMostKeys && table.references.size() <= kMostKeys &&
         all_different(table.columns, &Column::name) && all_different(table.primary_key) &&
         all_different(table.references, &wide::Reference::column);
}

std::optional<wide::WideTable> table_of(const json& resource) {
  if (!resource.is_object()) return std::nullopt;
  const auto schema = resource.find("schema");
  if (schema == resource.end() || !schema->is_object()) return std::nullopt;
  wide::WideTable table;
  table.name = text_of(resource, "name");
  table.description = text_of(resource, "description");
  table.primary_key = texts_of(*schema, "primaryKey");
  const auto fields = schema->find("fields");
  if (fields == schema->end() || !fields->is_array()) return std::nullopt;
  for (const json& field : *fields) {
    auto column = column_of(field);
    if (!column) return std::nullopt;
    table.columns.push_back(*std::move(column));
  }
  const auto keys = schema->find("foreignKeys");
  if (keys != schema->end()) {
    if (!keys->is_array()) return std::nullopt;
    for (const json& key : *keys) {
      auto reference = reference_of(key);
      if (!reference) return std::nullopt;
      table.references.push_back(*std::move(reference));
    }
  }
  if (!is_bounded(table)) return std::nullopt;
  return table;
}

}  // namespace

std::string first_descriptor(const StreamTable& table, UtcInstant created,
                             std::string_view stream_csv, std::string_view records_csv) {
  const auto resources =
      json::array({resource("records", records_csv, record_schema(Format::kFirst, {})),
                   resource("stream", stream_csv, stream_schema(Format::kFirst))});
  return package_of(table, created,
                    "Records of one stream, as recorded, each hashed into a chain; the current "
                    "value of a plot is what no later record replaces. MIAPPE words are given "
                    "where they fit.",
                    resources)
             .dump() +
         "\n";
}

std::string descriptor(const StreamTable& table, UtcInstant created, const Contents& contents) {
  std::vector<std::pair<std::string, json>> resources;
  resources.emplace_back("records",
                         resource("records", contents.records_csv,
                                  record_schema(Format::kSecond, contents.record_references)));
  resources.emplace_back("stream",
                         resource("stream", contents.stream_csv, stream_schema(Format::kSecond)));
  for (const WideMember& member : contents.wide) {
    json described = resource(member.table.name, member.csv, wide_schema(member.table));
    described["description"] = member.table.description;
    resources.emplace_back(member.table.name, std::move(described));
  }
  std::ranges::sort(resources, {}, &std::pair<std::string, json>::first);
  json list = json::array();
  for (auto& [name, described] : resources) list.push_back(std::move(described));
  json package = package_of(
      table, created,
      "Records of one stream, as recorded, each hashed into a chain; the current value of a plot "
      "is what no later record replaces. The other tables say what the records say by themselves. "
      "Fields name their terms of MIAPPE and BrAPI where one fits.",
      std::move(list));
  package["id"] = season_name(table.span);
  return package.dump() + "\n";
}

Result<std::vector<wide::WideTable>> declared_tables(std::string_view descriptor) {
  const json package = json::parse(descriptor, nullptr, /*allow_exceptions=*/false);
  const auto resources = package.is_object() ? package.find("resources") : package.end();
  if (resources == package.end() || !resources->is_array())
    return not_read("it is no description of tables");
  std::vector<wide::WideTable> tables;
  std::string before;
  for (const json& resource : *resources) {
    auto table = table_of(resource);
    if (!table || table->name <= before)
      return not_read("it describes a table in a way that is not read here");
    before = table->name;
    if (table->name != "records" && table->name != "stream") tables.push_back(*std::move(table));
  }
  return tables;
}

}  // namespace ligule::seal
