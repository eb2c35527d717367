#include "app/scale/load_watch.h"

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <variant>

namespace ligule::scale {
namespace {

bool alike(const Reading& a, const Reading& b) {
  return a.unit == b.unit && a.decimals == b.decimals && a.load == b.load;
}

}  // namespace

std::int64_t in_last_digits(const Reading& reading) {
  std::string digits = reading.entered;
  std::erase(digits, '.');
  std::int64_t units = 0;  // kMostDigits fit
  std::from_chars(digits.data(), digits.data() + digits.size(), units);
  return units;
}

std::string from_last_digits(std::int64_t units, int decimals) {
  std::string digits = std::to_string(std::abs(units));
  const auto behind = static_cast<std::size_t>(decimals);
  if (digits.size() <= behind) digits.insert(0, behind + 1 - digits.size(), '0');
  if (behind > 0) digits.insert(digits.size() - behind, 1, '.');
  if (units < 0) digits.insert(0, 1, '-');
  return digits;
}

void LoadWatch::add(const Line& line, std::int64_t now_ms) {
  if (now_ms - last_ms_ > kSilentMs) recent_.clear();
  last_ms_ = now_ms;
  last_ = line;
  const auto* const reading = std::get_if<Reading>(&line);
  if (reading == nullptr) {
    reading_.reset();
    recent_.clear();
    return;
  }
  reading_ = *reading;
  if (!recent_.empty() && !alike(recent_.back(), *reading)) recent_.clear();
  recent_.push_back(*reading);
  if (recent_.size() > kStillLines) recent_.pop_front();
  if (in_last_digits(*reading) < kLiftOff * interval_) lifted_ = true;
}

bool LoadWatch::still(const Reading& reading) const {
  if (reading.stability != Stability::kUnsaid) return reading.stability == Stability::kStable;
  if (recent_.size() < kStillLines) return false;
  const auto [low, high] = std::ranges::minmax(recent_, {}, in_last_digits);
  return in_last_digits(high) - in_last_digits(low) <= interval_;
}

LoadState LoadWatch::state(std::int64_t now_ms) const {
  if (!last_ || now_ms - last_ms_ > kSilentMs) return LoadState::kSilent;
  if (std::holds_alternative<Overload>(*last_)) return LoadState::kOverload;
  if (std::holds_alternative<Underload>(*last_)) return LoadState::kUnderload;
  // The weight of a tare alone is nobody's load.
  if (!reading_ || reading_->load == Load::kTare) return LoadState::kGarbled;
  const bool stands = still(*reading_);
  if (stands && in_last_digits(*reading_) < 0) return LoadState::kNegative;
  if (in_last_digits(*reading_) < kLiftOff * interval_) return LoadState::kEmpty;
  if (!lifted_) return LoadState::kNotLifted;
  return stands ? LoadState::kStill : LoadState::kMoving;
}

void LoadWatch::taken(bool yes) {
  lifted_ = !yes;
}

void LoadWatch::restart() {
  last_.reset();
  reading_.reset();
  recent_.clear();
}

void Averaging::add(const Line& line) {
  const auto* const reading = std::get_if<Reading>(&line);
  if (reading == nullptr || reading->load == Load::kTare || (last_ && !alike(*last_, *reading))) {
    spoiled_ = true;
    return;
  }
  const std::int64_t units = in_last_digits(*reading);
  if (!last_) lowest_ = highest_ = units;
  last_ = *reading;
  sum_ += units;
  ++count_;
  lowest_ = std::min(lowest_, units);
  highest_ = std::max(highest_, units);
}

std::optional<Averaged> Averaging::result() const {
  if (!last_ || spoiled_ || lowest_ < std::max<std::int64_t>(least_, 0)) return std::nullopt;
  const std::int64_t mean = (2 * sum_ + count_) / (2 * count_);  // halves up: none is negative
  const int decimals = last_->decimals;
  return Averaged{from_last_digits(mean, decimals),
                  last_->unit,
                  from_last_digits(lowest_, decimals),
                  from_last_digits(highest_, decimals),
                  static_cast<std::size_t>(count_),
                  last_->load,
                  last_->raw};
}

}  // namespace ligule::scale
