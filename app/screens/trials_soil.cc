// A trial's soil test, property by property, and how each stands to published tables.
#include <algorithm>
#include <optional>

#include "app/screens/passages.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

constexpr double kSoilMargin = 2.5;  // millimetres, as the next ones
constexpr double kSoilName = 34;     // of a property
constexpr double kSoilSign = 6;
constexpr double kSoilAir = 3;
constexpr std::string_view kCommonPractice = "common practice, no source";  // as assets/soil.json

void add_part(std::string& line, std::string_view part) {
  if (part.empty()) return;
  if (!line.empty()) line += ", ";
  line += part;
}

std::string sample_words(const Pen& pen, const flow::SoilSampleView& sample) {
  std::string line = sample.on.empty() ? std::string(pen.words("soil.no_day"))
                                       : pen.words.fill("soil.sampled", {sample.on});
  if (!sample.depth.empty()) add_part(line, pen.words.fill("soil.deep", {sample.depth}));
  add_part(line, sample.lab);
  return line;
}

// What the program has a word for, else as it is written.
std::string worded(const Pen& pen, const std::string& family, const std::string& code) {
  const std::string key = family + code;
  return pen.words.has(key) ? std::string(pen.words(key)) : code;
}

std::string value_words(const Pen& pen, const flow::SoilRow& row) {
  std::string line = row.value;
  if (!row.on_an_acre.empty()) line += " = " + row.on_an_acre;
  if (!row.extractant.empty()) add_part(line, worded(pen, "soil.extractant.", row.extractant));
  return line;
}

std::string judged_words(const Pen& pen, const flow::SoilJudgedView& judged) {
  std::string line;
  for (const flow::Words& piece : judged.said) add_part(line, pen.words.fill(piece));
  if (judged.species.empty()) return line;
  std::string species;
  for (const std::string& one : judged.species) add_part(species, pen.words.name(one));
  return pen.words.fill("soil.for", {species, line});
}

Shape shape_of(checks::SoilStanding standing) {
  switch (standing) {
    case checks::SoilStanding::kGood:
      return Shape::kDone;
    case checks::SoilStanding::kBelow:
    case checks::SoilStanding::kAbove:
      return Shape::kQuestioned;
    case checks::SoilStanding::kNoVerdict:
      break;
  }
  return Shape::kDash;
}

// Words, and the sign that stands before them.
struct SoilLine {
  std::optional<Shape> sign;
  std::vector<Passage> words;
};

std::vector<SoilLine> soil_lines(const Pen& pen, const flow::SoilRow& row, bool own_sample) {
  if (row.value.empty())
    return {{Shape::kDash, {{std::string(pen.words("soil.not_tested")), Font::kBody}}}};
  std::vector<SoilLine> lines{{std::nullopt, {{value_words(pen, row), Font::kStrong}}}};
  if (own_sample)
    lines.front().words.push_back({sample_words(pen, row.sample), Font::kBody, Tone::kInkSoft});
  for (const flow::SoilJudgedView& judged : row.judged) {
    SoilLine line{shape_of(judged.standing), {{judged_words(pen, judged)}}};
    if (!judged.source.empty())
      // Whose table it is stands in assets/soil.json and is printed at the desk.
      line.words.push_back(
          {std::string(pen.words(judged.source == kCommonPractice ? "soil.common_practice"
                                                                  : "soil.published")),
           Font::kBody, Tone::kInkSoft});
    lines.push_back(std::move(line));
  }
  return lines;
}

// On narrow glass the name of a property stands before its value, and all below it.
void put_before(std::vector<SoilLine>& lines, const std::string& name) {
  SoilLine& first = lines.front();
  if (first.sign)
    lines.insert(lines.begin(), {std::nullopt, {{name, Font::kLabel}}});
  else
    first.words.front() = {name + "  " + first.words.front().text, Font::kLabel};
}

float words_indent(const touch::Ui& ui, const SoilLine& line) {
  return line.sign ? ui.mm(kSoilSign + kSoilAir) : 0;
}

float line_height_of(const Pen& pen, const SoilLine& line, float width) {
  const float words = passages_height(pen, line.words, width - words_indent(pen.ui, line));
  return line.sign ? std::max(words, pen.ui.mm(kSoilSign)) : words;
}

void draw_soil_row(const Pen& pen, Cutter& rows, const flow::SoilRow& row, bool own_sample) {
  touch::Ui& ui = pen.ui;
  const std::string name = worded(pen, "soil.property.", row.property);
  std::vector<SoilLine> lines = soil_lines(pen, row, own_sample);
  const bool narrow = rows.rest().width() < ui.mm(110);
  if (narrow) put_before(lines, name);
  const float beside = narrow ? 0 : ui.mm(kSoilName + kSoilAir);
  const float width = rows.rest().width() - ui.mm(2 * kSoilMargin) - beside;
  float height = narrow ? 0 : touch::text_height(ui, name, Font::kLabel, ui.mm(kSoilName));
  float words = 0;
  for (const SoilLine& line : lines) words += line_height_of(pen, line, width) + ui.mm(kSoilMargin);
  height = std::max(height, words - ui.mm(kSoilMargin)) + ui.mm(2 * kSoilMargin);
  const Rect rect = rows.take(height);
  ui.canvas().fill(rect, Tone::kCard, ui.mm(2));
  Cutter across(rect.grown(-ui.mm(kSoilMargin)), Axis::kAcross, ui.mm(kSoilAir));
  if (!narrow) {
    const Passage title{name, Font::kLabel};
    draw_passages(pen, across.take(ui.mm(kSoilName)), {&title, 1});
  }
  Cutter down(across.take_rest(), Axis::kDown, ui.mm(kSoilMargin));
  for (const SoilLine& line : lines) {
    Cutter place(down.take(line_height_of(pen, line, width)), Axis::kAcross, ui.mm(kSoilAir));
    if (line.sign) {
      const Rect sign = place.take(ui.mm(kSoilSign));
      ui.canvas().shape(*line.sign, {sign.left, sign.top, sign.right, sign.top + sign.width()});
    }
    draw_passages(pen, place.take_rest(), line.words);
  }
}

}  // namespace

void draw_soil(const Pen& pen, Cutter& down, const std::vector<flow::SoilRow>& rows) {
  const auto tested = [](const flow::SoilRow& row) { return !row.value.empty(); };
  const auto first = std::ranges::find_if(rows, tested);
  const bool one_sample = std::ranges::all_of(
      rows, [&](const flow::SoilRow& row) { return !tested(row) || row.sample == first->sample; });
  auto scroll = pen.ui.scroll("soil", down.take_rest());
  Cutter list(scroll.area(), Axis::kDown, pen.ui.mm(1.5));
  if (one_sample && first != rows.end()) {
    const Passage sample{sample_words(pen, first->sample), Font::kBody, Tone::kInkSoft};
    draw_apart(pen, list, {&sample, 1});
  }
  for (const flow::SoilRow& row : rows) draw_soil_row(pen, list, row, !one_sample);
  const Passage foot{std::string(pen.words("soil.no_amounts")), Font::kBody, Tone::kInkSoft};
  draw_apart(pen, list, {&foot, 1});
}

}  // namespace ligule::screens
