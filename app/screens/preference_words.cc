#include "app/screens/preference_words.h"

namespace ligule::screens {
namespace {

std::string_view key_of(flow::Preference what) {
  switch (what) {
    case flow::Preference::kLanguage:
      return "prefer.language";
    case flow::Preference::kTheme:
      return "prefer.theme";
    case flow::Preference::kHand:
      return "prefer.hand";
    case flow::Preference::kGloves:
      return "prefer.gloves";
    case flow::Preference::kText:
      return "prefer.text";
    case flow::Preference::kMass:
      return "prefer.mass";
    case flow::Preference::kLength:
      return "prefer.length";
    case flow::Preference::kRepeats:
      return "prefer.repeats";
    case flow::Preference::kScalePort:
      return "prefer.scale_port";
    case flow::Preference::kScaleForm:
      return "prefer.scale_form";
    case flow::Preference::kScaleBaud:
      return "prefer.scale_baud";
    case flow::Preference::kScaleFraming:
      return "prefer.scale_framing";
    case flow::Preference::kScaleInterval:
      break;
  }
  return "prefer.scale_interval";
}

}  // namespace

std::string_view preference_name(const Pen& pen, flow::Preference what) {
  return pen.words(key_of(what));
}

std::string option_name(const Pen& pen, flow::Preference what, const flow::OptionView& option) {
  if (!option.name.empty()) return option.name;
  return std::string(pen.words(std::string(key_of(what)) + "." + option.code));
}

}  // namespace ligule::screens
