#include "sync/gather/settle.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

#include "storage/checks/open_questions.h"
#include "sync/gather/beside.h"
#include "sync/gather/names.h"

namespace ligule::gather {
namespace {

using SlotKey = std::tuple<std::optional<Uuid>, std::string, std::optional<OccasionId>, int>;

SlotKey slot_of(const Record& record) {
  return {record.subject, record.measure, record.occasion, record.part};
}

Result<void> add_of(const ledger::Ledger& ledger, const Names& names, const Plan& plan,
                    std::vector<ToSettle>& all) {
  const auto claims = ledger.claims(plan.id());
  if (!claims) return std::unexpected(claims.error());
  std::vector<Record> standing;
  std::map<SlotKey, std::vector<RecordId>> slots;
  std::map<RecordId, bool> conflicts;
  for (const ledger::Claim& claim : *claims) {
    // Repeats, second raters and practice are compared, never settled.
    if (claim.record.purpose != Purpose::kSurvey) continue;
    slots[slot_of(claim.record)].push_back(claim.record.id);
    conflicts[claim.record.id] = claim.others > 0;
    standing.push_back(claim.record);
  }
  const std::vector<std::size_t> open = checks::open_questions(standing);
  const auto beside = Beside::read(ledger, names, plan, standing);
  if (!beside) return std::unexpected(beside.error());
  for (std::size_t n = 0; n < standing.size(); ++n) {
    const Record& record = standing[n];
    const bool conflict = conflicts.at(record.id);
    if (!conflict && !std::ranges::binary_search(open, n)) continue;
    const auto about = names.about(plan, record.subject.value_or(Uuid{}));
    if (!about) return std::unexpected(about.error());
    const PlanOccasion* const occasion = plan.find_occasion(record.occasion.value_or(OccasionId{}));
    std::vector<RecordId> same = slots.at(slot_of(record));
    std::ranges::sort(same);
    all.push_back({record, plan.codes.trial, *about, occasion == nullptr ? "" : occasion->code,
                   names.contender(record), conflict, std::move(same), beside->of(record)});
  }
  return {};
}

}  // namespace

std::string ToSettle::line() const {
  std::string text =
      record.id.text() + ": " + trial + ", " + about + ", " + occasion + ", " + record.measure;
  if (record.part > 1) text += " no. " + std::to_string(record.part);
  text += ": " + said.line();
  for (const Answer& answer : record.answers)
    text += "; asked " + answer.rule + ", answered " + answer.answer;
  if (conflict) text += "; another value stands against it";
  return text;
}

std::string ToSettle::beside_line() const {
  std::string line;
  for (const bool across : {false, true}) {
    std::string texts;
    for (const PlotBeside& plot : beside) {
      if (plot.across != across) continue;
      texts += (texts.empty() ? "" : ", ") + ("plot " + plot.plot + " ") +
               (plot.shown.empty() ? "nothing yet" : plot.shown);
    }
    if (texts.empty()) continue;
    line += (line.empty() ? "" : "; ") + std::string(across ? "across: " : "beside on the path: ") +
            texts;
  }
  return line;
}

Result<std::vector<ToSettle>> to_settle(const ledger::Ledger& ledger) {
  const auto names = Names::read(ledger);
  if (!names) return std::unexpected(names.error());
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  std::vector<ToSettle> all;
  for (const ledger::KnownPlan& known : *plans)
    if (const auto added = add_of(ledger, *names, known.plan, all); !added)
      return std::unexpected(added.error());
  std::ranges::stable_sort(all, {}, &ToSettle::trial);
  return all;
}

// As on the tablet.
const std::vector<std::string>& settle_reasons() {
  static const std::vector<std::string> reasons{"looked_again", "agreed", "on_paper"};
  return reasons;
}

Result<ToSettle> find_to_settle(const ledger::Ledger& ledger, RecordId value) {
  auto all = to_settle(ledger);
  if (!all) return std::unexpected(all.error());
  const auto at =
      std::ranges::find_if(*all, [&](const ToSettle& each) { return each.record.id == value; });
  if (at != all->end()) return std::move(*at);
  return fail(ErrorKind::kNotFound, "nothing is to be settled about this value", "--value",
              "give an id that the list names: run it without --value");
}

Result<std::vector<Record>> person_records(const ledger::Ledger& ledger,
                                           const std::string& initials, const Stamp& now,
                                           UuidSequence& ids) {
  const auto people = ledger.of_kind(kind::kPerson);
  if (!people) return std::unexpected(people.error());
  std::vector<Record> records;
  const PersonId person = person_id(initials);
  if (std::ranges::find(*people, person.uuid, &Record::subject) != people->end()) return records;
  Record known;
  known.id = RecordId{ids.next(now.utc)};
  known.kind = kind::kPerson;
  known.at = now;
  known.person = person;
  known.subject = person.uuid;
  known.entered = initials;
  records.push_back(std::move(known));
  return records;
}

Result<std::vector<Record>> limits_records(const ledger::Ledger& ledger,
                                           const Definitions& definitions, const Stamp& now,
                                           UuidSequence& ids) {
  std::vector<Record> records;
  if (definitions.limits.empty()) return records;
  const std::string text = limits_text(definitions.limits);
  std::string digest = sha256(text).hex();
  const auto told = ledger.limits_told();
  if (!told) return std::unexpected(told.error());
  if (*told == digest) return records;
  Record limits;
  limits.id = RecordId{ids.next(now.utc)};
  limits.kind = kind::kLimits;
  limits.at = now;
  limits.definition = std::move(digest);
  limits.details = text;
  records.push_back(std::move(limits));
  return records;
}

Result<std::vector<Record>> settling_records(const ledger::Ledger& ledger, const ToSettle& value,
                                             const Settling& wish, UuidSequence& ids) {
  auto records = person_records(ledger, wish.person, wish.now, ids);
  if (!records) return std::unexpected(records.error());
  Record settled = value.record;
  settled.id = RecordId{ids.next(wish.now.utc)};
  settled.kind = kind::kSettlement;
  settled.format = Record{}.format;
  settled.stream = StreamId{};
  settled.seq = 0;
  settled.at = wish.now;
  settled.person = person_id(wish.person);
  settled.targets = value.claims;
  settled.reason = wish.reason;
  settled.source = Source::kTyped;
  settled.raw.clear();
  // At a desk the entry's name may be in sight.
  settled.blind = false;
  if (settled.state == ValueState::kOnHold) settled.state = ValueState::kValue;
  records->push_back(std::move(settled));
  return records;
}

}  // namespace ligule::gather
