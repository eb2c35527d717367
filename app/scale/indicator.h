// A scale's indicator on a serial port, read in a thread of its own: nothing here waits for the
// port.
//
// Through Boost.Asio, which takes a pseudo terminal too, so that a simulator can stand in. A port
// that is gone is looked for again every second, by the same name: names below /dev/serial/by-id
// stay with the adapter.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/scale/line_form.h"
#include "app/scale/load_watch.h"
#include "storage/trial/error.h"

namespace ligule::scale {

enum class Parity { kNone, kEven, kOdd };

struct PortSettings {
  std::string path;  // "/dev/serial/by-id/..."
  unsigned baud = 9600;
  unsigned data_bits = 8;  // 7 or 8
  Parity parity = Parity::kNone;
  unsigned stop_bits = 1;  // 1 or 2
  std::string request =
      {};  // what asks for a line, sent five times a second; empty: the indicator streams

  bool operator==(const PortSettings&) const = default;
};

// What a screen shows.
struct Seen {
  bool connected = false;
  std::optional<Error> fault = {};  // why it is not
  LoadState state = LoadState::kSilent;
  std::optional<Reading> reading = {};
  std::string line = {};  // the last one, whatever it was

  bool operator==(const Seen&) const = default;
};

// What came of averaging. Without a mean: no reading came, something else did, or the load was not
// there all the time.
struct AverageEnd {
  std::optional<Averaged> mean;
  bool operator==(const AverageEnd&) const = default;
};

class Indicator {
 public:
  struct Parts {
    PortSettings port;
    LineForm form;
    std::int64_t interval = 1;  // scale interval, in units of the last digit
    std::function<void()>
        wake;  // from the port's thread, when what seen() gives has changed; may be empty
  };
  // Opens the port in its thread; one that can't be opened shows in seen().fault.
  explicit Indicator(Parts parts);
  Indicator(const Indicator&) = delete;
  Indicator& operator=(const Indicator&) = delete;
  Indicator(Indicator&&) = delete;
  Indicator& operator=(Indicator&&) = delete;
  ~Indicator();

  // From any thread; none of these waits for the port.
  [[nodiscard]] Seen seen() const;
  // Lines read as weights so far: what lies between two looks at seen() is counted too.
  [[nodiscard]] std::uint64_t readings() const;
  // The load that is on it now was taken as a weight; or, false, it was not after all.
  void taken(bool yes = true);
  // Collects readings for so long, for a load that never settles.
  void average(std::int64_t for_ms);
  // Once the time is over, or the port was lost meanwhile; then it is forgotten. None before.
  [[nodiscard]] std::optional<AverageEnd> average_end();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// Serial ports that are there now, by names that stay with the adapter; empty where there is none.
[[nodiscard]] std::vector<std::string> list_ports(const std::string& folder = "/dev/serial/by-id");

}  // namespace ligule::scale
