#include "sync/gather/give_back.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <new>
#include <tuple>
#include <utility>

#include "sync/gather/take_run.h"
#include "sync/seal/season_file.h"

namespace ligule::gather {
namespace {

using Runs = std::vector<ledger::LostRun>;

// Sorted, and one run where two meet.
Runs merged(Runs runs) {
  std::ranges::sort(runs, {}, [](const ledger::LostRun& run) {
    return std::tuple(run.stream, run.first, run.last);
  });
  Runs out;
  for (const ledger::LostRun& run : runs) {
    if (!out.empty() && out.back().stream == run.stream && run.first <= out.back().last + 1)
      out.back().last = std::max(out.back().last, run.last);
    else
      out.push_back(run);
  }
  return out;
}

// What of the one lies in the other as well.
Runs in_both(const Runs& some, const Runs& others) {
  Runs both;
  for (const ledger::LostRun& one : some) {
    for (const ledger::LostRun& other : others) {
      const std::int64_t first = std::max(one.first, other.first);
      const std::int64_t last = std::min(one.last, other.last);
      if (one.stream == other.stream && first <= last) both.push_back({one.stream, first, last});
    }
  }
  return merged(std::move(both));
}

// `others` merged.
Runs without(const Runs& some, const Runs& others) {
  Runs left;
  for (const ledger::LostRun& one : some) {
    std::int64_t next = one.first;
    for (const ledger::LostRun& other : in_both({one}, others)) {
      if (next < other.first) left.push_back({one.stream, next, other.first - 1});
      next = other.last + 1;
    }
    if (next <= one.last) left.push_back({one.stream, next, one.last});
  }
  return left;
}

// What is whole of the damaged ledger, by stream and number.
class Whole {
 public:
  explicit Whole(const ledger::Salvaged& damaged) : damaged_(damaged) {
    for (const ledger::WholeRun& run : damaged.runs) {
      std::int64_t seq = run.span.first;
      for (const std::string& body : run.bodies) bodies_[{run.span.stream, seq++}] = &body;
    }
  }

  // Whether a run tells of one of these records otherwise, or of what stood before it.
  [[nodiscard]] bool is_other_branch(const ledger::WholeRun& run) const {
    const bool parted = std::ranges::any_of(damaged_.runs, [&](const ledger::WholeRun& whole) {
      if (whole.span.stream != run.span.stream) return false;
      return (whole.span.first == run.span.last + 1 && whole.span.before != run.span.head) ||
             (whole.span.last + 1 == run.span.first && whole.span.head != run.span.before);
    });
    std::int64_t seq = run.span.first;
    return parted || std::ranges::any_of(run.bodies, [&](const std::string& body) {
             const auto at = bodies_.find({run.span.stream, seq++});
             return at != bodies_.end() && *at->second != body;
           });
  }

 private:
  const ledger::Salvaged& damaged_;
  std::map<std::pair<StreamId, std::int64_t>, const std::string*> bodies_;
};

struct Held {
  GivesBack::Form form = GivesBack::Form::kNone;
  std::vector<ledger::WholeRun> runs;
};

files::Checked<Held> held_in(files::FileSystem& files, const std::string& file) {
  auto season = seal::read_season_file(files, file);
  if (season) {
    Held held{GivesBack::Form::kSeasonFile, {}};
    held.runs.push_back({season->span, std::move(season->bodies)});
    return held;
  }
  if (season.error().front().kind != ErrorKind::kInvalid) return std::unexpected(season.error());
  auto copy = ledger::salvage(file);
  if (copy) return Held{GivesBack::Form::kLedger, std::move(copy->runs)};
  if (copy.error().kind != ErrorKind::kInvalid)
    return std::unexpected(files::Faults{std::move(copy).error()});
  return std::unexpected(
      files::Faults{{ErrorKind::kInvalid, "it is neither a season file nor a ledger", file,
                     "name another file"}});
}

GivesBack given_by(const ledger::Salvaged& damaged, files::FileSystem& files,
                   const std::string& file) {
  GivesBack out;
  out.file = file;
  const auto inside = held_in(files, file);
  if (!inside) {
    out.faults = inside.error();
    return out;
  }
  out.form = inside->form;
  const Whole whole(damaged);
  Runs held;
  for (const ledger::WholeRun& run : inside->runs) {
    if (whole.is_other_branch(run))
      out.faults.push_back(
          {ErrorKind::kConflict,
           fmt::format("it holds other records of stream {}", run.span.stream.text()), file,
           "one ledger was copied and both went on: this one is of the other"});
    else
      held.push_back({run.span.stream, run.span.first, run.span.last});
  }
  out.runs = in_both(damaged.lost, held);
  return out;
}

}  // namespace

GivesBack gives_back(const ledger::Salvaged& damaged, files::FileSystem& files,
                     const std::string& file) {
  try {
    return given_by(damaged, files, file);
  } catch (const std::bad_alloc&) {
    GivesBack out;
    out.file = file;
    out.faults.push_back({ErrorKind::kIo, "there is not memory enough to read it", file,
                          "close other programs, or do it on a machine that has more"});
    return out;
  }
}

Runs still_lost(const ledger::Salvaged& damaged, const std::vector<GivesBack>& files) {
  Runs given;
  for (const GivesBack& each : files) given.insert(given.end(), each.runs.begin(), each.runs.end());
  return without(damaged.lost, merged(std::move(given)));
}

Result<GatheredLedger> gather_salvaged(ledger::Ledger& ledger, const std::string& file,
                                       Vouched vouched) {
  const auto salvaged = ledger::salvage(file);
  if (!salvaged) return std::unexpected(salvaged.error());
  GatheredLedger out;
  std::map<StreamId, std::string> devices;
  for (const ledger::StreamInfo& stream : salvaged->streams) devices[stream.id] = stream.device;
  for (const ledger::WholeRun& run : salvaged->runs) {
    const auto stream =
        std::ranges::find(salvaged->streams, run.span.stream, &ledger::StreamInfo::id);
    auto taken =
        take_run(ledger, {*stream, run.span, file}, run.bodies, ledger::Branch::kAny, vouched);
    if (!taken && taken.error().kind == ErrorKind::kIo) return std::unexpected(taken.error());
    if (!taken) {
      out.refused.push_back(std::move(taken).error());
      continue;
    }
    taken->name = file;
    out.taken.push_back(*std::move(taken));
  }
  for (const ledger::LostRun& run : salvaged->lost)
    out.refused.push_back({ErrorKind::kDamaged,
                           fmt::format("{} of {} {} lost in it", records_text(run.first, run.last),
                                       devices[run.stream], run.first == run.last ? "is" : "are"),
                           file, "take them from a season file or an older copy"});
  return out;
}

}  // namespace ligule::gather
