#include "storage/files/soil_tables.h"

#include <algorithm>
#include <array>
#include <functional>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "storage/files/json_fault.h"
#include "storage/trial/identity.h"
#include "storage/trial/record_line.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::uint64_t kLargestSoilFile = 1U << 20U;
constexpr const char* kSoilFile = "soil.json";

// One row of one of the file's lists; what is wrong with it goes to the faults of the whole file.
class SoilRow {
 public:
  SoilRow(const json& row, std::string where, Faults& faults)
      : row_(row), where_(std::move(where)), faults_(faults) {}

  void note(std::string what, std::string mend) {
    faults_.push_back({ErrorKind::kInvalid, std::move(what), where_, std::move(mend)});
  }
  // A key that nothing reads is a slip: what it says would count for nothing.
  void keys(std::initializer_list<std::string_view> known) {
    if (!row_.is_object()) return note("this should be an object", "write it in braces");
    for (const auto& [key, value] : row_.items())
      if (std::ranges::find(known, key) == known.end())
        note("'" + key + "' is not known here", "take it out");
  }
  std::string text(const char* key) {
    const json* const at = member(key);
    if (at != nullptr && at->is_string() && !cleaned(at->get<std::string>()).empty())
      return at->get<std::string>();
    note(std::string("'") + key + "' should be a text", "state it");
    return {};
  }
  std::string source() {
    const json* const at = member("source");
    if (at != nullptr && at->is_string() && !cleaned(at->get<std::string>()).empty())
      return at->get<std::string>();
    note("no source is named", "name it, or write 'common practice, no source'");
    return {};
  }
  std::optional<double> number_if_any(const char* key) {
    return member(key) == nullptr ? std::nullopt : std::optional(number(key));
  }
  double number(const char* key) {
    const json* const at = member(key);
    if (at != nullptr && at->is_number()) return at->get<double>();
    note(std::string("'") + key + "' should be a number", "state it");
    return 0;
  }
  bool flag(const char* key) {
    const json* const at = member(key);
    if (at != nullptr && at->is_boolean()) return at->get<bool>();
    note(std::string("'") + key + "' should be true or false", "state it");
    return false;
  }
  std::vector<std::string> texts(const char* key) {
    const json* const at = member(key);
    std::vector<std::string> all;
    const bool sound = at != nullptr && at->is_array() &&
                       std::ranges::all_of(*at, [](const json& one) { return one.is_string(); });
    if (sound) return at->get<std::vector<std::string>>();
    note(std::string("'") + key + "' should be a list of texts", "state it");
    return all;
  }
  std::vector<SoilClass> classes() {
    std::vector<SoilClass> all;
    const json* const at = member("classes");
    if (at == nullptr || !at->is_array() || at->empty()) {
      note("'classes' should be a list with at least one class", "state it");
      return all;
    }
    for (const json& one : *at) {
      SoilRow row(one, where_, faults_);
      row.keys({"name", "from"});
      all.push_back({row.text("name"), row.number("from")});
    }
    return all;
  }
  void ascending(std::initializer_list<std::optional<double>> ends, const char* mend) {
    std::vector<double> stated;
    for (const std::optional<double>& end : ends)
      if (end) stated.push_back(*end);
    if (std::ranges::adjacent_find(stated, std::greater_equal()) != stated.end())
      note("its numbers are out of order", mend);
  }

 private:
  [[nodiscard]] const json* member(const char* key) const {
    const auto at = row_.is_object() ? row_.find(key) : row_.end();
    return at == row_.end() ? nullptr : &*at;
  }

  const json& row_;
  std::string where_;
  Faults& faults_;
};

template <class Item>
void check_soil_code(SoilRow& in, const std::vector<Item>& before, const std::string& code) {
  if (!is_code(code)) in.note("'" + code + "' is not a usable code", "use letters, underscore");
  if (std::ranges::find(before, code, &Item::code) != before.end())
    in.note("'" + code + "' stands twice", "keep one of them");
}

// The property a table is about, and that its unit is one of the property's.
void check_subject(SoilRow& in, const SoilTables& known, const std::string& code,
                   const std::string& unit) {
  const SoilProperty* const property = known.property(code);
  if (property == nullptr) return in.note("property '" + code + "' is not defined", "define it");
  if (unit.empty() != property->units.empty() ||
      (!unit.empty() && std::ranges::find(property->units, unit) == property->units.end()))
    in.note("'" + unit + "' is no unit of " + property->name, "use one of its units");
}

void check_extractants(SoilRow& in, const SoilTables& known,
                       const std::vector<std::string>& codes) {
  for (const std::string& code : codes)
    if (std::ranges::find(known.extractants, code, &SoilExtractant::code) ==
        known.extractants.end())
      in.note("extractant '" + code + "' is not defined", "define it");
}

void read_extractant(SoilRow& in, SoilTables& tables) {
  in.keys({"code", "name", "also"});
  SoilExtractant extractant{in.text("code"), in.text("name"), in.texts("also")};
  check_soil_code(in, tables.extractants, extractant.code);
  tables.extractants.push_back(std::move(extractant));
}

void read_property(SoilRow& in, SoilTables& tables) {
  in.keys({"code", "name", "units", "ask_below", "ask_above", "refuse_below", "refuse_above",
           "source"});
  SoilProperty property{.code = in.text("code"),
                        .name = in.text("name"),
                        .units = in.texts("units"),
                        .ask_below = in.number_if_any("ask_below"),
                        .ask_above = in.number_if_any("ask_above"),
                        .refuse_below = in.number_if_any("refuse_below"),
                        .refuse_above = in.number_if_any("refuse_above"),
                        .source = in.source()};
  check_soil_code(in, tables.properties, property.code);
  in.ascending(
      {property.refuse_below, property.ask_below, property.ask_above, property.refuse_above},
      "from 'refuse_below' over 'ask_below' and 'ask_above' to 'refuse_above' each is "
      "more than the one before");
  tables.properties.push_back(std::move(property));
}

void read_classes(SoilRow& in, SoilTables& tables) {
  in.keys({"property", "unit", "extractant", "classes", "optimum", "source"});
  SoilClasses table{.property = in.text("property"),
                    .unit = in.text("unit"),
                    .extractant = in.text("extractant"),
                    .classes = in.classes(),
                    .optimum = in.text("optimum"),
                    .source = in.source()};
  check_subject(in, tables, table.property, table.unit);
  check_extractants(in, tables, {table.extractant});
  if (std::ranges::adjacent_find(table.classes, std::greater_equal(), &SoilClass::from) !=
      table.classes.end())
    in.note("its numbers are out of order", "each class begins above the one before");
  if (std::ranges::find(table.classes, table.optimum, &SoilClass::name) == table.classes.end())
    in.note("'" + table.optimum + "' is none of its classes", "name the class that is best");
  tables.classes.push_back(std::move(table));
}

void read_range(SoilRow& in, SoilTables& tables) {
  in.keys({"property", "species", "from", "to", "extractants", "source"});
  SoilRange range{.property = in.text("property"),
                  .species = in.texts("species"),
                  .from = in.number("from"),
                  .to = in.number("to"),
                  .extractants = in.texts("extractants"),
                  .source = in.source()};
  check_subject(in, tables, range.property, "");
  check_extractants(in, tables, range.extractants);
  in.ascending({range.from, range.to}, "'from' is less than 'to'");
  tables.ranges.push_back(std::move(range));
}

void read_check(SoilRow& in, SoilTables& tables) {
  in.keys({"property", "group", "stand", "unit", "unit_assumed", "minimum", "target", "extractants",
           "source"});
  SoilCheck check{.property = in.text("property"),
                  .group = in.text("group"),
                  .stand = in.text("stand"),
                  .unit = in.text("unit"),
                  .unit_assumed = in.flag("unit_assumed"),
                  .minimum = in.number("minimum"),
                  .target = in.number("target"),
                  .extractants = in.texts("extractants"),
                  .source = in.source()};
  check_subject(in, tables, check.property, check.unit);
  check_extractants(in, tables, check.extractants);
  in.ascending({check.minimum, check.target}, "'minimum' is less than 'target'");
  tables.checks.push_back(std::move(check));
}

// The lists of the file in the order they lean on one another.
struct SoilList {
  const char* key;
  void (*read)(SoilRow&, SoilTables&);
};
constexpr std::array<SoilList, 5> kSoilLists{{{"extractants", read_extractant},
                                              {"properties", read_property},
                                              {"classes", read_classes},
                                              {"ranges", read_range},
                                              {"checks", read_check}}};

std::string place_in(const SoilList& list, std::size_t i) {
  return std::string(kSoilFile) + ", " + list.key + ", item " + std::to_string(i + 1);
}

void read_list(const json& file, const SoilList& list, SoilTables& tables, Faults& faults) {
  const auto at = file.find(list.key);
  if (at == file.end() || !at->is_array()) {
    faults.push_back({ErrorKind::kInvalid, std::string("the list '") + list.key + "' is missing",
                      kSoilFile, "write it as in the file's first form"});
    return;
  }
  for (std::size_t i = 0; i < at->size(); ++i) {
    SoilRow row((*at)[i], place_in(list, i), faults);
    list.read(row, tables);
  }
}

}  // namespace

Checked<SoilTables> load_soil_tables(FileSystem& files, const Path& assets) {
  const auto text = files.read(assets / kSoilFile, kLargestSoilFile);
  if (!text) return std::unexpected(Faults{text.error()});
  const json file = json::parse(*text, nullptr, /*allow_exceptions=*/false);
  if (file.is_discarded()) return std::unexpected(Faults{json_fault(*text, kSoilFile)});
  Faults faults;
  SoilTables tables;
  SoilRow(file, kSoilFile, faults)
      .keys({"about", "extractants", "properties", "classes", "ranges", "checks"});
  if (file.is_object()) {
    for (const SoilList& list : kSoilLists) read_list(file, list, tables, faults);
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return tables;
}

}  // namespace ligule::files
