#include "app/flow/taking_in.h"

#include <utility>
#include <variant>

#include "app/flow/spare.h"

namespace ligule::flow {
namespace {

template <class Page>
Page* page_of(Turn& turn) {
  auto* const trials = on<Trials>(turn);
  return trials == nullptr ? nullptr : std::get_if<Page>(&trials->page);
}

// Whoever went elsewhere while it was read is shown nothing.
bool waits_for(Turn& turn, const std::string& path) {
  const auto* const reading = page_of<ReadingFile>(turn);
  return reading != nullptr && reading->path == path;
}

}  // namespace

void check_file(Turn& turn, Trials& trials, const std::string& path) {
  trials.page = ReadingFile{path};
  turn.run(ReadSeasonFile{path});
}

void take_file(Turn& turn, Trials& trials) {
  auto* const offered = std::get_if<OfferedFile>(&trials.page);
  if (offered == nullptr || offered->taking || !can_enter(turn.model)) return;
  offered->taking = true;
  turn.run(GatherFile{offered->file.path});
}

void season_file_read(Turn& turn, SeasonFileRead outcome) {
  if (waits_for(turn, outcome.file.path))
    std::get<Trials>(turn.model.screen).page = OfferedFile{std::move(outcome.file)};
}

void season_file_faulty(Turn& turn, SeasonFileFaulty outcome) {
  if (waits_for(turn, outcome.file.path))
    std::get<Trials>(turn.model.screen).page = std::move(outcome.file);
}

void gathered_here(Turn& turn, GatheredHere outcome) {
  start_anew(turn, std::move(outcome.start));
  if (page_of<OfferedFile>(turn) != nullptr)
    show_today(turn);
  else
    turn.run(LoadToday{});
  if (outcome.conflicts == 0)
    return turn.notice("notice.gathered", {std::to_string(outcome.records), outcome.device});
  turn.notice("notice.gathered_conflicts",
              {std::to_string(outcome.records), outcome.device, std::to_string(outcome.conflicts)});
}

void not_gathered_here(Turn& turn, const NotGatheredHere& outcome) {
  if (auto* const offered = page_of<OfferedFile>(turn)) offered->taking = false;
  turn.notice("notice.not_gathered", {}, outcome.error);
}

}  // namespace ligule::flow
