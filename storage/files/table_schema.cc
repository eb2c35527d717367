#include "storage/files/table_schema.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <regex>
#include <utility>

#include "storage/files/json_fault.h"
#include "storage/trial/calendar.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::size_t kLongestCell = 500;  // keeps the regular expressions' work bounded
constexpr std::array<std::pair<std::string_view, FieldType>, 5> kTypes{
    {{"string", FieldType::kString},
     {"integer", FieldType::kInteger},
     {"number", FieldType::kNumber},
     {"boolean", FieldType::kBoolean},
     {"date", FieldType::kDate}}};

std::string text_of(const json& object, const char* key) {
  const auto at = object.find(key);
  return at != object.end() && at->is_string() ? at->get<std::string>() : std::string();
}

std::optional<std::regex> compiled(const std::string& pattern) {
  try {
    return std::regex("^(?:" + pattern + ")$");
  } catch (const std::regex_error&) {
    return std::nullopt;
  }
}

// Reads one constraint into the field; says what is wrong with it, nothing when it is sound.
std::string read_constraint(const std::string& key, const json& value, Field& field) {
  if (key == "required" && value.is_boolean()) {
    field.required = value.get<bool>();
  } else if (key == "unique" && value.is_boolean()) {
    field.unique = value.get<bool>();
  } else if (key == "minimum" && value.is_number()) {
    field.minimum = value.get<double>();
  } else if (key == "maximum" && value.is_number()) {
    field.maximum = value.get<double>();
  } else if (key == "maxLength" && value.is_number_unsigned()) {
    field.max_length = value.get<std::size_t>();
  } else if (key == "pattern" && value.is_string()) {
    field.pattern = value.get<std::string>();
    if (!compiled(field.pattern)) return "the pattern is no regular expression";
  } else if (key == "enum" && value.is_array() && !value.empty() &&
             std::ranges::all_of(value, [](const json& item) { return item.is_string(); })) {
    field.allowed = value.get<std::vector<std::string>>();
  } else {
    return "constraint '" + key + "' is not known or has an unusable value";
  }
  return {};
}

Result<Field> read_field(const json& object, const std::string& where) {
  if (!object.is_object())
    return fail(ErrorKind::kInvalid, "a field should be an object", where, "describe the column");
  Field field;
  field.name = text_of(object, "name");
  field.description = text_of(object, "description");
  if (field.name.empty() || field.description.empty())
    return fail(ErrorKind::kInvalid, "a field has no name or no description", where, "state both");
  const std::string type = text_of(object, "type");
  const auto known = std::ranges::find(kTypes, std::string_view(type),
                                       &std::pair<std::string_view, FieldType>::first);
  if (known == kTypes.end())
    return fail(ErrorKind::kInvalid, "type '" + type + "' is not read here",
                where + ", field " + field.name, "use string, integer, number, boolean or date");
  field.type = known->second;
  const auto constraints = object.find("constraints");
  if (constraints == object.end()) return field;
  for (const auto& [key, value] : constraints->items()) {
    std::string fault = read_constraint(key, value, field);
    if (!fault.empty())
      return fail(ErrorKind::kInvalid, std::move(fault), where + ", field " + field.name,
                  "mend the schema");
  }
  return field;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

std::string range_of(const Field& field) {
  if (field.minimum && field.maximum)
    return "enter " + format_number(*field.minimum) + " to " + format_number(*field.maximum);
  if (field.minimum) return "enter " + format_number(*field.minimum) + " or more";
  return "enter " + format_number(field.maximum.value_or(0)) + " or less";
}

// What a column's schema says about one cell; where is filled in by the caller.
class CellJudge {
 public:
  explicit CellJudge(const Field& field) : field_(field) {
    if (!field.pattern.empty()) pattern_ = compiled(field.pattern);
  }

  [[nodiscard]] std::optional<Error> judge(const std::string& cell) const {
    if (cell.empty()) {
      if (!field_.required) return std::nullopt;
      return Error{ErrorKind::kInvalid, "the cell is empty", {}, field_.description};
    }
    if (!is_cell_text(cell))
      return Error{ErrorKind::kInvalid,
                   "the cell holds a line break or a control character",
                   {},
                   "keep it to one line"};
    if (cell.size() > std::min(field_.max_length.value_or(kLongestCell), kLongestCell))
      return Error{ErrorKind::kInvalid, "the text is too long", {}, "shorten it"};
    if (auto fault = type_fault(cell)) return fault;
    if (!field_.allowed.empty() &&
        std::ranges::find(field_.allowed, cell) == field_.allowed.end()) {
      return Error{ErrorKind::kInvalid,
                   "'" + cell + "' is not one of: " + joined(field_.allowed),
                   {},
                   "use one of these"};
    }
    if (pattern_ && !std::regex_match(cell, *pattern_))
      return Error{ErrorKind::kInvalid, "'" + cell + "' cannot stand here", {}, field_.description};
    return std::nullopt;
  }

 private:
  [[nodiscard]] std::optional<Error> type_fault(const std::string& cell) const {
    switch (field_.type) {
      case FieldType::kString:
        return std::nullopt;
      case FieldType::kInteger: {
        const auto number = parse_integer(cell);
        return number ? range_fault(cell, static_cast<double>(*number)) : number.error();
      }
      case FieldType::kNumber: {
        const auto number = parse_number(cell);
        return number ? range_fault(cell, *number) : number.error();
      }
      case FieldType::kBoolean: {
        const auto truth = parse_boolean(cell);
        return truth ? std::nullopt : std::optional<Error>(truth.error());
      }
      case FieldType::kDate: {
        const auto date = parse_date(cell);
        return date ? std::nullopt : std::optional<Error>(date.error());
      }
    }
    std::unreachable();
  }
  [[nodiscard]] std::optional<Error> range_fault(const std::string& cell, double value) const {
    if ((field_.minimum && value < *field_.minimum) || (field_.maximum && value > *field_.maximum))
      return Error{ErrorKind::kInvalid, "'" + cell + "' is out of range", {}, range_of(field_)};
    return std::nullopt;
  }

  const Field& field_;
  std::optional<std::regex> pattern_;
};

void column_faults(const Table& table, const TableSchema& schema, Faults& faults) {
  const std::string where = table.file() + " line " + std::to_string(table.header_line());
  std::vector<std::string> names;
  names.reserve(schema.fields.size());
  for (const Field& field : schema.fields) names.push_back(field.name);
  for (const std::string& column : table.columns()) {
    if (schema.find(column) == nullptr)
      faults.push_back({ErrorKind::kInvalid, "column '" + column + "' is not known", where,
                        "use " + joined(names) + "; a newer version of the program may know it"});
  }
  for (const Field& field : schema.fields) {
    if (field.required && !table.find_column(field.name))
      faults.push_back({ErrorKind::kInvalid, "column '" + field.name + "' is missing", where,
                        field.description});
  }
}

}  // namespace

const Field* TableSchema::find(std::string_view name) const {
  const auto at = std::ranges::find(fields, name, &Field::name);
  return at == fields.end() ? nullptr : &*at;
}

Result<TableSchema> parse_table_schema(std::string_view text, std::string_view file) {
  const json parsed = json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (parsed.is_discarded()) return std::unexpected(json_fault(text, file));
  const auto fields = parsed.is_object() ? parsed.find("fields") : parsed.end();
  if (fields == parsed.end() || !fields->is_array() || fields->empty())
    return fail(ErrorKind::kInvalid, "the schema has no fields", std::string(file),
                "describe each column");
  TableSchema schema;
  schema.text = text;
  for (const json& object : *fields) {
    auto field = read_field(
        object, std::string(file) + ", field " + std::to_string(schema.fields.size() + 1));
    if (!field) return std::unexpected(field.error());
    if (schema.find(field->name) != nullptr)
      return fail(ErrorKind::kInvalid, "field '" + field->name + "' stands twice",
                  std::string(file), "keep one of them");
    schema.fields.push_back(*std::move(field));
  }
  return schema;
}

Faults table_faults(const Table& table, const TableSchema& schema) {
  Faults faults;
  column_faults(table, schema, faults);
  std::vector<std::pair<const Field*, CellJudge>> judges;
  for (const std::string& column : table.columns()) {
    if (const Field* field = schema.find(column)) judges.emplace_back(field, CellJudge(*field));
  }
  for (const CsvRow& row : table.rows()) {
    for (const auto& [field, judge] : judges) {
      auto fault = judge.judge(cell_text(table, row, field->name));
      if (!fault) continue;
      fault->where = table.place(row, field->name);
      add_fault(faults, *std::move(fault));
    }
  }
  return faults;
}

std::string cell_text(const Table& table, const CsvRow& row, std::string_view column) {
  const auto at = table.find_column(column);
  if (!at) return {};
  return std::string(without_blanks(row.cells[*at]));
}

Result<bool> parse_boolean(std::string_view text) {
  constexpr std::array<std::string_view, 4> kTrue{"true", "True", "TRUE", "1"};
  constexpr std::array<std::string_view, 4> kFalse{"false", "False", "FALSE", "0"};
  if (std::ranges::find(kTrue, text) != kTrue.end()) return true;
  if (std::ranges::find(kFalse, text) != kFalse.end()) return false;
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is neither true nor false", {},
              "write true or false");
}

}  // namespace ligule::files
