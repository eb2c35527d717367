#include "sync/results/samples.h"

#include <algorithm>
#include <set>

#include "storage/trial/details.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

// One bag of a sample.
struct BagWeights {
  SampleState state = SampleState::kGood;
  Kilograms fresh{0.0};
  Kilograms dry{0.0};
  Kilograms tare{0.0};
  std::string why;
  std::string mend;
};

// A number that was put off or is missing names no bag. It is a text: it has no value.
bool names_a_bag(const Settled& number) {
  return !number.entered.empty() || !why_open(number.standing).empty();
}

// With the numbers on them.
using Bags = std::map<RecordId, std::string>;

class Samples {
 public:
  Samples(const TrialFacts& trial, const SettledValues& settled, OccasionId cutting,
          CalendarDate last_day)
      : trial_(trial),
        settled_(settled),
        cutting_(cutting),
        last_day_(last_day),
        in_bags_(trial, settled) {}

  std::vector<Sample> run() {
    for (const PlanPlot& plot : trial_.plan.along_path()) add(plot);
    return std::move(samples_);
  }

 private:
  void add(const PlanPlot& plot) {
    const auto numbers = settled_.parts(trial_.plan.plot(plot).uuid, measure::kBagNumber, cutting_);
    const bool any = std::ranges::any_of(numbers, names_a_bag);
    if (!any) return;
    const CutPlot cut = cut_plot(trial_, settled_, plot, cutting_, last_day_);
    if (cut.entry.empty()) return;
    Sample sample;
    sample.plots = {plot.number};
    sample.entry = cut.entry;
    sample.day = cut.day;
    sample.surface = cut.surface;
    sample.weeds_only =
        weeds_only(settled_.parts(trial_.plan.plot(plot).uuid, measure::kGrossWeight, cutting_));
    Bags bags;
    for (const Settled& number : numbers) {
      if (!names_a_bag(number)) continue;
      const std::optional<RecordId> bag = bag_of(number, sample);
      if (!bag) break;
      bags[*bag] = number.entered;
    }
    if (sample.state == SampleState::kUndecided) {
      samples_.push_back(std::move(sample));
      return;
    }
    // A composite is one sample, whichever of its plots named the bag first, and also where its
    // number was put right at one of them only.
    std::set<RecordId> which;
    for (const auto& [bag, number] : bags) which.insert(bag);
    const auto [at, first] = by_bags_.try_emplace(std::move(which), samples_.size());
    if (!first) return share(samples_[at->second], sample);
    weigh(bags, sample);
    samples_.push_back(std::move(sample));
  }

  static void share(Sample& composite, const Sample& more) {
    composite.plots.push_back(more.plots.front());
    if (composite.entry != more.entry) composite.entry.clear();
    if (composite.surface != more.surface) composite.surface.clear();
    composite.weeds_only = composite.weeds_only && more.weeds_only;
    composite.records.insert(composite.records.begin(), more.records.begin(), more.records.end());
  }

  void weigh(const Bags& bags, Sample& sample) const {
    Kilograms fresh(0.0);
    Kilograms dry(0.0);
    Kilograms tare(0.0);
    Sample lost = sample;
    lost.state = SampleState::kLost;
    std::optional<BagWeights> open;  // of several the one that a person must decide on
    for (const auto& [bag, number] : bags) {
      std::vector<RecordId> records;
      const BagWeights weights = weights_of(bag, records);
      if (weights.state == SampleState::kLost) {
        // What stands in the plot's other bags is still a sample of it.
        if (lost.why.empty()) lost.why = weights.why;
        lost.records.insert(lost.records.end(), records.begin(), records.end());
        continue;
      }
      sample.records.insert(sample.records.end(), records.begin(), records.end());
      if (weights.state != SampleState::kGood) {
        if (!open || weights.state == SampleState::kUndecided) open = weights;
        continue;
      }
      sample.bags.push_back(number);
      fresh = fresh + weights.fresh;
      dry = dry + weights.dry;
      tare = tare + weights.tare;
    }
    if (open) {
      sample.state = open->state;
      sample.why = open->why;
      sample.mend = open->mend;
      sample.bags.clear();
      return;
    }
    if (sample.bags.empty()) {
      sample = std::move(lost);
      return;
    }
    const Result<DryMatterFraction> fraction = dry_matter_fraction(fresh, dry, tare);
    if (fraction) {
      sample.state = SampleState::kGood;
      sample.fraction = *fraction;
    } else {
      undecided(sample, fraction.error().what, fraction.error().mend);
    }
  }

  // The worst of its weights decides: what a person must settle before what is gone for good, that
  // before what is still to come.
  BagWeights weights_of(RecordId bag, std::vector<RecordId>& records) const {
    const BagWeight wet =
        in_bags_.weight(bag, measure::kSampleFresh, "fresh sample weight", records);
    const BagWeight dried =
        in_bags_.weight(bag, measure::kSampleDry, "dried sample weight", records);
    const BagWeight tare = in_bags_.tare(bag, "sample bag's tare", records);
    // What the plan states comes last: without a weight nothing is taken off.
    const bool weighed = !settled_.parts(bag.uuid, measure::kBagTare).empty();
    BagWeights all;
    for (const SampleState worst :
         {SampleState::kUndecided, SampleState::kLost, SampleState::kWaiting}) {
      for (const BagWeight* weight : {&wet, &dried, &tare}) {
        if (weight == &tare && !weighed) continue;
        if (weight->state != worst) continue;
        all.state = worst;
        all.why = weight->why;
        all.mend = weight->mend;
        return all;
      }
    }
    all.fresh = wet.mass;
    all.dry = dried.mass;
    all.tare = tare.mass;
    all.state = tare.state;
    all.why = tare.why;
    all.mend = tare.mend;
    return all;
  }

  static void undecided(Sample& sample, std::string why, std::string mend) {
    sample.state = SampleState::kUndecided;
    sample.why = std::move(why);
    sample.mend = std::move(mend);
  }

  // Nothing (and the sample undecided) where no one bag can be meant.
  std::optional<RecordId> bag_of(const Settled& number, Sample& sample) const {
    const NamedBag named = in_bags_.named_by(number);
    sample.records.insert(sample.records.end(), number.records.begin(), number.records.end());
    if (!named.bag) undecided(sample, named.why, named.mend);
    return named.bag;
  }

  const TrialFacts& trial_;
  const SettledValues& settled_;
  OccasionId cutting_;
  CalendarDate last_day_;
  SampleBags in_bags_;
  std::map<std::set<RecordId>, std::size_t> by_bags_;
  std::vector<Sample> samples_;
};

// The mean of those that `suits` and that can be used; nothing where there are none.
template <class Suits>
std::optional<FractionUsed> mean_of(std::span<const Sample> samples, FractionFrom from,
                                    const Suits& suits) {
  FractionUsed used;
  used.from = from;
  double sum = 0.0;
  int count = 0;
  for (const Sample& sample : samples) {
    if (!sample.fraction || sample.weeds_only || !suits(sample)) continue;
    sum += sample.fraction->value();
    ++count;
    used.bags.insert(used.bags.end(), sample.bags.begin(), sample.bags.end());
    used.records.insert(used.records.end(), sample.records.begin(), sample.records.end());
  }
  if (count == 0) return std::nullopt;
  used.fraction = DryMatterFraction(sum / count);
  return used;
}

}  // namespace

std::string_view name_of(FractionFrom from) {
  switch (from) {
    case FractionFrom::kOwnSample:
      return "own sample";
    case FractionFrom::kComposite:
      return "composite sample";
    case FractionFrom::kEntryMean:
      return "entry mean of the day";
    case FractionFrom::kTrialMean:
      return "trial mean of the day";
    case FractionFrom::kNone:
      break;
  }
  return {};
}

FractionUsed choose_fraction(const CutPlot& plot, std::span<const Sample> samples) {
  FractionUsed none;
  none.why = "no sample bag was recorded";
  const auto own = std::ranges::find_if(samples, [&](const Sample& sample) {
    return std::ranges::find(sample.plots, plot.plot) != sample.plots.end();
  });
  if (own != samples.end()) {
    if (own->fraction) {
      const bool composite = own->plots.size() > 1;
      return {composite ? FractionFrom::kComposite : FractionFrom::kOwnSample,
              own->fraction,
              own->bags,
              own->records,
              {},
              {}};
    }
    none.why = own->why;
    none.mend = own->mend;
    none.records = own->records;
    if (own->state != SampleState::kLost) return none;
  }
  const auto same_day = [&](const Sample& sample) { return sample.day == plot.day; };
  auto used = mean_of(samples, FractionFrom::kEntryMean, [&](const Sample& sample) {
    return same_day(sample) && sample.entry == plot.entry && sample.surface == plot.surface;
  });
  if (!used) used = mean_of(samples, FractionFrom::kTrialMean, same_day);
  if (!used) return none;
  used->why = none.why;
  return *std::move(used);
}

CutPlot cut_plot(const TrialFacts& trial, const SettledValues& settled, const PlanPlot& plot,
                 OccasionId cutting, CalendarDate last_day) {
  CutPlot cut;
  cut.plot = plot.number;
  cut.day = last_day;
  const Uuid subject = trial.plan.plot(plot).uuid;
  for (const std::string_view measure : {measure::kGrossWeight, measure::kBagNumber}) {
    const auto parts = settled.parts(subject, measure, cutting);
    if (parts.empty()) continue;
    cut.day = std::ranges::min(parts, {}, &Settled::date).date;
    const auto run = std::ranges::find_if(trial.runs, [&](const Record& each) {
      return parts.front().run && each.id == *parts.front().run;
    });
    if (run != trial.runs.end()) {
      cut.day = run->at.local_date;
      cut.surface = detail(run->details, "surface");
    }
    break;
  }
  const Held held = held_on(trial, plot, cut.day);
  if (held.entry != nullptr) cut.entry = held.entry->label();
  return cut;
}

std::vector<Sample> samples_of(const TrialFacts& trial, const SettledValues& settled,
                               OccasionId cutting, CalendarDate last_day) {
  return Samples(trial, settled, cutting, last_day).run();
}

}  // namespace ligule::results
