// Pictures of scores that say how badly plants fare: winter injury, lodging, leaf disease.
#include <array>

#include "app/screens/art.h"
#include "app/screens/plant.h"

namespace ligule::screens {
namespace {

// Crowns of a row in early spring; which shoots are dead comes from a fixed seed, so that a worse
// picture kills some more and revives none.
void draw_winter(const Canvas& paint, const Rect& room, double injury) {
  const Plant plant(paint, room);
  constexpr int kCrowns = 3;
  constexpr int kShoots = 5;
  for (int crown = 0; crown < kCrowns; ++crown) {
    const double x = -0.66 + 0.66 * crown;
    for (int shoot = 0; shoot < kShoots; ++shoot) {
      const double out = 2.0 * shoot / (kShoots - 1) - 1;
      // Each shoot dies at a place of its own between the ends.
      const int order = (shoot * 3 + crown * 7) % (kCrowns * kShoots);
      const bool dead = injury * (kCrowns * kShoots) > order + 0.5;
      if (dead)  // lies on the ground, bleached
        plant.blade(x, 0, out * 0.3, 0.06, 0.035, Tone::kLine);
      else
        plant.blade(x + 0.04 * out, 0, out * 0.3, (0.78 - 0.5 * injury) * (1 - 0.25 * out * out),
                    0.045);
    }
  }
}

// Headed stems, bent from upright down to the ground.
void draw_lodging(const Canvas& paint, const Rect& room, double share) {
  const Plant plant(paint, room);
  constexpr double kLong = 0.86;
  constexpr double kFlat = 1.5;  // radians from upright: all but on the ground
  for (int n = 0; n < 5; ++n) {
    const double x = -0.84 + 0.3 * n;
    const double angle = share * kFlat;
    // A stem bends at its foot and goes straight on.
    const double knee = 0.1 * kLong;
    const double kx = x + knee * std::sin(angle / 2);
    const double ky = knee * std::cos(angle / 2);
    const double tx = kx + kLong * 0.9 * std::sin(angle);
    const double ty = std::max(0.04 + 0.03 * (n % 2), ky + kLong * 0.9 * std::cos(angle));
    plant.stem(x, 0, kx, ky, 0.05);
    plant.stem(kx, ky, tx, ty, 0.04);
    const double hx = (tx - kx) / kLong;
    const double hy = (ty - ky) / kLong;
    plant.stem(tx - 0.24 * hx, ty - 0.24 * hy, tx, ty, 0.1, Tone::kInk);
  }
}

// One leaf, and the spots on it.
void draw_disease(const Canvas& paint, const Rect& room, double share) {
  const Plant plant(paint, room);
  plant.lens(0, 0.02, 0.98, 0.52, Tone::kDone);
  plant.stem(0, 0, 0, 0.9, 0.02, Tone::kCard);
  constexpr int kSpots = 26;
  const int spots = static_cast<int>(std::lround(share * kSpots));
  for (int n = 0; n < spots; ++n) {
    // Golden-angle steps fill the leaf evenly, whatever their number.
    const double along = std::fmod(0.5 + 0.618034 * n, 1.0);
    const double y = 0.12 + 0.76 * along;
    const double half = 0.44 * std::sin(3.14159 * along);
    const double x = half * (2 * chance(static_cast<std::uint32_t>(n), 91) - 1) * 0.85;
    const double radius = 0.034 + 0.04 * share;
    plant.dot(x, y, radius, Tone::kInk);
    plant.dot(x, y, radius * 0.62, Tone::kAttention);
  }
}

// A tuft from above.
void draw_cell(const Canvas& paint, const Rect& key, bool held) {
  const Rect room = key.grown(-paint.sizes().mm(0.9));  // the border of the key stays
  paint.fill(room, held ? Tone::kCard : Tone::kSunk);
  if (!held) return;
  const float reach = std::min(room.width(), room.height()) * 0.42F;
  constexpr int kLeaves = 7;
  for (int n = 0; n < kLeaves; ++n) {
    const double angle = 2 * 3.14159 * n / kLeaves + 0.35;
    const auto x = static_cast<float>(std::cos(angle));
    const auto y = static_cast<float>(std::sin(angle));
    paint.line(room.centre(), {room.centre().x + reach * x, room.centre().y + reach * y},
               Tone::kDone, reach * 0.2F);
  }
  paint.disc(room.centre(), reach * 0.28F, Tone::kDone);
}

}  // namespace

touch::Paint cell_picture(bool held) {
  return [held](const Canvas& paint, const Rect& room) { draw_cell(paint, room, held); };
}
touch::Paint winter_picture(double injury) {
  return [injury](const Canvas& paint, const Rect& room) { draw_winter(paint, room, injury); };
}
touch::Paint lodging_picture(double share) {
  return [share](const Canvas& paint, const Rect& room) { draw_lodging(paint, room, share); };
}
touch::Paint disease_picture(double share) {
  return [share](const Canvas& paint, const Rect& room) { draw_disease(paint, room, share); };
}

}  // namespace ligule::screens
