#include <string>

#include "app/flow/turn.h"
#include "storage/trial/details.h"

namespace ligule::flow {

Record blank(const Turn& turn, std::string_view kind) {
  Record record;
  record.id = turn.new_id();
  record.kind = kind;
  record.at = turn.at;
  if (turn.model.person) record.person = turn.model.person->id;
  return record;
}

Draft value_draft(const Turn& turn, const About& about, const EnteredValue& value, ValueState state,
                  Source source, const std::optional<KnownClaim>& standing,
                  std::string_view reason) {
  Draft draft;
  draft.before = standing;
  Record& record = draft.record;
  record = blank(turn, standing ? kind::kCorrection : kind::kReading);
  record.trial = about.trial->plan.id();
  record.plan = about.trial->digest;
  record.subject = about.slot.subject;
  record.measure = about.slot.measure;
  record.occasion = about.occasion;
  record.part = about.slot.part;
  record.run = about.run;
  const Book* const book = book_with(turn.model.screen, about.occasion);
  record.purpose = book == nullptr ? Purpose::kSurvey : purpose_at(*book, about.slot.subject);
  record.state = state;
  record.entered = value.entered;
  record.unit = value.unit;
  record.value = value.value;
  if (about.scale != nullptr) {
    const bool own = about.trial->plan.find_score(about.scale->code) == about.scale;
    const auto& digests = own ? about.trial->score_digests : turn.model.setup.definition_digests;
    if (const auto at = digests.find(about.scale->code); at != digests.end()) {
      record.definition = at->second;
    }
  }
  if (standing) {
    record.targets = {standing->record.id};
    record.reason = reason;
  }
  record.blind = !names_shown(turn.model, about.occasion);
  record.source = source;
  return draft;
}

std::optional<Record> earlier_of(const Record& record, const std::optional<KnownClaim>& before) {
  if (!record.replaces() || !before) return std::nullopt;
  return before->record;
}

Record restated(const Turn& turn, const Record& from, std::string_view kind) {
  const Record stamp = blank(turn, kind);
  Record record = from;
  record.stream = {};
  record.seq = 0;
  record.id = stamp.id;
  record.kind = stamp.kind;
  record.format = stamp.format;
  record.at = stamp.at;
  record.person = stamp.person;
  return record;
}

Record take_back_record(const Turn& turn, const KnownClaim& standing,
                        const std::optional<Record>& earlier) {
  Record record = earlier ? restated(turn, *earlier, kind::kCorrection)
                          : restated(turn, standing.record, kind::kWithdrawal);
  record.targets = {standing.record.id};
  record.reason = "taken_back";
  if (record.occasion) record.blind = !names_shown(turn.model, *record.occasion);
  if (earlier) return record;  // restated whole: how it came in and what was answered stay
  record.source = Source::kTapped;
  record.state.reset();
  record.entered.clear();
  record.unit.clear();
  record.value.reset();
  record.answers.clear();
  record.raw.clear();
  record.details.clear();
  return record;
}

}  // namespace ligule::flow
