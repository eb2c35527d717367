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

flow::Intent check_plan_folder(files::FileSystem& files, const files::Path& folder,
                               const files::PlanSchemas& schemas, const Definitions& definitions,
                               const ledger::Ledger& ledger, CalendarDate today) {
  auto read = files::read_plan_folder(files, folder, schemas, definitions);
  if (!read) return faulty(folder, std::move(read).error());
  const auto fits = ledger.can_enrol(read->plan, {today});
  if (!fits) return faulty(folder, {fits.error()});
  flow::CheckedPlan checked;
  checked.path = folder.string();
  checked.text = plan_text(read->plan);
  checked.digest = sha256(checked.text).hex();
  checked.held = !*fits;
  checked.notices = std::move(read->notices);
  checked.plan = std::move(read->plan);
  return flow::PlanChecked{std::move(checked)};
}

}  // namespace ligule::work
