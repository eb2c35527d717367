#include "sync/desk/words.h"

#include "sync/desk/ledgers.h"

namespace ligule::desk {

std::string tests_and_analyses(std::span<const results::Analysis> analyses) {
  std::int64_t tests = 0;
  for (std::size_t i = 0; i < analyses.size(); ++i) {
    if (i == 0 || analyses[i].test != analyses[i - 1].test) ++tests;
  }
  return counted(tests, "test") + ", " + std::to_string(analyses.size()) +
         (analyses.size() == 1 ? " analysis" : " analyses");
}

}  // namespace ligule::desk
