// How far those who rated the same plots twice agree, in plain words' numbers.
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "app/flow/review.h"
#include "app/flow/view_parts.h"
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
  std::map<Twice, std::vector<checks::RatedTwice>> pairs;
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
          .push_back({*before, *given});
    }
  }
  AgreementView view;
  for (const auto& [twice, values] : pairs) {
    const auto& [measure, rater, other] = twice;
    const auto offset = checks::rating_offset(values);
    if (!offset || measure >= measures.size()) continue;
    const Scale& scale = *scales.at(measures[measure]);
    AgreementRow row{measures[measure],
                     rater,
                     other,
                     Lies::kLike,
                     points(std::abs(offset->mean), scale),
                     points(offset->spread, scale),
                     offset->pairs};
    const bool apart = row.by != points(0, scale);
    if (apart) row.lies = offset->mean > 0 ? Lies::kHigher : Lies::kLower;
    view.rows.push_back(std::move(row));
  }
  return view;
}

}  // namespace ligule::flow
