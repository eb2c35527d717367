// How far those who rated the same plots twice agree, in plain words.
#include "app/screens/pen.h"
#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

std::string words_of(const Pen& pen, const flow::AgreementRow& row) {
  const std::string plots = number(row.plots);
  const bool own = row.other.empty();
  switch (row.lies) {
    case flow::Lies::kHigher:
      return own ? pen.words.fill("agreement.again_higher",
                                  {row.rater, row.by, row.give_or_take, plots})
                 : pen.words.fill("agreement.higher",
                                  {row.rater, row.other, row.by, row.give_or_take, plots});
    case flow::Lies::kLower:
      return own ? pen.words.fill("agreement.again_lower",
                                  {row.rater, row.by, row.give_or_take, plots})
                 : pen.words.fill("agreement.lower",
                                  {row.rater, row.other, row.by, row.give_or_take, plots});
    case flow::Lies::kLike:
      break;
  }
  return own ? pen.words.fill("agreement.again_like", {row.rater, row.give_or_take, plots})
             : pen.words.fill("agreement.like", {row.rater, row.other, row.give_or_take, plots});
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
        blocks += pen.words.fill("agreement.block_higher", {number, block.by});
        break;
      case flow::Lies::kLower:
        blocks += pen.words.fill("agreement.block_lower", {number, block.by});
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
