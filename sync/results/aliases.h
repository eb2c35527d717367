// aliases.csv: names that count under another one, and names that look alike and are two, because
// somebody decided so.
//
//   name,same_as,differs_from,from_year,decided_by,note
//
// `name` is a label as results print it (variety plus endophyte), `same_as` the label it is to
// count under; from_year: of values of that year and later (empty: of all). Applied to plot values
// before they are analysed, and told: nothing is ever joined because two names look alike. A row
// that says `differs_from` in place of `same_as` changes no value: the two names are no longer
// listed to be looked at, and who decided so is told.
//
// One variety under two endophyte statuses is never joined, and neither are two names that stood
// side by side in a test: whoever sowed them took them for two entries.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/error.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

struct Alias {
  std::string name;
  std::string same_as;
  std::optional<int> from_year;
  std::string decided_by;
  std::string note;   // may be empty
  std::string where;  // "aliases.csv line 3"
};

// Two names that are two entries.
struct NamesApart {
  std::string name;
  std::string differs_from;
  std::string decided_by;
  std::string note = {};   // may be empty
  std::string where = {};  // "aliases.csv line 3"

  [[nodiscard]] bool is_of(const std::string& one, const std::string& other) const {
    return (name == one && differs_from == other) || (name == other && differs_from == one);
  }
  bool operator==(const NamesApart&) const = default;
};

struct AliasFile {
  std::vector<Alias> aliases;     // of the rows without a fault, in the order of the lines
  std::vector<NamesApart> apart;  // as aliases
  std::vector<Error> faults;      // every one; chains and circles at the end
};

// What the text says; `name` stands in front of every fault. An error: this is no text at all.
[[nodiscard]] Result<AliasFile> parse_aliases(std::string_view text, const std::string& name);
// The same from a file. Errors: kNotFound, kIo, and what parse_aliases refuses.
[[nodiscard]] Result<AliasFile> read_aliases(files::FileSystem& files, const std::string& path);

// One alias and what counts under another name by it, for a report.
struct AliasApplied {
  std::string name;
  std::string same_as;
  std::optional<int> from_year;
  std::string decided_by;
  std::string note;
  std::size_t tests = 0;   // that such a value stands in
  std::size_t values = 0;  // of plots, yields and ratings alike; missing ones do not count

  bool operator==(const AliasApplied&) const = default;
};

// The aliases of a run, and what they came to.
class Aliases {
 public:
  Aliases() = default;
  explicit Aliases(std::vector<Alias> aliases);

  [[nodiscard]] const std::vector<Alias>& all() const { return aliases_; }
  // The label that a value of that year counts under. A value without a year is not after any.
  [[nodiscard]] std::string label_for(const std::string& label, std::optional<int> year) const;
  // `values` are of one measure, of whole tests.
  void apply(std::vector<PlotValue>& values);

  // Of all that was applied so far. Aliases that nothing counts by are in notices() instead.
  [[nodiscard]] std::vector<AliasApplied> applied() const;
  // Names side by side, and a name that would change inside a test: its plots hold one entry.
  [[nodiscard]] std::vector<Error> faults() const;
  [[nodiscard]] std::vector<Error> notices() const;

 private:
  struct Met {
    std::size_t values = 0, rows = 0;  // that count by it
    std::set<std::string> tests;
    std::size_t before = 0, undated = 0;  // rows that keep their name
    std::set<std::string> tests_before;   // that rows of years before stand in
  };

  [[nodiscard]] const Alias* counts_by(const std::string& label, std::optional<int> year) const;
  void note_side_by_side(const std::vector<PlotValue>& values,
                         const std::vector<std::string>& names);

  std::vector<Alias> aliases_;
  std::map<std::string, std::size_t, std::less<>> by_name_;
  std::set<std::string, std::less<>> targets_;
  std::vector<Met> met_;
  std::vector<Error> faults_;
  std::set<std::string> told_;  // tests and names that a fault names already
};

}  // namespace ligule::results
