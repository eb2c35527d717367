// What the screens share: what they draw with, and the pieces that stand on several of them.
// Inside this room only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/screens.h"

namespace ligule::screens {

struct Pen {
  touch::Ui& ui;
  const Language& words;
  Scratch& scratch;
  std::vector<flow::Intent>& out;
  const std::optional<flow::NoticeView>& notice;
  const flow::OwnNames* own_names = nullptr;  // of the trial that the screen is about

  template <class Intent>
  void send(Intent intent) const {
    out.emplace_back(std::move(intent));
  }
};

// One function a screen, one file each.
void draw_starting(const Pen& pen, const flow::StartingView& view);
void draw_sign_in(const Pen& pen, const flow::SignInView& view);
void draw_today(const Pen& pen, const flow::TodayView& view);
void draw_rate(const Pen& pen, const flow::RateView& view);
void draw_harvest(const Pen& pen, const flow::HarvestView& view);
void draw_dry(const Pen& pen, const flow::DryView& view);
void draw_sorting(const Pen& pen, const flow::SortingView& view);
void draw_review(const Pen& pen, const flow::ReviewView& view);
void draw_trials(const Pen& pen, const flow::TrialsView& view);
void draw_days_end(const Pen& pen, const flow::DaysEndView& view);
void draw_tablet(const Pen& pen, const flow::TabletView& view);
void draw_practice(const Pen& pen, const flow::PracticeView& view);
// Cautions over the screen until they are read, and on a page of their own.
void draw_cautions(const Pen& pen, const flow::CautionsView& view);
// The tablet's key (tablet_key.cc).
void draw_key_page(const Pen& pen, const touch::Rect& rect, const flow::KeyView& view);
void draw_cautions_page(const Pen& pen, const touch::Rect& rect,
                        const std::vector<std::string>& codes);
// The key that locks the glass, and what lies over everything then.
void draw_lock_key(const Pen& pen, const touch::Rect& rect);
void draw_lock(const Pen& pen, const flow::LockView& view);
// Question and NOT SAVED lie over everything; draw last.
void draw_overlay(const Pen& pen, const flow::Overlay& overlay);

// --- small things
[[nodiscard]] touch::Shape shape_of(flow::Mark mark);
[[nodiscard]] std::string number(std::size_t n);
// A note as it is read: phrases kept by their code stand in it in square brackets (FORMAT.md 5).
[[nodiscard]] std::string note_text(const Pen& pen, std::string_view entered);
// A code as it is shown: as recorded, or what stands for one that is an English word.
[[nodiscard]] std::string shown_code(const Pen& pen, const std::string& code);
// The label of its key: found by what is shown, told apart by the code.
[[nodiscard]] std::string code_label(const Pen& pen, const std::string& code);
// What people call a measure; its code where the program has no words for it.
[[nodiscard]] std::string measure_name(const Language& words, std::string_view code);
// Among measures that a program may have named itself.
[[nodiscard]] std::string measure_name(const Language& words, std::string_view code,
                                       const flow::OwnNames& own);
[[nodiscard]] std::string measure_name(const Pen& pen, std::string_view code);
// The page of a screen that needs every millimetre: a margin of 3 mm, and close_gap() between its
// pieces, which stand_close() makes them answer in; next to a pad the usual gap stays.
[[nodiscard]] touch::Rect full_page(const touch::Ui& ui);

// Height or width that a number pad of four keys takes.
[[nodiscard]] float own_pad(const touch::Ui& ui);
// A page held wide, cut into a number pad at the hand that taps and the room beside it.
struct PadBeside {
  touch::Rect pad;
  touch::Rect words;
};
[[nodiscard]] PadBeside pad_beside(const touch::Ui& ui);
// The same held either way: upright the pad takes the lower half, as much as its keys want.
[[nodiscard]] PadBeside pad_and_words(const touch::Ui& ui);
// Small glass and gloves: twelve keys of a number pad, the erasing one elsewhere, at the hand that
// taps; beside them a column for words (held upright one for keys), above them what is left.
[[nodiscard]] bool small_for_gloves(const touch::Ui& ui);
// A column beside the pad, a little way into the page's outer margin: words need the room.
[[nodiscard]] touch::Rect outwards(const touch::Ui& ui, const touch::Rect& column);
struct GlovePage {
  touch::Rect above;
  touch::Rect beside;
  touch::Rect pad;
};
[[nodiscard]] GlovePage glove_page(const touch::Ui& ui);
// Equal parts side by side; where one needs more it gets that, and the others share the rest.
[[nodiscard]] std::vector<touch::Rect> split_by_need(const touch::Rect& rect,
                                                     const std::vector<float>& needed, float gap);
// Fields of numbers, dense, in lines of that many; the one with the keyboard gets the room of a
// long number.
void draw_fields(const Pen& pen, const touch::Rect& rect,
                 const std::vector<flow::FieldView>& fields, const std::vector<std::size_t>& lines,
                 touch::Font font = touch::Font::kValue);
[[nodiscard]] float close_gap(const touch::Ui& ui);
void stand_close(touch::Ui& ui);

// A rating or cutting as people call it.
[[nodiscard]] std::string occasion_words(const Language& words, const flow::OccasionName& name);

// A line of text in a colour of its own, where a Text would be spelled out.
struct Line {
  touch::Font font = touch::Font::kBody;
  touch::Tone tone = touch::Tone::kInk;
  touch::Align across = touch::Align::kStart;
};
void line(const Pen& pen, const touch::Rect& rect, std::string_view text, const Line& line = {});

// Clock, state of saving, and the initials as a key that hands the tablet over. Takes what it needs
// from the right end of the strip and gives back the rest.
touch::Rect draw_status(const Pen& pen, const touch::Rect& strip, const flow::HeadView& head);

// What that takes, so that a head knows whether its title still has room beside it.
[[nodiscard]] float status_width(const Pen& pen, const flow::HeadView& head);

// The same where there is room for little: initials and, if it fits, the clock.
touch::Rect draw_short_status(const Pen& pen, const touch::Rect& strip, const flow::HeadView& head,
                              float keep_free = 0);
// What initials as a key take, up to a limit.
[[nodiscard]] float hand_key_width(const touch::Ui& ui, std::string_view initials);

// Battery or storage that do not reach, as one calm line: a sign and words.
void draw_warning(const Pen& pen, const touch::Rect& rect, const flow::Words& words);

// The initials as a key that hands the tablet over.
void draw_hand_key(const Pen& pen, const touch::Rect& rect, std::string_view initials);

// Head of a screen: way back, title and note left, status right.
struct Title {
  std::string_view title;
  std::string_view note = {};
  bool note_may_cut = false;  // a person's own words, however long
  bool back = false;
  bool tablet = false;  // instead of the way back: the key to the tablet's own screen
};
// True when the way back (or that key) was tapped. Takes the notice's place while there is one.
[[nodiscard]] bool draw_head(const Pen& pen, const touch::Rect& rect, const Title& title,
                             const flow::HeadView& head);

// Why something was refused, until the next tap. draw_notice() draws nothing when there is none;
// what has no room there comes on a card over the screen, drawn last.
[[nodiscard]] bool has_notice(const Pen& pen);
void draw_notice(const Pen& pen, const touch::Rect& rect);
void draw_notice_card(const Pen& pen);

// The way from plot to plot.
void draw_lane(const Pen& pen, const touch::Rect& rect, const std::vector<flow::StakeView>& lane,
               std::size_t present);

// Left and right on a keyboard: one plot along the path.
void walk_by_arrow(const Pen& pen, platform::HardKey key, const std::vector<flow::StakeView>& lane,
                   std::size_t present);

// The key that takes back, as a sign where it is too low for the words.
void draw_take_back(const Pen& pen, const touch::Rect& rect, bool enabled);

// The number of the plot alone, in one of the types that are 7 mm and more. It has no descenders: a
// strip may be as low as its digits. Beside it, where it has room, a sign of what stands there.
void draw_plot_number(const Pen& pen, const touch::Rect& strip, std::string_view plot,
                      touch::Font font, const flow::StandsView& stands);
// The same as large as the strip allows, and words beside or below it.
void draw_plot(const Pen& pen, const touch::Rect& strip, std::string_view plot,
               std::string_view place, const flow::StandsView& stands);

// Which stake one sees, in the place of the pad. While its number is typed the pad is the screen's
// own: nothing is drawn then.
void draw_stake_card(const Pen& pen, const touch::Rect& rect, const flow::StakeCard& card);
// Back on a card: from typing a stake's number to the stakes offered, else to Today.
void leave_card(const Pen& pen, const flow::StakeCard& card);

// Keys of the number pad or the letters, as intents.
void send_keys(const Pen& pen, const std::vector<touch::PadKey>& keys);
// The keyboard with its words.
void draw_keyboard(const Pen& pen, const touch::Rect& rect, std::string_view done);

// A field of a form.
void draw_field(const Pen& pen, const touch::Rect& rect, const flow::FieldView& field,
                touch::FieldForm form, touch::Font font = touch::Font::kTitle);

}  // namespace ligule::screens
