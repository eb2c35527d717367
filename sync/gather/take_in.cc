#include "sync/gather/take_in.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <iterator>
#include <set>
#include <tuple>
#include <utility>

#include "storage/checks/stubble.h"
#include "storage/files/zone.h"
#include "storage/trial/details.h"
#include "storage/trial/length_text.h"
#include "storage/trial/number.h"
#include "storage/trial/sample_bag.h"
#include "storage/trial/unit_names.h"
#include "sync/gather/row_clock.h"

namespace ligule::gather {
namespace {

constexpr std::chrono::minutes kNoon = std::chrono::hours(12);
constexpr std::int64_t kMostParts = 99;
// Longer chains of corrections than anybody makes; a forged ring ends here.
constexpr int kLongestChain = 1000;

struct Line {
  std::string_view column;
  std::string_view measure;
  bool sample = false;  // of the bag, in the samples' unit
};
// The bag before its samples, whose subject it is.
constexpr std::array kLines{Line{column::kGross, measure::kGrossWeight},
                            Line{column::kTare, measure::kTareWeight},
                            Line{column::kBag, measure::kBagNumber},
                            Line{column::kSampleFresh, measure::kSampleFresh, true},
                            Line{column::kSampleDry, measure::kSampleDry, true}};

// What a finding says, for people at a desk; the codes are told with it.
std::string words_of(const checks::Finding& finding) {
  const auto argument = [&](std::size_t n) {
    return n < finding.arguments.size() ? finding.arguments[n] : std::string("?");
  };
  const std::string_view code = finding.rule->code;
  if (code == "off_scale")
    return "is outside of what the scale takes, " + argument(0) + " to " + argument(1);
  if (code == "gross_under_tare") return "is less than its tare";
  if (code == "sample_under_bag") return "is no more than its bag weighs";
  if (code == "dry_over_fresh") return "is more than the fresh sample";
  if (code == "dry_under_bag") return "is no more than its bag weighs";
  if (code == "same_weight") return "is what plot " + argument(1) + " before it weighed, too";
  if (code == "bag_in_use") return "is the number of another bag that is still open";
  if (code == "before_sowing")
    return "is of " + argument(0) + ", before the sowing of " + argument(1);
  if (code == "in_future") return "is of " + argument(0) + ", which is still to come";
  return "is questioned";
}

class Judge {
 public:
  Judge(const ledger::Ledger& ledger, const WeightFile& file, const TakeIn& wish,
        const Definitions& definitions)
      : ledger_(ledger),
        file_(file),
        wish_(wish),
        definitions_(definitions),
        plan_(wish.plan.plan),
        occasion_(plan_.occasion(wish.cutting)) {}

  files::Checked<TakenIn> run() {
    if (const auto loaded = load(); !loaded) return std::unexpected(files::Faults{loaded.error()});
    look_at_stubble();
    for (const WeightRow& row : file_.rows) {
      if (const auto read = judge_row(row); !read)
        return std::unexpected(files::Faults{read.error()});
    }
    if (!faults_.empty()) return std::unexpected(std::move(faults_));
    for (const PlanPlot& plot : plan_.along_path())
      if (!seen_plots_.contains(plot.number)) taken_.not_in_file.push_back(plot.number);
    return std::move(taken_);
  }

 private:
  using SlotKey = std::tuple<Uuid, std::string, int>;
  // Where a row's plot stands, with what belongs to it.
  struct At {
    const WeightRow* row;
    const PlanPlot* plot;
    Uuid subject;
    int part = 1;
    Stamp stamp;
    std::optional<RecordId> bag;  // that the ledger holds
    bool new_bag = false;         // that this row brings
  };

  Result<void> load() {
    const auto claims = ledger_.claims(plan_.id(), occasion_);
    if (!claims) return std::unexpected(claims.error());
    for (const ledger::Claim& claim : *claims) {
      const Record& record = claim.record;
      if (record.purpose != Purpose::kSurvey || !record.subject) continue;
      standing_[{*record.subject, record.measure, record.part}].push_back(record);
    }
    const auto bags = ledger_.open_bags();
    if (!bags) return std::unexpected(bags.error());
    open_bags_ = *bags;
    const auto people = ledger_.of_kind(kind::kPerson);
    if (!people) return std::unexpected(people.error());
    for (const Record& person : *people)
      if (person.subject) initials_[PersonId{*person.subject}] = person.entered;
    return {};
  }

  std::string where(const WeightRow& row) const {
    return file_.name + " line " + std::to_string(row.line);
  }
  void fault(const WeightRow& row, ErrorKind kind, std::string what, std::string mend) {
    faults_.push_back({kind, std::move(what), where(row), std::move(mend)});
  }

  void look_at_stubble() {
    const auto at = wish_.run.find("stubble");
    if (at == wish_.run.end()) return;
    const auto inches = inches_of(at->second, "");
    const auto least = checks::least_stubble(plan_, definitions_.species);
    if (!inches || !least || !checks::is_low(*inches, least)) return;
    if (accepts(kLowStubble)) {
      taken_.low = true;
      return;
    }
    faults_.push_back({ErrorKind::kRefused,
                       "a stubble of " + at->second + " is lower than the " +
                           format_number(*least) + " in that what grows there bears",
                       "--stubble",
                       "give it as it was set, or --accept " + std::string(kLowStubble)});
  }

  [[nodiscard]] bool accepts(std::string_view rule) const {
    return std::ranges::find(wish_.accept, rule) != wish_.accept.end();
  }

  // Errors: those of reading the ledger; what is wrong with the row is a fault.
  Result<void> judge_row(const WeightRow& row) {
    At at{&row, plan_.find_plot(row.cell(column::kPlot)), {}, 1, {}, {}};
    if (at.plot == nullptr) {
      fault(row, ErrorKind::kInvalid,
            "plot " + row.cell(column::kPlot) + " is not in the plan of " + plan_.codes.trial,
            "mend the number, or take the row out");
      return {};
    }
    at.subject = plan_.plot(*at.plot).uuid;
    seen_plots_.insert(at.plot->number);
    if (!read_part(at) || !read_stamp(at)) return {};
    if (const auto bag = find_bag(at); !bag) return std::unexpected(bag.error());
    for (const Line& line : kLines)
      if (const std::string text = row.cell(line.column); !text.empty())
        judge_value(at, line, text);
    if (const std::string gross = row.cell(column::kGross); !gross.empty()) {
      weighed_ = checks::EnteredWeight{gross, wish_.unit, at.plot->number};
      weighed_day_ = at.stamp.local_date;
    }
    return {};
  }

  bool read_part(At& at) {
    const std::string text = at.row->cell(column::kPart);
    if (!text.empty()) {
      const auto part = parse_integer(text);
      if (!part || *part < 1 || *part > kMostParts) {
        fault(*at.row, ErrorKind::kInvalid, "'" + text + "' is no part of a plot",
              "write a whole number from 1");
        return false;
      }
      at.part = static_cast<int>(*part);
    }
    const auto [first, added] = lines_.try_emplace({at.plot->number, at.part}, at.row->line);
    if (added) return true;
    fault(
        *at.row, ErrorKind::kInvalid,
        "plot " + at.plot->number + " stands twice, first in line " + std::to_string(first->second),
        "keep one of them; several bags of a plot are told apart by a column part");
    return false;
  }

  bool read_stamp(At& at) {
    std::optional<CalendarDate> day = wish_.date;
    if (const std::string text = at.row->cell(column::kDate); !text.empty()) {
      const auto read = parse_date(text);
      if (!read) {
        fault(*at.row, ErrorKind::kInvalid, read.error().what, read.error().mend);
        return false;
      }
      day = *read;
    }
    std::chrono::minutes minutes = kNoon;
    const std::string text = at.row->cell(column::kTime);
    if (!text.empty()) {
      const auto clock = parse_row_clock(text);
      if (!clock) {
        fault(*at.row, ErrorKind::kInvalid, "'" + text + "' is no time",
              "write 14:30, or 2026-05-20 14:30");
        return false;
      }
      if (clock->day) day = clock->day;
      minutes = clock->since_midnight;
    } else {
      taken_.clock = false;
    }
    if (!day) {
      fault(*at.row, ErrorKind::kInvalid, "nothing tells the day of this weight",
            "give --date, or a column for the date");
      return false;
    }
    const auto utc = files::local_to_utc(plan_.zone, *day, minutes);
    const auto offset = utc ? files::offset_at(plan_.zone, *utc)
                            : Result<std::chrono::minutes>(std::unexpected(utc.error()));
    if (!offset) {
      fault(*at.row, offset.error().kind, offset.error().what, offset.error().mend);
      return false;
    }
    at.stamp = stamp_at(*utc, *offset);
    tell_other_year(*day);
    return true;
  }

  void tell_other_year(CalendarDate day) {
    const int year{day.year()};
    if (year == wish_.cutting.year || told_year_) return;
    told_year_ = true;
    taken_.notices.push_back({ErrorKind::kRefused,
                              "weights of " + format_date(day) + " in a cutting of " +
                                  std::to_string(wish_.cutting.year),
                              file_.name, "look at --year and the dates"});
  }

  [[nodiscard]] const std::vector<Record>& standing(const Uuid& subject, std::string_view measure,
                                                    int part) const {
    static const std::vector<Record> none;
    const auto at = standing_.find({subject, std::string(measure), part});
    return at == standing_.end() ? none : at->second;
  }

  // The reading that a bag's number goes back to names the bag.
  Result<RecordId> first_of(Record record) const {
    for (int step = 0; step < kLongestChain && record.replaces() && !record.targets.empty();
         ++step) {
      // A settlement goes back to the claim that it agrees with.
      RecordId before = record.targets.front();
      std::optional<Record> held;
      for (const RecordId target : record.targets) {
        const auto found = ledger_.find(target);
        if (!found) return std::unexpected(found.error());
        const std::optional<Record>& known = *found;
        const bool agrees = known && known->entered == record.entered;
        if (!agrees && target != record.targets.front()) continue;
        before = target;
        held = known;
        if (agrees) break;
      }
      if (!held) return before;  // not held here: its id says enough
      record = *std::move(held);
    }
    return record.id;
  }

  Result<void> find_bag(At& at) {
    const auto& numbers = standing(at.subject, measure::kBagNumber, at.part);
    at.new_bag = numbers.empty() && !at.row->cell(column::kBag).empty();
    if (numbers.size() != 1) return {};
    // What was put off is numbered now, but the bag is named by the reading that stands there.
    if (numbers.front().state == ValueState::kLater)
      at.new_bag = !at.row->cell(column::kBag).empty();
    if (const auto same =
            parse_uuid(detail(numbers.front().details, std::string(sample_bag::kSameBag)))) {
      at.bag = RecordId{*same};
      return {};
    }
    const auto first = first_of(numbers.front());
    if (!first) return std::unexpected(first.error());
    at.bag = *first;
    return {};
  }

  [[nodiscard]] const Scale* scale_of(const PlanPlot& plot, std::string_view measure) const {
    const PlanEntry* const entry = plan_.find_entry(plot.entry);
    return entry == nullptr ? nullptr : definitions_.scale_for(measure, entry->species);
  }

  [[nodiscard]] std::string unit_of(const Line& line) const {
    if (line.measure == measure::kBagNumber) return {};
    return line.sample ? wish_.sample_unit : wish_.unit;
  }

  // What the row says, else what the ledger holds.
  std::optional<Kilograms> mass_at(const At& at, const Line& line) const {
    const std::string text = at.row->cell(line.column);
    if (!text.empty()) {
      const auto number = parse_number(text);
      const auto mass = number ? mass_in(*number, unit_of(line)) : Result<Kilograms>(Kilograms());
      return number && mass ? std::optional(*mass) : std::nullopt;
    }
    std::optional<Uuid> subject = at.subject;
    if (line.sample) subject = at.bag ? std::optional(at.bag->uuid) : std::nullopt;
    if (!subject) return std::nullopt;
    return standing_mass(standing(*subject, line.measure, line.sample ? 1 : at.part));
  }

  static std::optional<Kilograms> standing_mass(const std::vector<Record>& records) {
    if (records.size() != 1) return std::nullopt;
    const std::optional<double> value = records.front().value;
    if (!value) return std::nullopt;
    const auto mass = mass_in(*value, records.front().unit);
    return mass ? std::optional(*mass) : std::nullopt;
  }

  checks::History history_of(const At& at) const {
    checks::History history;
    history.today = wish_.now.local_date;
    history.gross = mass_at(at, kLines[0]);
    history.tare = mass_at(at, kLines[1]);
    history.sample_fresh = mass_at(at, kLines[3]);
    history.sample_dry = mass_at(at, kLines[4]);
    if (at.bag) history.bag_tare = standing_mass(standing(at.bag->uuid, measure::kBagTare, 1));
    if (!history.bag_tare)
      if (const auto tare = plan_.bag_tare.kilograms()) history.bag_tare = *tare;
    for (const Record& bag : open_bags_) {
      const bool own = bag.trial == plan_.id() && bag.occasion == occasion_ &&
                       bag.subject == at.subject && bag.part == at.part;
      if (!own) history.open_bags.push_back({bag.entered, PlotId{bag.subject.value_or(Uuid{})}});
    }
    for (const auto& [number, plot] : bags_in_file_)
      if (plot != std::pair(at.subject, at.part))
        history.open_bags.push_back({number, PlotId{plot.first}});
    if (weighed_ && weighed_day_ == at.stamp.local_date) history.weighed_before = weighed_;
    for (const std::string& rule : wish_.accept)
      history.answered.push_back({rule, std::string(kAccepted)});
    return history;
  }

  static bool same_value(const Record& record, const EnteredValue& value) {
    if (record.unit != value.unit) return false;
    return value.value ? record.value == value.value : record.entered == value.entered;
  }

  void judge_value(const At& at, const Line& line, const std::string& text) {
    const Scale* const scale = scale_of(*at.plot, line.measure);
    if (scale == nullptr) {
      return fault(*at.row, ErrorKind::kInvalid,
                   "plot " + at.plot->number + " has no scale for " + std::string(line.measure),
                   "look at the plan's entries");
    }
    if (line.sample && !at.bag && !at.new_bag) {
      return fault(*at.row, ErrorKind::kInvalid,
                   "plot " + at.plot->number + " has a sample and no bag number",
                   "write the number that stands on its bag");
    }
    TakenValue value;
    value.row = at.row;
    value.measure = line.measure;
    value.plot = at.subject;
    value.part = line.sample ? 1 : at.part;
    if (line.sample) value.bag = at.bag;
    value.of_bag = line.sample;
    value.scale = scale;
    value.at = at.stamp;
    static const std::vector<Record> none;
    const std::vector<Record>& before = !line.sample ? standing(at.subject, line.measure, at.part)
                                        : at.bag     ? standing(at.bag->uuid, line.measure, 1)
                                                     : none;
    if (!hold_against_rules(at, line, text, before, value)) return;
    if (line.measure == measure::kBagNumber && at.row->cell(column::kSampleDry).empty())
      bags_in_file_.emplace_back(text, std::pair(at.subject, at.part));
    keep(at, before, std::move(value));
  }

  // False: a rule refuses it.
  bool hold_against_rules(const At& at, const Line& line, const std::string& text,
                          const std::vector<Record>& before, TakenValue& value) {
    checks::History history = history_of(at);
    const EnteredValue entered{text, unit_of(line), std::nullopt};
    // What was answered about this very value is not asked about twice.
    for (const Record& record : before) {
      const auto number = parse_number(text);
      const bool same = record.unit == entered.unit &&
                        (number ? record.value == *number : record.entered == text);
      for (const Answer& answer : record.answers)
        if (same && answer.answer != kNotAsked) history.answered.push_back(answer);
    }
    const checks::Verdict verdict = checks::judge(
        {value.measure, value.scale, text, entered.unit, at.stamp.local_date}, plan_, history);
    const std::string said = "plot " + at.plot->number + ": " + value.measure + " " + text +
                             (entered.unit.empty() ? "" : " " + entered.unit) + " ";
    if (verdict.outcome == checks::Outcome::kRefuse) {
      const checks::Finding& finding = verdict.findings.front();
      if (finding.rule->code == "unreadable") {
        fault(*at.row, ErrorKind::kInvalid,
              "plot " + at.plot->number + ": " + value.measure + " '" + text + "' is no number",
              "write the number alone, without its unit");
      } else {
        fault(*at.row, ErrorKind::kInvalid, said + words_of(finding),
              "mend the file, or take the row out");
      }
      return false;
    }
    value.value = verdict.value;
    value.answers = verdict.answered;
    const bool held = std::ranges::any_of(verdict.answered, [](const Answer& answer) {
      const checks::Rule* const rule = checks::find_rule(answer.rule);
      return rule != nullptr && rule->outcome == checks::Outcome::kOnHold;
    });
    if (held || !verdict.findings.empty()) value.state = ValueState::kOnHold;
    for (const checks::Finding& finding : verdict.findings) {
      value.answers.push_back({std::string(finding.rule->code), std::string(kNotAsked)});
      const bool asks = finding.rule->outcome == checks::Outcome::kAsk;
      questions_.push_back(
          {ErrorKind::kRefused, said + words_of(finding), where(*at.row),
           asks ? "it is right? --accept " + std::string(finding.rule->code)
                : "correct or settle it in Review; rule " + std::string(finding.rule->code)});
    }
    return true;
  }

  // New, put right, there already, or against what stands.
  void keep(const At& at, const std::vector<Record>& before, TakenValue value) {
    std::vector<Error> questions = std::exchange(questions_, {});
    if (before.size() > 1) {
      return fault(*at.row, ErrorKind::kConflict,
                   "plot " + at.plot->number + ": " + value.measure + " stands " +
                       std::to_string(before.size()) + " times already",
                   "settle that first");
    }
    if (!before.empty()) {
      const Record& record = before.front();
      const bool later = record.state == ValueState::kLater;
      // What a person has put right to this very value stays right.
      const bool stands = record.state == value.state || record.state == ValueState::kValue;
      if (!later && stands && same_value(record, value.value)) {
        ++taken_.same;
        return;
      }
      if (!later && wish_.correct.empty()) return against(at, record, value);
      value.replaces = record;
      ++taken_.corrected;
    }
    std::ranges::move(questions, std::back_inserter(taken_.on_hold));
    taken_.values.push_back(std::move(value));
  }

  void against(const At& at, const Record& record, const TakenValue& value) {
    const auto by = record.person ? initials_.find(*record.person) : initials_.end();
    std::string stands = record.entered + (record.unit.empty() ? "" : " " + record.unit);
    if (record.entered.empty()) stands = "no weight (" + record.reason + ")";
    if (record.state == ValueState::kOnHold) stands += ", on hold";
    fault(*at.row, ErrorKind::kConflict,
          "plot " + at.plot->number + " has " + value.measure + " " + stands + " already (" +
              (by == initials_.end() ? std::string() : by->second + ", ") +
              format_date(record.at.local_date) + "), the file says " + value.value.entered +
              (value.value.unit.empty() ? "" : " " + value.value.unit),
          "leave the row out, or give --correct REASON");
  }

  const ledger::Ledger& ledger_;
  const WeightFile& file_;
  const TakeIn& wish_;
  const Definitions& definitions_;
  const Plan& plan_;
  OccasionId occasion_;
  std::map<SlotKey, std::vector<Record>> standing_;
  std::vector<Record> open_bags_;
  std::map<PersonId, std::string> initials_;
  std::map<std::pair<std::string, int>, std::size_t> lines_;
  std::set<std::string> seen_plots_;
  std::vector<std::pair<std::string, std::pair<Uuid, int>>> bags_in_file_;
  std::optional<checks::EnteredWeight> weighed_;  // of the row before
  CalendarDate weighed_day_{};
  std::vector<Error> questions_;  // of the value being judged
  bool told_year_ = false;
  TakenIn taken_;
  files::Faults faults_;
};

}  // namespace

files::Checked<TakenIn> judge_weights(const ledger::Ledger& ledger, const WeightFile& file,
                                      const TakeIn& wish, const Definitions& definitions) {
  return Judge(ledger, file, wish, definitions).run();
}

}  // namespace ligule::gather
