// The question which stake one sees.
#include "app/flow/stake.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {

StakeCard stake_card(const Model& model, const Book& book) {
  StakeCard card;
  const std::size_t at = book.present;
  if (book.slipped) {
    const Slipped& run = *book.slipped;
    card.slipped = SlippedView{run.expected, book.plots.at(at).number, run.from, run.to};
  } else if (stake_asked(model, book)) {
    StakeQuestionView question;
    question.expected = book.plots.at(at).number;
    if (at > 0) question.before = book.plots.at(at - 1).number;
    if (at + 1 < book.plots.size()) question.after = book.plots.at(at + 1).number;
    question.other = book.stake.other;
    question.typed = book.stake.keypad.text(Field::kPlot);
    card.question = std::move(question);
  }
  return card;
}

}  // namespace ligule::flow
