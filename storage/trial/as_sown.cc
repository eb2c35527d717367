#include "storage/trial/as_sown.h"

#include <algorithm>
#include <array>
#include <utility>

#include "storage/trial/details.h"

namespace ligule {
namespace {

// Written to disk; never change a text.
constexpr std::array<std::pair<AsSownStatus, std::string_view>, 5> kStatuses{
    {{AsSownStatus::kAsPlanned, "as planned"},
     {AsSownStatus::kHolds, "holds"},
     {AsSownStatus::kUnknown, "unknown"},
     {AsSownStatus::kReseeded, "reseeded"},
     {AsSownStatus::kAbandoned, "abandoned"}}};

}  // namespace

std::string_view name_of(AsSownStatus status) {
  return std::ranges::find(kStatuses, status, &std::pair<AsSownStatus, std::string_view>::first)
      ->second;
}

Result<AsSownStatus> parse_as_sown_status(std::string_view text) {
  const auto at =
      std::ranges::find(kStatuses, text, &std::pair<AsSownStatus, std::string_view>::second);
  if (at != kStatuses.end()) return at->first;
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not a status of a plot");
}

void write_as_sown(const AsSown& what, Record& record) {
  record.kind = kind::kAsSown;
  record.subject = what.plot.uuid;
  record.entered = name_of(what.status);
  record.reason = what.reason;
  Details details{{"since", format_date(what.since)}};
  if (what.holds) details["entry"] = what.holds->text();
  record.details = details_text(details);
}

Result<AsSown> read_as_sown(const Record& record) {
  if (record.kind != kind::kAsSown || !record.subject)
    return fail(ErrorKind::kInvalid, "not a record of what was sown");
  const auto status = parse_as_sown_status(record.entered);
  if (!status) return std::unexpected(status.error());
  const auto details = parse_details(record.details);
  if (!details) return std::unexpected(details.error());
  const auto since = details->find("since");
  if (since == details->end())
    return fail(ErrorKind::kInvalid, "a record of what was sown has no date");
  const auto date = parse_date(since->second);
  if (!date) return std::unexpected(date.error());
  AsSown what{{*record.subject}, *status, std::nullopt, *date, record.reason};
  if (const auto entry = details->find("entry"); entry != details->end()) {
    const auto id = parse_uuid(entry->second);
    if (!id) return std::unexpected(id.error());
    what.holds = EntryId{*id};
  }
  if ((what.status == AsSownStatus::kHolds) != what.holds.has_value()) {
    return fail(ErrorKind::kInvalid, "an entry is named exactly where a plot holds another entry");
  }
  return what;
}

}  // namespace ligule
