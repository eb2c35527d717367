#include "sync/gather/row_history.h"

#include <algorithm>

#include "storage/checks/season_rules.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"
#include "storage/trial/yield.h"

namespace ligule::gather {
namespace {

constexpr const WeighedLine& kGrossLine = kWeighedLines[0];
constexpr const WeighedLine& kTareLine = kWeighedLines[1];
constexpr const WeighedLine& kFreshLine = kWeighedLines[3];
constexpr const WeighedLine& kDryLine = kWeighedLines[4];

// A row without a part is of the plot's one bag; what is no part is a fault told elsewhere.
int part_of(const WeightRow& row) {
  const std::string text = row.cell(column::kPart);
  const auto part = parse_integer(text);
  return text.empty() || !part ? 1 : static_cast<int>(*part);
}

}  // namespace

RowHistory::RowHistory(const WeightFile& file, const TakeIn& wish, const StandingWeights& held)
    : file_(file),
      wish_(wish),
      held_(held),
      plan_(wish.plan.plan),
      occasion_(plan_.occasion(wish.cutting)) {
  for (const WeightRow& row : file_.rows)
    rows_.try_emplace({row.cell(column::kPlot), part_of(row)}, &row);
}

Result<void> RowHistory::read(const ledger::Ledger& ledger, const Definitions& definitions) {
  definitions_ = &definitions;
  auto season = PlotSeason::read(ledger, plan_, wish_.cutting);
  if (!season) return std::unexpected(season.error());
  season_ = *std::move(season);
  std::map<std::string, Kilograms> forage;
  for (const PlanPlot& plot : plan_.along_path())
    if (const auto all = this->forage(plot, 0)) forage.emplace(plot.number, *all);
  others_.emplace(
      season_.among_others(wish_.date.value_or(wish_.now.local_date), std::move(forage)));
  return {};
}

std::string RowHistory::unit_of(const WeighedLine& line) const {
  if (line.measure == measure::kBagNumber) return {};
  return line.sample ? wish_.sample_unit : wish_.unit;
}

std::optional<Kilograms> RowHistory::said_in(const WeightRow& row, const WeighedLine& line) const {
  const auto number = parse_number(row.cell(line.column));
  if (!number) return std::nullopt;
  const auto mass = mass_in(*number, unit_of(line));
  return mass ? std::optional(*mass) : std::nullopt;
}

std::optional<Kilograms> RowHistory::mass_at(const RowAt& at, const WeighedLine& line) const {
  if (!at.row->cell(line.column).empty()) return said_in(*at.row, line);
  if (line.sample) {
    const auto before = bag_values_.find({at.bag, at.bag_row, line.measure});
    if (before != bag_values_.end()) return before->second.mass;
  }
  std::optional<Uuid> subject = at.subject;
  if (line.sample) subject = at.bag ? std::optional(at.bag->uuid) : std::nullopt;
  if (!subject) return std::nullopt;
  return held_.mass(*subject, line.measure, line.sample ? 1 : at.part);
}

bool RowHistory::last_of_file(const RowAt& at) const {
  for (auto row = rows_.upper_bound({at.plot->number, at.part});
       row != rows_.end() && row->first.first == at.plot->number; ++row)
    if (!row->second->cell(column::kGross).empty()) return false;
  return true;
}

std::set<int> RowHistory::parts(const PlanPlot& plot) const {
  std::set<int> parts;
  for (const int part : held_.parts(plan_.plot(plot).uuid, measure::kGrossWeight))
    parts.insert(part);
  for (auto row = rows_.lower_bound({plot.number, 0});
       row != rows_.end() && row->first.first == plot.number; ++row)
    if (!row->second->cell(column::kGross).empty()) parts.insert(row->first.second);
  return parts;
}

std::optional<Kilograms> RowHistory::forage(const PlanPlot& plot, int but) const {
  std::optional<Kilograms> sum;
  for (const int part : parts(plot)) {
    if (part == but) continue;
    const auto row = rows_.find({plot.number, part});
    const auto mass = [&](const WeighedLine& line) {
      const bool said = row != rows_.end() && !row->second->cell(line.column).empty();
      return said ? said_in(*row->second, line)
                  : held_.mass(plan_.plot(plot).uuid, line.measure, part);
    };
    if (const auto gross = mass(kGrossLine))
      sum = sum.value_or(Kilograms{}) + *gross - mass(kTareLine).value_or(Kilograms{});
  }
  return sum;
}

void RowHistory::add_open_bags(const RowAt& at, checks::History& history) const {
  for (const Record& bag : held_.open_bags()) {
    const bool here = bag.trial == plan_.id() && bag.occasion == occasion_;
    const bool own = here && bag.subject == at.subject && bag.part == at.part;
    const bool shared = at.shares && here && bag.entered == at.row->cell(column::kBag);
    if (!own && !shared)
      history.open_bags.push_back({bag.entered, PlotId{bag.subject.value_or(Uuid{})}});
  }
  for (const BagInFile& bag : bags_) {
    const bool own = bag.plot == at.plot && bag.part == at.part;
    const bool shared = at.shares && bag.number == at.row->cell(column::kBag);
    if (bag.open && !own && !shared)
      history.open_bags.push_back({bag.number, plan_.plot(*bag.plot)});
  }
}

checks::History RowHistory::history_of(const RowAt& at, const WeighedLine& line) const {
  checks::History history;
  history.today = wish_.now.local_date;
  history.gross = mass_at(at, kGrossLine);
  history.tare = mass_at(at, kTareLine);
  history.sample_fresh = mass_at(at, kFreshLine);
  history.sample_dry = mass_at(at, kDryLine);
  if (at.bag) history.bag_tare = held_.mass(at.bag->uuid, measure::kBagTare, 1);
  if (!history.bag_tare)
    if (const auto tare = plan_.bag_tare.kilograms()) history.bag_tare = *tare;
  add_open_bags(at, history);
  const Record* const tare = held_.tare(at.subject, at.part);
  if (tare_)
    history.standing_tare = tare_;
  else if (tare != nullptr)
    history.standing_tare = said::mass_of(*tare);
  if (weighed_ && weighed_day_ == at.stamp.local_date) history.weighed_before = weighed_;
  add_limits(at, line, history);
  history.other_bags = forage(*at.plot, at.part);
  // Of several bags the last one asks for all.
  const bool gross = !at.row->cell(column::kGross).empty();
  const bool weighs = line.measure == (gross ? measure::kGrossWeight : measure::kTareWeight);
  if (weighs && others_ && last_of_file(at)) history.expected = others_->expected(at.plot->number);
  // Nobody can be asked whether it is the weather; what was said of it in the field counts here.
  history.weather = held_.weather();
  season_.add(*at.plot, at.stamp.local_date, *definitions_, history);
  if (line.measure == measure::kTareWeight) {
    // A gross and a tare of one row are asked about once, with the gross.
    if (gross) {
      history.cutting_yield = nullptr;
      history.season_yield = nullptr;
    } else {
      for (const Record& weight : held_.of(at.subject, measure::kGrossWeight, at.part))
        checks::without_what_was_asked(weight.answers, history);
    }
  }
  for (const std::string& rule : wish_.accept)
    history.answered.push_back({rule, std::string(kAccepted)});
  return history;
}

void RowHistory::add_limits(const RowAt& at, const WeighedLine& line,
                            checks::History& history) const {
  const PlanEntry* const entry = plan_.find_entry(at.plot->entry);
  if (entry == nullptr) return;
  history.usual = definitions_->limit_for(line.measure, entry->species);
  // Fresh and dried of one row are one question, and the dried weight asks it.
  const bool asked_dry =
      line.measure == measure::kSampleFresh && !at.row->cell(column::kSampleDry).empty();
  const Limit* const usual = definitions_->limit_for(kDryMatterPercent, entry->species);
  if (!asked_dry) history.dry_matter = usual;
  // A dry matter that is asked about itself tells nothing of the yield: one slip is one question.
  const bool accepted = std::ranges::find(wish_.accept, "dry_matter_unusual") != wish_.accept.end();
  if (line.measure != measure::kGrossWeight || accepted || usual == nullptr ||
      !history.sample_fresh || !history.sample_dry)
    return;
  const auto share = dry_matter_fraction(*history.sample_fresh, *history.sample_dry,
                                         history.bag_tare.value_or(Kilograms{}));
  if (share && share->percent() >= usual->ask_below.value_or(0) &&
      share->percent() <= usual->ask_above.value_or(100))
    return;
  history.sample_fresh.reset();
  history.sample_dry.reset();
}

void RowHistory::numbered(const RowAt& at, const std::string& number) {
  bags_.push_back({number, at.row, at.plot, at.part, at.stamp.local_date, at.bag,
                   at.row->cell(column::kSampleDry).empty()});
}

void RowHistory::tared(const RowAt& at, const WeighedLine& line) {
  tare_ = mass_at(at, line);
}

void RowHistory::weighed(const RowAt& at) {
  const std::string gross = at.row->cell(column::kGross);
  if (gross.empty()) return;
  weighed_ = checks::EnteredWeight{gross, wish_.unit, at.plot->number};
  weighed_day_ = at.stamp.local_date;
}

const BagSaid* RowHistory::said_of_bag(const RowAt& at, const WeighedLine& line,
                                       const EnteredValue& value) {
  const BagSaid said{at.row->line, value, mass_at(at, line)};
  const auto [first, added] = bag_values_.try_emplace({at.bag, at.bag_row, line.measure}, said);
  return added ? nullptr : &first->second;
}

}  // namespace ligule::gather
