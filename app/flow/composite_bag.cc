#include "app/flow/composite_bag.h"

#include "app/flow/book.h"
#include "app/flow/progress.h"
#include "app/flow/turn.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {

namespace {

std::string same_bag(const Record& number) {
  return detail(number.details, std::string(sample_bag::kSameBag));
}

// Bags that other plots of the entry, or of the trial, were given, where the plan takes one for all
// of them; `see` with the standing number of each.
template <class See>
void each_bag_shared(const Model& model, const Book& book, const PlanPlot& plot, const See& see) {
  if (book.occasion.sample_of == SampleOf::kPlot) return;
  const KnownTrial& trial = trial_of(model, book);
  const PlanEntry* const entry = entry_of(trial, plot);
  for (const PlanPlot& other : book.plots) {
    if (other.number == plot.number) continue;
    // What nobody knows the name of goes into no entry's bag.
    if (book.occasion.sample_of == SampleOf::kEntry &&
        (entry == nullptr || entry_of(trial, other) != entry))
      continue;
    const Cell number = cell_of(model, book, other, measure::kBagNumber);
    if (number.claim && !number.open()) see(*number.claim);
  }
}

// Cut by the same machine, or on the same day as far as what stands there tells.
bool one_day(const KnownClaim& a, const KnownClaim& b) {
  const auto day = [](const KnownClaim& claim) {
    return (claim.before ? *claim.before : claim.record).at.local_date;
  };
  return (a.record.run && a.record.run == b.record.run) || day(a) == day(b);
}

}  // namespace

std::optional<SharedBag> shared_bag(const Model& model, const Book& book, const PlanPlot& plot) {
  std::optional<SharedBag> shared;
  UtcInstant newest{};
  each_bag_shared(model, book, plot, [&](const KnownClaim& claim) {
    const Record& record = claim.record;
    if (record.at.local_date != model.now.local_date || record.at.utc < newest) return;
    const RecordId bag = bag_subject(claim);
    // Out of the oven, or gone: the day's next sample takes a bag of its own.
    const Cell dried = cell_at(model, book, {bag.uuid, std::string(measure::kSampleDry), 1});
    if (dried.claim) return;
    newest = record.at.utc;
    shared = SharedBag{bag, record.entered};
  });
  return shared;
}

RecordId name_bag(const Model& model, const Book& book, const PlanPlot& plot,
                  const std::optional<KnownClaim>& standing, Record& number) {
  auto shared = shared_bag(model, book, plot);
  RecordId own = number.id;
  if (standing) {
    // A number put right is still the bag that was numbered first.
    own = standing->first;
    if (standing->record.entered == number.entered) {
      shared = SharedBag{bag_subject(*standing), number.entered};
    } else if (!shared || shared->number != number.entered) {
      each_bag_shared(model, book, plot, [&](const KnownClaim& claim) {
        if (claim.record.entered == number.entered && one_day(claim, *standing))
          shared = SharedBag{bag_subject(claim), number.entered};
      });
    }
  }
  if (!shared || shared->number != number.entered || shared->bag == own) return own;
  number.details = details_text({{std::string(sample_bag::kSameBag), shared->bag.text()}});
  return shared->bag;
}

bool leaves_shared_bag(const Record& standing, const Record& number) {
  return !same_bag(standing).empty() && same_bag(number).empty();
}

std::set<RecordId> shared_bags(const Model& model, const Book& book, const PlanPlot& plot) {
  std::set<RecordId> bags;
  each_bag_shared(model, book, plot,
                  [&](const KnownClaim& claim) { bags.insert(bag_subject(claim)); });
  return bags;
}

std::vector<checks::BagInUse> bags_in_use(const Model& model, const Harvest& harvest,
                                          const PlanPlot& plot, std::optional<RecordId> own) {
  const auto shared = shared_bags(model, harvest.book, plot);
  std::vector<checks::BagInUse> used;
  for (const FilledBag& bag : bags_filled(model, harvest.book, harvest.open_bags)) {
    if (own != bag.bag && !shared.contains(bag.bag)) used.push_back({bag.number, bag.plot});
  }
  return used;
}

}  // namespace ligule::flow
