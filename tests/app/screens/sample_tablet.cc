#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::TabletView tablet_view() {
  using flow::Preference;
  flow::TabletView view;
  view.head = sample_head();
  view.preferences = {
      {Preference::kLanguage, {{"en", "English", true}, {"es", "Español", false}}},
      {Preference::kTheme, {{"paper", "", true}, {"dusk", "", false}}},
      {Preference::kHand, {{"right", "", true}, {"left", "", false}}},
      {Preference::kGloves, {{"bare", "", true}, {"gloves", "", false}}},
      {Preference::kText, {{"usual", "", true}, {"large", "", false}}},
      {Preference::kMass, {{"kg", "", true}, {"lb", "", false}}},
      {Preference::kLength, {{"in", "", true}, {"cm", "", false}}},
      {Preference::kRepeats, {{"off", "", false}, {"20", "", true}, {"10", "", false}}}};
  view.diagonal = "8.0";
  view.ppi = "189";
  view.name = "Barn tablet 2";
  view.key = "K3MQ-7XWA-2PLD-VN5T";
  view.version = "0.1.0";
  view.records = "/home/crew/.local/share/ligule/tablet.ledger";
  view.records_size = "3.4\u00a0MB";
  view.free = "8.1\u00a0GB";
  view.practice = {{{}, {}, "TF24", true}, {{}, {}, "WC25", false}};
  return view;
}

flow::TabletView tablet_key(bool code) {
  flow::TabletView view = tablet_view();
  view.shown_key = flow::KeyView{view.key, {}};
  if (!code) return view;
  // Not to be read: as many modules as that of a key, and as thick. The program's own is read in
  // tests/app/program/key_code_test.cc.
  view.shown_key->code.side = 41;
  for (std::size_t n = 0; n < 41U * 41U; ++n)
    view.shown_key->code.dark.push_back(n * 7919 % 13 < 6);
  return view;
}

flow::TabletView tablet_measuring(double bar_px) {
  flow::TabletView view = tablet_view();
  view.glass = flow::GlassView{bar_px, true, true};
  return view;
}

}  // namespace ligule::screens::tests
