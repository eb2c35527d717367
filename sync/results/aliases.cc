#include "sync/results/aliases.h"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "storage/trial/number.h"
#include "sync/results/entry_label.h"
#include "sync/results/name_table.h"

namespace ligule::results {
namespace {

constexpr std::array<NameColumn, 6> kAliasColumns{{{"name", true},
                                                   {"same_as", false},
                                                   {"differs_from", false},
                                                   {"from_year", false},
                                                   {"decided_by", true},
                                                   {"note", false}}};

std::string in_marks_of(const std::string& text) {
  return "\"" + text + "\"";
}

std::optional<int> year_in(NameRow& row) {
  const std::string text = row.text("from_year");
  if (text.empty()) return std::nullopt;
  const auto year = parse_integer(text);
  if (year && *year >= 1 && *year <= 9999) return static_cast<int>(*year);
  row.fault("from_year", in_marks_of(text) + " is no year",
            "write the first year it counts for as 2024, or nothing for all years");
  return std::nullopt;
}

// Why two labels can't be one entry, whatever anybody decided.
void refuse_two_endophytes(NameRow& row, const Alias& alias) {
  const EntryLabel name = split_label(alias.name);
  const EntryLabel same_as = split_label(alias.same_as);
  if (same_endophyte(name, same_as)) return;
  row.fault("same_as",
            in_marks_of(alias.name) + " (" + endophyte_words(name) + ") and " +
                in_marks_of(alias.same_as) + " (" + endophyte_words(same_as) + ") are two entries",
            "one variety under two endophyte statuses is never joined: take the row out");
}

void read_apart(NameRow& row, AliasFile& file) {
  const std::size_t before = row.faults();
  NamesApart apart{row.text("name"), row.text("differs_from"), row.text("decided_by"),
                   row.text("note"), row.place()};
  if (!row.text("same_as").empty()) {
    row.fault("differs_from", "two names are one or they are two, not both",
              "fill in same_as or differs_from, and leave the other empty");
  }
  if (!row.text("from_year").empty()) {
    row.fault("from_year", "two names differ in every year", "leave it empty beside differs_from");
  }
  if (apart.name == apart.differs_from) {
    row.fault("differs_from", in_marks_of(apart.name) + " is the same name",
              "write the name that it is taken for, or take the row out");
  }
  const auto twice = std::ranges::find_if(file.apart, [&](const NamesApart& other) {
    return other.is_of(apart.name, apart.differs_from);
  });
  if (twice != file.apart.end()) {
    row.fault("name", "these two names stand already, at " + twice->where, "keep one of the rows");
  }
  if (row.faults() == before) file.apart.push_back(std::move(apart));
}

void read_alias(NameRow& row, AliasFile& file) {
  if (!row.text("differs_from").empty()) {
    read_apart(row, file);
    return;
  }
  if (row.text("same_as").empty()) {
    row.fault("same_as", "the cell is empty",
              "write the name it counts under, or in differs_from the one that it is not");
    return;
  }
  const std::size_t before = row.faults();
  Alias alias{row.text("name"),       row.text("same_as"), year_in(row),
              row.text("decided_by"), row.text("note"),    row.place()};
  const auto twice = std::ranges::find(file.aliases, alias.name, &Alias::name);
  if (twice != file.aliases.end()) {
    row.fault("name",
              in_marks_of(alias.name) + " already counts under another name, at " + twice->where,
              "keep one of the rows");
  }
  if (alias.name == alias.same_as) {
    row.fault("same_as", in_marks_of(alias.name) + " is the same name",
              "write the name it is to count under, or take the row out");
  } else {
    refuse_two_endophytes(row, alias);
  }
  if (row.faults() == before) file.aliases.push_back(std::move(alias));
}

const Alias* alias_of(const std::vector<Alias>& aliases, const std::string& name) {
  const auto found = std::ranges::find(aliases, name, &Alias::name);
  return found == aliases.end() ? nullptr : &*found;
}

// One step only, so that each row says what a name counts under.
void refuse_chains(AliasFile& file) {
  for (const Alias& alias : file.aliases) {
    const Alias* next = alias_of(file.aliases, alias.same_as);
    if (next == nullptr) continue;
    const Alias* last = next;
    std::size_t steps = 0;
    for (; steps < file.aliases.size(); ++steps) {
      const Alias* further = alias_of(file.aliases, last->same_as);
      if (further == nullptr) break;
      last = further;
    }
    const bool circle = steps == file.aliases.size();
    file.faults.push_back(
        {ErrorKind::kInvalid,
         in_marks_of(alias.same_as) + (circle ? " leads back to itself: it" : " itself") +
             " counts under " + in_marks_of(next->same_as) + ", at " + next->where,
         alias.where + ", column same_as",
         circle ? "decide which name results use, and take out the row that renames it"
                : "write " + in_marks_of(last->same_as) + " as the same_as of " +
                      in_marks_of(alias.name)});
  }
}

// Names that one row joins and another holds apart.
void refuse_both(AliasFile& file) {
  const auto counts_under = [&file](const std::string& name) {
    const Alias* const alias = alias_of(file.aliases, name);
    return alias == nullptr ? name : alias->same_as;
  };
  for (const NamesApart& apart : file.apart) {
    const std::string under = counts_under(apart.name);
    if (under != counts_under(apart.differs_from)) continue;
    file.faults.push_back({ErrorKind::kInvalid,
                           in_marks_of(apart.name) + " and " + in_marks_of(apart.differs_from) +
                               " both count under " + in_marks_of(under),
                           apart.where + ", column differs_from",
                           "decide whether they are one or two, and take a row out"});
  }
}

// What of a test may come to stand together in one rep under one name.
struct InRep {
  std::set<std::pair<std::optional<int>, std::string>> cuttings;
  std::set<std::string> plots;
};

bool includes(const std::set<std::string>& all, const std::set<std::string>& some) {
  return std::ranges::includes(all, some);
}

// Two names of one plot follow each other over the years; two plots stand beside each other.
bool side_by_side(const InRep& a, const InRep& b) {
  for (const auto& cutting : a.cuttings)
    if (b.cuttings.contains(cutting)) return true;
  return !includes(a.plots, b.plots) && !includes(b.plots, a.plots);
}

}  // namespace

Result<AliasFile> parse_aliases(std::string_view text, const std::string& name) {
  AliasFile file;
  const auto read = read_name_table(text, name, kAliasColumns, file.faults,
                                    [&](NameRow& row) { read_alias(row, file); });
  if (!read) return std::unexpected(read.error());
  refuse_chains(file);
  refuse_both(file);
  return file;
}

Result<AliasFile> read_aliases(files::FileSystem& files, const std::string& path) {
  const Result<std::string> text = name_table_text(files, path);
  if (!text) return std::unexpected(text.error());
  return parse_aliases(*text, path);
}

Aliases::Aliases(std::vector<Alias> aliases) : aliases_(std::move(aliases)), met_(aliases_.size()) {
  for (std::size_t i = 0; i < aliases_.size(); ++i) {
    by_name_[aliases_[i].name] = i;
    targets_.insert(aliases_[i].same_as);
  }
}

const Alias* Aliases::counts_by(const std::string& label, std::optional<int> year) const {
  const auto found = by_name_.find(label);
  if (found == by_name_.end()) return nullptr;
  const Alias& alias = aliases_[found->second];
  return !alias.from_year || (year && *year >= *alias.from_year) ? &alias : nullptr;
}

std::string Aliases::label_for(const std::string& label, std::optional<int> year) const {
  const Alias* alias = counts_by(label, year);
  return alias == nullptr ? label : alias->same_as;
}

void Aliases::apply(std::vector<PlotValue>& values) {
  if (aliases_.empty()) return;
  std::vector<std::string> names;  // as they were
  names.reserve(values.size());
  for (PlotValue& value : values) {
    names.push_back(value.entry);
    const auto found = by_name_.find(value.entry);
    if (found == by_name_.end()) continue;
    Met& met = met_[found->second];
    if (counts_by(value.entry, value.year) == nullptr) {
      ++(value.year ? met.before : met.undated);
      if (value.year) met.tests_before.insert(value.test);
      continue;
    }
    ++met.rows;
    if (value.value) ++met.values;
    met.tests.insert(value.test);
    value.entry = aliases_[found->second].same_as;
  }
  note_side_by_side(values, names);
}

void Aliases::note_side_by_side(const std::vector<PlotValue>& values,
                                const std::vector<std::string>& names) {
  using Rep = std::tuple<std::string_view, std::string_view, std::string_view>;  // test, entry, rep
  std::map<Rep, std::map<std::string_view, InRep>> reps;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const PlotValue& value = values[i];
    if (!targets_.contains(value.entry)) continue;
    InRep& in = reps[{value.test, value.entry, value.rep}][names[i]];
    in.cuttings.insert({value.year, value.cutting});
    in.plots.insert(value.plot);
  }
  for (const auto& [rep, by_name] : reps) {
    const auto& [test, entry, block] = rep;
    for (auto a = by_name.begin(); a != by_name.end(); ++a) {
      for (auto b = std::next(a); b != by_name.end(); ++b) {
        if (!side_by_side(a->second, b->second)) continue;
        const std::string first(a->first);
        const std::string second(b->first);
        std::string pair(test);
        pair += '\n';
        pair += first;
        pair += '\n';
        pair += second;
        if (!told_.insert(std::move(pair)).second) continue;
        const Alias* alias = alias_of(aliases_, first);
        if (alias == nullptr) alias = alias_of(aliases_, second);
        faults_.push_back({ErrorKind::kConflict,
                           in_marks_of(first) + " and " + in_marks_of(second) +
                               " stand side by side in test " + std::string(test) +
                               (block.empty() ? std::string() : ", rep " + std::string(block)) +
                               ": they were sown as two entries there",
                           alias->where,
                           "take the row out, or count it only from a year after that test on"});
      }
    }
  }
}

std::vector<Error> Aliases::faults() const {
  std::vector<Error> all = faults_;
  for (std::size_t i = 0; i < aliases_.size(); ++i) {
    for (const std::string& test : met_[i].tests_before) {
      if (!met_[i].tests.contains(test)) continue;
      all.push_back({ErrorKind::kConflict,
                     "\"" + aliases_[i].name + "\" would change its name inside test " + test +
                         ", whose plots hold one entry",
                     aliases_[i].where + ", column from_year",
                     "give a year that is not after the test's first, or leave it empty"});
    }
  }
  return all;
}

std::vector<AliasApplied> Aliases::applied() const {
  std::vector<AliasApplied> all;
  for (std::size_t i = 0; i < aliases_.size(); ++i) {
    if (met_[i].rows == 0) continue;
    const Alias& alias = aliases_[i];
    all.push_back({alias.name, alias.same_as, alias.from_year, alias.decided_by, alias.note,
                   met_[i].tests.size(), met_[i].values});
  }
  return all;
}

std::vector<Error> Aliases::notices() const {
  std::vector<Error> all;
  for (std::size_t i = 0; i < aliases_.size(); ++i) {
    const Alias& alias = aliases_[i];
    const Met& met = met_[i];
    if (met.rows + met.before + met.undated == 0) {
      all.push_back({ErrorKind::kNotFound,
                     in_marks_of(alias.name) + " occurs nowhere in these results", alias.where,
                     "write it as the results do, or leave it for another year"});
    } else if (met.undated > 0) {
      all.push_back({ErrorKind::kInvalid,
                     in_marks_of(alias.name) + " keeps its name where no year is given (" +
                         std::to_string(met.undated) + (met.undated == 1 ? " row)" : " rows)"),
                     alias.where, "give the years, or leave from_year empty"});
    } else if (met.rows == 0) {
      all.push_back({ErrorKind::kNotFound,
                     in_marks_of(alias.name) + " occurs only before " +
                         std::to_string(alias.from_year.value_or(0)) +
                         ", so nothing counts under " + in_marks_of(alias.same_as),
                     alias.where, "mend from_year, or leave it for another year"});
    }
  }
  return all;
}

}  // namespace ligule::results
