// What every screen carries, how it is drawn, and the Tablet screen on which that is chosen. Part
// of views.h.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/model.h"

namespace ligule::flow {

struct HeadView {
  std::string clock;          // "08:00"
  std::string date;           // "2026-05-04"
  std::string initials;       // empty: nobody is signed in
  std::size_t saving = 0;     // acts not yet durable
  std::size_t not_saved = 0;  // acts that could not be saved, until they are or are let go
  bool demo = false;

  bool operator==(const HeadView&) const = default;
};

// How everything is drawn: of whoever holds the tablet, and of the tablet.
struct LookView {
  std::string language;
  bool dusk = false;
  bool left_handed = false;
  bool gloves = false;
  bool large_text = false;
  double ppi = 0;  // true dots per inch; 0: nobody knows yet

  bool operator==(const LookView&) const = default;
};
[[nodiscard]] LookView look_of(const Model& model);

struct OptionView {
  std::string code;  // send back in Choose; words: the preference's and this
  std::string name;  // of a language; empty: it has words
  bool selected = false;

  bool operator==(const OptionView&) const = default;
};
struct PreferenceView {
  Preference what = Preference::kLanguage;
  std::vector<OptionView> options;

  bool operator==(const PreferenceView&) const = default;
};

struct GlassView {    // a card is held against a bar
  double bar_px = 0;  // as long as the card if the glass is what is tried
  bool can_smaller = true;
  bool can_larger = true;

  bool operator==(const GlassView&) const = default;
};
// What is on the scale.
struct LoadView {
  LoadState state = LoadState::kNoScale;  // words: "load." + name_of(state)
  std::string shown;                      // the number as it was sent; empty: none
  std::string unit;
  bool net = false;  // the indicator takes a tare off
  bool can_take = false;
  std::string raw;             // the last line
  std::optional<Error> fault;  // why nothing comes

  bool operator==(const LoadView&) const = default;
};
[[nodiscard]] std::string_view name_of(LoadState state);  // "still", "not_lifted" ...
struct ScaleView {                                        // the port is being set
  std::vector<PreferenceView> rows;
  LoadView load;
  bool operator==(const ScaleView&) const = default;
};

// A rating that can be practised for.
struct PracticeOffer {
  TrialId trial;
  OccasionId occasion;
  std::string trial_code;
  bool drilled = true;  // its stands are rows, else ground covered in patches

  bool operator==(const PracticeOffer&) const = default;
};

// The tablet's key on a page of its own.
struct KeyView {
  std::string fingerprint;
  DotCode code;

  bool operator==(const KeyView&) const = default;
};
struct TabletView {
  HeadView head;
  std::vector<PreferenceView> preferences;
  std::string diagonal;         // of the glass, inches
  std::string ppi;              // dots per inch that everything is drawn by
  bool glass_measured = false;  // by a person, not as the display says
  std::optional<GlassView> glass;
  std::optional<ScaleView> scale;
  std::vector<std::string> cautions = {};  // are being read again; empty: they are not
  std::string port;                        // of the scale, as people know it; empty: none
  std::string name;
  std::string key;  // fingerprint; empty until it is read, with what follows
  std::string version;
  std::string records;  // where they are kept
  std::string records_size;
  std::string free;  // room on that disk
  std::vector<PracticeOffer> practice = {};
  std::optional<KeyView> shown_key = {};

  bool operator==(const TabletView&) const = default;
};

}  // namespace ligule::flow
