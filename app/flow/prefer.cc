// Preferences, and the Tablet screen on which they are chosen.
#include "app/flow/prefer.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/flow/scale_choice.h"
#include "app/flow/turn.h"

namespace ligule::flow {
namespace {

constexpr double kFineStep = 1.0025;  // 0.2 mm of a card's width
// Glass that would be smaller than this on its short side is no tablet, and no screen fits it.
constexpr double kLeastGlassMm = 95;
constexpr double kLeastPpi = 60;  // what the window takes
constexpr double kMostPpi = 700;

// Choices of two ways, the usual one first.
struct TwoWays {
  Preference what;
  std::string_view usual;
  std::string_view other;
  bool PersonChoices::*other_chosen;
};
constexpr std::array kTwoWays{
    TwoWays{Preference::kHand, "right", "left", &PersonChoices::left_handed},
    TwoWays{Preference::kGloves, "bare", "gloves", &PersonChoices::gloves},
    TwoWays{Preference::kText, "usual", "large", &PersonChoices::large_text}};

// Units of which a scale may accept both. Only what such a unit stands first for follows the
// choice: sample bags go on a balance in grams, whatever the plot scale shows.
struct TwoUnits {
  Preference what;
  std::array<std::string_view, 2> units;
  std::string PersonChoices::*chosen;
};
constexpr std::array kTwoUnits{TwoUnits{Preference::kMass, {"kg", "lb"}, &PersonChoices::mass},
                               TwoUnits{Preference::kLength, {"in", "cm"}, &PersonChoices::length}};

// How many plots come back unannounced: common practice, no source.
struct RepeatShare {
  std::string_view code;
  int one_in;
};
constexpr std::array kRepeatShares{RepeatShare{"off", 0}, RepeatShare{"20", 20},
                                   RepeatShare{"10", 10}};

bool one_of(const TwoUnits& pair, std::string_view unit) {
  return std::ranges::find(pair.units, unit) != pair.units.end();
}

bool follows(const Scale& scale, const TwoUnits& pair) {
  const auto accepts = [&](std::string_view unit) {
    return std::ranges::find(scale.units, unit) != scale.units.end();
  };
  return !scale.units.empty() && one_of(pair, scale.units.front()) &&
         std::ranges::all_of(pair.units, accepts);
}

bool set(const Model& model, PersonChoices& choices, const Choose& intent) {
  if (intent.what == Preference::kLanguage) {
    if (std::ranges::find(model.languages, intent.code, &LanguageName::code) ==
        model.languages.end())
      return false;
    choices.language = intent.code;
    return true;
  }
  for (const TwoWays& way : kTwoWays) {
    if (way.what != intent.what || (intent.code != way.usual && intent.code != way.other)) continue;
    choices.*way.other_chosen = intent.code == way.other;
    return true;
  }
  for (const TwoUnits& pair : kTwoUnits) {
    if (pair.what != intent.what || !one_of(pair, intent.code)) continue;
    choices.*pair.chosen = intent.code;
    return true;
  }
  return false;
}

void store(Turn& turn) {
  turn.run(StorePreferences{turn.model.preferences});
}

// Whoever is new finds the tablet as the others have it, but for what is of the body: the hand
// and the eyes.
PersonChoices newcomer(PersonChoices choices) {
  choices.left_handed = false;
  choices.large_text = false;
  return choices;
}

OnTablet* on_tablet(Turn& turn) {
  return std::get_if<OnTablet>(&turn.model.screen);
}

OptionView option(std::string_view code, bool selected) {
  return {std::string(code), {}, selected};
}

// The unit that shows as chosen: the person's, else the one the scales put first.
std::string shown_unit(const Model& model, const TwoUnits& pair) {
  const std::string& chosen = choices_of(model).*pair.chosen;
  if (!chosen.empty()) return chosen;
  for (const Scale& scale : model.setup.definitions.scales)
    if (follows(scale, pair)) return scale.units.front();
  return {};
}

double most_ppi(const Model& model) {
  const int side = std::min(model.display.width, model.display.height);
  const double fits = std::min(kMostPpi, side * 25.4 / kLeastGlassMm);
  return std::max({fits, model.display.ppi, kLeastPpi});
}

}  // namespace

const PersonChoices& choices_of(const Model& model) {
  const Preferences& preferences = model.preferences;
  if (!model.person || model.handing) return preferences.nobody;
  const auto own = preferences.people.find(model.person->id);
  return own == preferences.people.end() ? preferences.nobody : own->second;
}

void use_units(Model& model) {
  const PersonChoices& choices = choices_of(model);
  model.setup.units.clear();
  for (const Measure& measure : model.setup.definitions.measures)
    for (const TwoUnits& pair : kTwoUnits) {
      const std::string& chosen = choices.*pair.chosen;
      const bool any = std::ranges::any_of(measure.scales, [&](const MeasureScale& named) {
        const Scale* const scale = model.setup.definitions.scale(named.scale);
        return scale != nullptr && follows(*scale, pair);
      });
      if (any && !chosen.empty()) model.setup.units[measure.code] = chosen;
    }
}

void take_up(Turn& turn) {
  Model& model = turn.model;
  if (!model.person) return;
  Preferences& preferences = model.preferences;
  const auto [own, added] =
      preferences.people.try_emplace(model.person->id, newcomer(preferences.nobody));
  const bool changed = added || preferences.nobody != own->second;
  preferences.nobody = own->second;
  use_units(model);
  if (changed) store(turn);
}

void choose_preference(Turn& turn, const Choose& intent) {
  if (choose_scale(turn, intent)) return;
  Model& model = turn.model;
  Preferences changed = model.preferences;
  if (intent.what == Preference::kTheme) {
    if (intent.code != "paper" && intent.code != "dusk") return;
    changed.dusk = intent.code == "dusk";
  } else if (intent.what == Preference::kRepeats) {
    const auto share = std::ranges::find(kRepeatShares, intent.code, &RepeatShare::code);
    if (share == kRepeatShares.end()) return;
    changed.repeats = share->one_in;
  } else {
    PersonChoices choices = choices_of(model);
    if (!set(model, choices, intent)) return;
    if (model.person && !model.handing) changed.people[model.person->id] = choices;
    changed.nobody = choices;
  }
  if (changed == model.preferences) return;
  model.preferences = std::move(changed);
  use_units(model);
  store(turn);
}

void preferences_read(Turn& turn, PreferencesRead outcome) {
  Model& model = turn.model;
  model.preferences = std::move(outcome.preferences);
  model.languages = std::move(outcome.languages);
  model.line_forms = std::move(outcome.line_forms);
  model.display = outcome.display;
  use_units(model);
  if (!model.preferences.scale.port.empty()) turn.run(UseScale{model.preferences.scale});
  if (outcome.error) turn.notice("notice.preferences_lost", {}, outcome.error);
}

// --- the Tablet screen

void show_tablet(Turn& turn) {
  show_screen(turn, OnTablet{});
  turn.run(LoadTablet{});
}

void measure_glass(Turn& turn) {
  if (auto* const tablet = on_tablet(turn))
    tablet->measured = turn.model.preferences.ppi.value_or(turn.model.display.ppi);
}

void step_glass(Turn& turn, int by) {
  auto* const tablet = on_tablet(turn);
  if (tablet == nullptr || !tablet->measured) return;
  const double wanted = *tablet->measured * std::pow(kFineStep, by);
  tablet->measured = std::clamp(wanted, kLeastPpi, most_ppi(turn.model));
}

void keep_glass(Turn& turn) {
  auto* const tablet = on_tablet(turn);
  if (tablet == nullptr || !tablet->measured) return;
  turn.model.preferences.ppi = std::round(*tablet->measured * 10) / 10;
  tablet->measured.reset();
  store(turn);
}

void own_glass(Turn& turn) {
  auto* const tablet = on_tablet(turn);
  if (tablet == nullptr) return;
  tablet->measured.reset();
  if (!turn.model.preferences.ppi) return;
  turn.model.preferences.ppi.reset();
  store(turn);
}

LookView look_of(const Model& model) {
  const PersonChoices& choices = choices_of(model);
  return {choices.language,    model.preferences.dusk,
          choices.left_handed, choices.gloves,
          choices.large_text,  model.preferences.ppi.value_or(model.display.ppi)};
}

std::vector<OptionView> languages_of(const Model& model) {
  std::vector<OptionView> options;
  options.reserve(model.languages.size());
  for (const LanguageName& language : model.languages)
    options.push_back({language.code, language.name, language.code == choices_of(model).language});
  return options;
}

std::vector<PreferenceView> preferences_of(const Model& model) {
  const PersonChoices& choices = choices_of(model);
  std::vector<PreferenceView> all{
      {Preference::kLanguage, languages_of(model)},
      {Preference::kTheme,
       {option("paper", !model.preferences.dusk), option("dusk", model.preferences.dusk)}}};
  for (const TwoWays& way : kTwoWays)
    all.push_back({way.what,
                   {option(way.usual, !(choices.*way.other_chosen)),
                    option(way.other, choices.*way.other_chosen)}});
  for (const TwoUnits& pair : kTwoUnits) {
    const std::string shown = shown_unit(model, pair);
    if (shown.empty()) continue;
    all.push_back({pair.what,
                   {option(pair.units[0], shown == pair.units[0]),
                    option(pair.units[1], shown == pair.units[1])}});
  }
  PreferenceView repeats{Preference::kRepeats, {}};
  for (const RepeatShare& share : kRepeatShares)
    repeats.options.push_back(option(share.code, share.one_in == model.preferences.repeats));
  all.push_back(std::move(repeats));
  return all;
}

bool can_step_glass(const Model& model, double ppi, int by) {
  return by < 0 ? ppi > kLeastPpi : ppi < most_ppi(model);
}

}  // namespace ligule::flow
