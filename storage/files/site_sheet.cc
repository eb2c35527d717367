#include "storage/files/site_sheet.h"

#include <algorithm>
#include <iterator>
#include <vector>

#include "storage/files/plan_rows.h"
#include "storage/files/respelled_table.h"
#include "storage/files/table_row.h"

namespace ligule::files {
namespace {

constexpr std::string_view kUnit = "_unit";

// "Plot length" and "plot-length" are plot_length.
std::string line_name(std::string_view what) {
  std::string name = plain_text(what);
  std::ranges::replace(name, ' ', '_');
  return name;
}

bool has_unit(const TableSchema& trial, const std::string& name) {
  return trial.find(name + std::string(kUnit)) != nullptr;
}

class SheetReader {
 public:
  SheetReader(const std::string& file, const TableSchema& trial,
              std::span<const std::string_view> others)
      : file_(file), trial_(trial), others_(others) {}

  void read(const Table& table);
  Checked<SiteSheet> made();

 private:
  void fault(std::string where, std::string what, std::string mend) {
    faults_.push_back({ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  [[nodiscard]] bool is_of_trial(std::string_view name) const {
    return name != "parent" && name != "reason" && trial_.find(name) != nullptr;
  }
  [[nodiscard]] std::string known_lines() const;
  void take(const std::string& name, SheetLine line);
  [[nodiscard]] std::optional<Plan> plan();

  const std::string& file_;
  const TableSchema& trial_;
  std::span<const std::string_view> others_;
  std::map<std::string, SheetLine> lines_;
  Faults faults_;
};

std::string SheetReader::known_lines() const {
  std::string names;
  for (const Field& field : trial_.fields) {
    if (!is_of_trial(field.name) || field.name.ends_with(kUnit)) continue;
    if (!names.empty()) names += ", ";
    names += field.name;
  }
  for (const std::string_view other : others_) {
    names += ", ";
    names += other;
  }
  return names;
}

// A size is its number and its unit, which are two columns of the trial.
void SheetReader::take(const std::string& name, SheetLine line) {
  if (name == "drilled") {
    if (plain_text(line.value) == "yes") line.value = "true";
    if (plain_text(line.value) == "no") line.value = "false";
  }
  const std::size_t digits = line.value.find_first_not_of("+-0123456789.");
  if (has_unit(trial_, name) && digits != std::string::npos && digits > 0) {
    lines_[name + std::string(kUnit)] = {
        std::string(without_blanks(std::string_view(line.value).substr(digits))), line.place};
    line.value.resize(digits);
  }
  lines_[name] = std::move(line);
}

void SheetReader::read(const Table& table) {
  if (!table.find_column("what") || !table.find_column("value"))
    return fault(file_ + " line " + std::to_string(table.header_line()),
                 "a site sheet has the columns what and value",
                 "write what,value into its first line and one decision into each line below");
  for (const CsvRow& row : table.rows()) {
    const std::string what = cell_text(table, row, "what");
    const std::string name = line_name(what);
    const std::string value = cell_text(table, row, "value");
    if (!is_of_trial(name) && std::ranges::find(others_, name) == others_.end()) {
      fault(table.place(row), "'" + what + "' is not a line of a site sheet",
            "the lines are " + known_lines());
    } else if (const auto at = lines_.find(name); at != lines_.end()) {
      fault(table.place(row), "'" + name + "' stands twice",
            "first at " + at->second.place + "; keep one of them");
    } else if (!value.empty()) {
      take(name, {value, table.place(row)});
    }
  }
}

std::optional<Plan> SheetReader::plan() {
  if (!lines_.contains("design")) lines_["design"] = {"rcb", file_};
  std::vector<std::string> columns, cells, places;
  for (const Field& field : trial_.fields) {
    const auto at = lines_.find(field.name);
    const bool there = at != lines_.end();
    columns.push_back(field.name);
    cells.push_back(there ? at->second.value : "");
    places.push_back(there ? at->second.place : "");
    const std::string size =
        field.name.substr(0, field.name.size() - std::min(field.name.size(), kUnit.size()));
    if (field.name.ends_with(kUnit) && !there && lines_.contains(size))
      fault(lines_[size].place, size + " has no unit", "write it behind the number, as in 20 ft");
    else if (!there && field.required && !field.name.ends_with(kUnit))
      fault(file_, "the line '" + field.name + "' is missing", field.description);
  }
  RespelledTable respelled(file_, std::move(columns));
  respelled.add(std::move(cells), std::move(places));
  const auto table = respelled.judged_by(trial_);
  if (!table) {
    // What is missing has no place, and has been told of.
    std::ranges::copy_if(table.error(), std::back_inserter(faults_),
                         [](const Error& found) { return !found.where.empty(); });
    return std::nullopt;
  }
  Plan plan;
  read_trial(TableRow(*table, table->rows().front()), plan);
  return plan;
}

Checked<SiteSheet> SheetReader::made() {
  if (lines_.empty() && !faults_.empty()) return std::unexpected(std::move(faults_));
  auto read = plan();
  if (!faults_.empty() || !read) return std::unexpected(std::move(faults_));
  SiteSheet sheet{*std::move(read), {}};
  for (const std::string_view other : others_) {
    const auto at = lines_.find(std::string(other));
    if (at != lines_.end()) sheet.lines.insert(*at);
  }
  return sheet;
}

}  // namespace

Checked<SiteSheet> read_site_sheet(std::string_view text, const std::string& file,
                                   const TableSchema& trial,
                                   std::span<const std::string_view> others) {
  const auto table = Table::parse(text, file);
  if (!table) return std::unexpected(table.error());
  SheetReader reader(file, trial, others);
  reader.read(*table);
  return reader.made();
}

}  // namespace ligule::files
