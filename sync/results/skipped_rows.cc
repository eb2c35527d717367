#include "sync/results/skipped_rows.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using OccasionOf = std::pair<std::optional<int>, std::string_view>;  // year, cutting
using PlotKey = std::tuple<std::string_view, std::optional<int>, std::string_view, std::string_view,
                           std::string_view, std::string_view>;

struct RowClaim {
  const PlotValue* value = nullptr;  // never null
  std::size_t line = 0;
  bool good = true;
  bool readable = true;  // its value is what the row says
};

OccasionOf occasion_of(const PlotValue& value) {
  return {value.year, value.cutting};
}

std::string line_of(const std::string& name, std::size_t line) {
  return name + " line " + std::to_string(line);
}

std::string occasion_words(const OccasionOf& occasion) {
  const auto& [year, cutting] = occasion;
  std::string words = year ? std::to_string(*year) : std::string();
  if (!cutting.empty()) words += (words.empty() ? "cutting " : ", cutting ") + std::string(cutting);
  return words.empty() ? "its only cutting" : words;
}

class Skipping {
 public:
  Skipping(const ValuesFile& file, const std::string& name) : file_(file), name_(name) {}

  SkippedRows run() {
    for (std::size_t i = 0; i < file_.values.size(); ++i) {
      const PlotValue& value = file_.values[i];
      bool& named = has_rep_[{value.test, occasion_of(value)}];
      named = named || !value.rep.empty();
      claims_[key_of(value)].push_back({&value, file_.lines[i]});
    }
    for (const BadRow& row : file_.bad) {
      ++out_.rows;
      if (fits(row)) {
        claims_[key_of(row.value)].push_back({&row.value, row.line, false, row.repeats});
      } else {
        ++out_.nowhere;
        nowhere_.push_back(&row);
      }
    }
    for (const auto& [key, claims] : claims_) settle(claims);
    for (const BadRow* row : nowhere_) tell_unscheduled(*row);
    return std::move(out_);
  }

 private:
  static PlotKey key_of(const PlotValue& v) {
    return {v.test, v.year, v.cutting, v.rep, v.entry, v.plot};
  }

  // Whether it can stand as a missing plot: one with a rep among published means can't.
  [[nodiscard]] bool fits(const BadRow& row) const {
    if (!row.placed) return false;
    const auto found = has_rep_.find({row.value.test, occasion_of(row.value)});
    return found == has_rep_.end() || found->second == !row.value.rep.empty();
  }

  void settle(const std::vector<RowClaim>& claims) {
    PlotValue kept = *claims.front().value;
    const bool agreed = std::ranges::all_of(claims, [&](const RowClaim& claim) {
      return claim.readable && claim.value->value == kept.value;
    });
    if (!agreed) {
      kept.value.reset();
      ++out_.missing;
      for (const RowClaim& claim : claims)
        if (claim.good) leave_out_too(claim, claims.back());
    }
    out_.values.push_back(std::move(kept));
  }

  void leave_out_too(const RowClaim& good, const RowClaim& other) {
    ++out_.rows;
    out_.notices.push_back({ErrorKind::kConflict,
                            "left out too: line " + std::to_string(other.line) +
                                " has the same plot and cutting, and nobody knows which counts",
                            line_of(name_, good.line), "keep the one that is right"});
  }

  // A row that can't be placed may have been all that there was of an entry in a cutting.
  void tell_unscheduled(const BadRow& row) {
    const PlotValue& lost = row.value;
    if (lost.test.empty() || lost.entry.empty()) return;
    std::set<OccasionOf> all;
    std::set<OccasionOf> with_entry;
    for (const PlotValue& value : out_.values) {
      if (value.test != lost.test) continue;
      all.insert(occasion_of(value));
      if (value.entry == lost.entry) with_entry.insert(occasion_of(value));
    }
    for (const OccasionOf& occasion : all) {
      if (with_entry.contains(occasion)) continue;
      if (row.occasion_known && occasion != occasion_of(lost)) continue;
      out_.notices.push_back({ErrorKind::kInvalid,
                              "entry \"" + lost.entry.text() + "\" of test " + lost.test.text() +
                                  " has no other row in " + occasion_words(occasion) +
                                  ", and counts as not scheduled there",
                              line_of(name_, row.line),
                              "mend the row: a total would lack that cutting"});
    }
  }

  const ValuesFile& file_;
  const std::string& name_;
  std::map<std::pair<std::string_view, OccasionOf>, bool> has_rep_;  // of good rows
  std::map<PlotKey, std::vector<RowClaim>> claims_;
  std::vector<const BadRow*> nowhere_;
  SkippedRows out_;
};

}  // namespace

SkippedRows without_bad_rows(const ValuesFile& file, const std::string& name) {
  return Skipping(file, name).run();
}

std::string left_out_words(const SkippedRows& skipped) {
  std::string words = count_of(skipped.rows, "bad row") + " left out";
  if (skipped.missing > 0)
    words += " (" + count_of(skipped.missing, "plot") +
             (skipped.missing == 1 ? " counts as missing)" : " count as missing)");
  return words;
}

}  // namespace ligule::results
