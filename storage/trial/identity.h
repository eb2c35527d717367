// Who is who: the ids of trials, plots, entries, people and records.
//
// What a plan describes has a name-based id (UUID version 5, RFC 9562 section 5.5) over its codes,
// never over its content, so that two tablets and the desk agree on it without talking. What a
// person does has a time-ordered id (version 7, RFC 9562 section 5.7) made at the tap.
#pragma once

#include <array>
#include <bit>
#include <compare>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"

namespace ligule {

struct Uuid {
  std::array<std::uint8_t, 16> bytes{};

  bool operator==(const Uuid&) const = default;
  // Byte by byte. As two words, because every look into a map of ids compares several.
  constexpr std::strong_ordering operator<=>(const Uuid& other) const {
    return words() <=> other.words();
  }
  [[nodiscard]] bool is_nil() const { return *this == Uuid{}; }
  // 36 characters, lower case hex with hyphens.
  [[nodiscard]] std::string text() const;

 private:
  [[nodiscard]] constexpr std::array<std::uint64_t, 2> words() const {
    auto words = std::bit_cast<std::array<std::uint64_t, 2>>(bytes);
    if constexpr (std::endian::native == std::endian::little)
      for (std::uint64_t& word : words) word = std::byteswap(word);
    return words;
  }
};

// Exactly the form text() writes; upper case and braces are refused, so that each id has one
// spelling. kInvalid.
[[nodiscard]] Result<Uuid> parse_uuid(std::string_view text);

// Version 5 id of a name below another id.
[[nodiscard]] Uuid uuid_v5(const Uuid& space, std::string_view name);

// Hands out version 7 ids that never go back, even when the clock does: within one millisecond, and
// while the clock stands behind the last id, the 12 bits after the time count up (RFC 9562
// section 6.2, method 1).
class UuidSequence {
 public:
  // random must return 64 fresh random bits each call; tests and demo ledgers seed it.
  explicit UuidSequence(std::function<std::uint64_t()> random);
  // Continues after an id made earlier, by this ledger's last run.
  void continue_after(const Uuid& last);
  [[nodiscard]] Uuid next(UtcInstant now);

 private:
  std::function<std::uint64_t()> random_;
  std::uint64_t last_ms_ = 0;
  std::uint16_t count_ = 0;
};

// An id that says whose id it is; a PlotId is no EntryId (does not compile).
template <class Tag>
struct Id {
  Uuid uuid;
  auto operator<=>(const Id&) const = default;
  [[nodiscard]] std::string text() const { return uuid.text(); }
  [[nodiscard]] bool is_nil() const { return uuid.is_nil(); }
};
using SiteId = Id<struct SiteTag>;
using TrialId = Id<struct TrialTag>;
using EntryId = Id<struct EntryTag>;
using PlotId = Id<struct PlotTag>;
using OccasionId =
    Id<struct OccasionTag>;  // a rating pass or a cutting: what a value belongs to in time
using PersonId = Id<struct PersonTag>;
using StreamId = Id<struct StreamTag>;
using RecordId = Id<struct RecordTag>;

// The codes that name a trial for ever. Each code: 1 to 32 of A-Z a-z 0-9 _ . - and not starting
// with a point.
struct TrialCodes {
  std::string station;
  std::string site;
  std::string trial;

  auto operator<=>(const TrialCodes&) const = default;
};
[[nodiscard]] bool is_code(std::string_view text);

[[nodiscard]] SiteId site_id(std::string_view station, std::string_view site);
[[nodiscard]] TrialId trial_id(const TrialCodes& codes);
[[nodiscard]] EntryId entry_id(TrialId trial, std::string_view entry_code);
[[nodiscard]] PlotId plot_id(TrialId trial, std::string_view plot_number);
[[nodiscard]] OccasionId rating_id(TrialId trial, std::string_view rating_code);
[[nodiscard]] OccasionId cutting_id(TrialId trial, int year, int cutting);
// People are their initials: two tablets that know the same initials mean the same person. Case
// does not matter.
[[nodiscard]] PersonId person_id(std::string_view initials);

}  // namespace ligule

template <>
struct std::hash<ligule::Uuid> {
  std::size_t operator()(const ligule::Uuid& id) const noexcept;
};
template <class Tag>
struct std::hash<ligule::Id<Tag>> {
  std::size_t operator()(const ligule::Id<Tag>& id) const noexcept {
    return std::hash<ligule::Uuid>{}(id.uuid);
  }
};
