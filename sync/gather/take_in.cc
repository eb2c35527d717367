#include "sync/gather/take_in.h"

#include <algorithm>
#include <chrono>
#include <iterator>
#include <set>
#include <utility>

#include "storage/checks/stubble.h"
#include "storage/files/zone.h"
#include "storage/trial/length_text.h"
#include "storage/trial/number.h"
#include "sync/gather/finding_words.h"
#include "sync/gather/net_weights.h"
#include "sync/gather/row_clock.h"
#include "sync/gather/row_history.h"
#include "sync/gather/standing_weights.h"

namespace ligule::gather {
namespace {

constexpr std::int64_t kMostParts = 99;

class Judge {
 public:
  Judge(const ledger::Ledger& ledger, const WeightFile& file, const TakeIn& wish,
        const Definitions& definitions)
      : ledger_(ledger),
        file_(file),
        wish_(wish),
        definitions_(definitions),
        plan_(wish.plan.plan),
        rows_(file, wish, held_) {}

  files::Checked<TakenIn> run() {
    if (auto held = StandingWeights::read(ledger_, plan_, wish_.cutting); held)
      held_ = *std::move(held);
    else
      return std::unexpected(files::Faults{held.error()});
    if (const auto read = rows_.read(ledger_, definitions_); !read)
      return std::unexpected(files::Faults{read.error()});
    look_at_stubble();
    for (const WeightRow& row : file_.rows) {
      if (const auto read = judge_row(row); !read)
        return std::unexpected(files::Faults{read.error()});
    }
    if (!faults_.empty()) return std::unexpected(std::move(faults_));
    std::ranges::move(nets_.exchanged(plan_, file_.name), std::back_inserter(taken_.notices));
    std::ranges::move(nets_.shifted(plan_, wish_.cutting, file_.name),
                      std::back_inserter(taken_.notices));
    for (const PlanPlot& plot : plan_.along_path())
      if (!seen_plots_.contains(plot.number)) taken_.not_in_file.push_back(plot.number);
    return std::move(taken_);
  }

 private:
  using At = RowAt;
  using Line = WeighedLine;

  std::string where(const WeightRow& row, std::string_view column = {}) const {
    std::string where = file_.name + " line " + std::to_string(row.line);
    if (const auto at = file_.columns.find(column); at != file_.columns.end())
      where += ", column " + at->second;
    return where;
  }
  void fault(const WeightRow& row, ErrorKind kind, std::string what, std::string mend,
             std::string_view column = {}) {
    faults_.push_back({kind, std::move(what), where(row, column), std::move(mend)});
  }

  void look_at_stubble() {
    const auto at = wish_.run.find("stubble");
    if (at == wish_.run.end()) return;
    const auto inches = inches_of(at->second, "");
    const auto least = checks::least_stubble(plan_, definitions_);
    if (!inches || !least || !checks::is_low(*inches, least)) return;
    if (accepts(kLowStubble)) {
      taken_.low = true;
      return;
    }
    faults_.push_back({ErrorKind::kRefused,
                       "a stubble of " + at->second + " is lower than the " + shown(*least) +
                           " in that what grows there bears",
                       "--stubble",
                       "give it as it was set, or --accept " + std::string(kLowStubble)});
  }

  [[nodiscard]] bool accepts(std::string_view rule) const {
    return std::ranges::find(wish_.accept, rule) != wish_.accept.end();
  }

  // Errors: those of reading the ledger; what is wrong with the row is a fault.
  Result<void> judge_row(const WeightRow& row) {
    At at{&row, plan_.find_plot(row.cell(column::kPlot)), {}, 1, {}, {}, nullptr, false};
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
    for (const Line& line : kWeighedLines)
      if (const std::string text = row.cell(line.column); !text.empty())
        judge_value(at, line, text);
    rows_.weighed(at);
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
    const auto said =
        row_time(at.row->cell(column::kDate), at.row->cell(column::kTime), wish_.date);
    if (!said) {
      const Error& error = said.error().error;
      fault(*at.row, error.kind, error.what, error.mend, said.error().column);
      return false;
    }
    if (!said->told) taken_.clock = false;
    const auto utc = files::local_to_utc(plan_.zone, said->day, said->since_midnight);
    const auto offset = utc ? files::offset_at(plan_.zone, *utc)
                            : Result<std::chrono::minutes>(std::unexpected(utc.error()));
    if (!offset) {
      fault(*at.row, offset.error().kind, offset.error().what, offset.error().mend);
      return false;
    }
    at.stamp = stamp_at(*utc, *offset);
    tell_other_year(said->day);
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

  // The bag of that number and day that another plot was given, where this one can be in it.
  Result<void> find_shared(At& at, const std::string& number) {
    for (const BagInFile& bag : rows_.bags()) {
      if (bag.number != number || bag.day != at.stamp.local_date ||
          !held_.share_a_bag(*at.plot, *bag.plot))
        continue;
      at.bag = bag.held;
      if (!bag.held) at.bag_row = bag.row;
      at.shares = true;
      return {};
    }
    const auto bag = held_.shared_bag(*at.plot, number, at.stamp.local_date);
    if (!bag) return std::unexpected(bag.error());
    at.bag = *bag;
    at.shares = bag->has_value();
    return {};
  }

  Result<void> find_bag(At& at) {
    const auto& numbers = held_.of(at.subject, measure::kBagNumber, at.part);
    const std::string text = at.row->cell(column::kBag);
    if (numbers.size() > 1) return {};
    if (!text.empty() && (numbers.empty() || numbers.front().entered != text)) {
      if (const auto found = find_shared(at, text); !found) return found;
      if (at.shares) return {};
    }
    if (numbers.empty()) {
      if (!text.empty()) at.bag_row = at.row;
      return {};
    }
    // The reading that stands there names the bag, also where it only put the number off.
    const auto bag = held_.bag_of(numbers.front());
    if (!bag) return std::unexpected(bag.error());
    at.bag = *bag;
    return {};
  }

  [[nodiscard]] const Scale* scale_of(const PlanPlot& plot, std::string_view measure) const {
    const PlanEntry* const entry = plan_.find_entry(plot.entry);
    return entry == nullptr ? nullptr : definitions_.scale_for(measure, entry->species);
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
    if (line.sample && !at.bag && at.bag_row == nullptr) {
      return fault(*at.row, ErrorKind::kInvalid,
                   "plot " + at.plot->number + " has a sample and no bag number",
                   "write the number that stands on its bag");
    }
    TakenValue value;
    value.row = at.row;
    value.measure = line.measure;
    value.plot = at.subject;
    value.part = line.sample ? 1 : at.part;
    value.of_bag = line.sample;
    if (line.sample || (at.shares && line.measure == measure::kBagNumber)) {
      value.bag = at.bag;
      value.bag_row = at.bag_row;
    }
    value.scale = scale;
    value.at = at.stamp;
    static const std::vector<Record> none;
    const std::vector<Record>& before = !line.sample ? held_.of(at.subject, line.measure, at.part)
                                        : at.bag     ? held_.of(at.bag->uuid, line.measure, 1)
                                                     : none;
    if (!hold_against_rules(at, line, text, before, value)) return;
    if (line.measure == measure::kBagNumber && !at.shares) rows_.numbered(at, text);
    if (line.measure == measure::kTareWeight && value.state == ValueState::kValue)
      rows_.tared(at, line);
    if (line.sample && said_before(at, line, value)) return;
    keep(at, before, std::move(value));
  }

  // A bag that several rows name is weighed once: what they say of it must be the same.
  bool said_before(const At& at, const Line& line, const TakenValue& value) {
    const BagSaid* const first = rows_.said_of_bag(at, line, value.value);
    if (first == nullptr) return false;
    questions_.clear();
    if (first->value == value.value) return true;
    fault(*at.row, ErrorKind::kInvalid,
          "bag " + at.row->cell(column::kBag) + " has " + std::string(line.measure) + " " +
              first->value.entered + " in line " + std::to_string(first->line) + " and " +
              value.value.entered + " here",
          "a bag of several plots is weighed once: keep one of them", line.column);
    return true;
  }

  // False: a rule refuses it.
  bool hold_against_rules(const At& at, const Line& line, const std::string& text,
                          const std::vector<Record>& before, TakenValue& value) {
    checks::History history = rows_.history_of(at, line);
    const EnteredValue entered{text, rows_.unit_of(line), std::nullopt};
    // What was answered about this very value is not asked about twice.
    for (const Record& record : before) {
      const auto number = parse_number(text);
      const bool same = record.unit == entered.unit &&
                        (number ? record.value == *number : record.entered == text);
      for (const Answer& answer : record.answers)
        if (same && answer.answer != kNotAsked) history.answered.push_back(answer);
      // What stands was held against the tares of its time.
      if (same && record.state == ValueState::kValue) history.standing_tare.reset();
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
    nets_.add(at.plot->number, value);
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
    const std::string initials = held_.initials(record);
    std::string stands = record.entered + (record.unit.empty() ? "" : " " + record.unit);
    if (record.entered.empty()) stands = "no weight (" + record.reason + ")";
    if (record.state == ValueState::kOnHold) stands += ", on hold";
    fault(*at.row, ErrorKind::kConflict,
          "plot " + at.plot->number + " has " + value.measure + " " + stands + " already (" +
              (initials.empty() ? std::string() : initials + ", ") +
              format_date(record.at.local_date) + "), the file says " + value.value.entered +
              (value.value.unit.empty() ? "" : " " + value.value.unit),
          record.state == ValueState::kOnHold
              ? "look at it with ligule-desk settle, leave the row out, or give --correct REASON"
              : "leave the row out, or give --correct REASON");
  }

  const ledger::Ledger& ledger_;
  const WeightFile& file_;
  const TakeIn& wish_;
  const Definitions& definitions_;
  const Plan& plan_;
  StandingWeights held_;
  RowHistory rows_;
  std::map<std::pair<std::string, int>, std::size_t> lines_;
  std::set<std::string> seen_plots_;
  NetWeights nets_;
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
