// Views as flow would give them: a station that does not exist, in the states a screen can be in.
#pragma once

#include "app/flow/views.h"
#include "app/screens/language.h"

namespace ligule::screens::tests {

// assets/words/en.json and es.json.
[[nodiscard]] const Language& english();
[[nodiscard]] const Language& spanish();

[[nodiscard]] flow::HeadView sample_head();

[[nodiscard]] flow::SignInView sample_sign_in(std::size_t people);

[[nodiscard]] flow::SignInView sample_hand_over(bool after_rest);

[[nodiscard]] flow::TodayView empty_today();
[[nodiscard]] flow::TodayView busy_today();
[[nodiscard]] flow::TodayView finished_today();
[[nodiscard]] flow::TodayView earlier_today(bool shown);

// Maturity on its scale, with the step that stands; empty: none does.
[[nodiscard]] flow::MeasureView grass_stages(const std::string& value);
[[nodiscard]] flow::MeasureView legume_stages(const std::string& value);

// A rating of 24 entries in 4 blocks, at the 38th plot. focus: place of the open measure among
// stand, vigor, maturity, stubble; none: the plot is rated.
[[nodiscard]] flow::RateView sample_rate(std::optional<std::size_t> focus);
[[nodiscard]] flow::RateView legume_rate();
[[nodiscard]] flow::RateView tens_rate();
[[nodiscard]] flow::RateView fine_rate();
[[nodiscard]] flow::RateView broadcast_rate();
// Names unlocked, and this one is long.
[[nodiscard]] flow::RateView named_rate(std::optional<std::size_t> focus);
[[nodiscard]] flow::RateView finished_rate();
[[nodiscard]] flow::RateView note_rate();
[[nodiscard]] flow::RateView long_names_rate();
// The stake is asked for; its number is typed; values may have slipped.
[[nodiscard]] flow::RateView stake_rate();
[[nodiscard]] flow::RateView stake_number_rate();
[[nodiscard]] flow::RateView slipped_rate();
// A rating of one score: winter_injury, lodging or disease, of `steps` steps.
[[nodiscard]] flow::RateView score_rate(const std::string& scale, int steps);
[[nodiscard]] flow::RateView own_score_rate();  // that a program defined itself
// Pads of several numbers and of dates.
[[nodiscard]] flow::RateView height_rate(bool kept);
[[nodiscard]] flow::RateView cover_rate();
[[nodiscard]] flow::RateView cover_full_rate();
[[nodiscard]] flow::RateView counts_rate(bool legume);
[[nodiscard]] flow::RateView frame_rate(bool kept);
[[nodiscard]] flow::RateView heading_rate(int plots);

[[nodiscard]] flow::HarvestView run_head(bool letters);
[[nodiscard]] flow::HarvestView weighing(flow::Field focused);
[[nodiscard]] flow::HarvestView weighing_done();
[[nodiscard]] flow::HarvestView stake_weighing();
[[nodiscard]] flow::HarvestView slipped_weighing();

[[nodiscard]] flow::DryView dry_empty();
[[nodiscard]] flow::DryView dry_many();
[[nodiscard]] flow::DryView dry_oven();
[[nodiscard]] flow::DryView dry_weighing();

// Samples are sorted by hand: which one, its whole, a part of it, all said; which cutting's.
[[nodiscard]] flow::SortingView sorting_plots();
[[nodiscard]] flow::SortingView sorting_whole();
[[nodiscard]] flow::SortingView sorting_part();
[[nodiscard]] flow::SortingView sorting_done();
[[nodiscard]] flow::DryView dry_cuttings();
// The weeds by eye, at the scale and on a card.
[[nodiscard]] flow::HarvestView weeds_weighing();
[[nodiscard]] flow::RateView weeds_rate();

[[nodiscard]] flow::DaysEndView days_end_open();
[[nodiscard]] flow::DaysEndView days_end_sealed();
[[nodiscard]] flow::DaysEndView days_end_failed();
[[nodiscard]] flow::DaysEndView days_end_not_sealed();
[[nodiscard]] flow::DaysEndView days_end_copied();

// The map of 24 plots in each of 4 field rows, and of a square field.
[[nodiscard]] flow::ReviewView review_stand();
[[nodiscard]] flow::ReviewView review_weights();
[[nodiscard]] flow::ReviewView review_wide();  // 24 columns of long weights
[[nodiscard]] flow::ReviewView review_compared();
[[nodiscard]] flow::ReviewView review_list();
[[nodiscard]] flow::ReviewView review_questions();  // one kept anyway, with neighbours
[[nodiscard]] flow::ReviewView review_on_hold();    // one on hold against another value, the last
[[nodiscard]] flow::ReviewView review_settled();    // none is left
[[nodiscard]] flow::ReviewView review_agreement();
[[nodiscard]] flow::ReviewView review_changed_raters();  // on the way through the blocks
// Of whoever is not done with a second rating.
[[nodiscard]] flow::ReviewView review_hidden();
[[nodiscard]] flow::ReviewView review_hidden_history();
[[nodiscard]] flow::ReviewView review_history();
[[nodiscard]] flow::ReviewView mend_amount();
// A run of twelve plots goes one plot on; a whole path of a cutting back, off its beginning; a run
// that can't go; nothing chosen yet.
[[nodiscard]] flow::ReviewView slide_on();
[[nodiscard]] flow::ReviewView slide_off();
[[nodiscard]] flow::ReviewView slide_refused();
[[nodiscard]] flow::ReviewView slide_begun();
[[nodiscard]] flow::ReviewView mend_stage();
[[nodiscard]] flow::ReviewView mend_conflict();
[[nodiscard]] flow::ReviewView mend_zero();  // that is to be confirmed

// For a person who chose little, and with a bank card held against the bar.
// sample_load.cc
[[nodiscard]] flow::HarvestView load_weighing(flow::LoadState state, bool net = false);
[[nodiscard]] flow::TabletView scale_unplugged();
[[nodiscard]] flow::HarvestView check_weighing(bool typing);
[[nodiscard]] flow::HarvestView no_weight_weighing();
[[nodiscard]] flow::HarvestView more_weighing();
[[nodiscard]] flow::HarvestView kinds_weighing();
[[nodiscard]] flow::HarvestView swath_weighing();
[[nodiscard]] flow::Overlay swapped_overlay();
[[nodiscard]] flow::HarvestView low_run_head();  // what that asks about
[[nodiscard]] flow::Overlay low_stubble_overlay();
[[nodiscard]] flow::Overlay splitting_overlay(const std::string& machine);
[[nodiscard]] flow::HarvestView gauge_weighing(double place, bool any,
                                               const std::string& plot = {});
[[nodiscard]] flow::Overlay cautions_overlay(bool harvest);
[[nodiscard]] flow::TabletView tablet_key(bool code);
[[nodiscard]] flow::TabletView tablet_cautions();
[[nodiscard]] flow::Overlay doubted_overlay(bool any);
[[nodiscard]] flow::Overlay doubted_elsewhere_overlay();
[[nodiscard]] flow::Overlay wide_mean_overlay();
[[nodiscard]] flow::Overlay moving_overlay(bool averaging);
[[nodiscard]] flow::TabletView scale_setup(bool plugged);
[[nodiscard]] flow::TabletView tablet_view();
[[nodiscard]] flow::TabletView tablet_measuring(double bar_px);
// sample_practice.cc
[[nodiscard]] flow::PracticeView practice_rating(bool drilled);
[[nodiscard]] flow::PracticeView practice_result(flow::RatesHow how, bool drilled);
[[nodiscard]] flow::TrialsView trials_list();
[[nodiscard]] flow::TrialsView trial_plots();
[[nodiscard]] flow::TrialsView trial_entries(bool hidden);
[[nodiscard]] flow::TrialsView trial_soil();
[[nodiscard]] flow::TrialsView trial_soil_long();
[[nodiscard]] flow::TrialsView trial_events();
[[nodiscard]] flow::TrialsView event_back();
[[nodiscard]] flow::TrialsView trial_without_events();
[[nodiscard]] flow::TrialsView sown_form(bool holds);
[[nodiscard]] flow::TrialsView sown_exchanged(bool typing);
// sample_sown.cc
[[nodiscard]] flow::RateView stated_rate();
[[nodiscard]] flow::HarvestView stated_weighing();
// Somebody named a plot that was abandoned.
[[nodiscard]] flow::TrialsView abandoned_plot();
[[nodiscard]] flow::Overlay abandoned_overlay();
[[nodiscard]] flow::TodayView stick_today(bool empty);
[[nodiscard]] flow::TodayView nothing_due_today();
[[nodiscard]] flow::TrialsView stick_trials();
[[nodiscard]] flow::TrialsView plan_revision();
[[nodiscard]] flow::TrialsView two_revisions();  // of which the tablet has neither
// A plan that is older than the tablet's, or than another one on a stick.
[[nodiscard]] flow::TrialsView older_plan(bool here);
[[nodiscard]] flow::TrialsView new_event_form();
[[nodiscard]] flow::TrialsView event_form(bool writing);
// writing: key of the field the keyboard or the digits are up for; empty: none.
[[nodiscard]] flow::TrialsView spray_form(std::string_view writing);
[[nodiscard]] flow::TrialsView spray_until_form();
[[nodiscard]] flow::TrialsView grazing_form(bool writing);
[[nodiscard]] flow::TodayView sprayed_today(std::size_t sprays);
[[nodiscard]] flow::Overlay stay_out_overlay(bool known, bool beside = false);
[[nodiscard]] flow::TrialsView plan_folders(bool some);
[[nodiscard]] flow::TrialsView found_copies();
[[nodiscard]] flow::TrialsView found_files();
[[nodiscard]] flow::TrialsView offered_file(bool known);
[[nodiscard]] flow::TrialsView file_faulty();
[[nodiscard]] flow::TrialsView offered_copy(bool reading);
[[nodiscard]] flow::TrialsView plan_checked();
[[nodiscard]] flow::TrialsView plan_faulty();

[[nodiscard]] flow::Overlay question_overlay();
[[nodiscard]] flow::Overlay dry_matter_overlay();
[[nodiscard]] flow::Overlay tare_overlay();     // none was given
[[nodiscard]] flow::Overlay stubble_overlay();  // measured too low
[[nodiscard]] flow::Overlay unsaved_overlay();
[[nodiscard]] flow::Overlay locked_overlay(bool first, bool not_saved = false);
[[nodiscard]] flow::RateView not_saved_rate();  // as its head says
[[nodiscard]] flow::Overlay early_overlay();
[[nodiscard]] flow::Overlay closing_overlay();
[[nodiscard]] flow::Overlay closing_looks_overlay();
[[nodiscard]] flow::Overlay closing_second_overlay();
[[nodiscard]] flow::Overlay rated_twice_overlay();
[[nodiscard]] flow::Overlay unexpected_overlay();
[[nodiscard]] flow::Overlay as_second_overlay(bool finished);
[[nodiscard]] flow::RateView put_off_rate();
// The card of a second person. focus: as of sample_rate.
[[nodiscard]] flow::RateView second_rate(std::optional<std::size_t> focus);

// Battery or storage do not reach for what is open.
[[nodiscard]] flow::TodayView low_today();
[[nodiscard]] flow::TodayView new_key_today();
[[nodiscard]] flow::RateView low_rate();
[[nodiscard]] flow::HarvestView low_weighing();
[[nodiscard]] flow::Overlay notice_overlay();
[[nodiscard]] flow::Overlay good_notice_overlay();
[[nodiscard]] flow::Overlay long_notice_overlay();  // too long for a strip on small glass

}  // namespace ligule::screens::tests
