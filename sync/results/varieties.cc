#include "sync/results/varieties.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "sync/results/entry_label.h"
#include "sync/results/name_table.h"

namespace ligule::results {
namespace {

constexpr std::array<NameColumn, 10> kVarietyColumns{{{"name", true},
                                                      {"species", false},
                                                      {"type", false},
                                                      {"endophyte", false},
                                                      {"endophyte_stated_by", false},
                                                      {"market", false},
                                                      {"publish_as", false},
                                                      {"withheld", false},
                                                      {"check", false},
                                                      {"note", false}}};
constexpr std::array<Market, 3> kMarkets{Market::kNotStated, Market::kOnSale,
                                         Market::kExperimental};

std::string in_quotes(const std::string& text) {
  return "\"" + text + "\"";
}

Market market_in(NameRow& row) {
  const std::string text = row.text("market");
  for (const Market market : kMarkets)
    if (name_of(market) == text) return market;
  row.fault("market", in_quotes(text) + " is not known here",
            "write on sale, experimental or nothing");
  return Market::kNotStated;
}

// What a label or a cell says of the endophyte must not depart from what the name says: seed of
// another status is another entry, and a dangerous one to mistake.
void refuse_other_endophyte(NameRow& row, std::string_view column, const Variety& variety,
                            const EntryLabel& said) {
  const EntryLabel name = split_label(variety.name);
  if (name.endophyte == Endophyte::kNotStated || said.endophyte == Endophyte::kNotStated ||
      name.endophyte == said.endophyte)
    return;
  row.fault(column,
            "the name says " + endophyte_words(name) + ", this says " + endophyte_words(said),
            "mend one of them: one variety under two statuses is two entries");
}

void read_variety(NameRow& row, VarietiesFile& file) {
  const std::size_t before = row.faults();
  Variety variety{row.text("name"),
                  row.text("species"),
                  row.text("type"),
                  row.text("endophyte"),
                  row.text("endophyte_stated_by"),
                  market_in(row),
                  row.text("publish_as"),
                  row.yes("withheld"),
                  row.yes("check"),
                  row.text("note"),
                  row.place()};
  const auto twice = std::ranges::find(file.varieties, variety.name, &Variety::name);
  if (twice != file.varieties.end()) {
    row.fault("name", in_quotes(variety.name) + " stands twice, first at " + twice->where,
              "keep one of the rows");
  }
  refuse_other_endophyte(row, "endophyte", variety, split_label("- (" + variety.endophyte + ")"));
  refuse_other_endophyte(row, "publish_as", variety, split_label(variety.publish_as));
  if (row.faults() == before) file.varieties.push_back(std::move(variety));
}

void fill_in(std::string& empty, const std::string& stated) {
  if (empty.empty()) empty = stated;
}

}  // namespace

std::string_view name_of(Market market) {
  switch (market) {
    case Market::kNotStated:
      return "";
    case Market::kOnSale:
      return "on sale";
    case Market::kExperimental:
      return "experimental";
  }
  std::unreachable();
}

Varieties::Varieties(std::vector<Variety> varieties) : all_(std::move(varieties)) {
  for (std::size_t i = 0; i < all_.size(); ++i) places_.emplace(all_[i].name, i);
}

const Variety* Varieties::find(std::string_view label) const {
  const auto found = places_.find(label);
  return found == places_.end() ? nullptr : &all_[found->second];
}

void Varieties::also(const Variety& stated) {
  const auto [found, is_new] = places_.emplace(stated.name, all_.size());
  if (is_new) {
    all_.push_back(stated);
    return;
  }
  Variety& known = all_[found->second];
  fill_in(known.species, stated.species);
  fill_in(known.type, stated.type);
  // Who states a status goes with the status.
  if (known.endophyte.empty()) {
    known.endophyte = stated.endophyte;
    fill_in(known.endophyte_stated_by, stated.endophyte_stated_by);
  }
  known.check = known.check || stated.check;
}

std::optional<std::string> Varieties::printed(const std::string& label) const {
  const Variety* variety = find(label);
  if (variety == nullptr) return label;
  if (variety->withheld) return std::nullopt;
  return variety->publish_as.empty() ? label : variety->publish_as;
}

bool Varieties::changes_names() const {
  return std::ranges::any_of(
      all_, [](const Variety& each) { return each.withheld || !each.publish_as.empty(); });
}

PrintedName Varieties::names() const {
  return [this](const std::string& label) { return printed(label); };
}

Varieties Varieties::printed() const {
  std::vector<Variety> shown;
  for (const Variety& variety : all_) {
    const auto name = printed(variety.name);
    if (!name) continue;
    shown.push_back(variety);
    shown.back().name = *name;
    shown.back().publish_as.clear();
  }
  return Varieties(std::move(shown));
}

Result<VarietiesFile> parse_varieties(std::string_view text, const std::string& name) {
  VarietiesFile file;
  const auto read = read_name_table(text, name, kVarietyColumns, file.faults,
                                    [&](NameRow& row) { read_variety(row, file); });
  if (!read) return std::unexpected(read.error());
  return file;
}

Result<VarietiesFile> read_varieties(files::FileSystem& files, const std::string& path) {
  const Result<std::string> text = name_table_text(files, path);
  if (!text) return std::unexpected(text.error());
  return parse_varieties(*text, path);
}

std::vector<Error> printed_twice(std::span<const std::string> labels, const Varieties& varieties) {
  std::map<std::string, std::string> label_of;  // by the name in print
  for (const std::string& label : labels) label_of.emplace(label, label);
  // A name in print that is free because its own entry goes by another one.
  for (const std::string& label : labels) {
    const auto name = varieties.printed(label);
    if (name && *name != label) label_of.erase(label);
  }
  std::vector<Error> faults;
  for (const std::string& label : labels) {
    const auto name = varieties.printed(label);
    if (!name || *name == label) continue;
    const auto [other, is_new] = label_of.emplace(*name, label);
    if (is_new || other->second == label) continue;
    faults.push_back({ErrorKind::kConflict,
                      in_quotes(label) + " is to be published as " + in_quotes(*name) +
                          ", which is the name of " +
                          (other->second == *name ? std::string("another entry")
                                                  : in_quotes(other->second) + " in print"),
                      varieties.find(label)->where + ", column publish_as",
                      "publish them under two names; where they are one entry say so in the "
                      "aliases"});
  }
  return faults;
}

PrintedAnalyses printed(std::span<const Analysis> analyses, const Varieties& varieties) {
  PrintedAnalyses out;
  std::map<std::string_view, std::set<std::string_view>> withheld;
  for (const Analysis& analysis : analyses) {
    Analysis& shown = out.analyses.emplace_back(analysis);
    shown.means.clear();
    for (const EntryMean& entry : analysis.means) {
      const auto name = varieties.printed(entry.entry);
      if (name) {
        shown.means.push_back(entry);
        shown.means.back().entry = *name;
        continue;
      }
      auto& of_test = withheld[analysis.test];
      of_test.insert(entry.entry);
      if (out.withheld.empty() || out.withheld.back().test != analysis.test)
        out.withheld.push_back({analysis.test, 0});
      out.withheld.back().entries = of_test.size();
    }
    std::ranges::stable_sort(shown.means, {}, &EntryMean::entry);
  }
  return out;
}

std::vector<LongTermRow> printed(std::vector<LongTermRow> rows, const Varieties& varieties) {
  rows = printed_rows(std::move(rows), &LongTermRow::entry, varieties.names());
  std::ranges::stable_sort(rows, {}, &LongTermRow::entry);
  return rows;
}

}  // namespace ligule::results
