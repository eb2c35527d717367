#include "demo-plots/past_values.h"

#include <array>
#include <optional>
#include <string_view>

#include "storage/files/csv.h"
#include "storage/trial/number.h"
#include "storage/trial/record.h"

namespace ligule::demo {
namespace {

constexpr std::uint64_t kMostBytes = 4U << 20U;

struct Column {
  std::string_view name;
  std::string_view measure;
};
constexpr std::array<Column, 6> kRated{{{"percent_stand", "percent_stand"},
                                        {"seedling_vigor", "seedling_vigor"},
                                        {"maturity", "maturity"},
                                        {"stubble_height", "stubble_height"},
                                        {"winter_injury", "winter_injury"},
                                        {"note", measure::kNote}}};
constexpr std::array<Column, 4> kWeighed{{{"gross_kg", measure::kGrossWeight},
                                          {"tare_kg", measure::kTareWeight},
                                          {"bag", measure::kBagNumber},
                                          {"sample_fresh_g", measure::kSampleFresh}}};
constexpr std::array<Column, 1> kDried{{{"sample_dry_g", measure::kSampleDry}}};

// "2025-05-08T09:10:00".
std::optional<WallTime> parse_wall_time(std::string_view text) {
  if (text.size() != 19 || text[10] != 'T' || text[13] != ':' || text[16] != ':') return {};
  const auto date = parse_date(text.substr(0, 10));
  const auto hours = parse_integer(text.substr(11, 2));
  const auto minutes = parse_integer(text.substr(14, 2));
  const auto seconds = parse_integer(text.substr(17, 2));
  if (!date || !hours || !minutes || !seconds) return {};
  if (*hours > 23 || *minutes > 59 || *seconds > 59) return {};
  return WallTime{*date, static_cast<int>((*hours * 60 + *minutes) * 60 + *seconds)};
}

// Reads one table row by row; cell() gives "" for a column the table does not have.
class Reader {
 public:
  Reader(const files::Table& table, files::Faults& faults) : table_(table), faults_(faults) {}

  [[nodiscard]] const std::string& cell(const files::CsvRow& row, std::string_view column) const {
    static const std::string none;
    const auto at = table_.find_column(column);
    return at ? row.cells.at(*at) : none;
  }
  // nullopt after noting the fault.
  [[nodiscard]] std::optional<PastAct> act(const files::CsvRow& row, What what,
                                           std::string_view time_column,
                                           std::span<const Column> columns) const {
    const auto at = parse_wall_time(cell(row, time_column));
    if (!at) {
      faults_.push_back({ErrorKind::kInvalid, "is no time", table_.place(row, time_column),
                         "write it as 2025-05-08T09:10:00"});
      return {};
    }
    PastAct act{*at,
                what,
                cell(row, "trial"),
                cell(row, "occasion"),
                cell(row, "plot"),
                cell(row, "person"),
                cell(row, "surface"),
                {},
                cell(row, "missing")};
    for (const Column& column : columns) {
      const std::string& text = cell(row, column.name);
      if (!text.empty()) act.values.push_back({std::string(column.measure), text});
    }
    return act;
  }

 private:
  const files::Table& table_;
  files::Faults& faults_;
};

}  // namespace

files::Checked<std::vector<PastAct>> read_past(files::FileSystem& files, const files::Path& folder,
                                               const std::string& trial) {
  std::vector<PastAct> acts;
  files::Faults faults;
  for (const std::string_view kind : {"ratings", "weights"}) {
    const std::string name = trial + "-" + std::string(kind) + ".csv";
    const auto there = files.exists(folder / name);
    if (!there) return std::unexpected(files::Faults{there.error()});
    if (!*there) continue;
    const auto text = files.read(folder / name, kMostBytes);
    if (!text) return std::unexpected(files::Faults{text.error()});
    const auto table = files::Table::parse(*text, name);
    if (!table) return std::unexpected(table.error());
    const Reader reader(*table, faults);
    for (const files::CsvRow& row : table->rows()) {
      const bool rating = kind == "ratings";
      auto act = rating ? reader.act(row, What::kRate, "at", kRated)
                        : reader.act(row, What::kWeigh, "at", kWeighed);
      if (act) acts.push_back(std::move(*act));
      if (rating || reader.cell(row, "sample_dry_g").empty()) continue;
      if (auto dry = reader.act(row, What::kDry, "dried_at", kDried)) acts.push_back(*dry);
    }
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return acts;
}

}  // namespace ligule::demo
