#include "app/flow/intents.h"

namespace ligule::flow {

Intent::Intent(const Intent& other) = default;
Intent::Intent(Intent&& other) noexcept = default;
Intent& Intent::operator=(const Intent& other) = default;
Intent& Intent::operator=(Intent&& other) noexcept = default;
Intent::~Intent() = default;

}  // namespace ligule::flow
