#include "app/work/space.h"

#include <algorithm>
#include <limits>
#include <system_error>

namespace ligule::work {
namespace {

std::int64_t size_of(const std::filesystem::path& file) {
  std::error_code none;
  const std::uintmax_t size = std::filesystem::file_size(file, none);
  return none ? 0 : static_cast<std::int64_t>(size);
}

}  // namespace

Space space_of(const std::filesystem::path& ledger) {
  Space space;
  std::error_code none;
  const auto folder = ledger.has_parent_path() ? ledger.parent_path() : std::filesystem::path(".");
  const auto told = std::filesystem::space(folder, none);
  if (!none) {
    constexpr auto kMost = static_cast<std::uintmax_t>(std::numeric_limits<std::int64_t>::max());
    space.free_bytes = static_cast<std::int64_t>(std::min(told.available, kMost));
  }
  space.ledger_bytes = size_of(ledger);
  if (space.ledger_bytes > 0) space.ledger_bytes += size_of(ledger.string() + "-wal");
  return space;
}

}  // namespace ligule::work
