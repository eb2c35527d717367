#include "app/work/worker.h"

#include <memory>
#include <new>
#include <utility>
#include <variant>

#include "app/scale/indicator.h"
#include "app/work/load.h"
#include "app/work/practised.h"
#include "app/work/preferences.h"
#include "app/work/season_files.h"
#include "app/work/spare_copies.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"

namespace ligule::work {
namespace {

template <class... Handlers>
struct Overloaded : Handlers... {
  using Handlers::operator()...;
};

// An outcome of a load, or why there is none.
template <class T, class Wrap>
flow::Intent outcome_of(Result<T> loaded, Wrap wrap) {
  if (!loaded) return flow::Failed{std::move(loaded).error()};
  return wrap(*std::move(loaded));
}

Error no_memory() {
  return {ErrorKind::kIo,
          "there is not enough memory for this",
          {},
          "close other programs, then do it again"};
}

// What a load is told as that could not be carried out.
flow::Intent failed_load(Error error) {
  return flow::Failed{std::move(error)};
}

}  // namespace

AppendCall plain_append() {
  return [](ledger::Ledger& ledger, std::vector<Record> records) -> Result<void> {
    if (auto kept = ledger.append(std::move(records)); !kept)
      return std::unexpected(std::move(kept).error());
    return {};
  };
}

Result<std::unique_ptr<Worker>> Worker::start(ledger::Ledger ledger, files::FileSystem& files,
                                              UuidSequence ids, Settings settings) {
  auto scales = DefinitionsUsed::of(ledger, settings.definitions);
  if (!scales) return std::unexpected(std::move(scales).error());
  return std::unique_ptr<Worker>(new Worker(std::move(ledger), files, std::move(ids),
                                            *std::move(scales), std::move(settings)));
}

Worker::Worker(ledger::Ledger ledger, files::FileSystem& files, UuidSequence ids,
               DefinitionsUsed scales, Settings settings)
    : ledger_(std::move(ledger)),
      ledger_path_(ledger_.path()),
      files_(files),
      settings_(std::move(settings)),
      ids_(std::move(ids)),
      id_source_([this](UtcInstant now) { return RecordId{ids_.next(now)}; }),
      scales_(std::move(scales)),
      scale_port_(settings_.line_forms, settings_.wake) {
  if (settings_.watch_sticks) watch_.emplace(files_, settings_.media, settings_.wake);
}

Worker::~Worker() {
  // A log that could not be folded in is read by the next start all the same.
  writer_.add([this] { static_cast<void>(ledger_.checkpoint().has_value()); });
}

template <class Job, class Lost>
void Worker::on(Lane& lane, Job job, Lost lost) {
  ++pending_;
  lane.add([this, job = std::move(job), lost = std::move(lost)] {
    // What a stranger's stick holds may ask for more than there is: the tablet goes on.
    try {
      deliver(job());
    } catch (const std::bad_alloc&) {
      deliver(lost(no_memory()));
    }
  });
}

void Worker::deliver(flow::Intent outcome) {
  {
    const std::lock_guard lock(mutex_);
    outcomes_.push_back(std::move(outcome));
  }
  if (settings_.wake) settings_.wake();
}

void Worker::load_start() {
  on(
      writer_,
      [this] {
        return outcome_of(started(), [](flow::Started started) -> flow::Intent { return started; });
      },
      failed_load);
}

void Worker::run(const flow::Effects& effects) {
  for (const flow::Effect& effect : effects) {
    std::visit(
        Overloaded{
            [this](const flow::Append& asked) {
              flow::Append whole = asked;
              scales_.add_to(whole, id_source_);
              on(
                  writer_, [this, whole = std::move(whole)] { return append(whole); }, failed_load);
            },
            [this](const flow::LoadToday&) {
              on(
                  writer_, [this] { return today(); }, failed_load);
            },
            [this](const flow::LoadOccasion& asked) {
              on(
                  writer_, [this, asked] { return occasion(asked); }, failed_load);
            },
            [this](const flow::LoadHistory& asked) {
              on(
                  writer_, [this, asked] { return history(asked); }, failed_load);
            },
            [this](const flow::LoadTrial& asked) {
              on(
                  writer_, [this, asked] { return trial(asked); }, failed_load);
            },
            // A slow card must not hold up a value.
            [this](const flow::FindPlans&) {
              on(
                  carrier_, [this] { return find_sources(); }, failed_load);
            },
            [this](const flow::ReadPlan& asked) {
              on(
                  carrier_, [this, asked] { return read_plan(asked); },
                  [path = asked.path](Error error) -> flow::Intent {
                    return flow::PlanFaulty{{path, {std::move(error)}}};
                  });
            },
            [this](const flow::LookAtSticks&) {
              on(
                  carrier_, [this] { return sticks(); }, failed_load);
            },
            [this](const flow::LoadPlans&) {
              on(
                  writer_,
                  [this] {
                    return outcome_of(load_plans(ledger_),
                                      [](std::vector<flow::KnownTrial> trials) -> flow::Intent {
                                        return flow::PlansKnown{std::move(trials)};
                                      });
                  },
                  failed_load);
            },
            [this](const flow::LoadBags&) {
              on(
                  writer_, [this] { return bags(); }, failed_load);
            },
            [this](const flow::Seal&) {
              on(
                  carrier_, [this] { return seal(); },
                  [](Error error) -> flow::Intent { return flow::NotSealed{std::move(error)}; });
            },
            [this](const flow::CopySeal& asked) {
              on(
                  carrier_, [this, asked] { return copy(asked); },
                  [place = asked.place](Error error) -> flow::Intent {
                    return flow::NotCopied{place, std::move(error)};
                  });
            },
            [this](const flow::CopyLedger&) {
              on(
                  carrier_, [this] { return copy_ledger(); },
                  [this](const Error& error) -> flow::Intent {
                    return not_copied_anywhere(error);
                  });
            },
            [this](const flow::TakeOver& asked) {
              on(
                  writer_, [this, asked] { return take_over(asked); },
                  [](Error error) -> flow::Intent { return flow::NotTakenOver{std::move(error)}; });
            },
            [this](const flow::ReadSeasonFile& asked) {
              // A large file takes seconds: values are kept meanwhile.
              on(
                  carrier_, [this, asked] { return read_file(asked); },
                  [path = asked.path](Error error) -> flow::Intent {
                    return flow::SeasonFileFaulty{{path, {std::move(error)}}};
                  });
            },
            [this](const flow::GatherFile& asked) {
              on(
                  writer_, [this, asked] { return gather(asked); },
                  [](Error error) -> flow::Intent {
                    return flow::NotGatheredHere{std::move(error)};
                  });
            },
            [this](const flow::StorePreferences& asked) {
              on(
                  writer_, [this, asked] { return store(asked.preferences); },
                  [](Error error) -> flow::Intent {
                    return flow::PreferencesNotKept{std::move(error)};
                  });
            },
            [this](const flow::LoadTablet&) {
              on(
                  writer_, [this] { return tablet(); }, failed_load);
            },
            [this](const flow::UseScale& asked) { scale_port_.use(asked.scale); },
            [this](const flow::AverageLoad&) { scale_port_.average(); },
            [this](const flow::LoadTaken& said) { scale_port_.taken(said.yes); },
            [](const flow::Cue&) {},
        },
        effect);
  }
}

std::vector<flow::Intent> Worker::take() {
  std::vector<flow::Intent> taken;
  {
    const std::lock_guard lock(mutex_);
    taken.swap(outcomes_);
  }
  for (const flow::Intent& outcome : taken) {
    if (const auto* kept = std::get_if<flow::Kept>(&outcome)) scales_.kept(kept->act);
    if (const auto* lost = std::get_if<flow::NotKept>(&outcome))
      scales_.not_kept(lost->act, lost->epoch);
  }
  pending_ -= static_cast<int>(taken.size());
  if (watch_ && watch_->changed()) taken.emplace_back(flow::SticksChanged{});
  if (auto told = scale_port_.told()) taken.emplace_back(*std::move(told));
  return taken;
}

Result<flow::Started> Worker::started() const {
  auto start = work::load_start(ledger_, settings_.definitions);
  if (start) start->setup.soil = settings_.schemas.soil_tables;
  return start;
}

flow::Intent Worker::append(const flow::Append& effect) {
  if (failed_epoch_ == effect.epoch) return flow::NotKept{effect.act, failure_, effect.epoch};
  const auto append = [&]() -> Result<void> {
    try {
      return settings_.append(ledger_, effect.records);
    } catch (const std::bad_alloc&) {
      return std::unexpected(no_memory());
    }
  };
  if (auto kept = append(); !kept) {
    failed_epoch_ = effect.epoch;
    failure_ = std::move(kept).error();
    return flow::NotKept{effect.act, failure_, effect.epoch};
  }
  return flow::Kept{effect.act};
}

flow::Intent Worker::today() {
  auto loaded = load_today(ledger_, settings_.definitions, settings_.now().local_date, progress_);
  return outcome_of(std::move(loaded), [this](flow::Today today) -> flow::Intent {
    today.places = copy_places(files_, settings_.media);
    today.spare = newest_spare_copy(ledger_, files_, settings_.media);
    return flow::TodayLoaded{std::move(today)};
  });
}

flow::Intent Worker::occasion(const flow::LoadOccasion& effect) {
  return outcome_of(load_occasion(ledger_, effect.trial, effect.occasion),
                    [](flow::OccasionLoaded loaded) -> flow::Intent { return loaded; });
}

flow::Intent Worker::history(const flow::LoadHistory& effect) {
  return outcome_of(load_history(ledger_, effect.trial, effect.plot),
                    [&](std::vector<Record> records) -> flow::Intent {
                      return flow::HistoryLoaded{effect.trial, effect.plot, std::move(records)};
                    });
}

flow::Intent Worker::trial(const flow::LoadTrial& effect) {
  return outcome_of(load_trial(ledger_, effect.trial),
                    [](flow::TrialLoaded loaded) -> flow::Intent { return loaded; });
}

flow::Intent Worker::take_over(const flow::TakeOver& effect) {
  auto took = work::take_over(ledger_, effect.path);
  if (!took) return flow::NotTakenOver{std::move(took).error()};
  auto start = started();
  if (!start) return flow::NotTakenOver{std::move(start).error()};
  flow::TakenOver taken{*std::move(start), took->device, took->records};
  std::optional<Error> refused = std::move(took->refused);
  if (!refused) return taken;
  // Both are told: what came, and why not all did.
  ++pending_;
  deliver(std::move(taken));
  return flow::NotTakenOver{*std::move(refused)};
}

flow::Intent Worker::gather(const flow::GatherFile& effect) {
  auto took = take_in_file(ledger_, files_, effect.path, settings_.now().utc, compared_);
  if (!took) return flow::NotGatheredHere{std::move(took).error()};
  auto start = started();
  if (!start) return flow::NotGatheredHere{std::move(start).error()};
  return flow::GatheredHere{*std::move(start), took->device, took->records, took->conflicts};
}

// A bag that was given up may be found, and one that was done be dried again.
constexpr date::days kBagsKnown{60};

flow::Intent Worker::bags() {
  const CalendarDate since = date::sys_days(settings_.now().local_date) - kBagsKnown;
  return outcome_of(load_bags(ledger_, since), [](std::vector<flow::OpenBag> bags) -> flow::Intent {
    return flow::BagsLoaded{std::move(bags)};
  });
}

flow::Intent Worker::store(const flow::Preferences& preferences) {
  const auto kept = keep_preferences(files_, preferences_path(ledger_path_), preferences);
  if (!kept) return flow::PreferencesNotKept{kept.error()};
  return flow::PreferencesKept{};
}

flow::Intent Worker::tablet() {
  return outcome_of(load_tablet(ledger_, files_, settings_.version),
                    [this](flow::TabletFacts facts) -> flow::Intent {
                      facts.ports = scale::list_ports(settings_.ports);
                      auto begun = load_practised(ledger_, settings_.now().local_date);
                      if (!begun) return flow::Failed{std::move(begun).error()};
                      facts.practised = *std::move(begun);
                      return flow::TabletLoaded{std::move(facts)};
                    });
}

flow::Intent Worker::seal() {
  const auto sealed = [this]() -> Result<seal::Sealed> {
    auto ledger = ledger::Ledger::open(ledger_path_);
    if (!ledger) return std::unexpected(std::move(ledger).error());
    const auto key = seal::key_of_stream(*ledger, files_);
    if (!key) return std::unexpected(key.error());
    if (auto made = files_.make_folders(settings_.season_folder); !made)
      return std::unexpected(std::move(made).error());
    return seal::write_season_file(*ledger, files_, *key,
                                   {settings_.season_folder, 1, settings_.now().utc});
  }();
  if (!sealed) return flow::NotSealed{sealed.error()};
  const ledger::Span& span = sealed->span;
  return flow::Sealed{
      {sealed->file.filename().string(), settings_.now().utc, span.last - span.first + 1}};
}

Result<const ledger::Ledger*> Worker::carriers_ledger() {
  if (!carriers_ledger_) {
    auto opened = ledger::Ledger::open(ledger_path_, ledger::Access::kReadOnly);
    if (!opened) return std::unexpected(std::move(opened).error());
    carriers_ledger_ = *std::move(opened);
  }
  return &*carriers_ledger_;
}

flow::Intent Worker::read_file(const flow::ReadSeasonFile& effect) {
  const auto ledger = carriers_ledger();
  if (!ledger) return flow::SeasonFileFaulty{{effect.path, {ledger.error()}}};
  flow::Intent read = read_season_file(**ledger, files_, effect.path);
  const auto* const file = std::get_if<flow::SeasonFileRead>(&read);
  compared_ = file == nullptr ? std::string() : file->file.fingerprint;
  return read;
}

flow::Intent Worker::find_sources() {
  flow::PlansFound found{plan_folders(files_, settings_.media, settings_.plans)};
  if (const auto ledger = carriers_ledger()) {
    found.copies = spare_copies_of_others(**ledger, files_, settings_.media);
    found.files = season_files(**ledger, files_, settings_.media);
  }
  return found;
}

flow::Intent Worker::sticks() {
  if (copy_places(files_, settings_.media).empty()) return flow::SticksSeen{};
  const auto ledger = carriers_ledger();
  if (!ledger) return flow::SticksSeen{};  // whatever is asked of it next says why
  return flow::SticksSeen{plans_on_sticks({files_, settings_.schemas, settings_.definitions},
                                          settings_.media, **ledger, settings_.now().local_date)};
}

flow::Intent Worker::read_plan(const flow::ReadPlan& effect) {
  const auto ledger = carriers_ledger();
  if (!ledger) return flow::PlanFaulty{{effect.path, {ledger.error()}}};
  return plan_beside_others({files_, settings_.schemas, settings_.definitions}, settings_.media,
                            effect.path, **ledger, settings_.now().local_date);
}

flow::Intent Worker::not_copied_anywhere(const Error& error) const {
  flow::LedgerCopied none;
  for (const flow::CopyPlace& place : copy_places(files_, settings_.media))
    none.failed.push_back({place.path, error});
  return none;
}

flow::Intent Worker::copy_ledger() {
  if (copy_places(files_, settings_.media).empty()) return flow::LedgerCopied{};
  const auto ledger = carriers_ledger();
  if (!ledger) return not_copied_anywhere(ledger.error());
  return make_spare_copies(**ledger, files_, settings_.media, settings_.now().utc);
}

flow::Intent Worker::copy(const flow::CopySeal& effect) {
  const auto copied =
      seal::copy_season_file(files_, settings_.season_folder / effect.file_name, effect.place);
  if (!copied) return flow::NotCopied{effect.place, copied.error()};
  const flow::CopyNote note{effect.place, effect.file_name, settings_.now().utc};
  // The copy is there and holds; a note of it that fails must not say otherwise.
  if (auto ledger = ledger::Ledger::open(ledger_path_))
    static_cast<void>(ledger->note_copy({note.file_name, note.place, note.at}).has_value());
  return flow::Copied{note};
}

}  // namespace ligule::work
