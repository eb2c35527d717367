#include "sync/gather/paper.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "storage/checks/rules.h"
#include "storage/checks/stubble.h"
#include "storage/trial/composite.h"
#include "storage/trial/details.h"
#include "storage/trial/reached.h"
#include "storage/trial/said.h"
#include "storage/trial/trial_event.h"
#include "sync/gather/finding_words.h"
#include "sync/gather/paper_values.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {
namespace {

// What is asked of what stood on paper and can be accepted.
constexpr std::array<std::string_view, 5> kAskedOfPaper{"unusual", "stand_rose", "stage_went_back",
                                                        checks::kStubbleLow, "before_sowing"};

std::string listed(const std::vector<std::string>& texts) {
  std::string list;
  for (const std::string& text : texts) list.append(list.empty() ? "" : ", ").append(text);
  return list;
}

std::string where_typed(TypedIn typed) {
  return typed == TypedIn::kTakeIn ? "take a table of it in by take-in --on-paper"
                                   : "keep it on a tablet";
}

std::string with_its_unit(const std::string& number, const std::string& unit) {
  return unit.empty() ? number : number + " " + unit;
}

// What stands there, in words.
std::string standing_words(const Record& record) {
  std::string stands = with_its_unit(record.entered, record.unit);
  if (stands.empty()) stands = "no value (" + record.reason + ")";
  if (record.state == ValueState::kOnHold) stands += ", on hold";
  return stands;
}

void look_at_accepted(const FromPaper& wish, files::Faults& faults) {
  for (const std::string& rule : wish.accept) {
    if (std::ranges::find(kAskedOfPaper, rule) != kAskedOfPaper.end()) continue;
    const std::vector<std::string> known(kAskedOfPaper.begin(), kAskedOfPaper.end());
    faults.push_back({ErrorKind::kInvalid, "'" + rule + "' asks nothing that can be accepted",
                      "--accept", "give one of " + listed(known)});
  }
}

bool takes(const SheetColumn& column, const std::string& unit) {
  return std::ranges::any_of(column.scales, [&](const Scale* scale) {
    return std::ranges::find(scale->units, unit) != scale->units.end();
  });
}

}  // namespace

// A box that is judged.
struct PaperSheet::Box {
  const PaperLine* line = nullptr;
  const PlanPlot* plot = nullptr;
  const PlanEntry* entry = nullptr;
  const Scale* scale = nullptr;
  std::string measure;
  Uuid subject;

  [[nodiscard]] std::string about() const { return "plot " + plot->number + ": " + measure; }
};

files::Faults from_paper_faults(const FromPaper& wish, const Definitions& definitions) {
  files::Faults faults;
  const auto columns = sheet_columns(wish.plan.plan, wish.occasion, definitions);
  const bool typed = std::ranges::any_of(
      columns, [](const SheetColumn& column) { return column.typed == TypedIn::kFromPaper; });
  if (!typed) {
    const bool weighs = std::ranges::any_of(
        columns, [](const SheetColumn& column) { return column.typed == TypedIn::kTakeIn; });
    faults.push_back({ErrorKind::kInvalid,
                      "nothing of " + wish.occasion.code + " is typed from plot sheets", "",
                      where_typed(weighs ? TypedIn::kTakeIn : TypedIn::kTablet)});
  }
  if (wish.date > wish.now.local_date)
    faults.push_back({ErrorKind::kInvalid, format_date(wish.date) + " is still to come", "--date",
                      "give the date that stands on the sheet"});
  const bool taken = wish.unit.empty() || std::ranges::any_of(columns, [&](const auto& column) {
                       return takes(column, wish.unit);
                     });
  if (!taken)
    faults.push_back({ErrorKind::kInvalid,
                      "nothing of " + wish.occasion.code + " is measured in '" + wish.unit + "'",
                      "--unit", "leave it out, or give the unit of its lengths"});
  look_at_accepted(wish, faults);
  return faults;
}

PaperSheet::PaperSheet(const ledger::Ledger& ledger, const FromPaper& wish,
                       const Definitions& definitions)
    : ledger_(&ledger),
      wish_(&wish),
      definitions_(&definitions),
      plan_(&wish.plan.plan),
      columns_(sheet_columns(wish.plan.plan, wish.occasion, definitions)) {}

Result<PaperSheet> PaperSheet::read(const ledger::Ledger& ledger, const FromPaper& wish,
                                    const Definitions& definitions) {
  PaperSheet sheet(ledger, wish, definitions);
  auto ratings = RatingsBefore::read(ledger, *sheet.plan_, wish.occasion, wish.date);
  if (!ratings) return std::unexpected(ratings.error());
  sheet.ratings_ = *std::move(ratings);
  auto held = StandingWeights::read(ledger, *sheet.plan_, wish.occasion);
  if (!held) return std::unexpected(held.error());
  sheet.held_ = *std::move(held);
  for (const PlanPlot& plot : sheet.plan_->along_path())
    if (is_on_sheet(*sheet.plan_, wish.occasion, sheet.ratings_.as_sown(), plot))
      sheet.path_.push_back(plot.number);
  if (const auto looked = sheet.look_at_events(); !looked) return std::unexpected(looked.error());
  return sheet;
}

// Who saw the names, and what may be odd of the whole sheet.
Result<void> PaperSheet::look_at_events() {
  const OccasionId occasion = plan_->occasion(wish_->occasion);
  const auto events = ledger_->events(plan_->id());
  if (!events) return std::unexpected(events.error());
  for (const TrialEvent& event : *events) {
    const Record& record = event.record;
    names_shown_ = names_shown_ ||
                   (record.entered == kNamesShown && record.person == person_id(wish_->rater) &&
                    detail(record.details, "occasion") == occasion.text());
  }
  if (static_cast<int>(wish_->date.year()) != wish_->occasion.year)
    notices_.push_back({ErrorKind::kRefused,
                        "a sheet of " + format_date(wish_->date) + " for a rating of " +
                            std::to_string(wish_->occasion.year),
                        "--date", "look at the date and at which rating it is"});
  const auto closings = ledger_->of_kind(kind::kClosed, plan_->id());
  if (!closings) return std::unexpected(closings.error());
  const auto closed = std::ranges::find_if(*closings, [&](const Record& record) {
    return record.occasion == occasion && !said::closes_second(record);
  });
  if (closed != closings->end())
    notices_.push_back(
        {ErrorKind::kRefused,
         wish_->occasion.code + " was closed on " + format_date(closed->at.local_date), "",
         "what is typed counts all the same"});
  return {};
}

std::vector<SheetColumn> PaperSheet::typed_here() const {
  std::vector<SheetColumn> here;
  std::ranges::copy_if(columns_, std::back_inserter(here), [](const SheetColumn& column) {
    return column.typed == TypedIn::kFromPaper;
  });
  return here;
}

bool PaperSheet::is_done(const std::string& number) const {
  if (typed_.contains(number)) return true;
  const PlanPlot* const plot = plan_->find_plot(number);
  if (plot == nullptr) return true;
  const Uuid subject = plan_->plot(*plot).uuid;
  return std::ranges::all_of(typed_here(), [&](const SheetColumn& column) {
    if (column.scales.front()->kind == ScaleKind::kText) return true;
    const std::vector<int> parts = held_.parts(subject, column.measure);
    return std::ranges::any_of(parts, [&](int part) {
      return std::ranges::any_of(held_.of(subject, column.measure, part), [](const Record& record) {
        return record.state != ValueState::kLater && !says_not_yet(record);
      });
    });
  });
}

const PlanPlot* PaperSheet::find_plot(const PaperLine& line, files::Faults& faults) const {
  const PlanPlot* const plot = plan_->find_plot(line.plot);
  if (plot == nullptr) {
    faults.push_back({ErrorKind::kInvalid,
                      "plot " + line.plot + " is not in the plan of " + plan_->codes.trial,
                      line.where, "mend the number"});
    return nullptr;
  }
  if (std::ranges::find(path_, line.plot) == path_.end()) {
    const auto& stated = ratings_.as_sown();
    const auto sown = std::ranges::find(stated, plan_->plot(*plot), &AsSown::plot);
    if (sown != stated.end() && sown->status == AsSownStatus::kAbandoned) {
      faults.push_back({ErrorKind::kInvalid,
                        "plot " + line.plot + " was abandoned on " + format_date(sown->since),
                        line.where,
                        "look at the number; if it stands after all, say so on the tablet first"});
      return nullptr;
    }
    faults.push_back({ErrorKind::kInvalid,
                      "plot " + line.plot + " is not rated in " + wish_->occasion.code, line.where,
                      "look at the number, and at what is said of the plot"});
    return nullptr;
  }
  const auto typed = typed_.find(line.plot);
  if (typed == typed_.end()) return plot;
  faults.push_back(
      {ErrorKind::kInvalid,
       "plot " + line.plot + " was typed already" +
           (typed->second.empty() ? "" : ", " + typed->second),
       line.where,
       line.where.empty() ? "'back' takes lines back, the last first" : "keep one of the two"});
  return nullptr;
}

// Whether it is typed here.
void PaperSheet::look_at_measure(const std::string& measure, const PaperLine& line,
                                 files::Faults& faults) const {
  const auto column = std::ranges::find(columns_, measure, &SheetColumn::measure);
  const bool known = column != columns_.end();
  if (known && column->typed == TypedIn::kFromPaper) return;
  faults.push_back({ErrorKind::kInvalid,
                    known ? measure + " is not typed from plot sheets"
                          : measure + " is no measure of " + wish_->occasion.code,
                    line.where,
                    known ? where_typed(column->typed) : "take its column out, or mend its name"});
}

files::Checked<JudgedLine> PaperSheet::add(const PaperLine& line) {
  files::Faults faults;
  const PlanPlot* const plot = find_plot(line, faults);
  if (plot == nullptr) return std::unexpected(std::move(faults));
  const PlanEntry* const entry = entry_on(*plan_, ratings_.as_sown(), *plot);
  JudgedLine judged{line.plot, {}, 0, {}, {}};
  for (const auto& [measure, text] : line.texts) look_at_measure(measure, line, faults);
  // In the order of the sheet.
  for (const SheetColumn& column : columns_) {
    if (column.typed != TypedIn::kFromPaper || !line.texts.contains(column.measure)) continue;
    const Scale* const scale = sheet_scale(*plan_, *definitions_, column.measure, entry->species);
    const Box box{&line, plot, entry, scale, column.measure, plan_->plot(*plot).uuid};
    if (scale == nullptr)
      faults.push_back({ErrorKind::kInvalid, box.about() + " has no scale for what stands there",
                        line.where, "leave it open"});
    else
      judge_box(box, judged, faults);
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  typed_[line.plot] = line.where;
  lines_.push_back(judged);
  return judged;
}

std::optional<std::string> PaperSheet::take_back() {
  if (lines_.empty()) return std::nullopt;
  std::string plot = lines_.back().plot;
  typed_.erase(plot);
  lines_.pop_back();
  return plot;
}

void PaperSheet::judge_box(const Box& box, JudgedLine& judged, files::Faults& faults) const {
  const std::string& text = box.line->texts.at(box.measure);
  const auto readings = entered_in_box(*box.scale, text);
  if (!readings) {
    faults.push_back({readings.error().kind, box.about() + " " + readings.error().what,
                      box.line->where, readings.error().mend});
    return;
  }
  PaperValue value;
  value.plot = box.subject;
  value.measure = box.measure;
  value.part = first_part(box, text);
  value.scale = box.scale;
  value.raw = box.line->raw;
  for (const std::string& reading : *readings) {
    judge_reading(box, value, reading, judged, faults);
    ++value.part;
  }
  if (readings->size() < static_cast<std::size_t>(box.scale->readings) &&
      box.scale->kind == ScaleKind::kLength)
    judged.notices.push_back({ErrorKind::kRefused,
                              box.about() + " has " + std::to_string(readings->size()) + " of " +
                                  std::to_string(box.scale->readings) + " readings",
                              box.line->where, "right where the sheet has no more"});
}

// A date's visits have a slot a day; a note stands beside those that are there.
int PaperSheet::first_part(const Box& box, const std::string& text) const {
  if (box.scale->kind == ScaleKind::kReached) return visit_part(wish_->date, wish_->occasion.year);
  if (box.scale->kind != ScaleKind::kText) return 1;
  int free = 1;
  for (const int part : held_.parts(box.subject, box.measure)) {
    const auto& notes = held_.of(box.subject, box.measure, part);
    if (std::ranges::find(notes, text, &Record::entered) != notes.end()) return part;
    free = std::max(free, part + 1);
  }
  return free;
}

checks::History PaperSheet::history_of(const Box& box) const {
  checks::History history;
  history.usual = definitions_->limit_for(box.measure, box.entry->species);
  if (box.measure == checks::kStubbleHeight)
    history.least_stubble = checks::least_inches(history.usual);
  // Nobody can be asked whether it is the weather; what was said of it in the field counts here.
  history.weather = held_.weather();
  ratings_.add(*box.plot, box.entry->species, *definitions_, history);
  for (const std::string& rule : wish_->accept)
    history.answered.push_back({rule, std::string(kAccepted)});
  return history;
}

Error PaperSheet::refusal(const Box& box, const std::string& text, const std::string& unit,
                          const checks::Finding& finding) const {
  if (finding.rule->code == "unreadable")
    return {ErrorKind::kInvalid, box.about() + " '" + text + "' can't be read", box.line->where,
            "write " + how_to_type(*box.scale, unit)};
  // Why several numbers can't stand together their scale says best.
  const auto read = read_entered(*box.scale, text, unit);
  if (is_composite(box.scale->kind) && !read)
    return {ErrorKind::kInvalid,
            box.about() + " '" + box.line->texts.at(box.measure) + "' can't be meant",
            box.line->where, read.error().mend};
  return {ErrorKind::kInvalid,
          box.about() + " " + with_its_unit(text, unit) + " " + words_of(finding), box.line->where,
          "look at the sheet, or leave it open with " + std::string(kLeftOpen)};
}

void PaperSheet::judge_reading(const Box& box, PaperValue value, const std::string& text,
                               JudgedLine& judged, files::Faults& faults) const {
  const auto& units = box.scale->units;
  const bool own = std::ranges::find(units, wish_->unit) != units.end();
  const std::string unit = own ? wish_->unit : units.empty() ? std::string() : units.front();
  const checks::Verdict verdict =
      checks::judge({box.measure, box.scale, text, unit, std::nullopt}, *plan_, history_of(box));
  const std::string said = box.about() + " " + with_its_unit(text, unit) + " ";
  if (verdict.outcome == checks::Outcome::kRefuse) {
    faults.push_back(refusal(box, text, unit, verdict.findings.front()));
    return;
  }
  value.value = verdict.value;
  value.answers = verdict.answered;
  if (!is_new(box, value, judged, faults)) return;
  for (const checks::Finding& finding : verdict.findings) {
    value.state = ValueState::kOnHold;
    value.answers.push_back({std::string(finding.rule->code), std::string(kNotAsked)});
    judged.on_hold.push_back({ErrorKind::kRefused, said + words_of(finding), box.line->where,
                              "the sheet says so? --accept " + std::string(finding.rule->code)});
  }
  judged.values.push_back(std::move(value));
}

bool PaperSheet::is_new(const Box& box, PaperValue& value, JudgedLine& judged,
                        files::Faults& faults) const {
  const std::vector<Record>& before = held_.of(box.subject, box.measure, value.part);
  if (before.empty()) return fits_visits(box, value, faults);
  const Record& record = before.front();
  if (before.size() == 1 && record.state == ValueState::kLater) {
    value.replaces = record;
    return true;
  }
  const bool same_number =
      value.value.value ? record.value == value.value.value : record.entered == value.value.entered;
  if (before.size() == 1 && same_number && record.unit == value.value.unit) {
    ++judged.same;
    return false;
  }
  const std::string initials = held_.initials(record);
  faults.push_back(
      {ErrorKind::kConflict,
       before.size() > 1
           ? box.about() + " stands " + std::to_string(before.size()) + " times"
           : box.about() + " stands there as " + standing_words(record) + " (" +
                 (initials.empty() ? "" : initials + ", ") + format_date(record.at.local_date) +
                 "), the sheet says " + with_its_unit(value.value.entered, value.value.unit),
       box.line->where,
       "leave it open with " + std::string(kLeftOpen) + ", and put it right in Review"});
  return false;
}

bool PaperSheet::fits_visits(const Box& box, const PaperValue& value, files::Faults& faults) const {
  if (box.scale->kind != ScaleKind::kReached) return true;
  std::vector<Visit> visits{{value.part, value.value.entered == kReachedCode}};
  for (const int part : held_.parts(box.subject, box.measure))
    for (const Record& record : held_.of(box.subject, box.measure, part))
      if (record.state == ValueState::kValue)
        visits.push_back({part, record.entered == kReachedCode});
  if (!reached_of(visits).contradicts) return true;
  faults.push_back(
      {ErrorKind::kConflict, box.about() + " contradicts what was said of it at another visit",
       box.line->where,
       "look at the date of the sheet, or leave it open with " + std::string(kLeftOpen)});
  return false;
}

}  // namespace ligule::gather
