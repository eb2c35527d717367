#include "app/flow/lock.h"

#include <variant>

namespace ligule::flow {
namespace {

// A first corner that was pressed too long ago counts no more.
void forget_first_corner(const Turn& turn) {
  auto& lock = turn.model.lock;
  if (!lock || !lock->first_at) return;
  const auto since = turn.at.utc - *lock->first_at;
  // A clock set back gives no time without end.
  if (since > kUnlockTime || since < std::chrono::seconds{0}) lock->first_at.reset();
}

}  // namespace

void lock(const Turn& turn) {
  if (turn.model.person) turn.model.lock = Lock{};
}

void touch_locked(const Turn& turn, const Intent& intent) {
  Model& model = turn.model;
  const auto* const corner = std::get_if<UnlockCorner>(&intent);
  if (corner == nullptr || !model.lock) return;
  forget_first_corner(turn);
  if (!corner->second) {
    model.lock->first_at = turn.at.utc;
  } else if (model.lock->first_at) {
    model.lock.reset();
  }
}

}  // namespace ligule::flow
