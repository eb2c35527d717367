// Slide: a run of plots was rated or weighed one stake off, so all it holds moves along the path.
//
// Everything that stands on a plot in the occasion moves: values, values on hold, "later", notes,
// and the sample bag with its own weights. The whole is one act of records (FORMAT.md, section 5):
// corrections where a slot had a value, readings where it was empty, withdrawals where it is left
// empty. Nothing here decides which plots slipped: a person names the run and how far.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/book.h"

namespace ligule::flow {

// All that stands on a plot in the book's occasion, acts under way counted in.
[[nodiscard]] Holding holding_of(const Model& model, const Book& book, const PlanPlot& plot);

// What a slide leaves without a place.
struct SlideLoss {
  std::string plot;  // where it stands now
  HeldKey what;
  KnownClaim claim;
  bool pushed_off = false;  // the path ends there; else a value of the run comes in its place

  bool operator==(const SlideLoss&) const = default;
};
// Why a run can't be slid as asked.
enum class SlideRefusal {
  kNothing,     // nothing stands on the run
  kConflict,    // several values stand on a plot: which of them would move?
  kComposite,   // a bag holds several plots: its number is no value of one of them
  kNotMeasured  // a plot it would come to cannot have the measure, or on another scale
};
struct SlideProblem {
  SlideRefusal why = SlideRefusal::kNothing;
  std::string plot;
  std::string measure;  // of kNotMeasured

  bool operator==(const SlideProblem&) const = default;
};
struct SlidePlan {
  std::vector<PlotHolding> before;  // every plot it touches, along the path
  std::vector<PlotHolding> after;   // the same plots; claims are those whose values they get
  std::vector<SlideLoss> lost;
  std::size_t moved = 0;  // claims that get another plot
  std::optional<SlideProblem> problem;
};

// run.from and run.to are plots of the book, in either order; run.by places along the path. With by
// 0 nothing is touched.
[[nodiscard]] SlidePlan plan_slide(const Model& model, const Book& book, const SlideRun& run);

}  // namespace ligule::flow
