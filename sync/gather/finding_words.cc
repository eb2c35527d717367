#include "sync/gather/finding_words.h"

#include <cmath>
#include <string_view>

#include "storage/trial/number.h"

namespace ligule::gather {
namespace {

// An end that is not limited is a number as "\u2026", of a scale "-", either with its unit.
struct End {
  std::string number;  // empty: not limited
  std::string unit;    // with a blank before it
};
End end_of(const std::string& text) {
  constexpr std::string_view kBlank = "\u00a0";
  const std::size_t blank = text.find(kBlank);
  End end{text.substr(0, blank), {}};
  if (blank != std::string::npos) end.unit = " " + text.substr(blank + kBlank.size());
  if (end.number == "\u2026" || end.number == "-") end.number.clear();
  return end;
}

// "4 to 20 lb", of one end "4 lb or more", "20 lb or less".
std::string between(const std::string& lowest, const std::string& highest) {
  const End low = end_of(lowest);
  const End high = end_of(highest);
  const std::string& unit = high.unit.empty() ? low.unit : high.unit;
  if (high.number.empty()) return low.number + unit + " or more";
  if (low.number.empty()) return high.number + unit + " or less";
  return low.number + " to " + high.number + unit;
}
std::string usual(const std::string& lowest, const std::string& highest) {
  const bool both = !end_of(lowest).number.empty() && !end_of(highest).number.empty();
  return between(lowest, highest) + (both ? " are usual" : " is usual");
}

}  // namespace

std::string shown(double number) {
  return format_number(std::round(number * 100) / 100);
}

std::string words_of(const checks::Finding& finding) {
  const auto argument = [&](std::size_t n) {
    return n < finding.arguments.size() ? finding.arguments[n] : std::string("?");
  };
  const std::string_view code = finding.rule->code;
  if (code == "off_scale")
    return "is outside of what the scale takes, " + between(argument(0), argument(1));
  if (code == "between_steps")
    return "lies between " + argument(0) + " and " + argument(1) + ", which its scale has";
  if (code == "gross_under_tare") return "leaves nothing: gross is not more than tare";
  if (code == "sample_under_bag") return "is no more than its bag weighs";
  if (code == "dry_over_fresh") return "is more than the fresh sample";
  if (code == "dry_under_bag") return "is no more than its bag weighs";
  if (code == "same_weight") return "is what plot " + argument(1) + " before it weighed, too";
  if (code == "tare_differs") return "is more than a fifth off the tare before it, " + argument(0);
  if (code == "dry_matter_unusual")
    return "makes " + argument(0) + " percent of dry matter, where " +
           usual(argument(1), argument(2));
  if (code == "yield_unusual")
    return "makes about " + argument(0) + " ton/acre of dry matter, where " +
           usual(argument(1), argument(2));
  if (code == "season_yield_unusual")
    return "makes at least " + argument(0) + " ton/acre of dry matter with the year's earlier " +
           "cuttings, where a season gives " + argument(1) + " at most";
  if (code == "weight_unexpected") return "is far from what the other plots let one expect";
  if (code == "weighed_twice") return "is of a plot that was weighed before, " + argument(0);
  if (code == "weight_without_stand") return "is of a plot that was rated as having no stand";
  if (code == "weight_abandoned")
    return "is of a plot that was abandoned on " + argument(0) + ", and counts in no table";
  if (code == "cut_again_soon") return "is of a trial that was cut " + argument(0) + " days before";
  if (code == "unusual") return "is unusual: mostly it is " + between(argument(1), argument(2));
  if (code == "stand_rose") return "is far better than the plot stood earlier in the season";
  if (code == "stage_went_back") return "is further back than the stage that the plot had before";
  if (code == "stubble_low")
    return "is lower than the " + end_of(argument(0)).number + end_of(argument(0)).unit +
           " that what grows there bears";
  if (code == "out_of_limits")
    return "can't be meant: only " + between(argument(1), argument(2)) + " is possible";
  if (code == "bag_in_use") return "is the number of another bag that is still open";
  if (code == "before_sowing")
    return "is of " + argument(0) + ", before the sowing of " + argument(1);
  if (code == "in_future") return "is of " + argument(0) + ", which is still to come";
  return "is questioned";
}

}  // namespace ligule::gather
