// ligule_demo_past: makes the ledger of a tablet that has been in use for two seasons.
//
//   ligule_demo_past LEDGER DEVICE DEMO-PLOTS SEASON-FILES TRIAL...
//
// Enrols the plans below DEMO-PLOTS/plans and keeps every act of DEMO-PLOTS/past as the touch
// program keeps it: one transaction an act, through the ledger, with the person, the scale and the
// run it belongs to, at the time on the wall it has in the table. The evening after the last act it
// is sealed into the folder SEASON-FILES. Everything is marked as made for demonstration. Same
// tables, same records, ids, key and season file. Exit 0, or 1 with one line a fault.
#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <map>
#include <set>
#include <span>
#include <tuple>

#include "demo-plots/past_values.h"
#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/files/zone.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/details.h"
#include "sync/gather/enrol.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"

namespace ligule::demo {
namespace {

// On the tablet at seven in the morning: of the day after sowing, or of the first day of all.
constexpr int kEnrolHour = 7;
constexpr int kSealHour = 18;

std::unexpected<Error> at_plot(const PastAct& act, Error error) {
  error.where = act.trial + " " + act.occasion + " plot " + act.plot + ": " + error.where;
  return std::unexpected(std::move(error));
}

class Season {
 public:
  Season(ledger::Ledger& ledger, const Definitions& definitions, UuidSequence& ids)
      : ledger_(ledger), definitions_(definitions), ids_(ids) {}

  [[nodiscard]] files::Checked<void> enrol(const Plan& plan, const Stamp& at) {
    const auto done = gather::enrol(ledger_, {&plan, 1}, definitions_, ids_, at);
    if (!done) return std::unexpected(done.error());
    plans_[plan.codes.trial] = {plan, sha256(plan_text(plan)).hex()};
    return {};
  }

  [[nodiscard]] Result<void> play(const PastAct& act) {
    const auto known = plans_.find(act.trial);
    if (known == plans_.end()) return at_plot(act, {ErrorKind::kNotFound, "no such trial", "", ""});
    const Plan& plan = known->second.plan;
    const PlanPlot* const plot = plan.find_plot(act.plot);
    const auto occasion = std::ranges::find(plan.occasions, act.occasion, &PlanOccasion::code);
    if (plot == nullptr || occasion == plan.occasions.end())
      return at_plot(act, {ErrorKind::kNotFound, "no such plot or occasion", "", ""});
    const auto at = stamp(plan.zone, act.at);
    if (!at) return std::unexpected(at.error());

    std::vector<Record> records;
    sign_in(act.person, *at, records);
    const Place place{known->second, *plot, plan.occasion(*occasion), person_id(act.person), *at};
    if (act.what == What::kWeigh) begin_run(act, place, records);
    if (!act.missing.empty()) records.push_back(missing(act, place));
    for (const Entered& entered : act.values) {
      auto value = reading(act, place, entered);
      if (!value) return at_plot(act, value.error());
      records.push_back(std::move(*value));
    }
    return keep(std::move(records));
  }

  [[nodiscard]] static Result<Stamp> stamp(const std::string& zone, const WallTime& at) {
    const auto utc = files::local_to_utc(zone, at.date, std::chrono::minutes(at.seconds / 60));
    if (!utc) return std::unexpected(utc.error());
    const UtcInstant instant = *utc + std::chrono::seconds(at.seconds % 60);
    const auto offset = files::offset_at(zone, instant);
    if (!offset) return std::unexpected(offset.error());
    return stamp_at(instant, *offset);
  }

 private:
  struct Known {
    Plan plan;
    std::string digest;
  };
  struct Place {
    const Known& known;
    const PlanPlot& plot;
    OccasionId occasion;
    PersonId person;
    Stamp at;
  };

  Record blank(std::string_view kind, const Stamp& at) {
    Record record;
    record.id = RecordId{ids_.next(at.utc)};
    record.kind = kind;
    record.at = at;
    return record;
  }

  void sign_in(const std::string& initials, const Stamp& at, std::vector<Record>& records) {
    if (!people_.insert(initials).second) return;
    Record record = blank(kind::kPerson, at);
    record.person = person_id(initials);
    record.subject = person_id(initials).uuid;
    record.entered = initials;
    records.push_back(std::move(record));
  }

  // The head of a cutting's run, before its first plot.
  void begin_run(const PastAct& act, const Place& place, std::vector<Record>& records) {
    if (runs_.contains(place.occasion)) return;
    Record record = about(kind::kHarvestRun, place);
    record.details = details_text({{"machine", "flail 2"},
                                   {"cut_width", "36 in"},
                                   {"stubble", "3 in"},
                                   {"surface", act.surface}});
    runs_[place.occasion] = record.id;
    records.push_back(std::move(record));
  }

  Record about(std::string_view kind, const Place& place) {
    Record record = blank(kind, place.at);
    record.person = place.person;
    record.trial = place.known.plan.id();
    record.plan = place.known.digest;
    record.occasion = place.occasion;
    return record;
  }

  Record value_about(const PastAct& act, const Place& place, std::string measure) {
    Record record = about(kind::kReading, place);
    record.subject = place.known.plan.plot(place.plot).uuid;
    record.measure = std::move(measure);
    record.purpose = Purpose::kSurvey;
    record.blind = true;
    if (act.what != What::kRate) record.run = runs_.at(place.occasion);
    return record;
  }

  Record missing(const PastAct& act, const Place& place) {
    Record record = value_about(act, place, std::string(measure::kGrossWeight));
    record.state = ValueState::kMissing;
    record.reason = act.missing;
    record.source = Source::kTapped;
    return record;
  }

  Result<Record> reading(const PastAct& act, const Place& place, const Entered& entered) {
    const PlanEntry* const entry = place.known.plan.find_entry(place.plot.entry);
    const Scale* const scale = definitions_.scale_for(entered.measure, entry->species);
    if (scale == nullptr)
      return fail(ErrorKind::kNotFound, "measure " + entered.measure + " has no scale");
    const auto value = read_entered(*scale, entered.text, scale->code == "plot_weight" ? "kg" : "");
    if (!value) return std::unexpected(value.error());
    Record record = value_about(act, place, entered.measure);
    const auto bag = std::tuple{place.occasion, place.plot.number};
    if (entered.measure == measure::kBagNumber) bags_[bag] = record.id;
    if (entered.measure == measure::kSampleFresh || entered.measure == measure::kSampleDry)
      record.subject = bags_.at(bag).uuid;
    record.state = ValueState::kValue;
    record.entered = value->entered;
    record.unit = value->unit;
    record.value = value->value;
    record.definition = sha256(scale_text(*scale)).hex();
    record.source = act.what == What::kRate && entered.measure != measure::kNote ? Source::kTapped
                                                                                 : Source::kTyped;
    return record;
  }

  Result<void> keep(std::vector<Record> records) {
    auto kept = ledger_.append(std::move(records));
    if (!kept) return std::unexpected(kept.error());
    return {};
  }

  ledger::Ledger& ledger_;
  const Definitions& definitions_;
  UuidSequence& ids_;
  std::map<std::string, Known> plans_;
  std::set<std::string> people_;
  std::map<OccasionId, RecordId> runs_;
  std::map<std::tuple<OccasionId, std::string>, RecordId> bags_;
};

Result<void> seal_all(ledger::Ledger& ledger, files::FileSystem& disk, const files::Path& folder,
                      UtcInstant now) {
  if (auto made = disk.make_folders(folder); !made) return made;
  const auto key = seal::key_of_stream(ledger, disk);
  if (!key) return std::unexpected(key.error());
  const auto sealed = seal::write_season_file(ledger, disk, *key, {folder, 1, now});
  if (!sealed) return std::unexpected(sealed.error());
  return ledger.checkpoint();
}

files::Checked<void> make(std::span<const std::string> words) {
  const std::string& ledger_path = words[0];
  const files::Path folder = words[2];
  const auto disk = files::real_file_system();
  const auto one = [](const Error& error) { return std::unexpected(files::Faults{error}); };
  const auto assets = files::find_assets(*disk);
  if (!assets) return one(assets.error());
  const auto schemas = files::load_plan_schemas(*disk, *assets);
  if (!schemas) return std::unexpected(schemas.error());
  const auto definitions = files::load_definitions(*disk, *assets);
  if (!definitions) return std::unexpected(definitions.error());

  std::vector<Plan> plans;
  std::vector<PastAct> acts;
  for (const std::string& trial : words.subspan(4)) {
    auto read = files::read_plan_folder(*disk, folder / "plans" / trial, *schemas, *definitions);
    if (!read) return std::unexpected(read.error());
    plans.push_back(std::move(read->plan));
    auto past = read_past(*disk, folder / "past", trial);
    if (!past) return std::unexpected(past.error());
    acts.insert(acts.end(), past->begin(), past->end());
  }
  std::ranges::stable_sort(acts, {}, &PastAct::at);
  if (acts.empty()) return one({ErrorKind::kNotFound, "these trials have no past", words[2], ""});

  auto ledger = ledger::Ledger::create(ledger_path);
  if (!ledger) return one(ledger.error());
  const WallTime first{acts.front().at.date, kEnrolHour * 3600};
  const auto begin = Season::stamp(plans.front().zone, first);
  if (!begin) return one(begin.error());
  const seal::Beginning beginning{words[1], "ligule_demo_past", *begin, true};
  if (const auto stream = seal::begin_stream(*ledger, *disk, beginning); !stream)
    return one(stream.error());
  auto ids = seal::continued_ids(*ledger, beginning);
  if (!ids) return one(ids.error());

  Season season(*ledger, *definitions, *ids);
  std::ranges::stable_sort(plans, [](const Plan& a, const Plan& b) { return a.sown < b.sown; });
  auto next = plans.begin();
  const auto enrol_until = [&](const WallTime& now) -> files::Checked<void> {
    for (; next != plans.end(); ++next) {
      const CalendarDate after_sowing = date::sys_days(next->sown) + date::days(1);
      const WallTime at = std::max(WallTime{after_sowing, kEnrolHour * 3600}, first);
      if (at > now) break;
      const auto stamp = Season::stamp(next->zone, at);
      if (!stamp) return one(stamp.error());
      if (auto done = season.enrol(*next, *stamp); !done) return done;
    }
    return {};
  };
  for (const PastAct& act : acts) {
    if (const auto done = enrol_until(act.at); !done) return std::unexpected(done.error());
    if (const auto done = season.play(act); !done) return one(done.error());
  }
  if (next != plans.end())
    return one(
        {ErrorKind::kInvalid, "is sown after the last act of the past", next->codes.trial, ""});
  const auto evening = Season::stamp(plans.front().zone, {acts.back().at.date, kSealHour * 3600});
  if (!evening) return one(evening.error());
  if (const auto done = seal_all(*ledger, *disk, words[3], evening->utc); !done)
    return one(done.error());
  return {};
}

int run(std::span<const std::string> words) {
  if (words.size() < 5) {
    std::cerr << "usage: ligule_demo_past LEDGER DEVICE DEMO-PLOTS SEASON-FILES TRIAL...\n";
    return 2;
  }
  const auto made = make(words);
  if (made) return EXIT_SUCCESS;
  for (const Error& fault : made.error())
    std::cerr << "ligule_demo_past: " << one_line(fault) << "\n";
  return EXIT_FAILURE;
}

}  // namespace
}  // namespace ligule::demo

int main(int count, char** words) {
  const std::vector<std::string> all(words + 1, words + count);
  return ligule::demo::run(all);
}
