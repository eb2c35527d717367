#include "storage/trial/identity.h"

#include <algorithm>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/uuid.hpp>
#include <cstring>
#include <unordered_map>
#include <utility>

namespace ligule {
namespace {

// The space all of Ligule's name-based ids lie in: a version 4 id drawn once. Changing it would
// orphan every record.
constexpr Uuid kSpace{{0x6c, 0x1f, 0x2a, 0x97, 0x3e, 0x54, 0x4b, 0x0d, 0x9a, 0x61, 0xd2, 0x78, 0x0c,
                       0xe5, 0xb3, 0x4f}};

constexpr std::uint16_t kCountLimit = 0x0fff;

// The text of an id: 32 hex digits in groups of 8-4-4-4-12; where those of each byte begin.
constexpr std::size_t kTextLetters = 36;
constexpr std::array<std::size_t, 16> kPlaces{0,  2,  4,  6,  9,  11, 14, 16,
                                              19, 21, 24, 26, 28, 30, 32, 34};

// 0 to 15 of a lower-case hex digit, 255 of every other byte; a table, since every record that is
// read has eight ids.
constexpr std::array<std::uint8_t, 256> kHexValues = [] {
  std::array<std::uint8_t, 256> values{};
  values.fill(255);
  for (std::uint8_t n = 0; n < 10; ++n) values[static_cast<std::size_t>('0') + n] = n;
  for (std::uint8_t n = 0; n < 6; ++n)
    values[static_cast<std::size_t>('a') + n] = static_cast<std::uint8_t>(10 + n);
  return values;
}();

unsigned hex_value(char c) {
  return kHexValues[static_cast<unsigned char>(c)];
}

constexpr std::size_t kRemembered = 1U << 15U;  // ids: plots of a whole station

Uuid digested(const Uuid& space, std::string_view name) {
  boost::uuids::uuid base{};
  std::ranges::copy(space.bytes, base.begin());
  const boost::uuids::uuid made = boost::uuids::name_generator_sha1(base)(name.data(), name.size());
  Uuid id;
  std::ranges::copy(made, id.bytes.begin());
  return id;
}

}  // namespace

std::string Uuid::text() const {
  constexpr std::string_view kHex = "0123456789abcdef";
  std::string out(kTextLetters, '-');
  for (std::size_t n = 0; n < bytes.size(); ++n) {
    out[kPlaces[n]] = kHex[bytes[n] >> 4U];
    out[kPlaces[n] + 1] = kHex[bytes[n] & 0x0fU];
  }
  return out;
}

Result<Uuid> parse_uuid(std::string_view text) {
  Uuid id;
  bool sound = text.size() == kTextLetters && text[8] == '-' && text[13] == '-' &&
               text[18] == '-' && text[23] == '-';
  for (std::size_t n = 0; sound && n < id.bytes.size(); ++n) {
    const unsigned high = hex_value(text[kPlaces[n]]);
    const unsigned low = hex_value(text[kPlaces[n] + 1]);
    sound = (high | low) <= 0x0fU;
    id.bytes[n] = static_cast<std::uint8_t>(high << 4U | low);
  }
  if (sound) return id;
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not an id", {},
              "an id has 32 lower-case hex digits in groups of 8-4-4-4-12");
}

Uuid uuid_v5(const Uuid& space, std::string_view name) {
  // The same plots and occasions are asked for after every tap, and a SHA-1 each time was most of
  // what a tap cost: what was made is remembered, by each thread for itself.
  thread_local std::unordered_map<std::string, Uuid> made;
  thread_local std::string key;
  key.assign(space.bytes.begin(), space.bytes.end());
  key.append(name);
  if (const auto at = made.find(key); at != made.end()) return at->second;
  if (made.size() >= kRemembered) made.clear();
  return made.emplace(key, digested(space, name)).first->second;
}

UuidSequence::UuidSequence(std::function<std::uint64_t()> random) : random_(std::move(random)) {}

void UuidSequence::continue_after(const Uuid& last) {
  std::uint64_t ms = 0;
  for (std::size_t i = 0; i < 6; ++i) ms = (ms << 8U) | last.bytes[i];
  const auto count = static_cast<std::uint16_t>(((last.bytes[6] & 0x0fU) << 8U) | last.bytes[7]);
  if (std::pair(ms, count) > std::pair(last_ms_, count_)) {
    last_ms_ = ms;
    count_ = count;
  }
}

Uuid UuidSequence::next(UtcInstant now) {
  const auto ms =
      static_cast<std::uint64_t>(std::max<std::int64_t>(0, now.time_since_epoch().count()));
  if (ms > last_ms_) {
    last_ms_ = ms;
    count_ = static_cast<std::uint16_t>(random_() & 0xffU);  // starts low: room to count up
  } else if (count_ < kCountLimit) {
    ++count_;
  } else {
    ++last_ms_;
    count_ = 0;
  }
  Uuid id;
  for (std::size_t i = 0; i < 6; ++i)
    id.bytes[i] = static_cast<std::uint8_t>(last_ms_ >> (40U - 8U * i));
  id.bytes[6] = static_cast<std::uint8_t>(0x70U | (count_ >> 8U));
  id.bytes[7] = static_cast<std::uint8_t>(count_ & 0xffU);
  const std::uint64_t tail = random_();
  for (std::size_t i = 0; i < 8; ++i)
    id.bytes[8 + i] = static_cast<std::uint8_t>(tail >> (56U - 8U * i));
  id.bytes[8] = static_cast<std::uint8_t>(0x80U | (id.bytes[8] & 0x3fU));
  return id;
}

bool is_code(std::string_view text) {
  const auto fits = [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '.' || c == '-';
  };
  return !text.empty() && text.size() <= 32 && text.front() != '.' &&
         std::ranges::all_of(text, fits);
}

SiteId site_id(std::string_view station, std::string_view site) {
  return {uuid_v5(kSpace, "site/" + std::string(station) + "/" + std::string(site))};
}

TrialId trial_id(const TrialCodes& codes) {
  return {uuid_v5(kSpace, "trial/" + codes.station + "/" + codes.site + "/" + codes.trial)};
}

EntryId entry_id(TrialId trial, std::string_view entry_code) {
  return {uuid_v5(trial.uuid, "entry/" + std::string(entry_code))};
}

PlotId plot_id(TrialId trial, std::string_view plot_number) {
  return {uuid_v5(trial.uuid, "plot/" + std::string(plot_number))};
}

OccasionId rating_id(TrialId trial, std::string_view rating_code) {
  return {uuid_v5(trial.uuid, "rating/" + std::string(rating_code))};
}

OccasionId cutting_id(TrialId trial, int year, int cutting) {
  return {uuid_v5(trial.uuid, "cutting/" + std::to_string(year) + "/" + std::to_string(cutting))};
}

PersonId person_id(std::string_view initials) {
  std::string upper(initials);
  for (char& c : upper) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return {uuid_v5(kSpace, "person/" + upper)};
}

}  // namespace ligule

std::size_t std::hash<ligule::Uuid>::operator()(const ligule::Uuid& id) const noexcept {
  std::size_t mixed = 0;  // ids are already well mixed in their last eight bytes
  std::memcpy(&mixed, id.bytes.data() + 8, sizeof mixed);
  return mixed;
}
