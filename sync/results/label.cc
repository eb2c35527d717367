#include "sync/results/label.h"

#include <mutex>
#include <unordered_set>

namespace ligule::results {
namespace {

struct TextHash {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const {
    return std::hash<std::string_view>()(text);
  }
};

// Its strings stay where they are however many come.
struct KnownLabels {
  std::mutex mutex;
  std::unordered_set<std::string, TextHash, std::equal_to<>> texts;
};

}  // namespace

const std::string Label::nothing;

const std::string& Label::kept(std::string_view text) {
  static KnownLabels known;
  const std::scoped_lock lock(known.mutex);
  const auto found = known.texts.find(text);
  return found != known.texts.end() ? *found : *known.texts.emplace(text).first;
}

}  // namespace ligule::results
