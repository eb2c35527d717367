#include "app/program/station.h"

#include <unistd.h>

#include <array>
#include <cstdlib>
#include <ctime>
#include <utility>

#include "storage/files/zone.h"
#include "storage/trial/record_line.h"
#include "sync/seal/begin.h"

namespace ligule::program {
namespace {

constexpr std::chrono::minutes kMorning = std::chrono::hours(8);
constexpr const char* kSoftware = "ligule " LIGULE_VERSION;

// The machine's time, moved to another day: what a person at the display sees of a demonstration.
class ShiftedClock final : public platform::Clock {
 public:
  explicit ShiftedClock(std::int64_t start_utc_ms) : shift_ms_(start_utc_ms - machine_.utc_ms()) {}
  [[nodiscard]] std::int64_t utc_ms() const override { return machine_.utc_ms() + shift_ms_; }
  [[nodiscard]] std::int64_t steady_ms() const override { return machine_.steady_ms(); }
  void pass(std::int64_t) override {}
  [[nodiscard]] bool driven() const override { return false; }

 private:
  platform::RealClock machine_;
  std::int64_t shift_ms_;
};

UtcInstant instant(std::int64_t utc_ms) {
  return UtcInstant(std::chrono::milliseconds(utc_ms));
}

// Local minus UTC by the machine's own setting, for a tablet without a plan.
std::chrono::minutes machine_offset(UtcInstant utc) {
  const std::time_t seconds =
      std::chrono::duration_cast<std::chrono::seconds>(utc.time_since_epoch()).count();
  std::tm local{};
  if (localtime_r(&seconds, &local) == nullptr) return std::chrono::minutes{0};
  return std::chrono::minutes{local.tm_gmtoff / 60};
}

std::chrono::minutes offset_of(const std::string& zone, UtcInstant utc) {
  if (!zone.empty()) {
    if (const auto offset = files::offset_at(zone, utc)) return *offset;
  }
  return machine_offset(utc);
}

std::string machine_name() {
  std::array<char, 256> name{};
  if (gethostname(name.data(), name.size() - 1) != 0) return "tablet";
  const std::string clean = cleaned(name.data());
  return clean.empty() ? "tablet" : clean;
}

// What a new stream calls its device: as the ledger called it before, else the machine's name.
Result<std::string> device_name(const ledger::Ledger& ledger, bool demo) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  for (const ledger::StreamInfo& stream : *streams) {
    if (stream.mine) return stream.device;
  }
  return demo ? "demonstration tablet" : machine_name();
}

// The folder of a ledger that is still to be made.
Result<void> make_room(files::FileSystem& files, const files::Path& path) {
  const auto folder = path.parent_path();
  return folder.empty() ? Result<void>() : files.make_folders(folder);
}

Result<ledger::Ledger> open_or_create(files::FileSystem& files, const files::Path& path) {
  const auto there = files.exists(path);
  if (!there) return std::unexpected(there.error());
  return *there ? ledger::Ledger::open(path.string()) : ledger::Ledger::create(path.string());
}

Result<std::unique_ptr<platform::Clock>> clock_for(const StationWish& wish,
                                                   const std::string& zone) {
  if (!wish.today) return std::make_unique<platform::RealClock>();
  const auto start = files::local_to_utc(zone.empty() ? "UTC" : zone, *wish.today, kMorning);
  if (!start) return std::unexpected(start.error());
  const std::int64_t utc_ms = start->time_since_epoch().count();
  if (wish.still) return std::make_unique<platform::DrivenClock>(utc_ms);
  return std::make_unique<ShiftedClock>(utc_ms);
}

Result<void> check_demonstration(const ledger::Ledger& ledger, const StationWish& wish) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  for (const ledger::StreamInfo& stream : *streams) {
    if (wish.today && stream.mine && !stream.demo)
      return fail(ErrorKind::kRefused, "the ledger is real and can't take part in a demonstration",
                  wish.ledger.string(), "leave --today out, or give another ledger");
  }
  return {};
}

}  // namespace

Result<std::filesystem::path> usual_ledger() {
  const auto folder = [](const char* name) -> std::filesystem::path {
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): nobody sets any
    return value == nullptr ? "" : value;
  };
  std::filesystem::path data = folder("XDG_DATA_HOME");
  if (data.empty() && !folder("HOME").empty()) data = folder("HOME") / ".local" / "share";
  if (data.empty())
    return fail(ErrorKind::kNotFound, "nobody's own folder is known here", {},
                "give --ledger FILE");
  return data / "ligule" / "tablet.ledger";
}

std::function<Stamp()> stamps(const platform::Clock& clock, std::string zone) {
  return [&clock, zone = std::move(zone)] {
    const UtcInstant utc = instant(clock.utc_ms());
    return stamp_at(utc, offset_of(zone, utc));
  };
}

Result<Station> open_station(files::FileSystem& files, const StationWish& wish) {
  if (auto made = make_room(files, wish.ledger); !made)
    return std::unexpected(std::move(made).error());
  auto hold = ledger::Hold::take(wish.ledger.string());
  if (!hold) return std::unexpected(std::move(hold).error());
  auto ledger = open_or_create(files, wish.ledger);
  if (!ledger) return std::unexpected(std::move(ledger).error());
  if (auto fits = check_demonstration(*ledger, wish); !fits)
    return std::unexpected(std::move(fits).error());
  const auto plans = ledger->plans();
  if (!plans) return std::unexpected(plans.error());
  const std::string zone = !plans->empty() ? plans->front().plan.zone : wish.today ? "UTC" : "";
  auto clock = clock_for(wish, zone);
  if (!clock) return std::unexpected(std::move(clock).error());
  const bool demo = wish.today.has_value();
  auto device = device_name(*ledger, demo);
  if (!device) return std::unexpected(std::move(device).error());
  const seal::Beginning beginning{*device, kSoftware, stamps(**clock, zone)(), demo};
  if (const auto begun = seal::begin_stream(*ledger, files, beginning); !begun)
    return std::unexpected(begun.error());
  auto ids = seal::continued_ids(*ledger, beginning);
  if (!ids) return std::unexpected(std::move(ids).error());
  return Station{*std::move(hold), *std::move(ledger), *std::move(ids), *std::move(clock), zone};
}

}  // namespace ligule::program
