// How far those who rated the same plots twice agree, in plain words.
#include "app/screens/pen.h"
#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

// Of the scale: points of a percent, of a score, of a stage's number.
std::string points(const Pen& pen, const std::string& number) {
  return pen.words.fill(number == "1" ? "agreement.points.one" : "agreement.points.many", {number});
}

std::string words_of(const Pen& pen, const flow::AgreementRow& row) {
  const std::string plots = number(row.plots);
  const std::string by = points(pen, row.by);
  const bool own = row.other.empty();
  switch (row.lies) {
    case flow::Lies::kHigher:
      return own ? pen.words.fill("agreement.again_higher",
                                  {row.rater, by, row.give_or_take, plots})
                 : pen.words.fill("agreement.higher",
                                  {row.rater, row.other, by, row.give_or_take, plots});
    case flow::Lies::kLower:
      return own ? pen.words.fill("agreement.again_lower", {row.rater, by, row.give_or_take, plots})
                 : pen.words.fill("agreement.lower",
                                  {row.rater, row.other, by, row.give_or_take, plots});
    case flow::Lies::kLike:
      break;
  }
  const std::string give_or_take = points(pen, row.give_or_take);
  return own ? pen.words.fill("agreement.again_like", {row.rater, give_or_take, plots})
             : pen.words.fill("agreement.like", {row.rater, row.other, give_or_take, plots});
}

// Whether somebody's eye changed on the way; empty where there are too few plots to tell.
std::string way_words(const Pen& pen, const flow::AgreementRow& row) {
  if (!row.by_block) return {};
  if (row.blocks.empty()) return std::string(pen.words("agreement.steady"));
  std::string blocks;
  for (const flow::BlockLies& block : row.blocks) {
    const std::string number = std::to_string(block.block);
    if (!blocks.empty()) blocks += ", ";
    switch (block.lies) {
      case flow::Lies::kHigher:
        blocks += pen.words.fill("agreement.block_higher", {number, points(pen, block.by)});
        break;
      case flow::Lies::kLower:
        blocks += pen.words.fill("agreement.block_lower", {number, points(pen, block.by)});
        break;
      case flow::Lies::kLike:
        blocks += pen.words.fill("agreement.block_like", {number});
        break;
    }
  }
  return pen.words.fill("agreement.changed", {blocks});
}

}  // namespace

void draw_agreement(const Pen& pen, const Rect& rect, const flow::AgreementView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Agreement");
  auto scroll = ui.scroll("agreement", rect);
  const Rect& area = scroll.area();
  float top = area.top;
  const auto paragraph = [&](std::string_view text, Font font, Tone tone) {
    const float height = touch::text_height(ui, text, font, area.width());
    touch::text(ui, {area.left, top, area.right, top + height},
                {.text = text, .font = font, .tone = tone, .down = Align::kStart, .lines = 9});
    top += height + ui.mm(2);
  };
  paragraph(pen.words("agreement.about"), Font::kBody, Tone::kInkSoft);
  std::string measure;
  for (const flow::AgreementRow& row : view.rows) {
    if (row.measure != measure) {
      measure = row.measure;
      top += ui.mm(2);
      paragraph(measure_name(pen, measure), Font::kLabel, Tone::kInk);
    }
    paragraph(words_of(pen, row), Font::kBody, Tone::kInk);
    const std::string way = way_words(pen, row);
    if (way.empty()) continue;
    paragraph(way, row.blocks.empty() ? Font::kBody : Font::kStrong,
              row.blocks.empty() ? Tone::kInkSoft : Tone::kInk);
  }
}

}  // namespace ligule::screens
