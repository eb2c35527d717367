// What may be said of the plot that is being weighed beside its weight, and the intents that say
// it. Part of intents.h and model.h.
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace ligule::flow {

// What stands in the place of the pad.
enum class PlotPage {
  kPad,       // pad or load
  kMore,      // what else can be said
  kNoWeight,  // why it has none
  kBagKinds,  // what it hangs in
  kSwath,     // how long and wide the strip was
  kWeeds,     // percent weeds by eye
};

// Bags and bins, each with a standing tare of its own: common practice, no source. Words:
// "bag_kind." + code.
inline constexpr std::array<std::string_view, 6> kBagKinds{"bin",       "tub",       "crate",
                                                           "cloth_bag", "paper_bag", "plastic_bag"};

struct ShowPage {
  PlotPage page = PlotPage::kPad;
};
// Keeps what is on the scale or typed, if it is not kept yet, and weighs another bag of the plot.
struct MoreBag {};
struct ChooseBagKind {
  std::string kind;  // of kBagKinds
};
struct SayWeedsOnly {};  // what was cut holds nothing that was sown, or after all it does
struct KeepSwath {       // what the page of the strip, or that of the weeds, has typed in
  bool block = false;    // of every plot of the block that has none of its own, too
};
struct AnswerSwapped {
  bool exchange = false;
};

}  // namespace ligule::flow
