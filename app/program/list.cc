#include "app/program/list.h"

#include <fstream>
#include <nlohmann/json.hpp>

namespace ligule::program {
namespace {

nlohmann::ordered_json rect_json(const touch::Rect& rect) {
  return {{"x", rect.left}, {"y", rect.top}, {"width", rect.width()}, {"height", rect.height()}};
}

}  // namespace

std::string list_json(const touch::Register& seen) {
  auto widgets = nlohmann::ordered_json::array();
  for (const touch::Widget& widget : seen.widgets) {
    if (!touch::visible(widget) || widget.kind == touch::Kind::kShape) continue;
    nlohmann::ordered_json entry;
    entry["label"] = widget.label;
    entry["group"] = widget.group;
    entry["kind"] = touch::kind_name(widget.kind);
    entry["drawn"] = rect_json(widget.drawn);
    entry["touch"] =
        touch::tappable(widget.kind) ? rect_json(widget.touch) : nlohmann::ordered_json(nullptr);
    entry["clip"] = rect_json(widget.clip);
    entry["enabled"] = widget.enabled;
    entry["selected"] = widget.selected;
    entry["value"] = widget.value;
    widgets.push_back(std::move(entry));
  }
  // A stray byte in a note must not stop the list.
  return widgets.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

Result<void> write_list(const std::filesystem::path& file, const touch::Register& seen) {
  std::ofstream out(file, std::ios::binary);
  out << list_json(seen);
  out.close();
  if (!out)
    return fail(ErrorKind::kIo, "the list can't be written", file.string(),
                "check that the folder exists and has room");
  return {};
}

}  // namespace ligule::program
