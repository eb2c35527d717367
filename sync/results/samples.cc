#include "sync/results/samples.h"

#include <algorithm>
#include <set>

#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"
#include "storage/trial/unit_names.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

// A weight of one bag.
struct BagWeight {
  SampleState state = SampleState::kWaiting;
  Kilograms mass{0.0};
  bool recorded = false;
  std::string why;
};

// One bag of a sample.
struct BagWeights {
  SampleState state = SampleState::kGood;
  Kilograms fresh{0.0};
  Kilograms dry{0.0};
  Kilograms tare{0.0};
  std::string why;
  std::string mend;
};

std::string in_words(std::string code) {
  std::ranges::replace(code, '_', ' ');
  return code;
}

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
      : trial_(trial), settled_(settled), cutting_(cutting), last_day_(last_day) {
    for (const Record& record : trial.bag_numbers) numbers_[record.id] = &record;
  }

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

  BagWeight weight_of(RecordId bag, std::string_view measure, const std::string& name,
                      std::vector<RecordId>& records) const {
    BagWeight weight;
    const auto parts = settled_.parts(bag.uuid, measure);
    for (const Settled& part : parts)
      records.insert(records.end(), part.records.begin(), part.records.end());
    if (parts.empty()) {
      weight.why = "there is no " + name;
      return weight;
    }
    weight.recorded = true;
    const Settled& said = parts.front();
    if (parts.size() > 1) {
      weight.state = SampleState::kUndecided;
      weight.why = "the " + name + " stands more than once";
    } else if (const std::string_view open = why_open(said.standing); !open.empty()) {
      weight.state = SampleState::kUndecided;
      weight.why = "the " + name + " " + std::string(open);
    } else if (said.standing == Standing::kLater) {
      weight.why = "there is no " + name;
    } else if (said.standing != Standing::kValue) {
      weight.state = SampleState::kLost;
      weight.why = "the " + name + " is missing" +
                   (said.reason.empty() ? std::string() : ": " + in_words(said.reason));
    } else if (const Result<Kilograms> mass = mass_in(said.value, said.unit); !mass) {
      weight.state = SampleState::kUndecided;
      weight.why = "the " + name + ": " + mass.error().what;
    } else {
      weight.state = SampleState::kGood;
      weight.mass = *mass;
    }
    return weight;
  }

  // The worst of its weights decides: what a person must settle before what is gone for good, that
  // before what is still to come.
  BagWeights weights_of(RecordId bag, std::vector<RecordId>& records) const {
    const BagWeight wet = weight_of(bag, measure::kSampleFresh, "fresh sample weight", records);
    const BagWeight dried = weight_of(bag, measure::kSampleDry, "dried sample weight", records);
    const BagWeight tare = weight_of(bag, measure::kBagTare, "sample bag's tare", records);
    BagWeights all;
    for (const SampleState worst :
         {SampleState::kUndecided, SampleState::kLost, SampleState::kWaiting}) {
      for (const BagWeight* weight : {&wet, &dried, &tare}) {
        if (weight == &tare && !tare.recorded) continue;
        if (weight->state != worst) continue;
        all.state = worst;
        all.why = weight->why;
        if (worst == SampleState::kUndecided) all.mend = "correct or settle it";
        return all;
      }
    }
    all.fresh = wet.mass;
    all.dry = dried.mass;
    all.tare = tare.mass;
    if (tare.recorded) return all;
    const Result<Kilograms> stated = trial_.plan.bag_tare.kilograms();
    if (stated) {
      all.tare = *stated;
      return all;
    }
    all.state = SampleState::kUndecided;
    all.why = "the plan's bag tare can't be used: " + stated.error().what;
    all.mend = stated.error().mend;
    return all;
  }

  static void undecided(Sample& sample, std::string why, std::string mend) {
    sample.state = SampleState::kUndecided;
    sample.why = std::move(why);
    sample.mend = std::move(mend);
  }

  // The readings a standing bag number goes back to. A settlement stands for the claims that said
  // what it says.
  void first_readings(RecordId id, std::set<RecordId>& seen, std::set<RecordId>& first) const {
    const auto at = numbers_.find(id);
    if (at == numbers_.end() || !seen.insert(id).second) return;
    const Record& record = *at->second;
    if (record.targets.empty()) {
      first.insert(id);
      return;
    }
    const auto agrees = [&](RecordId target) {
      const auto found = numbers_.find(target);
      return found != numbers_.end() && found->second->entered == record.entered;
    };
    const bool some_agree = std::ranges::any_of(record.targets, agrees);
    for (const RecordId target : record.targets) {
      if (!some_agree || agrees(target)) first_readings(target, seen, first);
    }
  }

  // The bag is named by the reading that first gave it its number, whatever the number became; its
  // weights are recorded about that. Nothing (and the sample undecided) where no one bag can be
  // meant.
  std::optional<RecordId> bag_of(const Settled& number, Sample& sample) const {
    sample.records.insert(sample.records.end(), number.records.begin(), number.records.end());
    const std::string_view open = why_open(number.standing);
    if (!open.empty()) {
      undecided(sample, "the bag number " + std::string(open), "correct or settle it");
      return std::nullopt;
    }
    std::set<RecordId> seen;
    std::set<RecordId> bags;
    for (const RecordId standing : number.records) {
      // A bag that several plots went into is the one that the first of them was given. What stands
      // says so itself: a member that was given another number has a bag of its own.
      const auto at = numbers_.find(standing);
      const std::string same = at == numbers_.end()
                                   ? std::string()
                                   : detail(at->second->details, std::string(sample_bag::kSameBag));
      if (const auto shared = parse_uuid(same))
        bags.insert(RecordId{*shared});
      else
        first_readings(standing, seen, bags);
    }
    if (bags.size() > 1) {  // two tablets gave the same number: one of them weighed the sample
      std::erase_if(bags, [&](RecordId bag) {
        return settled_.parts(bag.uuid, measure::kSampleFresh).empty();
      });
    }
    if (bags.size() == 1) return *bags.begin();
    undecided(sample,
              bags.empty() ? "the sample bag was not weighed" : "two bags claim to be the sample",
              "settle the bag number");
    return std::nullopt;
  }

  const TrialFacts& trial_;
  const SettledValues& settled_;
  OccasionId cutting_;
  CalendarDate last_day_;
  std::map<RecordId, const Record*> numbers_;
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
