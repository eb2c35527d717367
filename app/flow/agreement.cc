// How far those who rated the same plots twice agree, in plain words' numbers.
#include <algorithm>
#include <cmath>
#include <map>
#include <span>
#include <tuple>
#include <utility>

#include "app/flow/review.h"
#include "app/flow/view_parts.h"
#include "storage/checks/rating_drift.h"
#include "storage/checks/rating_offset.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

// Of whom, at what: the rater's values beside the other's.
using Twice = std::tuple<std::size_t, std::string, std::string>;  // measure, rater, other

// Percents in whole points, scores in tenths of one.
std::string points(double number, const Scale& scale) {
  const bool whole = scale.kind == ScaleKind::kPercent;
  return whole ? format_fixed(number, 0) : format_fixed(number, 1);
}

Lies lies_of(double mean, const Scale& scale) {
  if (points(std::abs(mean), scale) == points(0, scale)) return Lies::kLike;
  return mean > 0 ? Lies::kHigher : Lies::kLower;
}

// Block by block, where there are plots enough; the blocks are listed where chance alone would
// seldom part them so.
void add_blocks(std::span<const checks::RatedInBlock> values, const Scale& scale,
                AgreementRow& row) {
  const auto drift = checks::rating_drift(values);
  row.by_block = drift.has_value();
  if (!drift || drift->chance > checks::kDriftTold) return;
  for (const checks::BlockOffset& block : drift->blocks)
    row.blocks.push_back(
        {block.block, lies_of(block.mean, scale), points(std::abs(block.mean), scale)});
}

// One number read off by eye.
bool comparable(const Record& record, const Scale& scale) {
  return record.state == ValueState::kValue && record.value.has_value() && scale.readings <= 1 &&
         (scale.kind == ScaleKind::kPercent || scale.kind == ScaleKind::kScore ||
          scale.kind == ScaleKind::kStages);
}

}  // namespace

AgreementView agreement_view(const Model& model, const Review& review) {
  const Book& book = review.book;
  const auto measures = measures_reviewed(model, book);
  const auto place = [&](const std::string& measure) {
    return static_cast<std::size_t>(std::ranges::find(measures, measure) - measures.begin());
  };
  std::map<Twice, std::vector<checks::RatedInBlock>> pairs;
  std::map<std::string, const Scale*> scales;
  for (const PlanPlot& plot : book.plots) {
    const Uuid subject = plot_subject(model, book, plot);
    for (const KnownClaim& claim : review.again) {
      const Record& again = claim.record;
      if (again.subject != subject) continue;
      const Scale* const scale = scale_of(model, trial_of(model, book), plot, again.measure);
      const Cell first = cell_at(model, book, {subject, again.measure, again.part});
      if (scale == nullptr || !first.claim || !comparable(again, *scale) ||
          !comparable(first.claim->record, *scale))
        continue;
      const bool repeat = again.purpose == Purpose::kRepeat;
      // A second look is held against one's own first one, a second person against another.
      if (repeat != (again.person == first.claim->record.person)) continue;
      const std::optional<double>& given = again.value;
      const std::optional<double>& before = first.claim->record.value;
      if (!given || !before) continue;
      scales.emplace(again.measure, scale);
      pairs[{place(again.measure), initials_of(model, again),
             repeat ? std::string() : initials_of(model, first.claim->record)}]
          .push_back({plot.block, {*before, *given}});
    }
  }
  AgreementView view;
  for (const auto& [twice, values] : pairs) {
    const auto& [measure, rater, other] = twice;
    std::vector<checks::RatedTwice> twice_rated;
    for (const checks::RatedInBlock& value : values) twice_rated.push_back(value.rated);
    const auto offset = checks::rating_offset(twice_rated);
    if (!offset || measure >= measures.size()) continue;
    const Scale& scale = *scales.at(measures[measure]);
    AgreementRow row;
    row.measure = measures[measure];
    row.rater = rater;
    row.other = other;
    row.lies = lies_of(offset->mean, scale);
    row.by = points(std::abs(offset->mean), scale);
    row.give_or_take = points(offset->spread, scale);
    row.plots = offset->pairs;
    add_blocks(values, scale, row);
    view.rows.push_back(std::move(row));
  }
  return view;
}

}  // namespace ligule::flow
