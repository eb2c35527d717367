#include "sync/results/entry_names.h"

#include <algorithm>
#include <utility>

#include "storage/files/alike_names.h"
#include "sync/results/labels.h"
#include "sync/results/numbered_labels.h"

namespace ligule::results {
namespace {

std::string in_marks(const std::string& name) {
  return "\"" + name + "\"";
}

// "tall_fescue", "Tall fescue" and "tall fescue" are one species.
std::string plain_species(const std::string& name) {
  std::string plain;
  for (const char c : name)
    plain += c == '_' || c == '-' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return plain;
}

Variety stated_by_plan(const PlanEntry& entry, const Definitions& definitions) {
  Variety variety;
  const Species* const species = definitions.find_species(entry.species);
  variety.species = species == nullptr ? entry.species : species->name;
  variety.check = entry.role == EntryRole::kCheck;
  if (entry.endophyte == Endophyte::kNotStated) return variety;
  variety.endophyte =
      std::string(name_of(entry.endophyte)) + (entry.strain.empty() ? "" : " " + entry.strain);
  variety.endophyte_stated_by = entry.endophyte_percent.empty() ? "the entrant" : "a test";
  return variety;
}

Error alike_notice(const AlikeNames& names) {
  return {ErrorKind::kConflict,
          in_marks(names.first) +
              (names.letter_apart ? " is a letter away from " : " is spelled otherwise than ") +
              in_marks(names.second) + "; they count as two entries",
          "names", "say which in a file for --aliases: one by same_as, two by differs_from"};
}

}  // namespace

EntryNames::EntryNames(std::vector<Alias> aliases, Varieties varieties,
                       std::vector<NamesApart> apart)
    : aliases_(std::move(aliases)), varieties_(std::move(varieties)), apart_(std::move(apart)) {
  for (const Variety& variety : varieties_.all())
    if (!variety.species.empty()) species_[variety.name].insert(plain_species(variety.species));
}

void EntryNames::take(std::vector<PlotValue>& values) {
  aliases_.apply(values);
  Numbering<Label> entries;
  for (const PlotValue& value : values) static_cast<void>(entries.of(value.entry));
  labels_.insert(entries.keys().begin(), entries.keys().end());
}

void EntryNames::rename(std::vector<PlotYield>& plots) const {
  for (PlotYield& plot : plots) plot.entry = aliases_.label_for(plot.entry, plot.year);
}

void EntryNames::know(const Plan& plan, std::optional<int> year, const Definitions& definitions) {
  for (const PlanEntry& entry : plan.entries) {
    if (entry.role == EntryRole::kFiller) continue;
    Variety variety = stated_by_plan(entry, definitions);
    variety.name = aliases_.label_for(entry.label(), year);
    if (!variety.species.empty()) {
      for (const std::string& label : {variety.name, entry.label()})
        species_[label].insert(plain_species(variety.species));
    }
    varieties_.also(variety);
  }
}

std::vector<Error> EntryNames::faults() const {
  std::vector<Error> all = aliases_.faults();
  // What is known of a name that counts under another one would else say nothing: a withheld entry
  // would be printed.
  for (const Variety& variety : varieties_.all()) {
    const std::string label = aliases_.label_for(variety.name, std::nullopt);
    if (variety.where.empty() || label == variety.name) continue;
    all.push_back({ErrorKind::kConflict,
                   in_marks(variety.name) + " counts under " + in_marks(label) + " by an alias",
                   variety.where + ", column name", "say what is known under that name"});
  }
  const std::vector<std::string> labels(labels_.begin(), labels_.end());
  std::ranges::move(printed_twice(labels, varieties_), std::back_inserter(all));
  return all;
}

std::vector<Error> EntryNames::notices() const {
  std::vector<Error> all = aliases_.notices();
  for (const Variety& variety : varieties_.all()) {
    if (variety.where.empty() || labels_.contains(variety.name)) continue;
    all.push_back({ErrorKind::kNotFound,
                   in_marks(variety.name) + " occurs nowhere in these results", variety.where,
                   "write it as the results do, or leave it for another year"});
  }
  for (const NamesApart& apart : apart_) {
    for (const std::string& name : {apart.name, apart.differs_from}) {
      if (labels_.contains(name)) continue;
      all.push_back({ErrorKind::kNotFound, in_marks(name) + " occurs nowhere in these results",
                     apart.where, "write it as the results do, or leave it for another year"});
    }
  }
  for (const AlikeNames& names : alike()) all.push_back(alike_notice(names));
  return all;
}

std::vector<AlikeNames> EntryNames::alike() const {
  std::vector<AlikeNames> open = looking_alike();
  std::erase_if(open, [this](const AlikeNames& names) { return decision_on(names) != nullptr; });
  return open;
}

std::vector<NamesApart> EntryNames::apart() const {
  std::vector<NamesApart> decided;
  for (const AlikeNames& names : looking_alike()) {
    const NamesApart* const decision = decision_on(names);
    if (decision != nullptr) decided.push_back(*decision);
  }
  return decided;
}

const NamesApart* EntryNames::decision_on(const AlikeNames& names) const {
  const auto found = std::ranges::find_if(
      apart_, [&names](const NamesApart& apart) { return apart.is_of(names.first, names.second); });
  return found == apart_.end() ? nullptr : &*found;
}

std::vector<AlikeNames> EntryNames::looking_alike() const {
  std::vector<NamedEntry> entries;
  for (const std::string& label : labels_) {
    const auto found = species_.find(label);
    entries.push_back({label, found == species_.end() ? std::set<std::string>() : found->second});
  }
  return alike_names(entries, aliases_.all());
}

std::vector<std::string> EntryNames::withheld() const {
  std::vector<std::string> labels;
  for (const std::string& label : labels_)
    if (!varieties_.printed(label)) labels.push_back(label);
  return labels;
}

std::optional<std::string> EntryNames::printed(const std::string& label,
                                               std::optional<int> year) const {
  return varieties_.printed(aliases_.label_for(label, year));
}

std::vector<PlotYield> EntryNames::printed(const std::vector<PlotYield>& plots) const {
  return printed_rows(plots, &PlotYield::entry, varieties_.names());
}

void EntryNames::tell(ReportText& text) const {
  text.known = varieties_;
  for (AliasApplied& alias : aliases_.applied()) {
    const auto name = varieties_.printed(alias.name);  // in the years before it counts for
    const auto same_as = varieties_.printed(alias.same_as);
    if (!name || !same_as) continue;
    alias.name = *name;
    alias.same_as = *same_as;
    text.aliases.push_back(std::move(alias));
  }
  for (AlikeNames& names : alike()) {
    const auto first = varieties_.printed(names.first);
    const auto second = varieties_.printed(names.second);
    if (!first || !second) continue;
    text.alike.push_back({*first, *second, names.letter_apart});
  }
  for (NamesApart& apart : apart()) {
    const auto name = varieties_.printed(apart.name);
    const auto other = varieties_.printed(apart.differs_from);
    if (!name || !other) continue;
    apart.name = *name;
    apart.differs_from = *other;
    text.apart.push_back(std::move(apart));
  }
}

std::string told(const NamesApart& apart) {
  return in_marks(apart.name) + " and " + in_marks(apart.differs_from) +
         " look alike and are two entries, decided by " + apart.decided_by +
         (apart.note.empty() ? std::string() : " (" + apart.note + ")");
}

std::string told(const AliasApplied& alias) {
  return in_marks(alias.name) + " counts under " + in_marks(alias.same_as) +
         (alias.from_year ? " from " + std::to_string(*alias.from_year) + " on" : std::string()) +
         ": " + count_of(alias.values, "value") + " in " + count_of(alias.tests, "test") +
         ", decided by " + alias.decided_by +
         (alias.note.empty() ? std::string() : " (" + alias.note + ")");
}

}  // namespace ligule::results
