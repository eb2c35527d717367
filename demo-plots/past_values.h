// What crews entered before the scripted day, as the tables below past/ tell it.
#pragma once

#include <compare>
#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/trial/calendar.h"

namespace ligule::demo {

// A moment on the wall clock, to the second.
struct WallTime {
  CalendarDate date{};
  int seconds = 0;  // since midnight

  bool operator==(const WallTime&) const = default;
  std::strong_ordering operator<=>(const WallTime& other) const {
    const auto days = [](CalendarDate day) { return date::sys_days(day).time_since_epoch(); };
    if (date != other.date)
      return days(date) < days(other.date) ? std::strong_ordering::less
                                           : std::strong_ordering::greater;
    return seconds <=> other.seconds;
  }
};

struct Entered {
  std::string measure;
  std::string text;
};

enum class What { kRate, kWeigh, kDry };

// One act at one plot: what is entered together and kept as one transaction.
struct PastAct {
  WallTime at;
  What what = What::kRate;
  std::string trial, occasion, plot, person;
  std::string surface;  // of the crop at a cutting
  std::vector<Entered> values;
  std::string missing;  // why there is no weight; values are empty then
};

// Every act of a trial's past/TRIAL-ratings.csv and past/TRIAL-weights.csv, where these exist. A
// row of weights is two acts: at the plot, and in the drying room. Lists every fault with file and
// line.
[[nodiscard]] files::Checked<std::vector<PastAct>> read_past(files::FileSystem& files,
                                                             const files::Path& folder,
                                                             const std::string& trial);

}  // namespace ligule::demo
