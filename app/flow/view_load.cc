// What is on the scale, and the page on which its port is set.
#include "app/flow/scale_choice.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {

LoadView load_view(const Model& model) {
  const LoadSeen& load = model.load;
  LoadView view;
  view.state = model.preferences.scale.port.empty() ? LoadState::kNoScale
               : load.state == LoadState::kNoScale  ? LoadState::kSilent
                                                    : load.state;
  view.shown = load.entered;
  view.unit = load.unit;
  view.net = load.net;
  view.raw = load.raw;
  view.fault = load.fault;
  // A load that moves is taken after a question.
  view.can_take = view.state == LoadState::kStill || view.state == LoadState::kMoving;
  return view;
}

std::optional<MovingView> moving_view(const Model& model) {
  if (!model.moving || model.handing) return std::nullopt;
  return MovingView{model.moving->averaging,
                    std::chrono::duration_cast<std::chrono::seconds>(kAverageFor).count(),
                    load_view(model), model.moving->wide};
}

std::optional<ScaleView> scale_view(const Model& model, const OnTablet& screen) {
  if (!screen.scale) return std::nullopt;
  return ScaleView{scale_rows(model), load_view(model)};
}

}  // namespace ligule::flow
