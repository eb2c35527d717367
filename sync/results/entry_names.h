// The names of a run's entries, from plot values to print: which count under another one, which
// look alike, how each is printed.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "storage/trial/scale.h"
#include "sync/results/aliases.h"
#include "sync/results/alike_entries.h"
#include "sync/results/report.h"
#include "sync/results/varieties.h"
#include "sync/results/yields.h"

namespace ligule::results {

class EntryNames {
 public:
  EntryNames() = default;
  EntryNames(std::vector<Alias> aliases, Varieties varieties, std::vector<NamesApart> apart = {});

  // Every set of values (one measure, whole tests) before it is analysed: applies the aliases and
  // notes the labels.
  void take(std::vector<PlotValue>& values);
  // The same names for what tells of those plots, after their values were taken.
  void rename(std::vector<PlotYield>& plots) const;
  // What a plan says of its entries: species, endophyte, checks. `year`: one that has values of it.
  void know(const Plan& plan, std::optional<int> year, const Definitions& definitions);

  // Once all is taken. Faults: names side by side, two entries printed as one.
  [[nodiscard]] std::vector<Error> faults() const;
  // Names that occur nowhere, and names that look alike.
  [[nodiscard]] std::vector<Error> notices() const;
  [[nodiscard]] std::vector<AliasApplied> applied() const { return aliases_.applied(); }
  // Names that look alike and of which nobody has decided yet.
  [[nodiscard]] std::vector<AlikeNames> alike() const;
  // Those that look alike and are two, because somebody decided so.
  [[nodiscard]] std::vector<NamesApart> apart() const;
  // Labels of this run that are analysed and not printed.
  [[nodiscard]] std::vector<std::string> withheld() const;

  // How an entry of a plan is printed that was sown that year; empty: it is withheld.
  [[nodiscard]] std::optional<std::string> printed(const std::string& label,
                                                   std::optional<int> year) const;
  // Plots under the names they are printed by, those of withheld entries left out.
  [[nodiscard]] std::vector<PlotYield> printed(const std::vector<PlotYield>& plots) const;
  // What a report says of names, none of them withheld; report_file() needs what is known.
  void tell(ReportText& text) const;

 private:
  [[nodiscard]] std::vector<AlikeNames> looking_alike() const;
  [[nodiscard]] const NamesApart* decision_on(const AlikeNames& names) const;

  Aliases aliases_;
  Varieties varieties_;
  std::vector<NamesApart> apart_;
  std::set<std::string> labels_;
  std::map<std::string, std::set<std::string>> species_;  // by label, in small letters
};

// "\"LX 4\" counts under \"Alder Brook\" from 2024 on: 12 values in 2 tests, decided by MT (named
// at release)".
[[nodiscard]] std::string told(const AliasApplied& alias);
// "\"Corrawen\" and \"Corrowen\" look alike and are two entries, decided by MT (both on sale)".
[[nodiscard]] std::string told(const NamesApart& apart);

}  // namespace ligule::results
