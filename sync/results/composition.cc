#include "sync/results/composition.h"

#include <algorithm>

#include "storage/trial/unit_names.h"

namespace ligule::results {
namespace {

std::string part_words(std::size_t part) {
  std::string text(composition::kParts.at(part));
  std::ranges::replace(text, '_', ' ');
  return text;
}

const Settled* part_in(const std::vector<Settled>& parts, std::size_t part) {
  const auto at = std::ranges::find(parts, static_cast<int>(part) + 1, &Settled::part);
  return at == parts.end() ? nullptr : &*at;
}

// What is known of one part.
struct PartWeights {
  SampleState state = SampleState::kGood;
  std::optional<Kilograms> dry;
  std::optional<Kilograms> fresh;
  std::string why;
  std::string mend;
};

class Separated {
 public:
  Separated(const TrialFacts& trial, const SettledValues& settled, const PlanPlot& plot,
            OccasionId cutting)
      : settled_(settled),
        bags_(trial, settled),
        subject_(trial.plan.plot(plot).uuid),
        cutting_(cutting) {}

  std::optional<Composition> run() {
    const auto whole = settled_.parts(subject_, measure::kSeparatedFresh, cutting_);
    const auto numbers = settled_.parts(subject_, measure::kPartBag, cutting_);
    const auto said = [](const Settled& one) { return one.standing != Standing::kLater; };
    if (std::ranges::none_of(whole, said) && std::ranges::none_of(numbers, said))
      return std::nullopt;
    add_whole(whole);
    ByPart<PartWeights> parts;
    for (std::size_t part = 0; part < parts.size(); ++part)
      parts.at(part) = part_of(part, part_in(numbers, part));
    decide(parts);
    return std::move(made_);
  }

 private:
  void rests_on(const std::vector<RecordId>& records) {
    made_.records.insert(made_.records.end(), records.begin(), records.end());
  }

  // Its check, no part of the composition: where it can't be used nothing else is touched.
  void add_whole(const std::vector<Settled>& whole) {
    const BagWeight tare = bags_.planned_tare();
    for (const Settled& one : whole) {
      rests_on(one.records);
      if (one.standing != Standing::kValue || tare.state != SampleState::kGood) continue;
      const Result<Kilograms> mass = mass_in(one.value, one.unit);
      if (mass) made_.whole = *mass - tare.mass;
    }
  }

  PartWeights part_of(std::size_t part, const Settled* number) {
    const std::string name = part_words(part);
    if (number == nullptr || number->standing == Standing::kLater)
      return {SampleState::kWaiting, {}, {}, "nothing is said of " + name, {}};
    if (number->standing == Standing::kZero) {
      rests_on(number->records);
      return {SampleState::kGood, Kilograms(0.0), Kilograms(0.0), {}, {}};
    }
    // A number is a text: it has no value, also where it names a bag.
    if (number->standing == Standing::kMissing && number->entered.empty()) {
      rests_on(number->records);
      return {SampleState::kLost, {}, {}, "the bag of " + name + " is missing", {}};
    }
    const NamedBag named = bags_.named_by(*number);
    rests_on(number->records);
    if (!named.bag) return {SampleState::kUndecided, {}, {}, named.why + " of " + name, named.mend};
    made_.bags.push_back(number->entered);
    return weights_of(*named.bag, name);
  }

  PartWeights weights_of(RecordId bag, const std::string& name) {
    PartWeights all;
    const BagWeight dried =
        bags_.weight(bag, measure::kSampleDry, "dried weight of " + name, made_.records);
    const BagWeight tare = bags_.tare(bag, "tare of the bag of " + name, made_.records);
    const BagWeight fresh =
        bags_.weight(bag, measure::kSampleFresh, "fresh weight of " + name, made_.records);
    for (const BagWeight* const weight : {&dried, &tare}) {
      if (weight->state == SampleState::kGood) continue;
      all.state = weight->state;
      all.why = weight->why;
      all.mend = weight->mend;
      return all;
    }
    if (dried.mass < tare.mass)
      return {SampleState::kUndecided,
              {},
              {},
              "the dried weight of " + name + " is less than its bag's",
              "correct one of them"};
    all.dry = dried.mass - tare.mass;
    if (fresh.state == SampleState::kGood) all.fresh = fresh.mass - tare.mass;
    return all;
  }

  // What a person must settle goes before what is gone for good, that before what is still to come.
  void decide(const ByPart<PartWeights>& parts) {
    Kilograms dry(0.0);
    Kilograms fresh(0.0);
    bool all_fresh = true;
    for (std::size_t part = 0; part < parts.size(); ++part) {
      const PartWeights& of = parts.at(part);
      made_.dry.at(part) = of.dry;
      dry = dry + of.dry.value_or(Kilograms(0.0));
      all_fresh = all_fresh && of.fresh;
      fresh = fresh + of.fresh.value_or(Kilograms(0.0));
    }
    if (all_fresh) made_.fresh = fresh;
    made_.state = SampleState::kGood;
    for (const SampleState worst :
         {SampleState::kUndecided, SampleState::kLost, SampleState::kWaiting}) {
      const auto at = std::ranges::find(parts, worst, &PartWeights::state);
      if (at == parts.end()) continue;
      made_.state = worst;
      made_.why = at->why;
      made_.mend = at->mend;
      return;
    }
    if (dry <= Kilograms(0.0)) {
      made_.state = SampleState::kUndecided;
      made_.why = "the dried parts weigh nothing";
      made_.mend = "correct them";
      return;
    }
    for (std::size_t part = 0; part < parts.size(); ++part)
      made_.percent.at(part) = 100.0 * (made_.dry.at(part).value_or(Kilograms(0.0)) / dry);
  }

  const SettledValues& settled_;
  SampleBags bags_;
  Uuid subject_;
  OccasionId cutting_;
  Composition made_;
};

}  // namespace

double Composition::sown_share() const {
  Kilograms sown(0.0);
  Kilograms all(0.0);
  for (std::size_t part = 0; part < dry.size(); ++part) {
    const Kilograms one = dry.at(part).value_or(Kilograms(0.0));
    if (part < composition::kSownParts) sown = sown + one;
    all = all + one;
  }
  return all > Kilograms(0.0) ? sown / all : 0.0;
}

std::optional<double> Composition::parts_percent() const {
  if (!whole || !fresh || *whole <= Kilograms(0.0)) return std::nullopt;
  return 100.0 * (*fresh / *whole);
}

std::optional<Composition> composition_of(const TrialFacts& trial, const SettledValues& settled,
                                          const PlanPlot& plot, OccasionId cutting) {
  return Separated(trial, settled, plot, cutting).run();
}

std::optional<WeedsByEye> weeds_by_eye(const TrialFacts& trial, const SettledValues& settled,
                                       const PlanPlot& plot, OccasionId cutting,
                                       std::optional<CalendarDate> before, CalendarDate day) {
  const Uuid subject = trial.plan.plot(plot).uuid;
  const auto said_in = [&](OccasionId occasion) -> std::optional<Settled> {
    const auto parts = settled.parts(subject, measure::kWeedsByEye, occasion);
    if (parts.empty() || parts.front().standing == Standing::kLater) return std::nullopt;
    return parts.front();
  };
  const std::optional<Settled> own = said_in(cutting);
  std::optional<Settled> found = own;
  for (const PlanOccasion& pass : trial.plan.occasions) {
    if (own || pass.job != Job::kRate) continue;
    const auto said = said_in(trial.plan.occasion(pass));
    if (!said || said->date > day || (before && said->date <= *before)) continue;
    if (!found || found->date < said->date) found = said;
  }
  if (!found) return std::nullopt;
  if (found->standing == Standing::kZero) return WeedsByEye{0.0, found->date, found->records};
  if (found->standing != Standing::kValue) return std::nullopt;
  return WeedsByEye{found->value, found->date, found->records};
}

}  // namespace ligule::results
