#include "storage/files/seed_on_hand.h"

#include <algorithm>
#include <optional>

#include "storage/files/csv.h"
#include "storage/files/entry_words.h"
#include "storage/files/table_row.h"
#include "storage/trial/unit_names.h"

namespace ligule::files {
namespace {

struct StoreColumns {
  std::string lot, amount, unit;  // theirs, and what the heading of the amount says
};

std::optional<Kilograms> mass_of(std::string_view text, const std::string& unit) {
  const std::size_t digits = std::min(text.find_first_not_of("0123456789."), text.size());
  const auto number = parse_number(text.substr(0, digits));
  const std::string behind = mass_unit(without_blanks(text.substr(digits)));
  const bool bare = digits == text.size();
  if (!number || (!bare && behind.empty())) return std::nullopt;
  const auto mass = mass_in(*number, bare ? unit : behind);
  return mass ? std::optional(*mass) : std::nullopt;
}

Checked<StoreColumns> store_columns(const Table& table) {
  StoreColumns columns;
  const std::string where = table.file() + " line " + std::to_string(table.header_line());
  Faults faults;
  const auto take = [&](std::string& into, const std::string& column) {
    if (!into.empty())
      faults.push_back({ErrorKind::kInvalid,
                        "columns '" + into + "' and '" + column + "' say the same", where,
                        "keep one of them, or give the other a heading of its own"});
    into = column;
  };
  for (const std::string& column : table.columns()) {
    const Heading heading = heading_of(column);
    if (heading.column == "seed_lot") take(columns.lot, column);
    if (heading.column != "seed_on_hand") continue;
    take(columns.amount, column);
    columns.unit = heading.unit;
  }
  if (columns.lot.empty())
    faults.push_back(
        {ErrorKind::kInvalid, "no column holds the seed lots", where, "head it Seed lot"});
  if (columns.amount.empty())
    faults.push_back({ErrorKind::kInvalid, "no column holds the seed on hand", where,
                      "head it Seed on hand (g)"});
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return columns;
}

}  // namespace

Checked<std::map<std::string, Kilograms>> read_seed_on_hand(std::string_view text,
                                                            const std::string& file) {
  const auto table = Table::parse(text, file);
  if (!table) return std::unexpected(table.error());
  const auto columns = store_columns(*table);
  if (!columns) return std::unexpected(columns.error());
  std::map<std::string, Kilograms> on_hand;
  Faults faults;
  for (const CsvRow& row : table->rows()) {
    const std::string amount = cell_text(*table, row, columns->amount);
    if (amount.empty()) continue;
    const std::string lot = cell_text(*table, row, columns->lot);
    const auto mass = mass_of(amount, columns->unit);
    if (!mass)
      faults.push_back({ErrorKind::kInvalid, "'" + amount + "' is no amount of seed",
                        table->place(row, columns->amount),
                        "write a number and kg, g, lb or oz behind it, or the unit into the "
                        "heading"});
    else if (lot.empty())
      faults.push_back({ErrorKind::kInvalid, "of which seed lot this is on hand is not stated",
                        table->place(row, columns->amount),
                        "name the lot, or take the amount out"});
    else
      on_hand[lot] = on_hand[lot] + *mass;
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return on_hand;
}

}  // namespace ligule::files
