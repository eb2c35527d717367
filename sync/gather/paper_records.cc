// The records of what was typed from plot sheets.
#include <algorithm>
#include <chrono>
#include <iterator>
#include <set>

#include "storage/files/zone.h"
#include "storage/trial/details.h"
#include "sync/gather/paper.h"
#include "sync/gather/settle.h"

namespace ligule::gather {
namespace {

// As the tablet writes it.
constexpr const char* kAfterLater = "after_later";

// A sheet tells the day; noon stands for an hour that nobody knows.
Result<Stamp> noon_of(const FromPaper& wish) {
  const auto utc = files::local_to_utc(wish.plan.plan.zone, wish.date, std::chrono::hours(12));
  if (!utc) return std::unexpected(utc.error());
  const auto offset = files::offset_at(wish.plan.plan.zone, *utc);
  if (!offset) return std::unexpected(offset.error());
  return stamp_at(*utc, *offset);
}

Details details_of(const FromPaper& wish) {
  Details details{
      {std::string(kTypedIn), format_date(wish.now.local_date) + " " + format_clock(wish.now)},
      {"clock", "none"}};
  if (wish.file.empty()) return details;
  details["file"] = wish.file;
  details["file_sha256"] = wish.sha256;
  return details;
}

// Scales that the ledger does not hold yet.
Result<std::vector<Record>> scale_records(const ledger::Ledger& ledger,
                                          const std::vector<JudgedLine>& lines, const Stamp& now,
                                          UuidSequence& ids) {
  std::vector<Record> records;
  std::set<std::string> seen;
  for (const JudgedLine& line : lines) {
    for (const PaperValue& value : line.values) {
      const std::string text = scale_text(*value.scale);
      std::string digest = sha256(text).hex();
      if (!seen.insert(digest).second) continue;
      const auto held = ledger.definition(digest);
      if (!held) return std::unexpected(held.error());
      if (held->has_value()) continue;
      Record record;
      record.id = RecordId{ids.next(now.utc)};
      record.kind = kind::kDefinition;
      record.at = now;
      record.entered = value.scale->code;
      record.definition = std::move(digest);
      record.details = text;
      records.push_back(std::move(record));
    }
  }
  return records;
}

// A first value, or what was put off until now.
void restate(const PaperValue& value, Record& record) {
  record.kind = value.replaces ? kind::kCorrection : kind::kReading;
  record.subject = value.plot;
  record.measure = value.measure;
  record.part = value.part;
  record.state = value.state;
  record.entered = value.value.entered;
  record.unit = value.value.unit;
  record.value = value.value.value;
  record.definition = sha256(scale_text(*value.scale)).hex();
  record.answers = value.answers;
  record.raw = value.raw;
  if (!value.replaces) return;
  record.targets = {value.replaces->id};
  record.reason = kAfterLater;
}

}  // namespace

Result<std::vector<Record>> PaperSheet::records(UuidSequence& ids) const {
  const auto at = noon_of(*wish_);
  if (!at) return std::unexpected(at.error());
  auto records = scale_records(*ledger_, lines_, wish_->now, ids);
  if (!records) return records;
  auto limits = limits_records(*ledger_, *definitions_, wish_->now, ids);
  if (!limits) return limits;
  std::ranges::move(*limits, std::back_inserter(*records));
  auto person = person_records(*ledger_, wish_->rater, wish_->now, ids);
  if (!person) return person;
  std::ranges::move(*person, std::back_inserter(*records));
  Record blank;
  blank.at = *at;
  blank.person = person_id(wish_->rater);
  blank.trial = plan_->id();
  blank.plan = wish_->plan.digest;
  blank.occasion = plan_->occasion(wish_->occasion);
  blank.purpose = Purpose::kSurvey;
  blank.blind = !wish_->names_printed && !names_shown_;
  blank.source = Source::kPaper;
  blank.details = details_text(details_of(*wish_));
  for (const JudgedLine& line : lines_) {
    for (const PaperValue& value : line.values) {
      Record record = blank;
      record.id = RecordId{ids.next(wish_->now.utc)};
      restate(value, record);
      records->push_back(std::move(record));
    }
  }
  return records;
}

}  // namespace ligule::gather
