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

files::Path copy_before(const files::Path& ledger, const ledger::FileForm& form) {
  return ledger.string() + ".version-" + std::to_string(form.version);
}

Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                       const ledger::FileForm& form) {
  const files::Path copy = copy_before(ledger, form);
  const auto there = files.exists(copy);
  if (!there) return std::unexpected(there.error());
  if (*there) return {};
  const auto held = ledger::Ledger::open(ledger.string(), ledger::Access::kReadOnly);
  if (!held) return std::unexpected(held.error());
  return held->backup_to(copy.string());
}

}  // namespace ligule::program
