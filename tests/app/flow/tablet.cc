#include "tests/app/flow/tablet.h"

#include <algorithm>

#include "app/flow/book.h"
#include "app/flow/grazing.h"
#include "app/flow/no_entry.h"
#include "app/flow/seconds.h"
#include "app/flow/stake.h"
#include "storage/trial/composition.h"
#include "storage/trial/details.h"
#include "storage/trial/first_said.h"
#include "storage/trial/record_line.h"
#include "storage/trial/said.h"
#include "storage/trial/sown_now.h"

namespace ligule::flow {
namespace {

using date::day;
using date::month;
using date::year;

std::vector<std::pair<PersonId, OccasionId>> names_shown_in(const std::vector<Record>& ledger) {
  std::vector<std::pair<PersonId, OccasionId>> shown;
  for (const Record& record : ledger) {
    if (record.kind != kind::kEvent || record.entered != "names_shown") continue;
    const auto details = parse_details(record.details);
    shown.emplace_back(*record.person, OccasionId{*parse_uuid(details->at("occasion"))});
  }
  return shown;
}

}  // namespace

Tablet::Tablet() : Tablet(year{2026} / month{5} / day{4}) {}

Tablet::Tablet(CalendarDate day) {
  clock_ = UtcInstant{date::sys_days{day}} + std::chrono::hours{12};  // 08:00 at UTC-4
  restart();
  sign_in("AB");
}

void Tablet::restart() {
  Model fresh;
  std::swap(model, fresh);
  waiting_.clear();
  Started started;
  started.setup.definitions = test_definitions();
  for (const Scale& each : started.setup.definitions.scales) {
    started.setup.definition_digests[each.code] = "digest of " + each.code;
  }
  started.trials = {{grass_plan(), "plan digest G1", {}}, {annual_plan(), "plan digest A1", {}}};
  for (const Record& record : ledger) {
    if (record.kind == kind::kPerson) {
      started.people.push_back({PersonId{*record.subject}, record.entered});
    }
  }
  started.names_shown = names_shown_in(ledger);
  send(std::move(started));
}

void Tablet::sign_in(const std::string& initials) {
  tap(PickPerson{initials});
  settle();
}

void Tablet::next_day() {
  clock_ += std::chrono::hours{24};
  send(Tick{});
  // Left alone over night it asks who has it: the same person.
  if (model.handing && model.person) send(PickPerson{model.person->initials});
}

void Tablet::send(Intent intent) {
  const Event event{stamp_at(clock_, std::chrono::minutes{-240}), std::move(intent)};
  const IdSource ids = [this](UtcInstant) {
    Uuid id;
    ++ids_;
    for (std::size_t i = 0; i < 8; ++i) {
      id.bytes.at(15 - i) = static_cast<std::uint8_t>(ids_ >> (8 * i));
    }
    return RecordId{id};
  };
  for (Effect& effect : update(model, event, ids)) {
    if (const auto* const cue = std::get_if<Cue>(&effect)) {
      cues.push_back(*cue);
    } else {
      waiting_.push_back(std::move(effect));
    }
  }
}

Effects Tablet::tap(Intent intent) {
  if (reads_cautions && !model.unsaved && !model.handing && above().cautions) send(ReadCautions{});
  const Book* const book = entry_book(model.screen);
  if (agrees && book != nullptr && !model.unsaved && !model.asking && stake_asked(model, *book)) {
    send(NameStake{book->plots.at(book->present).number});
  }
  clock_ += std::chrono::seconds{2};
  const std::size_t before = waiting_.size();
  send(std::move(intent));
  if (stops && above().splitting) send(AnswerSplit{SplitAnswer::kStop});
  return {waiting_.begin() + static_cast<std::ptrdiff_t>(before), waiting_.end()};
}

void Tablet::settle() {
  while (!waiting_.empty()) {
    const Effect effect = waiting_.front();
    waiting_.erase(waiting_.begin());
    run(effect);
  }
}

void Tablet::settle_but_copies() {
  while (!waiting_.empty()) {
    const Effect effect = waiting_.front();
    waiting_.erase(waiting_.begin());
    if (std::holds_alternative<CopyLedger>(effect))
      ++copied;
    else
      run(effect);
  }
}

void Tablet::run(const Effect& effect) {
  if (const auto* const append = std::get_if<Append>(&effect)) {
    if (broken_ || failed_epoch_ == append->epoch) {
      failed_epoch_ = append->epoch;
      return send(NotKept{
          append->act, {ErrorKind::kIo, "no space left", "ledger", "free space"}, append->epoch});
    }
    for (Record record : append->records) {
      record.seq = static_cast<std::int64_t>(ledger.size()) + 1;
      // Whatever flow makes can be written down.
      Record writable = record;
      writable.plan = std::string(64, '0');
      writable.definition = record.definition.empty() ? "" : std::string(64, '1');
      EXPECT_TRUE(record_body(writable)) << record.kind << " " << record.measure;
      EXPECT_FALSE(record.id.is_nil());
      ledger.push_back(std::move(record));
    }
    return send(Kept{append->act});
  }
  if (const auto* const asked = std::get_if<StorePreferences>(&effect)) {
    if (broken_) return send(PreferencesNotKept{{ErrorKind::kIo, "no space left", "file", ""}});
    stored = asked->preferences;
    return send(PreferencesKept{});
  }
  if (std::holds_alternative<LoadTablet>(effect)) return send(TabletLoaded{facts_answer});
  if (std::holds_alternative<LoadToday>(effect)) {
    Today today = today_answer;
    add_seconds(today);
    for (const TrialEvent& event : trial_events(ledger)) {
      if (event.taken_back) continue;
      if (auto spray = spray_of(event.record)) today.sprays.push_back(*std::move(spray));
      if (auto grazing = grazing_of(event.record)) today.grazing.push_back(*std::move(grazing));
    }
    return send(TodayLoaded{std::move(today)});
  }
  if (const auto* const load = std::get_if<LoadOccasion>(&effect)) {
    OccasionLoaded loaded{load->trial, load->occasion, claims(load->occasion), {}, {},
                          {},          open_bags()};
    for (const Record& record : ledger) {
      if (record.kind == kind::kHarvestRun && record.occasion == load->occasion) {
        loaded.runs.push_back(record);
      }
      if (record.kind == kind::kCheckWeight) loaded.checks.push_back(record);
    }
    std::erase_if(loaded.claims, [](const KnownClaim& claim) {
      return claim.record.purpose == Purpose::kRepeat || claim.record.purpose == Purpose::kSecond;
    });
    for (KnownClaim& claim : claims(load->occasion)) {
      const auto purpose = claim.record.purpose;
      if (purpose == Purpose::kRepeat || purpose == Purpose::kSecond)
        loaded.again.push_back(std::move(claim));
    }
    loaded.as_sown = trial(load->trial).as_sown;
    loaded.before = rated_before(load->trial, load->occasion);
    loaded.elsewhere = weighed_elsewhere(load->occasion);
    for (const auto& [person, occasion] : names_shown_in(ledger)) {
      if (occasion == load->occasion) loaded.names_shown_to.push_back(person);
    }
    send(std::move(loaded));
    if (goes_on && model.as_second) send(AnswerAsSecond{RateAs::kFirst});
    return;
  }
  if (const auto* const load = std::get_if<LoadHistory>(&effect)) {
    return send(HistoryLoaded{load->trial, load->plot, records_about(load->trial, load->plot)});
  }
  if (const auto* const load = std::get_if<LoadTrial>(&effect)) return send(trial(load->trial));
  if (std::holds_alternative<FindPlans>(effect))
    return send(PlansFound{plan_folders, copies_found, files_found});
  if (std::holds_alternative<ReadPlan>(effect)) return send(plan_answer);
  if (std::holds_alternative<LookAtSticks>(effect)) {
    ++sticks_looked;
    return send(SticksSeen{stick_answer});
  }
  if (std::holds_alternative<CopyLedger>(effect)) {
    ++copied;
    return send(copies_answer);
  }
  if (std::holds_alternative<TakeOver>(effect)) return send(over_answer);
  if (std::holds_alternative<ReadSeasonFile>(effect)) return send(file_answer);
  if (std::holds_alternative<GatherFile>(effect)) return send(gather_answer);
  if (std::holds_alternative<LoadBags>(effect)) return send(BagsLoaded{open_bags(true)});
}

void Tablet::add_seconds(Today& today) const {
  for (const KnownTrial& trial : model.trials) {
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      const OccasionId id = trial.plan.occasion(occasion);
      std::vector<KnownClaim> first;
      std::vector<KnownClaim> second;
      for (KnownClaim& claim : claims(id))
        (claim.record.purpose == Purpose::kSecond ? second : first).push_back(std::move(claim));
      if (second.empty()) continue;
      std::vector<Record> closed;
      for (const Record& record : ledger)
        if (record.kind == kind::kClosed && record.occasion == id) closed.push_back(record);
      const Definitions& definitions = model.setup.definitions;
      const CalendarDate day = model.now.local_date;
      auto at = std::ranges::find(today.progress, id, &OccasionProgress::occasion);
      if (at == today.progress.end())
        at = today.progress.insert(at, progress_of(trial, occasion, definitions, first, day));
      at->closed = at->closed || !std::ranges::all_of(closed, said::closes_second);
      at->second_open = seconds_open(trial, occasion, definitions, first, second, closed, day);
    }
  }
}

TrialLoaded Tablet::trial(TrialId id) const {
  TrialLoaded loaded{id, {}, {}, names_shown_in(ledger)};
  for (const Record& record : ledger) {
    if (record.trial != id) continue;
    if (auto sown = read_as_sown(record)) loaded.as_sown.push_back(*std::move(sown));
  }
  std::vector<Record> of_trial;
  std::ranges::copy_if(ledger, std::back_inserter(of_trial),
                       [&](const Record& record) { return record.trial == id; });
  for (const TrialEvent& event : trial_events(of_trial)) {
    if (event.record.entered != kNamesShown) loaded.events.insert(loaded.events.begin(), event);
  }
  loaded.as_sown = sown_now(loaded.as_sown);
  return loaded;
}

std::vector<Record> Tablet::records_about(TrialId trial, std::string_view plot) const {
  std::vector<Uuid> subjects{plot_id(trial, plot).uuid};
  std::vector<Record> records;
  for (const Record& record : ledger) {
    if (!record.subject || std::ranges::find(subjects, *record.subject) == subjects.end()) continue;
    if (numbers_a_bag(record.measure)) subjects.push_back(record.id.uuid);
    records.insert(records.begin(), record);
  }
  return records;
}

KnownClaim Tablet::claim(const Record& record) const {
  KnownClaim known{record, std::nullopt, record.id, 0};
  const Record* at = &record;
  bool given = true;
  while (at->replaces()) {
    const auto target = std::ranges::find(ledger, at->targets.front(), &Record::id);
    if (target == ledger.end()) break;
    if (!known.before) known.before = *target;
    at = &*target;
    known.first = at->id;
    given = given && at->state != ValueState::kLater;
    if (given) known.given = at->at;
  }
  if (only_restates(record)) {
    const auto find = [&](RecordId id) -> Result<std::optional<Record>> {
      const auto found = std::ranges::find(ledger, id, &Record::id);
      return found == ledger.end() ? std::nullopt : std::optional(*found);
    };
    known.weighed = first_said(record, find)->at;
  }
  return known;
}

std::vector<CuttingWeighed> Tablet::weighed_elsewhere(OccasionId here) const {
  std::vector<CuttingWeighed> elsewhere;
  for (const Record& run : ledger) {
    if (run.kind != kind::kHarvestRun || run.occasion == here) continue;
    auto at = std::ranges::find(elsewhere, *run.occasion, &CuttingWeighed::occasion);
    if (at == elsewhere.end()) {
      auto weights = claims(*run.occasion);
      std::erase_if(weights, [](const KnownClaim& claim) {
        return claim.record.measure != measure::kGrossWeight ||
               claim.record.source != Source::kScale;
      });
      elsewhere.push_back({*run.trial, *run.occasion, std::move(weights), {}});
      at = std::prev(elsewhere.end());
    }
    at->runs.push_back(run);
  }
  return elsewhere;
}

std::vector<KnownClaim> Tablet::claims(OccasionId occasion) const {
  std::vector<KnownClaim> found;
  for (const Record& record : ledger) {
    if (record.occasion != occasion || !record.is_claim()) continue;
    const bool replaced = std::ranges::any_of(ledger, [&](const Record& other) {
      return std::ranges::find(other.targets, record.id) != other.targets.end();
    });
    if (!replaced) found.push_back(claim(record));
  }
  for (KnownClaim& one : found) {
    one.others = static_cast<int>(std::ranges::count_if(found, [&](const KnownClaim& other) {
      return slot_of(other.record) == slot_of(one.record) &&
             (other.record.state != one.record.state || other.record.value != one.record.value);
    }));
  }
  return found;
}

std::map<std::string, RatedBefore> Tablet::rated_before(TrialId trial, OccasionId here) const {
  std::map<std::string, RatedBefore> before;
  for (const Record& record : ledger) {
    if (record.trial != trial || record.occasion == here || !record.is_claim() || !record.value)
      continue;
    for (const KnownTrial& known : model.trials) {
      for (const PlanPlot& plot : known.plan.plots) {
        if (known.plan.plot(plot).uuid != record.subject) continue;
        const RatedBefore::Value value{*record.value, record.at.local_date};
        if (record.measure == "percent_stand") before[plot.number].stand = value;
        if (record.measure == "maturity") before[plot.number].stage = value;
      }
    }
  }
  return before;
}

std::vector<OpenBag> Tablet::open_bags(bool closed) const {
  std::vector<OpenBag> bags;
  const Plan plan = grass_plan();
  for (const PlanOccasion& occasion : plan.occasions) {
    const auto all = claims(plan.occasion(occasion));
    for (const KnownClaim& known : all) {
      const auto same_bag = [](const Record& record) { return detail(record.details, "same_bag"); };
      if (!numbers_a_bag(known.record.measure) || known.record.state != ValueState::kValue ||
          !same_bag(known.record).empty())
        continue;
      OpenBag bag;
      bag.bag = known.first;
      bag.trial = plan.id();
      bag.occasion = plan.occasion(occasion);
      bag.run = known.record.run;
      bag.plan = known.record.plan;
      bag.plot = plan.find_plot(PlotId{*known.record.subject})->number;
      bag.number = known.record.entered;
      bag.filled = known.record.at.local_date;
      if (known.record.measure == measure::kPartBag) bag.part = known.record.part;
      bool done = false;
      for (const KnownClaim& value : all) {
        if (same_bag(value.record) == bag.bag.text())
          bag.also.push_back(plan.find_plot(PlotId{*value.record.subject})->number);
        if (value.record.subject != bag.bag.uuid) continue;
        if (value.record.measure == measure::kSampleFresh) bag.fresh = value;
        if (value.record.measure != measure::kSampleDry) continue;
        bag.dried = value;
        done =
            value.record.state == ValueState::kValue || value.record.state == ValueState::kMissing;
      }
      if (closed || !done) bags.push_back(bag);
    }
  }
  return bags;
}

void Tablet::open(const Plan& plan, std::string_view occasion) {
  for (const PlanOccasion& each : plan.occasions) {
    if (each.code == occasion) tap(OpenOccasion{plan.id(), plan.occasion(each)});
  }
  if (above().early) tap(AnswerEarly{true});
  settle();
}

void Tablet::look_over(const Plan& plan, std::string_view occasion) {
  const auto at = std::ranges::find(plan.occasions, occasion, &PlanOccasion::code);
  tap(ShowToday{});
  settle();
  tap(ShowReview{});
  settle();
  tap(ReviewOccasion{plan.id(), plan.occasion(*at)});
  settle();
}

void Tablet::choose(std::string_view measure, std::string_view entered) {
  tap(ChooseValue{std::string(measure), std::string(entered)});
}

void Tablet::type(std::string_view text) {
  for (const char c : text) tap(KeyText{std::string(1, c)});
}

void Tablet::scan(std::string_view text, bool enter) {
  clock_ += std::chrono::seconds{2};
  for (const char c : text) send(KeyText{std::string(1, c)});
  if (enter) send(KeyDone{});
}

void Tablet::fill(Field field, std::string_view text) {
  tap(FocusField{field});
  while (!this->text(field).empty()) tap(KeyErase{});
  type(text);
}

void Tablet::answer(std::string_view phrase) {
  tap(AnswerQuestion{std::string(phrase)});
}

RateView Tablet::rate() const {
  return std::get<RateView>(view_of(model));
}
WeighingView Tablet::weighing() const {
  return std::get<WeighingView>(std::get<HarvestView>(view_of(model)).step);
}
DryView Tablet::dry() const {
  return std::get<DryView>(view_of(model));
}
TodayView Tablet::today() const {
  return std::get<TodayView>(view_of(model));
}
ReviewView Tablet::review() const {
  return std::get<ReviewView>(view_of(model));
}
MapView Tablet::map() const {
  return std::get<MapView>(review().page);
}
MapCell Tablet::on_map(std::string_view plot) const {
  const MapView view = map();
  return *std::ranges::find(view.cells, plot, &MapCell::plot);
}
HistoryView Tablet::history() const {
  return std::get<HistoryView>(review().page);
}
DaysEndView Tablet::days_end() const {
  return std::get<DaysEndView>(view_of(model));
}

Mark Tablet::mark(std::string_view plot) const {
  const View view = view_of(model);
  const auto* const rate_view = std::get_if<RateView>(&view);
  const auto lane = rate_view != nullptr ? rate_view->lane : weighing().lane;
  return std::ranges::find(lane, plot, &StakeView::plot)->mark;
}

std::string Tablet::text(Field field) const {
  const View view = view_of(model);
  std::vector<FieldView> fields;
  if (const auto* const harvest = std::get_if<HarvestView>(&view)) {
    fields = std::visit([](const auto& step) { return step.fields; }, harvest->step);
  } else if (const auto* const dry_view = std::get_if<DryView>(&view)) {
    fields = dry_view->fields;
  } else if (const auto* const sorting = std::get_if<SortingView>(&view)) {
    fields = sorting->fields;
  }
  const auto at = std::ranges::find(fields, field, &FieldView::field);
  return at == fields.end() ? std::string() : at->text;
}

std::string Tablet::question() const {
  const Overlay overlay = above();
  return overlay.question ? overlay.question->text.key : std::string();
}

std::string Tablet::notice() const {
  const Overlay overlay = above();
  return overlay.notice ? overlay.notice->text.key : std::string();
}

}  // namespace ligule::flow
