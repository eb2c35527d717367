#include "app/flow/scale_choice.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace ligule::flow {
namespace {

// Usual settings of indicators: common practice, no source.
constexpr std::array kBauds{"1200", "2400", "4800", "9600", "19200", "38400"};
constexpr std::array kFramings{"8N1", "7E1", "7O1", "8N2"};
constexpr std::array kIntervals{"1", "2", "5", "10", "20", "50"};
constexpr std::string_view kNoPort = "none";

bool is_scale(Preference what) {
  return what == Preference::kScalePort || what == Preference::kScaleForm ||
         what == Preference::kScaleBaud || what == Preference::kScaleFraming ||
         what == Preference::kScaleInterval;
}

template <class Codes>
bool among(const Codes& codes, std::string_view code) {
  return std::ranges::any_of(codes, [&](const auto& each) { return each == code; });
}

int whole(std::string_view digits) {
  int number = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), number);
  return number;
}

// Ports that are there, and the chosen one even if it is unplugged.
std::vector<std::string> ports_of(const Model& model) {
  std::vector<std::string> ports;
  if (model.facts) ports = model.facts->ports;
  const std::string& chosen = model.preferences.scale.port;
  if (!chosen.empty() && std::ranges::find(ports, chosen) == ports.end()) ports.push_back(chosen);
  return ports;
}

void set(const Model& model, ScaleChoice& scale, const Choose& intent) {
  switch (intent.what) {
    case Preference::kScalePort:
      if (intent.code == kNoPort) scale.port.clear();
      if (among(ports_of(model), intent.code)) scale.port = intent.code;
      break;
    case Preference::kScaleForm:
      if (std::ranges::find(model.line_forms, intent.code, &LineFormName::code) !=
          model.line_forms.end())
        scale.form = intent.code;
      break;
    case Preference::kScaleBaud:
      if (among(kBauds, intent.code)) scale.baud = whole(intent.code);
      break;
    case Preference::kScaleFraming:
      if (among(kFramings, intent.code)) scale.framing = intent.code;
      break;
    case Preference::kScaleInterval:
      if (among(kIntervals, intent.code)) scale.interval = whole(intent.code);
      break;
    default:
      break;
  }
}

template <class Codes>
PreferenceView row_of(Preference what, const Codes& codes, std::string_view chosen) {
  PreferenceView row{what, {}};
  for (const auto& code : codes) row.options.push_back({code, code, code == chosen});
  return row;
}

}  // namespace

std::string port_name(const std::string& port) {
  return port.substr(port.find_last_of('/') + 1);
}

bool choose_scale(Turn& turn, const Choose& intent) {
  if (!is_scale(intent.what)) return false;
  Model& model = turn.model;
  ScaleChoice scale = model.preferences.scale;
  set(model, scale, intent);
  if (scale == model.preferences.scale) return true;
  model.preferences.scale = scale;
  model.load = {};
  turn.run(StorePreferences{model.preferences});
  turn.run(UseScale{std::move(scale)});
  return true;
}

void show_scale(Turn& turn) {
  auto* const tablet = on<OnTablet>(turn);
  if (tablet == nullptr) return;
  tablet->scale = true;
  turn.run(LoadTablet{});  // what is plugged in by now
}

const LineFormName* line_form(const Model& model) {
  const auto& forms = model.line_forms;
  const auto at = std::ranges::find(forms, model.preferences.scale.form, &LineFormName::code);
  if (at != forms.end()) return &*at;
  return forms.empty() ? nullptr : &forms.front();
}

std::vector<PreferenceView> scale_rows(const Model& model) {
  const ScaleChoice& scale = model.preferences.scale;
  std::vector<PreferenceView> rows;
  PreferenceView& ports = rows.emplace_back(PreferenceView{Preference::kScalePort, {}});
  ports.options.push_back({std::string(kNoPort), {}, scale.port.empty()});
  for (const std::string& port : ports_of(model))
    ports.options.push_back({port, port_name(port), port == scale.port});
  if (scale.port.empty()) return rows;
  PreferenceView& forms = rows.emplace_back(PreferenceView{Preference::kScaleForm, {}});
  const LineFormName* const chosen = line_form(model);
  for (const LineFormName& form : model.line_forms) {
    auto name = form.names.find(choices_of(model).language);
    if (name == form.names.end()) name = form.names.find("en");
    forms.options.push_back(
        {form.code, name == form.names.end() ? form.code : name->second, &form == chosen});
  }
  rows.push_back(row_of(Preference::kScaleBaud, kBauds, std::to_string(scale.baud)));
  rows.push_back(row_of(Preference::kScaleFraming, kFramings, scale.framing));
  rows.push_back(row_of(Preference::kScaleInterval, kIntervals, std::to_string(scale.interval)));
  return rows;
}

}  // namespace ligule::flow
