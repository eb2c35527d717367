#include "app/flow/composite_bag.h"

#include "app/flow/book.h"
#include "app/flow/progress.h"
#include "app/flow/turn.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {

std::optional<SharedBag> shared_bag(const Model& model, const Harvest& harvest,
                                    const PlanPlot& plot) {
  const Book& book = harvest.book;
  if (book.occasion.sample_of == SampleOf::kPlot) return std::nullopt;
  const KnownTrial& trial = trial_of(model, book);
  const PlanEntry* const entry = entry_of(trial, plot);
  std::optional<SharedBag> shared;
  UtcInstant newest{};
  for (const PlanPlot& other : book.plots) {
    if (other.number == plot.number) continue;
    // What nobody knows the name of goes into no entry's bag.
    if (book.occasion.sample_of == SampleOf::kEntry &&
        (entry == nullptr || entry_of(trial, other) != entry))
      continue;
    const Cell number = cell_of(model, book, other, measure::kBagNumber);
    if (!number.claim || number.open()) continue;
    const Record& record = number.claim->record;
    if (record.at.local_date != model.now.local_date || record.at.utc < newest) continue;
    const RecordId bag = bag_subject(*number.claim);
    // Out of the oven, or gone: the day's next sample takes a bag of its own.
    const Cell dried = cell_at(model, book, {bag.uuid, std::string(measure::kSampleDry), 1});
    if (dried.claim) continue;
    newest = record.at.utc;
    shared = SharedBag{bag, record.entered};
  }
  return shared;
}

RecordId name_bag(const Model& model, const Harvest& harvest, const PlanPlot& plot,
                  Record& number) {
  const auto shared = shared_bag(model, harvest, plot);
  if (!shared || shared->number != number.entered) return number.id;
  number.details = details_text({{std::string(sample_bag::kSameBag), shared->bag.text()}});
  return shared->bag;
}

std::vector<checks::BagInUse> bags_in_use(const Model& model, const Harvest& harvest,
                                          const PlanPlot& plot, std::optional<RecordId> own) {
  const auto shared = shared_bag(model, harvest, plot);
  std::vector<checks::BagInUse> used;
  for (const FilledBag& bag : bags_filled(model, harvest)) {
    if (own != bag.bag && !(shared && shared->bag == bag.bag))
      used.push_back({bag.number, bag.plot});
  }
  return used;
}

}  // namespace ligule::flow
