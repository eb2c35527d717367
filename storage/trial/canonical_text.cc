// Canonical JSON texts of plans, scales and limits. With details.cc the one place in storage/trial
// that sees the JSON library, which is heavy to compile; nlohmann's default object keeps keys
// sorted, which is what makes the text canonical.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "storage/trial/limit.h"
#include "storage/trial/number.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule {
namespace {

using nlohmann::json;

// Reads members of an object; the first fault is kept, later reads give empty values.
class Reader {
 public:
  Reader(const json& object, std::string where) : object_(object), where_(std::move(where)) {}

  std::string text(const char* key) {
    const json* at = member(key);
    if (at != nullptr && at->is_string()) return at->get<std::string>();
    note(key, "a text");
    return {};
  }
  int integer(const char* key) {
    const json* at = member(key);
    // Unsigned first: the library would turn the largest ones into small negative numbers.
    if (at != nullptr && at->is_number_unsigned()) {
      if (const auto value = at->get<std::uint64_t>(); std::in_range<int>(value))
        return static_cast<int>(value);
    } else if (at != nullptr && at->is_number_integer()) {
      if (const auto value = at->get<std::int64_t>(); std::in_range<int>(value))
        return static_cast<int>(value);
    }
    note(key, "a whole number");
    return 0;
  }
  bool boolean(const char* key) {
    const json* at = member(key);
    if (at != nullptr && at->is_boolean()) return at->get<bool>();
    note(key, "true or false");
    return false;
  }
  double number(const char* key) {
    if (member(key) == nullptr) note(key, "a number");
    return optional_number(key).value_or(0);
  }
  std::optional<double> optional_number(const char* key) {
    const json* at = member(key);
    if (at == nullptr) return std::nullopt;
    if (at->is_number()) return at->get<double>();
    note(key, "a number");
    return std::nullopt;
  }
  std::vector<std::string> texts(const char* key) {
    std::vector<std::string> out;
    for (const json& item : list(key)) {
      if (!item.is_string()) {
        note(key, "a list of texts");
        break;
      }
      out.push_back(item.get<std::string>());
    }
    return out;
  }
  const json& list(const char* key) {
    static const json none = json::array();
    const json* at = member(key);
    if (at != nullptr && at->is_array()) return *at;
    note(key, "a list");
    return none;
  }
  template <class T>
  T parsed(const char* key, const Result<T>& value) {
    if (value) return *value;
    if (!fault_)
      fault_ =
          Error{ErrorKind::kInvalid, value.error().what, where_ + "." + key, value.error().mend};
    return T{};
  }
  [[nodiscard]] bool has(const char* key) const { return member(key) != nullptr; }
  void absorb(const Reader& other) {
    if (!fault_) fault_ = other.fault_;
  }
  [[nodiscard]] const std::optional<Error>& fault() const { return fault_; }

 private:
  const json* member(const char* key) const {
    if (!object_.is_object()) return nullptr;
    const auto at = object_.find(key);
    return at == object_.end() ? nullptr : &*at;
  }
  void note(const char* key, const char* wanted) {
    if (!fault_)
      fault_ =
          Error{ErrorKind::kInvalid, std::string("'") + key + "' should be " + wanted, where_, ""};
  }

  const json& object_;
  std::string where_;
  std::optional<Error> fault_;
};

json stated(const auto& quantity) {
  return json::array({quantity.text, quantity.unit});
}

template <class T>
T read_stated(Reader& in, const char* key) {
  const auto parts = in.texts(key);
  if (parts.size() == 2) return {parts[0], parts[1]};
  in.parsed<int>(key, fail(ErrorKind::kInvalid, "a size has a number and a unit"));
  return {};
}

constexpr std::array<std::pair<const char*, std::string PlanEntry::*>, 6> kSeedTexts{
    {{"endophyte_percent", &PlanEntry::endophyte_percent},
     {"germination", &PlanEntry::germination},
     {"hard_seed", &PlanEntry::hard_seed},
     {"purity", &PlanEntry::purity},
     {"sowing_rate", &PlanEntry::sowing_rate},
     {"sowing_rate_unit", &PlanEntry::sowing_rate_unit}}};
constexpr std::array<std::pair<const char*, std::optional<CalendarDate> PlanEntry::*>, 2>
    kSeedDates{{{"endophyte_tested", &PlanEntry::endophyte_tested},
                {"seed_harvested", &PlanEntry::seed_harvested}}};

// Members that came later are left out where they say nothing: the digests of older scales and
// plans stay.
json entry_json(const PlanEntry& entry) {
  json text{{"code", entry.code},        {"species", entry.species},
            {"variety", entry.variety},  {"endophyte", name_of(entry.endophyte)},
            {"strain", entry.strain},    {"role", name_of(entry.role)},
            {"seed_lot", entry.seed_lot}};
  for (const auto& [key, said] : kSeedTexts)
    if (!(entry.*said).empty()) text[key] = entry.*said;
  for (const auto& [key, day] : kSeedDates) {
    const std::optional<CalendarDate>& said = entry.*day;
    if (said) text[key] = format_date(*said);
  }
  return text;
}

json plot_json(const PlanPlot& plot) {
  json text{{"number", plot.number}, {"block", plot.block},   {"entry", plot.entry},
            {"row", plot.row},       {"column", plot.column}, {"path", plot.path}};
  if (plot.incomplete_block != 0) text["incomplete_block"] = plot.incomplete_block;
  return text;
}

constexpr std::array<std::pair<const char*, std::string SoilTest::*>, 7> kSoilTexts{
    {{"property", &SoilTest::property},
     {"value", &SoilTest::value},
     {"unit", &SoilTest::unit},
     {"extractant", &SoilTest::extractant},
     {"depth", &SoilTest::depth},
     {"depth_unit", &SoilTest::depth_unit},
     {"lab", &SoilTest::lab}}};

json soil_json(const SoilTest& test) {
  json text{{"sampled", test.sampled ? format_date(*test.sampled) : ""}};
  for (const auto& [key, said] : kSoilTexts) text[key] = test.*said;
  return text;
}

SoilTest read_soil(Reader& in) {
  SoilTest test;
  for (const auto& [key, said] : kSoilTexts) test.*said = in.text(key);
  if (const std::string day = in.text("sampled"); !day.empty())
    test.sampled = in.parsed("sampled", parse_date(day));
  return test;
}

constexpr std::array<std::pair<const char*, StatedLength Plan::*>, 2> kLayoutLengths{
    {{"alley", &Plan::alley}, {"border", &Plan::border}}};

json occasion_json(const PlanOccasion& occasion) {
  json text{
      {"code", occasion.code},         {"job", name_of(occasion.job)},
      {"year", occasion.year},         {"cutting", occasion.cutting},
      {"measures", occasion.measures}, {"due", occasion.due ? format_date(*occasion.due) : ""}};
  if (occasion.sample_of != SampleOf::kPlot) text["sample_of"] = name_of(occasion.sample_of);
  if (!occasion.entries.empty()) text["entries"] = occasion.entries;
  if (!occasion.hours_after_turn_in.empty())
    text["hours_after_turn_in"] = occasion.hours_after_turn_in;
  return text;
}

PlanEntry read_entry(Reader& in) {
  PlanEntry entry;
  entry.code = in.text("code");
  entry.species = in.text("species");
  entry.variety = in.text("variety");
  entry.endophyte = in.parsed("endophyte", parse_endophyte(in.text("endophyte")));
  entry.strain = in.text("strain");
  entry.role = in.parsed("role", parse_role(in.text("role")));
  entry.seed_lot = in.text("seed_lot");
  for (const auto& [key, said] : kSeedTexts)
    if (in.has(key)) entry.*said = in.text(key);
  for (const auto& [key, day] : kSeedDates)
    if (in.has(key)) entry.*day = in.parsed(key, parse_date(in.text(key)));
  return entry;
}

PlanPlot read_plot(Reader& in) {
  PlanPlot plot;
  plot.number = in.text("number");
  plot.block = in.integer("block");
  plot.entry = in.text("entry");
  plot.row = in.integer("row");
  plot.column = in.integer("column");
  plot.path = in.integer("path");
  if (in.has("incomplete_block")) plot.incomplete_block = in.integer("incomplete_block");
  return plot;
}

PlanOccasion read_occasion(Reader& in) {
  PlanOccasion occasion;
  occasion.code = in.text("code");
  occasion.job = in.parsed("job", parse_job(in.text("job")));
  occasion.year = in.integer("year");
  occasion.cutting = in.integer("cutting");
  occasion.measures = in.texts("measures");
  const std::string due = in.text("due");
  if (!due.empty()) occasion.due = in.parsed("due", parse_date(due));
  if (in.has("sample_of"))
    occasion.sample_of = in.parsed("sample_of", parse_sample_of(in.text("sample_of")));
  if (in.has("entries")) occasion.entries = in.texts("entries");
  if (in.has("hours_after_turn_in")) occasion.hours_after_turn_in = in.text("hours_after_turn_in");
  return occasion;
}

template <class T>
std::vector<T> read_list(Reader& in, const char* key, T (*read)(Reader&)) {
  std::vector<T> out;
  std::size_t number = 0;
  for (const json& item : in.list(key)) {
    Reader row(item, std::string(key) + " " + std::to_string(++number));
    out.push_back(read(row));
    in.absorb(row);
  }
  return out;
}

Result<json> parse_json(std::string_view text) {
  json parsed = json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (parsed.is_discarded()) return fail(ErrorKind::kInvalid, "the text is not JSON");
  return parsed;
}

// Written to disk; never change a text.
constexpr std::array<std::pair<ScaleKind, const char*>, 11> kKinds{
    {{ScaleKind::kPercent, "percent"},
     {ScaleKind::kScore, "score"},
     {ScaleKind::kStages, "stages"},
     {ScaleKind::kLength, "length"},
     {ScaleKind::kMass, "mass"},
     {ScaleKind::kText, "text"},
     {ScaleKind::kLabel, "label"},
     {ScaleKind::kShares, "shares"},
     {ScaleKind::kCounts, "counts"},
     {ScaleKind::kCells, "cells"},
     {ScaleKind::kReached, "reached"}}};
constexpr std::array<std::pair<Direction, const char*>, 3> kDirections{
    {{Direction::kHighIsBest, "high is best"},
     {Direction::kLowIsBest, "low is best"},
     {Direction::kNone, "none"}}};

template <class Table, class Value>
const char* name_in(const Table& table, Value value) {
  return std::ranges::find(table, value, &Table::value_type::first)->second;
}

template <class Value, class Table>
Result<Value> value_in(const Table& table, std::string_view text) {
  for (const auto& [value, name] : table) {
    if (text == name) return value;
  }
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not known here");
}

ScaleStep read_step(Reader& in) {
  return {in.text("code"), in.number("value"), in.text("name")};
}

json scale_json(const Scale& scale) {
  json text{{"code", scale.code},
            {"kind", name_in(kKinds, scale.kind)},
            {"direction", name_in(kDirections, scale.direction)},
            {"units", scale.units},
            {"step", scale.step},
            {"fine_step", scale.fine_step},
            {"steps", json::array()},
            {"definition", scale.definition},
            {"source", scale.source}};
  if (scale.minimum) text["minimum"] = *scale.minimum;
  if (scale.maximum) text["maximum"] = *scale.maximum;
  for (const ScaleStep& step : scale.steps) {
    text["steps"].push_back({{"code", step.code}, {"value", step.value}, {"name", step.name}});
  }
  if (!scale.name.empty()) text["name"] = scale.name;
  if (scale.readings != 1) text["readings"] = scale.readings;
  if (scale.plants_per_percent) text["plants_per_percent"] = *scale.plants_per_percent;
  return text;
}

Scale read_scale(Reader& in) {
  Scale scale;
  scale.code = in.text("code");
  scale.kind = in.parsed("kind", value_in<ScaleKind>(kKinds, in.text("kind")));
  scale.direction = in.parsed("direction", value_in<Direction>(kDirections, in.text("direction")));
  scale.units = in.texts("units");
  scale.minimum = in.optional_number("minimum");
  scale.maximum = in.optional_number("maximum");
  scale.step = in.number("step");
  scale.fine_step = in.number("fine_step");
  scale.steps = read_list(in, "steps", read_step);
  scale.definition = in.text("definition");
  scale.source = in.text("source");
  if (in.has("name")) scale.name = in.text("name");
  if (in.has("readings")) scale.readings = in.integer("readings");
  scale.plants_per_percent = in.optional_number("plants_per_percent");
  return scale;
}

constexpr std::array<std::pair<const char*, std::optional<double> Limit::*>, 6> kEnds{
    {{"refuse_below", &Limit::refuse_below},
     {"weather_below", &Limit::weather_below},
     {"ask_below", &Limit::ask_below},
     {"ask_above", &Limit::ask_above},
     {"weather_above", &Limit::weather_above},
     {"refuse_above", &Limit::refuse_above}}};

json limit_json(const Limit& limit) {
  json text{{"measure", limit.measure}, {"unit", limit.unit}, {"source", limit.source}};
  if (!limit.species.empty()) text["species"] = limit.species;
  if (!limit.group.empty()) text["group"] = limit.group;
  if (!limit.weather) text["weather"] = false;
  for (const auto& [key, end] : kEnds) {
    const std::optional<double>& at = limit.*end;
    if (at) text[key] = *at;
  }
  return text;
}

Limit read_limit(Reader& in) {
  Limit limit;
  limit.measure = in.text("measure");
  limit.unit = in.text("unit");
  limit.source = in.text("source");
  if (in.has("species")) limit.species = in.text("species");
  if (in.has("group")) limit.group = in.text("group");
  if (in.has("weather")) limit.weather = in.boolean("weather");
  for (const auto& [key, end] : kEnds) limit.*end = in.optional_number(key);
  return limit;
}

std::vector<Limit> read_limits(Reader& in) {
  return read_list(in, "limits", read_limit);
}

Plan read_plan(Reader& in) {
  Plan plan;
  plan.codes = {in.text("station"), in.text("site"), in.text("trial")};
  plan.title = in.text("title");
  plan.site_name = in.text("site_name");
  plan.zone = in.text("zone");
  plan.field = in.text("field");
  plan.sown = in.parsed("sown", parse_date(in.text("sown")));
  plan.design = in.text("design");
  plan.drilled = in.boolean("drilled");
  plan.plot_length = read_stated<StatedLength>(in, "plot_length");
  plan.plot_width = read_stated<StatedLength>(in, "plot_width");
  plan.swath_length = read_stated<StatedLength>(in, "swath_length");
  plan.swath_width = read_stated<StatedLength>(in, "swath_width");
  plan.bag_tare = read_stated<StatedMass>(in, "bag_tare");
  if (in.has("bag_tare_weighed"))
    plan.bag_tare_weighed =
        in.parsed("bag_tare_weighed", parse_bag_weighed(in.text("bag_tare_weighed")));
  plan.parent = in.text("parent");
  plan.reason = in.text("reason");
  plan.entries = read_list(in, "entries", read_entry);
  plan.plots = read_list(in, "plots", read_plot);
  plan.occasions = read_list(in, "occasions", read_occasion);
  if (in.has("random_seed")) plan.random_seed = in.text("random_seed");
  for (const auto& [key, length] : kLayoutLengths)
    if (in.has(key)) plan.*length = read_stated<StatedLength>(in, key);
  if (in.has("soil")) plan.soil = read_list(in, "soil", read_soil);
  if (in.has("scores")) plan.scores = read_list(in, "scores", read_scale);
  return plan;
}

template <class T>
Result<T> read_whole(std::string_view text, const char* name, T (*read)(Reader&)) {
  const auto parsed = parse_json(text);
  if (!parsed) return std::unexpected(parsed.error());
  Reader in(*parsed, name);
  T value = read(in);
  if (const auto& fault = in.fault()) return std::unexpected(*fault);
  return value;
}

}  // namespace

std::string_view name_of(ScaleKind kind) {
  return name_in(kKinds, kind);
}
std::string_view name_of(Direction direction) {
  return name_in(kDirections, direction);
}

std::string plan_text(const Plan& plan) {
  auto entries = plan.entries;
  std::ranges::stable_sort(entries, {}, &PlanEntry::code);
  auto occasions = plan.occasions;
  std::ranges::stable_sort(occasions, {},
                           [](const PlanOccasion& o) { return std::pair(o.year, o.code); });

  json text{{"station", plan.codes.station},
            {"site", plan.codes.site},
            {"trial", plan.codes.trial},
            {"title", plan.title},
            {"site_name", plan.site_name},
            {"zone", plan.zone},
            {"field", plan.field},
            {"sown", format_date(plan.sown)},
            {"design", plan.design},
            {"drilled", plan.drilled},
            {"plot_length", stated(plan.plot_length)},
            {"plot_width", stated(plan.plot_width)},
            {"swath_length", stated(plan.swath_length)},
            {"swath_width", stated(plan.swath_width)},
            {"bag_tare", stated(plan.bag_tare)},
            {"parent", plan.parent},
            {"reason", plan.reason},
            {"entries", json::array()},
            {"plots", json::array()},
            {"occasions", json::array()}};
  for (const PlanEntry& entry : entries) text["entries"].push_back(entry_json(entry));
  for (const PlanPlot& plot : plan.along_path()) text["plots"].push_back(plot_json(plot));
  for (const PlanOccasion& occasion : occasions)
    text["occasions"].push_back(occasion_json(occasion));
  if (plan.bag_tare_weighed != BagWeighed::kNotStated)
    text["bag_tare_weighed"] = name_of(plan.bag_tare_weighed);
  if (!plan.random_seed.empty()) text["random_seed"] = plan.random_seed;
  for (const auto& [key, length] : kLayoutLengths)
    if (plan.*length != StatedLength{}) text[key] = stated(plan.*length);
  if (!plan.soil.empty()) {
    auto soil = plan.soil;
    std::ranges::stable_sort(soil, {}, &SoilTest::property);
    for (const SoilTest& test : soil) text["soil"].push_back(soil_json(test));
  }
  if (!plan.scores.empty()) {
    auto scores = plan.scores;
    std::ranges::stable_sort(scores, {}, &Scale::code);
    for (const Scale& score : scores) text["scores"].push_back(scale_json(score));
  }
  return text.dump(-1, ' ', false, json::error_handler_t::replace);
}

Result<Plan> parse_plan_text(std::string_view text) {
  return read_whole(text, "plan", read_plan);
}

std::string scale_text(const Scale& scale) {
  return scale_json(scale).dump(-1, ' ', false, json::error_handler_t::replace);
}

Result<Scale> parse_scale_text(std::string_view text) {
  return read_whole(text, "scale", read_scale);
}

std::string limits_text(std::span<const Limit> limits) {
  json text{{"limits", json::array()}};
  for (const Limit& limit : limits) text["limits"].push_back(limit_json(limit));
  return text.dump(-1, ' ', false, json::error_handler_t::replace);
}

Result<std::vector<Limit>> parse_limits_text(std::string_view text) {
  return read_whole(text, "limits", read_limits);
}

}  // namespace ligule
