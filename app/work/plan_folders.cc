#include "app/work/plan_folders.h"

#include <algorithm>
#include <utility>

namespace ligule::work {
namespace {

// A stick full of pictures must not keep the person waiting.
constexpr std::size_t kMostLooked = 2000;

class Search {
 public:
  Search(files::FileSystem& files, std::string place) : files_(files), place_(std::move(place)) {}

  void look(const files::Path& folder, int deeper) {
    if (looked_ >= kMostLooked) return;
    ++looked_;
    const auto names = files_.list(folder);
    if (!names) return;  // a file, or not ours to read
    if (std::ranges::find(*names, "trial.csv") != names->end())
      found_.push_back({folder.string(), folder.filename().string(), place_});
    if (deeper <= 0) return;
    for (const std::string& name : *names) {
      if (!name.starts_with(".")) look(folder / name, deeper - 1);
    }
  }
  [[nodiscard]] std::vector<flow::PlanFolder> take() { return std::move(found_); }

 private:
  files::FileSystem& files_;
  std::string place_;
  std::size_t looked_ = 0;
  std::vector<flow::PlanFolder> found_;
};

flow::Intent faulty(const files::Path& folder, files::Faults faults) {
  return flow::PlanFaulty{{folder.string(), std::move(faults)}};
}

}  // namespace

std::vector<flow::PlanFolder> plan_folders(files::FileSystem& files, const MediaRoots& roots,
                                           const files::Path& own) {
  std::vector<flow::PlanFolder> all;
  const auto add = [&](const files::Path& folder, const std::string& place, int deeper) {
    Search search(files, place);
    search.look(folder, deeper);
    std::ranges::move(search.take(), std::back_inserter(all));
  };
  for (const flow::CopyPlace& place : copy_places(files, roots)) add(place.path, place.name, 2);
  if (!own.empty()) add(own, own.filename().string(), 1);
  std::ranges::sort(all, {}, &flow::PlanFolder::path);
  return all;
}

std::expected<flow::CheckedPlan, files::Faults> read_checked(const PlanReading& reading,
                                                             const files::Path& folder,
                                                             const ledger::Ledger& ledger) {
  auto read = files::read_plan_folder(reading.files, folder, reading.schemas, reading.definitions);
  if (!read) return std::unexpected(std::move(read).error());
  flow::CheckedPlan checked;
  checked.path = folder.string();
  checked.text = plan_text(read->plan);
  checked.digest = sha256(checked.text).hex();
  checked.notices = std::move(read->notices);
  checked.plan = std::move(read->plan);
  const auto here = ledger.plan(checked.plan.id());
  if (!here) return checked;
  checked.held = ledger.plan_revision(checked.digest).has_value();
  checked.older =
      here->digest != checked.digest && (checked.held || here->plan.parent == checked.digest);
  return checked;
}

flow::Intent check_plan_folder(const PlanReading& reading, const files::Path& folder,
                               const ledger::Ledger& ledger, CalendarDate today) {
  auto checked = read_checked(reading, folder, ledger);
  if (!checked) return faulty(folder, std::move(checked).error());
  if (!checked->can_come()) return flow::PlanChecked{*std::move(checked)};
  if (const auto fits = ledger.can_enrol(checked->plan, {today}); !fits)
    return faulty(folder, {fits.error()});
  return flow::PlanChecked{*std::move(checked)};
}

}  // namespace ligule::work
