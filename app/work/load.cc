#include "app/work/load.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "app/flow/grazing.h"
#include "app/flow/no_entry.h"
#include "app/work/known_claims.h"
#include "app/work/new_key.h"
#include "app/work/newest.h"
#include "app/work/scale_reach.h"
#include "storage/checks/weather.h"
#include "storage/ledger/earlier_cuttings.h"
#include "storage/ledger/rated_before.h"
#include "storage/trial/composition.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"
#include "sync/seal/keys.h"

namespace ligule::work {
namespace {

Result<std::vector<flow::KnownTrial>> known_trials(const ledger::Ledger& ledger) {
  auto plans = ledger.plans();
  if (!plans) return std::unexpected(std::move(plans).error());
  std::vector<flow::KnownTrial> trials;
  for (ledger::KnownPlan& plan : *plans) {
    auto sown = ledger.as_sown(plan.plan.id());
    if (!sown) return std::unexpected(std::move(sown).error());
    flow::KnownTrial trial{std::move(plan.plan), std::move(plan.digest), *std::move(sown)};
    for (const Scale& score : trial.plan.scores)
      trial.score_digests[score.code] = sha256(scale_text(score)).hex();
    const TrialId id = trial.plan.id();
    for (const PlanPlot& plot : trial.plan.plots)
      trial.plot_ids.emplace(plot.number, plot_id(id, plot.number));
    trials.push_back(std::move(trial));
  }
  return trials;
}

// Records of the ledger's own stream that no season file holds yet, and the newest seal.
Result<void> add_seals(const ledger::Ledger& ledger, CalendarDate day, flow::Today& today) {
  const auto mine = ledger.my_stream();
  if (!mine) return {};
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  const auto seals = ledger.seals();
  if (!seals) return std::unexpected(seals.error());
  std::int64_t sealed = 0;
  for (const ledger::Seal& seal : *seals) {
    if (seal.stream != mine->id) continue;
    sealed = std::max(sealed, seal.last);
    today.last_seal = flow::SealNote{seal.file_name, seal.at, seal.last - seal.first + 1};
  }
  for (const ledger::Span& span : *spans) {
    if (span.stream == mine->id) today.unsealed = span.last - sealed;
  }
  auto key = new_key(ledger, day);
  if (!key) return std::unexpected(key.error());
  today.new_key = *std::move(key);
  return {};
}

// To whom an event says the names were shown, and in which occasion; nothing: it says otherwise.
std::optional<std::pair<PersonId, OccasionId>> names_shown_by(const Record& event) {
  if (event.entered != kNamesShown || !event.person) return std::nullopt;
  const auto details = parse_details(event.details);
  if (!details) return std::nullopt;
  const auto at = details->find("occasion");
  if (at == details->end()) return std::nullopt;
  const auto occasion = parse_uuid(at->second);
  if (!occasion) return std::nullopt;
  return std::pair{*event.person, OccasionId{*occasion}};
}

bool is_cutting(const ledger::Ledger& ledger, TrialId trial, OccasionId occasion) {
  const auto plan = ledger.plan(trial);
  const PlanOccasion* const planned = plan ? plan->plan.find_occasion(occasion) : nullptr;
  return planned != nullptr && planned->job == Job::kHarvest;
}

// A run that was begun earlier may go on: a screen left open over night, or over days of rain.
constexpr date::days kRunGoesOn{7};

// What scales weighed in other cuttings, as far as a check weight may doubt it.
Result<std::vector<flow::CuttingWeighed>> weighed_elsewhere(const ledger::Ledger& ledger,
                                                            OccasionId here,
                                                            const std::vector<Record>& checks) {
  std::vector<flow::CuttingWeighed> elsewhere;
  auto runs = ledger.of_kind(kind::kHarvestRun);
  if (!runs) return std::unexpected(std::move(runs).error());
  if (runs->empty()) return elsewhere;
  const date::sys_days from = date::sys_days{reached_back(checks, *runs)} - kRunGoesOn;
  for (Record& run : *runs) {
    if (!run.trial || !run.occasion || run.occasion == here) continue;
    if (date::sys_days{run.at.local_date} < from) continue;
    const OccasionId occasion = *run.occasion;
    auto at = std::ranges::find(elsewhere, occasion, &flow::CuttingWeighed::occasion);
    if (at == elsewhere.end()) {
      auto claims = survey_claims(ledger, *run.trial, occasion);
      if (!claims) return std::unexpected(std::move(claims).error());
      std::erase_if(*claims, [](const flow::KnownClaim& claim) {
        return claim.record.measure != measure::kGrossWeight ||
               claim.record.source != Source::kScale;
      });
      elsewhere.push_back({*run.trial, occasion, *std::move(claims), {}});
      at = std::prev(elsewhere.end());
    }
    at->runs.push_back(std::move(run));
  }
  return elsewhere;
}

using Place = std::pair<TrialId, OccasionId>;

// One claim about a bag, where it is one that the dry weights look at.
void add_bag_value(flow::OpenBag& bag, const flow::KnownClaim& claim) {
  const Record& record = claim.record;
  if (record.subject != bag.bag.uuid) return;
  if (record.measure == measure::kSampleFresh) bag.fresh = claim;
  if (record.measure == measure::kBagTare) bag.bag_tare = record;
  if (record.measure == measure::kSampleDry) bag.dried = claim;
}

// Sample bags with what stands about them, gathered from claims that are read once a cutting.
class Bags {
 public:
  explicit Bags(const ledger::Ledger& ledger) : ledger_(ledger) {}

  // The bag that a standing number names. Nothing for one of another purpose, and for a plot that
  // is in another plot's bag: that bag names it.
  Result<void> add(const Record& number) {
    if (number.purpose != Purpose::kSurvey || !number.trial || !number.occasion) return {};
    const Place place{*number.trial, *number.occasion};
    const Plan* const plan = plan_of(place.first);
    if (plan == nullptr) return {};  // of a trial whose plan is not here: nobody can place its bags
    const auto claims = claims_of(place);
    if (!claims) return std::unexpected(claims.error());
    flow::OpenBag bag;
    const std::string shared = same_bag(number);
    if (!shared.empty()) {
      // The plot that the bag was numbered at may have given it up: then the first one left leads.
      const auto named = [&](const flow::KnownClaim& claim) {
        return claim.record.measure == measure::kBagNumber && claim.first.text() == shared &&
               same_bag(claim.record).empty();
      };
      const auto listed = [&](const flow::OpenBag& each) { return each.bag.text() == shared; };
      const auto id = parse_uuid(shared);
      if (!id || std::ranges::any_of(**claims, named) || std::ranges::any_of(bags_, listed))
        return {};
      bag.bag = RecordId{*id};
    }
    for (const flow::KnownClaim& claim : **claims) {
      if (shared.empty() && claim.record.id == number.id) bag.bag = claim.first;
    }
    bag.trial = place.first;
    bag.occasion = place.second;
    bag.run = number.run;
    bag.plan = number.plan;
    bag.plot = plot_in(*plan, number);
    bag.number = number.entered;
    const auto filled = filled_on(bag.bag, number);
    if (!filled) return std::unexpected(filled.error());
    bag.filled = *filled;
    if (number.measure == measure::kPartBag) bag.part = number.part;
    checks::WeatherHeard weather;
    for (const flow::KnownClaim& claim : **claims) {
      weather.hear(claim.record);
      add_bag_value(bag, claim);
      const bool member =
          claim.record.measure == measure::kBagNumber && same_bag(claim.record) == bag.bag.text();
      if (member && claim.record.id != number.id) bag.also.push_back(plot_in(*plan, claim.record));
    }
    bag.weather = weather.said();
    bags_.push_back(std::move(bag));
    return {};
  }

  // Standing bag numbers of every cutting of a year or a later one.
  Result<std::vector<Record>> of_cuttings(date::year year) {
    const auto plans = ledger_.plans();
    if (!plans) return std::unexpected(plans.error());
    std::vector<Record> numbers;
    for (const ledger::KnownPlan& known : *plans) {
      for (const PlanOccasion& occasion : known.plan.occasions) {
        if (occasion.job != Job::kHarvest || date::year(occasion.year) < year) continue;
        const auto claims = claims_of({known.plan.id(), known.plan.occasion(occasion)});
        if (!claims) return std::unexpected(claims.error());
        for (const flow::KnownClaim& claim : **claims) {
          if (numbers_a_bag(claim.record.measure) && claim.record.state == ValueState::kValue)
            numbers.push_back(claim.record);
        }
      }
    }
    return numbers;
  }

  std::vector<flow::OpenBag> take() { return std::move(bags_); }

 private:
  static std::string same_bag(const Record& number) {
    return detail(number.details, std::string(sample_bag::kSameBag));
  }
  // A number put right later does not fill the bag anew; one that was only put off fills none.
  Result<CalendarDate> filled_on(RecordId bag, const Record& number) const {
    const auto first = ledger_.find(bag);
    if (!first) return std::unexpected(first.error());
    const std::optional<Record>& held = *first;
    const bool told = held.has_value() && held->state == ValueState::kValue;
    return told ? held->at.local_date : number.at.local_date;
  }
  static std::string plot_in(const Plan& plan, const Record& number) {
    const PlanPlot* const plot = plan.find_plot(PlotId{number.subject.value_or(Uuid{})});
    return plot == nullptr ? std::string() : plot->number;
  }
  Result<const std::vector<flow::KnownClaim>*> claims_of(const Place& place) {
    const auto at = claims_.find(place);
    if (at != claims_.end()) return &at->second;
    auto loaded = survey_claims(ledger_, place.first, place.second);
    if (!loaded) return std::unexpected(std::move(loaded).error());
    return &claims_.emplace(place, *std::move(loaded)).first->second;
  }
  const Plan* plan_of(TrialId trial) {  // null: it is not here
    const auto at = plans_.find(trial);
    if (at != plans_.end()) return &at->second;
    auto plan = ledger_.plan(trial);
    if (!plan) return nullptr;
    return &plans_.emplace(trial, std::move(plan->plan)).first->second;
  }

  const ledger::Ledger& ledger_;
  std::map<Place, std::vector<flow::KnownClaim>> claims_;
  std::map<TrialId, Plan> plans_;
  std::vector<flow::OpenBag> bags_;
};

}  // namespace

Result<flow::Started> load_start(const ledger::Ledger& ledger, const Definitions& definitions) {
  flow::Started started;
  started.setup.definitions = definitions;
  for (const Scale& scale : definitions.scales)
    started.setup.definition_digests[scale.code] = sha256(scale_text(scale)).hex();
  if (const auto mine = ledger.my_stream()) {
    started.setup.device = mine->device;
    started.setup.demo = mine->demo;
  }
  auto trials = known_trials(ledger);
  if (!trials) return std::unexpected(std::move(trials).error());
  started.trials = *std::move(trials);
  const auto people = ledger.of_kind(kind::kPerson);
  if (!people) return std::unexpected(people.error());
  for (const Record& record : *people) {
    const flow::Person person{PersonId{record.subject.value_or(Uuid{})}, record.entered};
    if (std::ranges::find(started.people, person.id, &flow::Person::id) == started.people.end())
      started.people.push_back(person);
  }
  // Dry weights and reviews ask of occasions that nobody opened since the program started.
  const auto events = ledger.of_kind(kind::kEvent);
  if (!events) return std::unexpected(events.error());
  for (const Record& event : *events) {
    if (const auto shown = names_shown_by(event)) started.names_shown.push_back(*shown);
  }
  return started;
}

Result<std::vector<flow::KnownTrial>> load_plans(const ledger::Ledger& ledger) {
  return known_trials(ledger);
}

Result<flow::Today> load_today(const ledger::Ledger& ledger, const Definitions& definitions,
                               CalendarDate today, TrialsProgress& known) {
  flow::Today loaded;
  const auto trials = known_trials(ledger);
  if (!trials) return std::unexpected(trials.error());
  auto progress = known.of(ledger, *trials, definitions, today);
  if (!progress) return std::unexpected(std::move(progress).error());
  loaded.progress = *std::move(progress);
  for (const flow::KnownTrial& trial : *trials) {
    const auto events = ledger.events(trial.plan.id());
    if (!events) return std::unexpected(events.error());
    for (const TrialEvent& event : *events) {
      if (event.taken_back) continue;
      if (auto spray = flow::spray_of(event.record)) loaded.sprays.push_back(*std::move(spray));
      if (auto grazing = flow::grazing_of(event.record))
        loaded.grazing.push_back(*std::move(grazing));
    }
  }
  if (auto added = add_seals(ledger, today, loaded); !added) return std::unexpected(added.error());
  if (auto added = add_newest(ledger, loaded); !added) return std::unexpected(added.error());
  const auto copies = ledger.copies();
  if (!copies) return std::unexpected(copies.error());
  if (!copies->empty()) {
    const ledger::SealCopy& last = copies->back();
    loaded.last_copy = flow::CopyNote{last.place, last.file_name, last.at};
  }
  return loaded;
}

Result<flow::OccasionLoaded> load_occasion(const ledger::Ledger& ledger, TrialId trial,
                                           OccasionId occasion) {
  flow::OccasionLoaded loaded;
  loaded.trial = trial;
  loaded.occasion = occasion;
  auto claims = survey_claims(ledger, trial, occasion);
  if (!claims) return std::unexpected(std::move(claims).error());
  loaded.claims = *std::move(claims);
  auto again = claims_as(ledger, trial, occasion, {Purpose::kRepeat, Purpose::kSecond});
  if (!again) return std::unexpected(std::move(again).error());
  loaded.again = *std::move(again);
  auto runs = ledger.of_kind(kind::kHarvestRun, trial);
  if (!runs) return std::unexpected(std::move(runs).error());
  for (const Record& run : *runs)
    if (run.occasion != occasion)
      loaded.last_cut = std::max(loaded.last_cut.value_or(run.at.local_date), run.at.local_date);
  std::erase_if(*runs, [&](const Record& run) { return run.occasion != occasion; });
  loaded.runs = *std::move(runs);
  if (!is_cutting(ledger, trial, occasion)) {
    const auto grown = ledger::new_growth(ledger, trial);
    if (!grown) return std::unexpected(grown.error());
    loaded.last_cut = std::max(loaded.last_cut, *grown);
  }
  auto before = ledger::rated_before(ledger, trial, occasion);
  if (!before) return std::unexpected(std::move(before).error());
  loaded.before = *std::move(before);
  if (is_cutting(ledger, trial, occasion)) {
    auto checks = ledger.of_kind(kind::kCheckWeight);
    if (!checks) return std::unexpected(std::move(checks).error());
    loaded.checks = *std::move(checks);
    auto elsewhere = weighed_elsewhere(ledger, occasion, loaded.checks);
    if (!elsewhere) return std::unexpected(std::move(elsewhere).error());
    loaded.elsewhere = *std::move(elsewhere);
    auto earlier = ledger::earlier_cuttings(ledger, trial, occasion);
    if (!earlier) return std::unexpected(std::move(earlier).error());
    loaded.earlier = *std::move(earlier);
  }
  auto sown = ledger.as_sown(trial);
  if (!sown) return std::unexpected(std::move(sown).error());
  loaded.as_sown = *std::move(sown);
  const auto events = ledger.of_kind(kind::kEvent, trial);
  if (!events) return std::unexpected(events.error());
  for (const Record& event : *events) {
    const auto shown = names_shown_by(event);
    if (shown && shown->second == occasion) loaded.names_shown_to.push_back(shown->first);
  }
  auto bags = load_bags(ledger, std::nullopt);
  if (!bags) return std::unexpected(std::move(bags).error());
  loaded.open_bags = *std::move(bags);
  return loaded;
}

Result<std::vector<Record>> load_history(const ledger::Ledger& ledger, TrialId trial,
                                         std::string_view plot) {
  const auto known = ledger.plan(trial);
  if (!known) return std::unexpected(known.error());
  auto records = ledger.history(plot_id(trial, plot).uuid);
  if (!records) return std::unexpected(std::move(records).error());
  std::vector<Uuid> bags;
  for (const Record& record : *records) {
    if (record.kind == kind::kReading && numbers_a_bag(record.measure))
      bags.push_back(record.id.uuid);
  }
  for (const Uuid& bag : bags) {
    auto values = ledger.history(bag);
    if (!values) return std::unexpected(std::move(values).error());
    std::ranges::move(*values, std::back_inserter(*records));
  }
  std::ranges::sort(*records, [](const Record& a, const Record& b) {
    return std::tie(b.at.utc, b.id) < std::tie(a.at.utc, a.id);
  });
  return records;
}

Result<flow::TrialLoaded> load_trial(const ledger::Ledger& ledger, TrialId trial) {
  flow::TrialLoaded loaded;
  loaded.trial = trial;
  auto sown = ledger.as_sown(trial);
  if (!sown) return std::unexpected(std::move(sown).error());
  loaded.as_sown = *std::move(sown);
  const auto events = ledger.events(trial);
  if (!events) return std::unexpected(events.error());
  for (const TrialEvent& event : *events) {
    if (event.record.entered != kNamesShown) loaded.events.insert(loaded.events.begin(), event);
    if (const auto shown = names_shown_by(event.record)) loaded.names_shown.push_back(*shown);
  }
  return loaded;
}

Result<std::vector<flow::OpenBag>> load_bags(const ledger::Ledger& ledger,
                                             std::optional<CalendarDate> since) {
  const auto open = ledger.open_bags();
  if (!open) return std::unexpected(open.error());
  Bags bags(ledger);
  std::set<RecordId> listed;
  for (const Record& record : *open) {
    listed.insert(record.id);
    if (auto added = bags.add(record); !added) return std::unexpected(added.error());
  }
  if (!since) return bags.take();
  const auto closed = bags.of_cuttings(since->year());
  if (!closed) return std::unexpected(closed.error());
  for (const Record& record : *closed) {
    if (record.at.local_date < *since || listed.contains(record.id)) continue;
    if (auto added = bags.add(record); !added) return std::unexpected(added.error());
  }
  return bags.take();
}

}  // namespace ligule::work
