// A scale plugged in: harvest weighs from it, and its port is set.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

flow::LoadView load_of(flow::LoadState state) {
  flow::LoadView load;
  load.state = state;
  load.unit = "kg";
  switch (state) {
    case flow::LoadState::kEmpty:
      load.shown = "0.06";
      break;
    case flow::LoadState::kNegative:
      load.shown = "-0.32";
      break;
    case flow::LoadState::kStill:
    case flow::LoadState::kMoving:
    case flow::LoadState::kNotLifted:
      load.shown = "112.48";
      break;
    default:
      load.unit = "";
      break;
  }
  load.can_take = state == flow::LoadState::kStill || state == flow::LoadState::kMoving;
  load.raw = "S G +   " + load.shown + " kg";
  return load;
}

}  // namespace

flow::HarvestView load_weighing(flow::LoadState state, bool net) {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  for (flow::FieldView& field : step.fields)
    if (field.field == flow::Field::kGross) {
      field.text.clear();
      field.mark = flow::Mark::kOpen;
    }
  step.can_keep = false;
  step.load = load_of(state);
  step.load->net = net;
  step.weigh = true;
  return view;
}

flow::TabletView scale_unplugged() {
  flow::TabletView view = scale_setup(true);
  view.scale->load = {};
  view.scale->load.state = flow::LoadState::kSilent;
  view.scale->load.fault = Error{ErrorKind::kIo, "the scale does not answer: Permission denied",
                                 "/dev/serial/by-id/usb-serial_adapter_A50285BI-if00-port0",
                                 "look at cable and switch; it is tried again every second"};
  return view;
}

flow::HarvestView check_weighing(bool typing) {
  flow::HarvestView view = load_weighing(flow::LoadState::kStill);
  auto& step = std::get<flow::WeighingView>(view.step);
  flow::CheckView check;
  check.fields = {{flow::Field::kCheckMass, "100", "kg", typing},
                  {flow::Field::kCheckAllowance, "0.05", "kg", false}};
  check.typing = typing;
  check.load = load_of(flow::LoadState::kStill);
  check.due = flow::CheckDue::kNoon;
  step.check_due = check.due;
  step.check = check;
  return view;
}

flow::HarvestView no_weight_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.page = flow::PlotPage::kNoWeight;
  step.no_weight = {{"winterkill", true},  {"stand_died", true},   {"below_bar", true},
                    {"washed_out", false}, {"wheel_track", false}, {"drift", false},
                    {"animals", false},    {"bag_spilled", false}, {"scale_fault", false}};
  return view;
}

flow::HarvestView more_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.page = flow::PlotPage::kMore;
  step.more =
      flow::MoreView{true, true,        true,           "plastic_bag", "17.5\u00a0ft x 2.5\u00a0ft",
                     true, "15\u00a0%", "Flail mower 2"};
  step.bag = 2;
  step.together = "45.3\u00a0lb";
  step.weeds_only = true;
  return view;
}

flow::HarvestView kinds_weighing() {
  flow::HarvestView view = weighing(flow::Field::kTare);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.page = flow::PlotPage::kBagKinds;
  for (const std::string_view kind : flow::kBagKinds)
    step.bag_kinds.push_back(
        {std::string(kind), kind == "tub" ? "2.36\u00a0lb" : "", kind == "tub"});
  return view;
}

flow::HarvestView swath_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.page = flow::PlotPage::kSwath;
  step.swath = {{flow::Field::kSwathLength, "17.5", "ft", true},
                {flow::Field::kSwathWidth, "2.5", "ft", false, flow::Mark::kKept}};
  return view;
}

flow::Overlay swapped_overlay() {
  flow::Overlay overlay;
  overlay.swapped = flow::SwappedView{"1112", "58.3\u00a0lb", "1111", "21.4\u00a0lb"};
  return overlay;
}

flow::HarvestView low_run_head() {
  flow::HarvestView view = run_head(false);
  for (flow::FieldView& field : std::get<flow::RunHeadView>(view.step).fields)
    if (field.field == flow::Field::kStubble) field.text = "2.5 in";
  return view;
}

flow::Overlay low_stubble_overlay() {
  flow::Overlay overlay;
  overlay.low_stubble = flow::LowStubbleView{"2.5 in", "4\u00a0in"};
  return overlay;
}

flow::Overlay splitting_overlay(const std::string& machine) {
  flow::Overlay overlay;
  overlay.splitting = flow::SplittingView{2, 11, machine};
  return overlay;
}

flow::HarvestView gauge_weighing(double place, bool any, const std::string& plot) {
  flow::HarvestView view = weighing(flow::Field::kBag);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.gauge =
      flow::GaugeView{plot, any, place > 0.25 && place < 0.75, "108.4", "126.9", "kg", place};
  return view;
}

flow::Overlay cautions_overlay(bool harvest) {
  flow::Overlay overlay;
  overlay.cautions = flow::CautionsView{
      harvest ? std::vector<std::string>{"harvest", "flail", "heat", "lifting", "nitrate",
                                         "prussic_acid", "toxic_endophyte"}
              : std::vector<std::string>{"oven", "hay_heating"}};
  return overlay;
}

flow::TabletView tablet_cautions() {
  flow::TabletView view = tablet_view();
  view.cautions = {"harvest",      "flail",           "heat", "lifting",     "nitrate",
                   "prussic_acid", "toxic_endophyte", "oven", "hay_heating", "spray",
                   "live_fence"};
  return view;
}

flow::Overlay doubted_overlay(bool any) {
  flow::Overlay overlay;
  overlay.doubted = flow::DoubtedView{false, "0.12\u00a0kg", "0.05\u00a0kg", {}};
  if (any)
    for (int plot = 101; plot <= 148; ++plot)
      overlay.doubted->plots.push_back(std::to_string(plot));
  overlay.doubted->weights = overlay.doubted->plots.size();
  return overlay;
}

flow::Overlay doubted_elsewhere_overlay() {
  flow::Overlay overlay = doubted_overlay(true);
  overlay.doubted->was = true;
  overlay.doubted->when = "2026-05-26 10:40";
  overlay.doubted->plots = {"1101", "1103", "1105", "1107", "1109", "1111", "1201", "1203"};
  overlay.doubted->elsewhere = {{"AL24", 2, {"1301", "1303", "1305", "1307", "1309", "1311"}},
                                {"PR25", 1, {"101", "102", "103"}}};
  overlay.doubted->weights = 17;
  return overlay;
}

flow::Overlay moving_overlay(bool averaging) {
  flow::Overlay overlay;
  overlay.moving = flow::MovingView{averaging, 5, load_of(flow::LoadState::kMoving)};
  return overlay;
}

flow::Overlay wide_mean_overlay() {
  flow::Overlay overlay = moving_overlay(false);
  overlay.moving->wide = flow::AveragedLoad{"112.42", "kg", "111.53", "115.00", 47, false, ""};
  return overlay;
}

flow::TabletView scale_setup(bool plugged) {
  using flow::Preference;
  flow::TabletView view = tablet_view();
  flow::ScaleView scale;
  const std::string port = "/dev/serial/by-id/usb-serial_adapter_A50285BI-if00-port0";
  scale.rows = {{Preference::kScalePort,
                 {{"none", "", !plugged},
                  {port, port.substr(port.rfind('/') + 1), plugged},
                  {"/dev/serial/by-id/usb-two", "usb-two", false}}}};
  if (plugged) {
    view.port = port.substr(port.rfind('/') + 1);
    scale.rows.push_back({Preference::kScaleForm,
                          {{"number", "Number alone, in kg", false},
                           {"number_lb", "Number alone, in lb", false},
                           {"number_unit", "Number and unit", false},
                           {"number_unit_comma", "Number with a comma, and unit", false},
                           {"flags_first", "S or D, G or N, number, unit", true},
                           {"flag_last", "Number, unit, then M while moving", false},
                           {"asked", "Asked with W: number and unit", false}}});
    const auto row = [](Preference what, const std::vector<std::string>& codes,
                        std::string_view chosen) {
      flow::PreferenceView made{what, {}};
      for (const std::string& code : codes) made.options.push_back({code, code, code == chosen});
      return made;
    };
    scale.rows.push_back(
        row(Preference::kScaleBaud, {"1200", "2400", "4800", "9600", "19200", "38400"}, "9600"));
    scale.rows.push_back(row(Preference::kScaleFraming, {"8N1", "7E1", "7O1", "8N2"}, "8N1"));
    scale.rows.push_back(row(Preference::kScaleInterval, {"1", "2", "5", "10", "20", "50"}, "5"));
    scale.load = load_of(flow::LoadState::kStill);
  }
  view.scale = scale;
  return view;
}

}  // namespace ligule::screens::tests
