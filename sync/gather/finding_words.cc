#include "sync/gather/finding_words.h"

#include <string_view>

namespace ligule::gather {

std::string words_of(const checks::Finding& finding) {
  const auto argument = [&](std::size_t n) {
    return n < finding.arguments.size() ? finding.arguments[n] : std::string("?");
  };
  const std::string_view code = finding.rule->code;
  if (code == "off_scale")
    return "is outside of what the scale takes, " + argument(0) + " to " + argument(1);
  if (code == "gross_under_tare") return "leaves nothing: gross is not more than tare";
  if (code == "sample_under_bag") return "is no more than its bag weighs";
  if (code == "dry_over_fresh") return "is more than the fresh sample";
  if (code == "dry_under_bag") return "is no more than its bag weighs";
  if (code == "same_weight") return "is what plot " + argument(1) + " before it weighed, too";
  if (code == "tare_differs") return "is more than a fifth off the tare before it, " + argument(0);
  if (code == "dry_matter_unusual")
    return "makes " + argument(0) + " percent of dry matter, where " + argument(1) + " to " +
           argument(2) + " are usual";
  if (code == "yield_unusual")
    return "makes about " + argument(0) + " ton/acre of dry matter, where " + argument(1) + " to " +
           argument(2) + " are usual";
  if (code == "season_yield_unusual")
    return "makes at least " + argument(0) + " ton/acre of dry matter with the year's earlier " +
           "cuttings, where a season gives " + argument(1) + " at most";
  if (code == "weight_unexpected") return "is far from what the other plots let one expect";
  if (code == "weighed_twice") return "is of a plot that was weighed before, " + argument(0);
  if (code == "weight_without_stand") return "is of a plot that was rated as having no stand";
  if (code == "cut_again_soon") return "is of a trial that was cut " + argument(0) + " days before";
  if (code == "unusual") return "is unusual: mostly it is " + argument(1) + " to " + argument(2);
  if (code == "out_of_limits")
    return "can't be meant: only " + argument(1) + " to " + argument(2) + " is possible";
  if (code == "bag_in_use") return "is the number of another bag that is still open";
  if (code == "before_sowing")
    return "is of " + argument(0) + ", before the sowing of " + argument(1);
  if (code == "in_future") return "is of " + argument(0) + ", which is still to come";
  return "is questioned";
}

}  // namespace ligule::gather
