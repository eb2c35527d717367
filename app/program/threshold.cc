#include "app/program/threshold.h"

#include <string>
#include <utility>

#include "storage/ledger/ledger.h"

namespace ligule::program {

Threshold::Threshold(touch::Ui& ui, const platform::Clock& clock, screens::BeforePage page)
    : ui_(ui), clock_(clock), page_(std::move(page)) {}

void Threshold::draw(const platform::InputFrame& input) {
  ui_.begin(input, clock_.steady_ms());
  if (const auto tapped = screens::draw_before(ui_, page_); tapped && !tapped_) tapped_ = tapped;
  ui_.end();
}

namespace {

// Whether both can be read and hold the same records.
bool hold_the_same(const files::Path& one, const files::Path& other) {
  const auto digest = [](const files::Path& path) -> Result<Digest> {
    const auto held = ledger::Ledger::open(path.string(), ledger::Access::kReadOnly);
    if (!held) return std::unexpected(held.error());
    return held->digest();
  };
  const auto first = digest(one);
  const auto second = digest(other);
  return first && second && *first == *second;
}

}  // namespace

Result<files::Path> copy_before(files::FileSystem& files, const files::Path& ledger,
                                const ledger::FileForm& form) {
  const std::string name = ledger.string() + ".version-" + std::to_string(form.version);
  files::Path copy = name;
  for (int n = 2;; ++n) {
    const auto there = files.exists(copy);
    if (!there) return std::unexpected(there.error());
    if (!*there || hold_the_same(ledger, copy)) return copy;
    copy = name + "-" + std::to_string(n);
  }
}

Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                       const files::Path& copy) {
  const auto there = files.exists(copy);
  if (!there) return std::unexpected(there.error());
  if (*there) return {};
  const auto held = ledger::Ledger::open(ledger.string(), ledger::Access::kReadOnly);
  if (!held) return std::unexpected(held.error());
  return held->backup_to(copy.string());
}

}  // namespace ligule::program
