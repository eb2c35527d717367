#include "app/scale/indicator.h"

#include <termios.h>

#include <algorithm>
#include <array>
#include <boost/asio/io_context.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/serial_port.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <chrono>
#include <filesystem>
#include <mutex>
#include <thread>
#include <utility>
#include <variant>

#include "app/scale/line_splitter.h"

namespace ligule::scale {
namespace {

namespace asio = boost::asio;
using boost::system::error_code;

constexpr std::chrono::milliseconds kLookAgain{1000};
constexpr std::chrono::milliseconds kAskAgain{200};
// How often silence is looked for: nothing else tells that a line did not come.
constexpr std::chrono::milliseconds kListen{250};

std::int64_t now_ms() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

asio::serial_port::parity parity_of(Parity parity) {
  using Kind = asio::serial_port::parity;
  if (parity == Parity::kEven) return Kind(Kind::even);
  return Kind(parity == Parity::kOdd ? Kind::odd : Kind::none);
}

}  // namespace

struct Indicator::State {
  explicit State(Parts given) : parts(std::move(given)), watch(parts.interval) {
    asio::post(io, [this] {
      open();
      listen();
    });
    thread = std::thread([this] { io.run(); });
  }
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  State(State&&) = delete;
  State& operator=(State&&) = delete;
  ~State() {
    io.stop();
    thread.join();
    forget_unsent();
  }

  // On the port's thread.
  void open();
  [[nodiscard]] error_code set_options();
  void forget_unsent();
  void lost(const error_code& why);
  void read();
  void ask();
  void listen();
  void took(std::string_view bytes);
  void tell();

  [[nodiscard]] Seen look() const {
    return {connected, fault, connected ? watch.state(now_ms()) : LoadState::kSilent,
            watch.reading(), line};
  }

  Parts parts;
  asio::io_context io;
  asio::serial_port port{io};
  asio::steady_timer again{io}, asking{io}, listening{io};
  std::array<char, 512> buffer{};
  LineSplitter splitter;
  Seen told;

  mutable std::mutex mutex;  // over what follows
  LoadWatch watch;
  std::optional<Averaging> averaging;
  bool average_lost = false;  // the port went while it was under way
  bool connected = false;
  std::optional<Error> fault;
  std::string line;
  std::uint64_t readings = 0;

  std::thread thread;  // last: starts when everything above is there
};

error_code Indicator::State::set_options() {
  using asio::serial_port;
  error_code why;
  const auto stop =
      parts.port.stop_bits == 2 ? serial_port::stop_bits::two : serial_port::stop_bits::one;
  why = port.set_option(serial_port::baud_rate(parts.port.baud), why);
  if (!why) why = port.set_option(serial_port::character_size(parts.port.data_bits), why);
  if (!why) why = port.set_option(parity_of(parts.port.parity), why);
  if (!why) why = port.set_option(serial_port::stop_bits(stop), why);
  if (!why) why = port.set_option(serial_port::flow_control(serial_port::flow_control::none), why);
  return why;
}

// A request that nobody takes would hold up the closing of a port, for half a minute by default.
void Indicator::State::forget_unsent() {
  if (port.is_open()) tcflush(port.native_handle(), TCOFLUSH);
}

void Indicator::State::open() {
  error_code why;
  why = port.open(parts.port.path, why);
  if (!why) why = set_options();
  if (why) return lost(why);
  {
    const std::lock_guard lock(mutex);
    connected = true;
    fault.reset();
    watch.restart();
  }
  splitter.restart();
  tell();
  read();
  if (!parts.port.request.empty()) ask();
}

void Indicator::State::lost(const error_code& why) {
  error_code ignored;
  forget_unsent();
  ignored = port.close(ignored);
  asking.cancel();
  {
    const std::lock_guard lock(mutex);
    connected = false;
    fault = Error{ErrorKind::kIo, "the scale does not answer: " + why.message(), parts.port.path,
                  "look at cable and switch; it is tried again every second"};
    watch.restart();
    average_lost = average_lost || averaging.has_value();
    averaging.reset();
  }
  tell();
  again.expires_after(kLookAgain);
  again.async_wait([this](const error_code& ended) {
    if (!ended) open();
  });
}

void Indicator::State::read() {
  port.async_read_some(asio::buffer(buffer), [this](const error_code& why, std::size_t size) {
    if (why == asio::error::operation_aborted) return;
    if (why) return lost(why);
    took({buffer.data(), size});
    read();
  });
}

void Indicator::State::ask() {
  splitter.expect_start();
  // Where the other end takes nothing more this waits for ever, and nothing waits for it.
  const auto asked = [this](const error_code& why, std::size_t) {
    if (why == asio::error::operation_aborted) return;
    if (why) return lost(why);
    asking.expires_after(kAskAgain);
    asking.async_wait([this](const error_code& ended) {
      if (!ended) ask();
    });
  };
  asio::async_write(port, asio::buffer(parts.port.request), asked);
}

void Indicator::State::listen() {
  listening.expires_after(kListen);
  listening.async_wait([this](const error_code& ended) {
    if (ended) return;
    tell();
    listen();
  });
}

void Indicator::State::took(std::string_view bytes) {
  const std::int64_t now = now_ms();
  for (const SplitLine& each : splitter.take(bytes, now)) {
    Line read = each.whole ? read_line(parts.form, each.text)
                           : Line(Garbled{each.text, "the line came in pieces"});
    const std::lock_guard lock(mutex);
    watch.add(read, now);
    if (std::holds_alternative<Reading>(read)) ++readings;
    line = each.text;
    if (averaging && !averaging->over(now)) averaging->add(read);
  }
  tell();
}

void Indicator::State::tell() {
  Seen seen;
  {
    const std::lock_guard lock(mutex);
    seen = look();
  }
  if (seen == told) return;
  told = std::move(seen);
  if (parts.wake) parts.wake();
}

Indicator::Indicator(Parts parts) : state_(std::make_unique<State>(std::move(parts))) {}
Indicator::~Indicator() = default;

Seen Indicator::seen() const {
  const std::lock_guard lock(state_->mutex);
  return state_->look();
}

std::uint64_t Indicator::readings() const {
  const std::lock_guard lock(state_->mutex);
  return state_->readings;
}

void Indicator::taken(bool yes) {
  const std::lock_guard lock(state_->mutex);
  state_->watch.taken(yes);
}

void Indicator::average(std::int64_t for_ms) {
  const std::lock_guard lock(state_->mutex);
  state_->average_lost = false;
  state_->averaging.emplace(now_ms(), for_ms, kLiftOff * state_->parts.interval);
}

std::optional<AverageEnd> Indicator::average_end() {
  const std::lock_guard lock(state_->mutex);
  if (std::exchange(state_->average_lost, false)) return AverageEnd{};
  auto& averaging = state_->averaging;
  if (!averaging || !averaging->over(now_ms())) return std::nullopt;
  AverageEnd end{averaging->result()};
  averaging.reset();
  return end;
}

std::vector<std::string> list_ports(const std::string& folder) {
  std::vector<std::string> ports;
  std::error_code none;
  for (std::filesystem::directory_iterator at(folder, none), end; !none && at != end;
       at.increment(none)) {
    ports.push_back(at->path().string());
  }
  std::ranges::sort(ports);
  return ports;
}

}  // namespace ligule::scale
