// varieties.csv: what is known of entries besides their values, and how they are printed.
//
//   name,species,type,endophyte,endophyte_stated_by,market,publish_as,withheld,check,note
//
// `name` is a label as results print it; the other columns may be left out. What is withheld or
// published under another name is analysed like any other: only what is printed changes.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/error.h"
#include "sync/results/analysis.h"
#include "sync/results/long_term.h"
#include "sync/results/market.h"
#include "sync/results/printed_name.h"

namespace ligule::results {

struct Variety {
  std::string name;     // its label; in Varieties::printed() the one it is printed under
  std::string species;  // as a person would say it
  std::string type;     // "late", "fall dormancy 4"
  std::string endophyte;
  std::string endophyte_stated_by;
  Market market = Market::kNotStated;
  std::string publish_as = {};  // empty: its own name
  bool withheld = false;        // analysed, not printed
  bool check = false;
  std::string note = {};
  std::string where = {};  // "varieties.csv line 4"; empty: no file says it

  bool operator==(const Variety&) const = default;
};

class Varieties {
 public:
  Varieties() = default;
  explicit Varieties(std::vector<Variety> varieties);

  [[nodiscard]] const std::vector<Variety>& all() const { return all_; }
  // Null where nothing is known of it.
  [[nodiscard]] const Variety* find(std::string_view label) const;
  // What a plan says of an entry; what stands here already goes before it.
  void also(const Variety& stated);
  // The name it is printed under; empty: it is withheld.
  [[nodiscard]] std::optional<std::string> printed(const std::string& label) const;
  // Whether any is withheld or printed under another name.
  [[nodiscard]] bool changes_names() const;
  // The same as a function; this must outlive it.
  [[nodiscard]] PrintedName names() const;
  // Those that are printed, by the name they are printed under, for whoever prints.
  [[nodiscard]] Varieties printed() const;

 private:
  std::vector<Variety> all_;
  std::map<std::string, std::size_t, std::less<>> places_;
};

struct VarietiesFile {
  std::vector<Variety> varieties;  // of the rows without a fault, in the order of the lines
  std::vector<Error> faults;
};

// What the text says; `name` stands in front of every fault. An error: this is no text at all.
[[nodiscard]] Result<VarietiesFile> parse_varieties(std::string_view text, const std::string& name);
// The same from a file. Errors: kNotFound, kIo, and what parse_varieties refuses.
[[nodiscard]] Result<VarietiesFile> read_varieties(files::FileSystem& files,
                                                   const std::string& path);

// Names of two entries that would be printed as one; `labels` are all of a run, withheld ones too.
[[nodiscard]] std::vector<Error> printed_twice(std::span<const std::string> labels,
                                               const Varieties& varieties);

// How many entries of a test are analysed and not printed.
struct WithheldCount {
  std::string test;
  std::size_t entries = 0;

  bool operator==(const WithheldCount&) const = default;
};

struct PrintedAnalyses {
  std::vector<Analysis> analyses;
  std::vector<WithheldCount> withheld;  // of tests that have any, in the order of the analyses
};

// What is printed of analyses: names as published, in byte order, withheld entries left out. Every
// figure stays as analysed, ranks and marks too, so the first rank may be missing.
[[nodiscard]] PrintedAnalyses printed(std::span<const Analysis> analyses,
                                      const Varieties& varieties);
// The same of a summary that was made of all entries.
[[nodiscard]] std::vector<LongTermRow> printed(std::vector<LongTermRow> rows,
                                               const Varieties& varieties);

}  // namespace ligule::results
