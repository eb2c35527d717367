#include "storage/trial/clock_shift.h"

#include <fmt/format.h>

#include <optional>
#include <string_view>

#include "storage/trial/details.h"
#include "storage/trial/number.h"

namespace ligule {
namespace {

// Keys of the details. Written to disk: never change a text.
constexpr std::string_view kStreamKey = "stream";
constexpr std::string_view kFirstKey = "first";
constexpr std::string_view kLastKey = "last";
constexpr std::string_view kShiftKey = "shift_ms";

constexpr date::sys_days kFirstDay{date::year{1} / date::January / 1};
constexpr date::sys_days kDayAfterLast{date::year{10000} / date::January / 1};

// A whole number in its one spelling, no "007" and no "-0".
std::optional<std::int64_t> number_in(const Details& details, std::string_view key) {
  const auto at = details.find(std::string(key));
  if (at == details.end()) return std::nullopt;
  const auto number = parse_integer(at->second);
  if (!number || std::to_string(*number) != at->second) return std::nullopt;
  return *number;
}

bool can_be_moved(UtcInstant utc) {
  return utc >= kFirstDay && utc < kDayAfterLast;
}

}  // namespace

void write_clock_shift(const ClockShift& what, Record& record) {
  record.kind = kind::kClockShift;
  record.details = details_text({{std::string(kStreamKey), what.stream.text()},
                                 {std::string(kFirstKey), std::to_string(what.first)},
                                 {std::string(kLastKey), std::to_string(what.last)},
                                 {std::string(kShiftKey), std::to_string(what.shift.count())}});
}

Result<ClockShift> read_clock_shift(const Record& record) {
  if (record.kind != kind::kClockShift)
    return fail(ErrorKind::kInvalid, "this is no record of a clock that was wrong");
  const auto details = parse_details(record.details);
  if (!details) return std::unexpected(details.error());
  const auto stream = details->find(std::string(kStreamKey));
  if (stream == details->end())
    return fail(ErrorKind::kInvalid, "it is not said whose clock was wrong");
  const auto id = parse_uuid(stream->second);
  if (!id) return fail(ErrorKind::kInvalid, "it is not said whose clock was wrong");
  const auto first = number_in(*details, kFirstKey);
  const auto last = number_in(*details, kLastKey);
  if (!first || !last || *first < 1 || *last < *first || *last > kLastOfAll)
    return fail(ErrorKind::kInvalid, "it is not said for which records the clock was wrong");
  const auto shift = number_in(*details, kShiftKey);
  const auto farthest = kFarthestShift.count();
  if (!shift || *shift > farthest || *shift < -farthest)
    return fail(ErrorKind::kInvalid, "it is not said by how much the clock was wrong");
  return ClockShift{StreamId{*id}, *first, *last, std::chrono::milliseconds(*shift)};
}

Stamp shifted(const Stamp& stamp, std::chrono::milliseconds shift) {
  constexpr std::chrono::minutes kFarthestOffset = std::chrono::hours{48};
  if (shift == std::chrono::milliseconds{0} || !can_be_moved(stamp.utc)) return stamp;
  if (stamp.offset > kFarthestOffset || stamp.offset < -kFarthestOffset) return stamp;
  if (shift > kFarthestShift || shift < -kFarthestShift) return stamp;
  const UtcInstant utc = stamp.utc + shift;
  if (!can_be_moved(utc) || !can_be_moved(utc + stamp.offset)) return stamp;
  return stamp_at(utc, stamp.offset);
}

std::string shift_text(std::chrono::milliseconds shift) {
  const auto count = shift.count();
  const auto all = count < 0 ? -count : count;
  std::string text = fmt::format("{}{}:{:02}:{:02}", count < 0 ? "-" : "+", all / 3'600'000,
                                 all / 60'000 % 60, all / 1000 % 60);
  if (count == 0) text.erase(0, 1);
  if (all % 1000 != 0) text += fmt::format(".{:03}", all % 1000);
  return text;
}

}  // namespace ligule
