// What sticks and cards hold for this tablet: plans, and spare copies of other tablets to go on
// from.
#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/passages.h"
#include "app/screens/stick_row.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Shape;
using touch::Style;

namespace {

constexpr double kSourceKey = 18;  // millimetres
constexpr double kStickRowKey = 28;

// A long name takes several lines over where it lies.
float file_key_height(const touch::Ui& ui, std::string_view name, float width) {
  return std::max(ui.mm(kSourceKey),
                  ui.mm(12) + touch::text_height(ui, name, Font::kLabel, width - ui.mm(16)) +
                      touch::line_height(ui, Font::kBody));
}

std::string age_words(const Pen& pen, const flow::Age& age) {
  return pen.words.fill("copy.ago", {pen.words.count("age." + age.unit, age.count)});
}

}  // namespace

void draw_sources(const Pen& pen, Cutter& down, const flow::PlanPickView& view) {
  touch::Ui& ui = pen.ui;
  if (view.folders.empty() && view.copies.empty() && view.files.empty() && !view.stick.any()) {
    const std::string_view words = pen.words(view.loaded ? "sources.none" : "sources.looking");
    touch::text(ui, down.take_rest(), {.text = words, .down = Align::kStart, .lines = 8});
    return;
  }
  auto scroll = ui.scroll("sources", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  if (!view.stick.fresh.empty())
    draw_stick_row(
        pen,
        rows.take(stick_row_height(pen, view.stick, scroll.area().width(), ui.mm(kStickRowKey))),
        view.stick, ui.mm(kStickRowKey));
  if (!view.folders.empty()) {
    heading(pen, rows, "sources.plans");
    auto group = ui.group("Folders");
    for (const flow::PlanFolder& folder : view.folders) {
      const std::string label = folder.name + "##" + folder.path;
      const std::string note = folder.newer.empty()
                                   ? folder.place
                                   : pen.words.fill("sources.older", {folder.place, folder.newer});
      if (touch::key(ui, rows.take(ui.mm(kSourceKey)), {.label = label, .note = note}))
        pen.send(flow::CheckPlan{folder.path});
    }
  }
  if (!view.files.empty()) {
    heading(pen, rows, "sources.files");
    auto group = ui.group("Files");
    for (const flow::FoundFile& file : view.files) {
      const std::string label = file.name + "##" + file.path;
      const float height = file_key_height(ui, file.name, rows.rest().width());
      if (touch::key(ui, rows.take(height), {.label = label, .note = file.place}))
        pen.send(flow::CheckFile{file.path});
    }
  }
  if (view.copies.empty()) return;
  heading(pen, rows, "sources.copies");
  auto group = ui.group("Copies");
  for (const flow::FoundCopyView& copy : view.copies) {
    const std::string label =
        (copy.device.empty() ? std::string(pen.words("copy.newer")) : copy.device) + "##" +
        copy.path;
    const std::string note = pen.words.fill("copy.note", {age_words(pen, copy.age), copy.place});
    if (touch::key(ui, rows.take(ui.mm(kSourceKey)), {.label = label, .note = note}))
      pen.send(flow::OfferCopy{copy.path});
  }
}

void draw_offered_copy(const Pen& pen, Cutter& down, const flow::OfferedCopyView& view) {
  touch::Ui& ui = pen.ui;
  const touch::Key go_on{
      .label = pen.words("copy.go_on"), .style = Style::kAction, .enabled = view.can_go_on};
  if (touch::key(ui, down.take_end(ui.key()), go_on)) pen.send(flow::GoOnFromCopy{});
  std::vector<Passage> passages{{pen.words.count("copy.records", view.copy.records) + " " +
                                     age_words(pen, view.copy.age) + ".",
                                 Font::kLabel}};
  passages.push_back({view.reading ? std::string(pen.words("copy.reading"))
                                   : pen.words.fill("copy.what", {view.copy.device})});
  // Large words need more than low glass has.
  auto scroll = ui.scroll("offer", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  draw_apart(pen, rows, passages);
  if (view.reading) return;
  const std::string both = pen.words.fill("copy.both", {view.copy.device});
  const touch::Banner banner{.text = both, .mood = touch::Mood::kAsk, .shape = Shape::kQuestioned};
  touch::banner(ui, rows.take(touch::banner_height(ui, banner, rows.rest().width())), banner);
}

void draw_offered_file(const Pen& pen, Cutter& down, const flow::OfferedFileView& view) {
  touch::Ui& ui = pen.ui;
  const touch::Key take{.label = pen.words(view.file.known ? "file.take" : "file.same"),
                        .style = Style::kAction,
                        .enabled = view.can_take};
  if (touch::key(ui, down.take_end(ui.key()), take)) pen.send(flow::TakeFile{});
  std::vector<Passage> passages{{pen.words.count("file.records", view.file.records) + " " +
                                     pen.words.fill("file.until", {view.last_day}),
                                 Font::kLabel}};
  if (view.taking) {
    passages.push_back({std::string(pen.words("copy.reading"))});
  } else {
    passages.push_back(
        {pen.words.fill(view.file.known ? "file.known" : "file.compare", {view.file.device})});
    passages.push_back({view.file.fingerprint, Font::kHead});
  }
  auto scroll = ui.scroll("offer", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  draw_apart(pen, rows, passages);
}

}  // namespace ligule::screens
