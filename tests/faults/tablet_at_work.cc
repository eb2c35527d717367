#include "tests/faults/tablet_at_work.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "app/work/spare_copies.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/trial/record_line.h"
#include "sync/desk/desk.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"

namespace ligule::faults {
namespace {

using ledger::Access;
using ledger::Ledger;
using ledger::sample::at;
using ledger::sample::need;

template <class T>
const T* first_of(const std::vector<flow::Intent>& outcomes) {
  for (const flow::Intent& outcome : outcomes)
    if (const auto* one = std::get_if<T>(&outcome)) return one;
  return nullptr;
}

Error no_answer() {
  return {ErrorKind::kInvalid, "the worker gave another outcome", {}, {}};
}

// What a failure left under a name that nobody asked for.
std::string rest_in(const std::string& folder) {
  for (const auto& each : std::filesystem::directory_iterator(folder)) {
    const std::string name = each.path().filename().string();
    if (name.ends_with(".part") || name.starts_with(".ligule-") ||
        name.find(".unfinished") != std::string::npos)
      return name + " was left";
  }
  return {};
}

Plan numbered_plan(int number) {
  Plan plan = ledger::sample::plan();
  plan.codes.trial = "T" + std::to_string(number);
  return plan;
}

}  // namespace

TabletAtWork::TabletAtWork() {
  for (const char* part : {"tablet", "media/STICK", "office"})
    std::filesystem::create_directories(folder_.file(part));
  path_ = folder() + "/north.ligule";
  Ledger ledger = need(Ledger::create(path_));
  need(seal::begin_stream(ledger, *files_, {"North 1", "ligule test", at(0)}));
  need(ledger.append({ledger::sample::plan_record(10, ledger::sample::plan())}));
  work::Settings settings;
  settings.definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  settings.now = [this] { return at(now_); };
  settings.season_folder = folder() + "/season-files";
  settings.version = "9.9.9";
  settings.media = media();
  settings.schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
  settings.wake = [this] {
    const std::lock_guard lock(mutex_);
    woken_ = true;
    changed_.notify_all();
  };
  worker_ =
      need(work::Worker::start(std::move(ledger), *files_,
                               UuidSequence([] { return std::uint64_t{7}; }), std::move(settings)));
}

std::vector<flow::Intent> TabletAtWork::outcomes(const flow::Effects& effects) {
  worker_->run(effects);
  std::vector<flow::Intent> all;
  while (worker_->pending()) {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [this] { return woken_; });
    woken_ = false;
    lock.unlock();
    for (flow::Intent& outcome : worker_->take()) all.push_back(std::move(outcome));
  }
  return all;
}

bool TabletAtWork::answers() {
  return first_of<flow::TodayLoaded>(outcomes({flow::LoadToday{}})) != nullptr;
}

std::string TabletAtWork::ledger_fault() const {
  const auto ledger = Ledger::open(path_, Access::kReadOnly);
  if (!ledger) return one_line(ledger.error());
  const auto findings = need(ledger->check());
  if (!findings.empty()) return one_line(findings.front());
  for (const RecordId& id : kept_)
    if (!need(ledger->find(id))) return "a kept record is gone";
  return {};
}

std::vector<Record> TabletAtWork::kept() const {
  const Ledger ledger = need(Ledger::open(path_, Access::kReadOnly));
  const ledger::Span span = need(ledger.spans()).front();
  std::vector<Record> found;
  need(ledger.each_record(span.stream, span.first, span.last,
                          [&](std::int64_t, std::string_view body, const Digest&) {
                            Record record = need(parse_record(body));
                            if (std::ranges::find(kept_, record.id) != kept_.end())
                              found.push_back(std::move(record));
                            return true;
                          }));
  return found;
}

std::string TabletAtWork::offered_copy() const {
  const auto offered = work::spare_copies_of_others(need(Ledger::in_memory()), *files_, media());
  return offered.size() != 1 ? std::to_string(offered.size()) + " are offered"
                             : files::Path(offered.front().path).filename().string();
}

// As the touch program does: what was not kept goes again under its own id, in a new epoch.
std::optional<Error> TabletAtWork::append(Record record) {
  const RecordId id = record.id;
  const auto all = outcomes({flow::Append{++act_, epoch_, {std::move(record)}}});
  if (const auto* lost = first_of<flow::NotKept>(all)) {
    ++epoch_;
    return lost->error;
  }
  if (first_of<flow::Kept>(all) == nullptr) return no_answer();
  kept_.push_back(id);
  return std::nullopt;
}

Job TabletAtWork::keep_value() {
  return {"a value",
          [this] {
            ++next_;
            draft_ =
                ledger::sample::reading(next_, "101", "percent_stand", std::to_string(next_ % 100));
            draft_.at = at(now_);
            draft_.id = worker_->ids()(draft_.at.utc);
          },
          [this] { return append(draft_); }, [] { return std::string(); }};
}

Job TabletAtWork::take_plan() {
  return {"a plan",
          [this] {
            ++next_;
            draft_ = ledger::sample::plan_record(next_, numbered_plan(static_cast<int>(next_)));
          },
          [this] { return append(draft_); }, [] { return std::string(); }};
}

Job TabletAtWork::store_preferences() {
  return {"preferences", [] {},
          [this]() -> std::optional<Error> {
            flow::Preferences chosen;
            chosen.dusk = ++round_ % 2 == 0;
            const auto all = outcomes({flow::StorePreferences{chosen}});
            if (const auto* lost = first_of<flow::PreferencesNotKept>(all)) return lost->error;
            if (first_of<flow::PreferencesKept>(all) == nullptr) return no_answer();
            return std::nullopt;
          },
          [this] { return rest_in(folder()); }};
}

Job TabletAtWork::seal() {
  return {"a seal",
          [this] {
            const Job value = keep_value();
            value.prepare();
            if (value.attempt()) std::abort();
          },
          [this]() -> std::optional<Error> {
            const auto all = outcomes({flow::Seal{}});
            if (const auto* lost = first_of<flow::NotSealed>(all)) return lost->error;
            const auto* sealed = first_of<flow::Sealed>(all);
            if (sealed == nullptr) return no_answer();
            season_file_ = sealed->note.file_name;
            return std::nullopt;
          },
          [this] {
            const std::string sealed = folder() + "/season-files";
            const auto season = seal::read_season_file(*files_, sealed + "/" + season_file_);
            return season ? rest_in(sealed) : one_line(season.error().front());
          }};
}

Job TabletAtWork::copy_to_stick() {
  return {"a copy to a stick",
          [this] {
            const Job sealing = seal();
            sealing.prepare();
            if (sealing.attempt()) std::abort();
          },
          [this]() -> std::optional<Error> {
            const auto all = outcomes({flow::CopySeal{season_file_, stick()}});
            if (const auto* lost = first_of<flow::NotCopied>(all)) return lost->error;
            if (first_of<flow::Copied>(all) == nullptr) return no_answer();
            return std::nullopt;
          },
          [this] {
            return ledger::sample::file_bytes(stick() + "/" + season_file_) ==
                           ledger::sample::file_bytes(folder() + "/season-files/" + season_file_)
                       ? std::string()
                       : "the copy on the stick is another";
          }};
}

Job TabletAtWork::spare_copy() {
  return {"a spare copy", [this] { set_clock(now_ + 60); },
          [this]() -> std::optional<Error> {
            const auto all = outcomes({flow::CopyLedger{}});
            const auto* copied = first_of<flow::LedgerCopied>(all);
            if (copied == nullptr) return no_answer();
            if (!copied->failed.empty()) return copied->failed.front().error;
            spare_copy_ = copied->made.front().file_name;
            return std::nullopt;
          },
          [this] {
            const auto copy =
                Ledger::open(stick() + "/ligule-spare/" + spare_copy_, Access::kReadOnly);
            if (!copy) return one_line(copy.error());
            const auto own = need(Ledger::open(path_, Access::kReadOnly));
            return need(copy->digest()) == need(own.digest()) ? std::string()
                                                              : "the copy holds other records";
          }};
}

Job TabletAtWork::read_plan() {
  return {"a plan read from a stick",
          [this] {
            const auto schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
            if (!files::write_plan_folder(*files_, stick() + "/plan", numbered_plan(7), schemas))
              std::abort();
          },
          [this]() -> std::optional<Error> {
            const auto all = outcomes({flow::ReadPlan{stick() + "/plan"}});
            if (const auto* faulty = first_of<flow::PlanFaulty>(all))
              return faulty->plan.faults.front();
            if (first_of<flow::PlanChecked>(all) == nullptr) return no_answer();
            return std::nullopt;
          },
          [] { return std::string(); }};
}

std::optional<Error> TabletAtWork::desk(const std::vector<std::string>& arguments) {
  std::ostringstream out, err;
  const int exit = desk::run(arguments, out, err, *files_);
  told_ = err.str();
  if (exit == 0) return std::nullopt;
  // The first line is a fault, the last one sums up.
  const std::string line = told_.substr(0, told_.find('\n'));
  const std::size_t mend = line.rfind(" (");
  Error error{exit == 2 ? ErrorKind::kIo : ErrorKind::kInvalid, line, {}, {}};
  if (mend != std::string::npos) error.mend = line.substr(mend);
  return error;
}

std::string TabletAtWork::ledger_of_round() const {
  return office() + "/desk" + std::to_string(round_) + ".ligule";
}

Job TabletAtWork::enrol() {
  return {"the desk's enrol",
          [this] {
            ++round_;
            read_plan().prepare();
          },
          [this] {
            return desk(
                {"enrol", "--ledger", ledger_of_round(), stick() + "/plan", "--device", "Desk"});
          },
          [this] {
            const auto ledger = Ledger::open(ledger_of_round(), Access::kReadOnly);
            if (!ledger) return one_line(ledger.error());
            if (need(ledger->plans()).size() != 1) return std::string("the plan is not in it");
            return rest_in(office());
          }};
}

Job TabletAtWork::gather() {
  return {"the desk's gather",
          [this] {
            ++round_;
            if (season_file_.empty()) copy_to_stick().prepare();
            if (desk({"trust", "--ledger", ledger_of_round(), path_ + ".pub"})) std::abort();
          },
          [this] {
            return desk({"gather", "--ledger", ledger_of_round(),
                         folder() + "/season-files/" + season_file_});
          },
          [this] {
            const auto ledger = Ledger::open(ledger_of_round(), Access::kReadOnly);
            if (!ledger) return one_line(ledger.error());
            return need(ledger->spans()).size() == 1 ? std::string() : "the records are not in it";
          }};
}

Job TabletAtWork::seal_at_desk() {
  return {"the desk's seal",
          [this] {
            const Job enrolled = enrol();
            enrolled.prepare();
            if (enrolled.attempt()) std::abort();
          },
          [this] {
            return desk({"seal", "--ledger", ledger_of_round(), "--out",
                         office() + "/out" + std::to_string(round_)});
          },
          [this] { return rest_in(office() + "/out" + std::to_string(round_)); }};
}

Job TabletAtWork::tables() {
  return {"the desk's tables",
          [this] {
            std::string rows = "test,site,year,cutting,rep,entry,value\n";
            for (int row = 0; row < 12; ++row)
              rows += fmt::format("T,home,2026,1,{},E{},{}\n", row / 4 + 1, row % 4, 20 + row % 5);
            ledger::sample::write_bytes(office() + "/values.csv", rows);
          },
          [this] {
            return desk(
                {"tables", "--values", office() + "/values.csv", "--out", office() + "/tables"});
          },
          [this] { return rest_in(office() + "/tables"); }};
}

}  // namespace ligule::faults
