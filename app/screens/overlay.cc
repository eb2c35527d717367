// What lies over a screen: a question about a value, and NOT SAVED.
#include <algorithm>
#include <span>

#include "app/screens/pen.h"
#include "app/screens/plot_runs.h"

namespace ligule::screens {
namespace {

std::string joined(const std::vector<std::string>& texts, std::size_t most) {
  std::string out;
  for (std::size_t n = 0; n < std::min(most, texts.size()); ++n) {
    if (n > 0) out += ", ";
    out += texts[n];
  }
  if (texts.size() > most) out += " \xE2\x80\xA6";
  return out;
}

void draw_question(const Pen& pen, const flow::QuestionView& view) {
  auto group = pen.ui.group("Question");
  const std::string measure = measure_name(pen.words, view.measure, view.own_names);
  const std::string value =
      view.word.empty() ? shown_code(pen, view.shown) : std::string(pen.words(view.word));
  const std::string title = pen.words.fill("question.title", {view.plot, measure, value});
  std::string text = pen.words.fill(view.text);
  if (view.on_hold) text += " " + std::string(pen.words("question.on_hold"));
  std::vector<std::string> labels;
  labels.reserve(view.phrases.size());
  for (const auto& phrase : view.phrases)
    labels.push_back(std::string(pen.words("phrase." + phrase.code)) + "##" + phrase.code);
  std::vector<touch::Key> answers;
  for (std::size_t n = 0; n < labels.size(); ++n) {
    touch::Key answer{.label = labels[n]};
    // To look again costs nothing and is mostly right: the one action.
    if (!view.phrases[n].keeps) answer.style = touch::Style::kAction;
    answers.push_back(answer);
  }
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerQuestion{view.phrases[*tapped].code});
}

void draw_early(const Pen& pen, const flow::EarlyView& view) {
  auto group = pen.ui.group("Early");
  const std::string title = pen.words.fill("early.title", {std::to_string(view.cutting)});
  const std::string text =
      pen.words.fill("early.text", {view.due}) + " " + pen.words.count("today.coming", view.days);
  const std::vector<touch::Key> answers{
      {.label = pen.words("early.no"), .style = touch::Style::kAction},
      {.label = pen.words("early.weigh")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerEarly{*tapped == 1});
}

void draw_as_second(const Pen& pen, const flow::AsSecond& view) {
  auto group = pen.ui.group("As second");
  const std::string raters = joined(view.raters, 4);
  const std::string title = pen.words.fill("as_second.title", {raters, std::to_string(view.plots)});
  std::string text(pen.words("as_second.text"));
  if (view.own > 0) text += " " + pen.words.fill("as_second.own", {std::to_string(view.own)});
  const std::vector<touch::Key> answers{
      {.label = pen.words(view.open > 0 ? "as_second.go_on" : "as_second.look"),
       .style = touch::Style::kAction},
      {.label = pen.words("as_second.rate")},
      {.label = pen.words("as_second.not_now")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  constexpr flow::RateAs kAnswers[] = {flow::RateAs::kFirst, flow::RateAs::kSecond,
                                       flow::RateAs::kNotNow};
  if (tapped) pen.send(flow::AnswerAsSecond{kAnswers[*tapped]});
}

void draw_stay_out(const Pen& pen, const flow::NoEntryView& view) {
  auto group = pen.ui.group("No entry");
  const std::string title = view.until.empty()
                                ? pen.words.fill("no_entry.title.not_known", {view.trial, view.on})
                                : pen.words.fill("no_entry.title", {view.trial, view.until});
  std::string text = view.material.empty()
                         ? pen.words.fill("no_entry.sprayed", {view.on})
                         : pen.words.fill("no_entry.sprayed.with", {view.on, view.material});
  if (!view.block.empty()) text += " " + pen.words.fill("no_entry.block", {view.block});
  text += " " + std::string(pen.words(view.beside ? "no_entry.beside.text" : "no_entry.text"));
  const std::vector<touch::Key> answers{
      {.label = pen.words("no_entry.stay_out"), .style = touch::Style::kAction},
      {.label = pen.words(view.beside ? "no_entry.beside.go_in" : "no_entry.go_in")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerNoEntry{*tapped == 1});
}

void draw_closing(const Pen& pen, const flow::ClosingView& view) {
  auto group = pen.ui.group("Close");
  constexpr std::size_t kPlotsNamed = 24;
  const auto open = static_cast<std::int64_t>(view.open.size());
  const std::string title = view.open.empty() ? pen.words.fill("closing.look", {view.trial_code})
                                              : pen.words.count("closing.title", open);
  std::string text;
  if (!view.open.empty())
    text = pen.words.fill(view.second ? "closing.second" : "closing.text",
                          {view.trial_code, joined(plot_runs(view.open), kPlotsNamed)});
  for (const flow::ClosingLook& look : view.looks) {
    std::vector<std::string> arguments = look.arguments;
    if (!look.measure.empty()) arguments.insert(arguments.begin(), measure_name(pen, look.measure));
    text +=
        (text.empty() ? "" : "\n") + pen.words.fill(flow::Words{"closing." + look.rule, arguments});
  }
  const std::vector<touch::Key> answers{
      {.label = pen.words("closing.no"), .style = touch::Style::kAction},
      {.label = pen.words("closing.close")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerClosing{*tapped == 1});
}

void draw_moving(const Pen& pen, const flow::MovingView& view) {
  auto group = pen.ui.group("Moving");
  const std::string load = view.load.shown + "\u00a0" + view.load.unit;
  const std::string seconds = std::to_string(view.seconds);
  if (view.averaging) {
    const std::vector<touch::Key> answers{{.label = pen.words("moving.cancel")}};
    const std::string text = pen.words.fill("moving.averaging", {seconds, load});
    if (touch::question(
            pen.ui,
            {.title = pen.words("moving.averaging.title"), .text = text, .answers = answers}))
      pen.send(flow::AnswerMoving{false});
    return;
  }
  if (view.wide) {
    const flow::AveragedLoad& mean = *view.wide;
    const std::vector<touch::Key> answers{
        {.label = pen.words("moving.again"), .style = touch::Style::kAction},
        {.label = pen.words("moving.keep")}};
    const std::string text = pen.words.fill(
        "moving.wide",
        {mean.entered + "\u00a0" + mean.unit, mean.lowest, mean.highest + "\u00a0" + mean.unit});
    const auto tapped = touch::question(
        pen.ui, {.title = pen.words("moving.wide.title"), .text = text, .answers = answers});
    if (tapped) pen.send(flow::AnswerMoving{*tapped == 1});
    return;
  }
  const std::string average = pen.words.fill("moving.average", {seconds});
  const std::vector<touch::Key> answers{
      {.label = pen.words("moving.wait"), .style = touch::Style::kAction}, {.label = average}};
  const std::string text = pen.words.fill("moving.text", {load, seconds});
  const auto tapped = touch::question(
      pen.ui, {.title = pen.words("moving.title"), .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerMoving{*tapped == 1});
}

void draw_splitting(const Pen& pen, const flow::SplittingView& view) {
  auto group = pen.ui.group("Split");
  const bool leaving = view.machine.empty();
  const std::string title =
      pen.words.fill("split.title", {std::to_string(view.block), number(view.open)});
  std::string text;
  if (!leaving) text = pen.words.fill("split.begun_with", {view.machine}) + " ";
  text += pen.words("split.text");
  std::vector<touch::Key> answers{
      {.label = pen.words(leaving ? "split.finish" : "split.same_machine"),
       .style = touch::Style::kAction},
      {.label = pen.words("split.machine")}};
  if (leaving) answers.push_back({.label = pen.words("split.stop")});
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  constexpr flow::SplitAnswer kAnswers[] = {flow::SplitAnswer::kFinish, flow::SplitAnswer::kMachine,
                                            flow::SplitAnswer::kStop};
  if (tapped) pen.send(flow::AnswerSplit{kAnswers[*tapped]});
}

void draw_low_stubble(const Pen& pen, const flow::LowStubbleView& view) {
  auto group = pen.ui.group("Low");
  const std::string title = pen.words.fill("low_stubble.title", {view.setting, view.least});
  const std::vector<touch::Key> answers{
      {.label = pen.words("low_stubble.change"), .style = touch::Style::kAction},
      {.label = pen.words("phrase.go_on_low")}};
  const auto tapped = touch::question(
      pen.ui, {.title = title, .text = pen.words("low_stubble.text"), .answers = answers});
  if (tapped) pen.send(flow::AnswerLowStubble{*tapped == 1});
}

// The plots of the cutting that is open, then those of others, a line each.
std::string doubted_plots(const Pen& pen, const flow::DoubtedView& view) {
  constexpr std::size_t kPlotsNamed = 24;
  constexpr std::size_t kCuttingsNamed = 3;  // besides the one that is open
  const std::size_t others = std::min(view.elsewhere.size(), kCuttingsNamed);
  const std::size_t each = kPlotsNamed / (others + 1);
  const std::string here = joined(plot_runs(view.plots), each);
  if (others == 0) return " " + here;
  std::string lines;
  if (!view.plots.empty()) lines += "\n" + pen.words.fill("doubted.here", {here});
  for (const flow::DoubtedElsewhere& other : std::span(view.elsewhere).first(others)) {
    lines += "\n" + pen.words.fill("doubted.elsewhere", {other.trial, std::to_string(other.cutting),
                                                         joined(plot_runs(other.plots), each)});
  }
  if (view.elsewhere.size() > others) lines += " \xE2\x80\xA6";
  return lines;
}

void draw_doubted(const Pen& pen, const flow::DoubtedView& view) {
  auto group = pen.ui.group("Doubted");
  const std::string title = pen.words.fill(view.was ? "doubted.title.was" : "doubted.title.is",
                                           {view.off, view.allowance});
  if (view.weights == 0) {
    const std::vector<touch::Key> answers{
        {.label = pen.words("caution.read"), .style = touch::Style::kAction}};
    if (touch::question(pen.ui,
                        {.title = title, .text = pen.words("doubted.none"), .answers = answers}))
      pen.send(flow::AnswerDoubted{false});
    return;
  }
  const auto weights = static_cast<std::int64_t>(view.weights);
  const std::string text = (view.was ? pen.words.fill("doubted.when", {view.when}) + " " +
                                           pen.words.count("doubted.unanswered", weights)
                                     : pen.words.count("doubted.weights", weights)) +
                           doubted_plots(pen, view);
  const std::vector<touch::Key> answers{
      {.label = pen.words("phrase.hold_them"), .style = touch::Style::kAction},
      {.label = pen.words("phrase.stand_by_them")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerDoubted{*tapped == 0});
}

void draw_swapped(const Pen& pen, const flow::SwappedView& view) {
  auto group = pen.ui.group("Swapped");
  const std::string title = pen.words.fill("swapped.title", {view.one, view.other});
  const std::string text =
      pen.words.fill("swapped.text", {view.one, view.one_weight, view.other, view.other_weight});
  const std::vector<touch::Key> answers{
      {.label = pen.words("swapped.leave"), .style = touch::Style::kAction},
      {.label = pen.words("swapped.exchange")}};
  const auto tapped = touch::question(pen.ui, {.title = title, .text = text, .answers = answers});
  if (tapped) pen.send(flow::AnswerSwapped{*tapped == 1});
}

void draw_unsaved(const Pen& pen, const flow::UnsavedView& view) {
  auto group = pen.ui.group("Not saved");
  constexpr std::size_t kPlotsNamed = 8;
  std::string text = pen.words.count("unsaved.values", static_cast<int>(view.acts));
  if (!view.plots.empty())
    text += " " + pen.words.fill("unsaved.plots", {joined(plot_runs(view.plots), kPlotsNamed)});
  text += "\n" + pen.words.error(view.error);
  const std::vector<touch::Key> answers{
      {.label = pen.words("unsaved.retry"), .style = touch::Style::kAction},
      {.label = pen.words("unsaved.drop")}};
  const auto tapped = touch::question(
      pen.ui, {.title = pen.words("unsaved.title"), .text = text, .answers = answers});
  if (!tapped) return;
  if (*tapped == 0)
    pen.send(flow::RetryUnsaved{});
  else
    pen.send(flow::DropUnsaved{});
}

}  // namespace

void draw_overlay(const Pen& pen, const flow::Overlay& overlay) {
  if (overlay.lock)
    draw_lock(pen, *overlay.lock);
  else if (overlay.unsaved)
    draw_unsaved(pen, *overlay.unsaved);
  else if (overlay.cautions)
    draw_cautions(pen, *overlay.cautions);
  else if (overlay.splitting)
    draw_splitting(pen, *overlay.splitting);
  else if (overlay.low_stubble)
    draw_low_stubble(pen, *overlay.low_stubble);
  else if (overlay.doubted)
    draw_doubted(pen, *overlay.doubted);
  else if (overlay.swapped)
    draw_swapped(pen, *overlay.swapped);
  else if (overlay.moving)
    draw_moving(pen, *overlay.moving);
  else if (overlay.no_entry)
    draw_stay_out(pen, *overlay.no_entry);
  else if (overlay.as_second)
    draw_as_second(pen, *overlay.as_second);
  else if (overlay.early)
    draw_early(pen, *overlay.early);
  else if (overlay.closing)
    draw_closing(pen, *overlay.closing);
  else if (overlay.question)
    draw_question(pen, *overlay.question);
}

}  // namespace ligule::screens
