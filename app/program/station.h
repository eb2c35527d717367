// The ledger a run works in, and the time at its site.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/platform/clock.h"
#include "storage/files/file_system.h"
#include "storage/ledger/hold.h"
#include "storage/ledger/ledger.h"

namespace ligule::program {

// What a run stands on before there is a window.
struct Station {
  ledger::Hold hold;      // nobody else works in it
  ledger::Ledger ledger;  // with a stream of its own
  UuidSequence ids;       // continues the ledger's
  std::unique_ptr<platform::Clock> clock;
  std::string zone;  // of the site of the first plan; empty: the machine's own
};

struct StationWish {
  std::filesystem::path ledger;
  std::optional<CalendarDate> today;  // a demonstration on this day, from 08:00 at the site on
  bool still = false;                 // time stands but for what a drive file lets pass
};

// The ledger of whoever is logged in: ligule/tablet.ledger below XDG_DATA_HOME, else below
// ~/.local/share. kNotFound when neither is known.
[[nodiscard]] Result<std::filesystem::path> usual_ledger();

// Opens the ledger or makes one, its folder and its key, and sees to it that it has a stream: a new
// ledger begins one, a copied or restored one goes on as another. kRefused when a demonstration is
// asked for in a ledger with real records and while another program holds it (Hold::take()); errors
// of Ledger::open() and seal::begin_stream().
[[nodiscard]] Result<Station> open_station(files::FileSystem& files, const StationWish& wish);

// The time at a site by a clock. The clock must outlive what is returned; any thread may call it.
[[nodiscard]] std::function<Stamp()> stamps(const platform::Clock& clock, std::string zone);

}  // namespace ligule::program
