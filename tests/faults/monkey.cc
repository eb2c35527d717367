#include "tests/faults/monkey.h"

#include <algorithm>
#include <chrono>
#include <thread>

#include "app/flow/book.h"
#include "app/flow/views.h"
#include "storage/files/plan_folder.h"
#include "tests/app/program/scale_crew.h"

namespace ligule::faults {
namespace {

using platform::FingerMove;
using platform::Point;
using platform::Window;
using program_test::need;

constexpr platform::Size kGlass{1200, 1920};
constexpr double kPpi = 226;
constexpr std::size_t kRemembered = 40;

// Two blocks of six plots: whole before long. Every kind of pad, a cutting with bags.
Plan small_plan(const std::string& code) {
  Plan plan = program_test::InventedSite::plan();
  plan.codes.trial = code;
  plan.entries.resize(6);
  std::erase_if(plan.plots, [](const PlanPlot& plot) { return plot.column > 6; });
  std::ranges::sort(plan.plots, {}, [](const PlanPlot& plot) { return plot.path; });
  int path = 0;
  for (PlanPlot& plot : plan.plots) plot.path = ++path;
  plan.occasions = {{"2026-stand",
                     Job::kRate,
                     2026,
                     0,
                     {"percent_stand", "seedling_vigor", "stubble_height", "plant_height_canopy"},
                     std::nullopt},
                    {"2026-more",
                     Job::kRate,
                     2026,
                     0,
                     {"ground_cover", "stage_counts", "frequency_grid", "heading_date"},
                     std::nullopt},
                    {"cut-1",
                     Job::kHarvest,
                     2026,
                     1,
                     {"gross_weight", "tare_weight", "bag_number", "sample_fresh", "sample_dry",
                      "separated_fresh", "part_bag"},
                     std::nullopt}};
  return plan;
}

// Something to load, and a stick to copy to.
void put_plan_beside(const program_test::InventedSite& site) {
  const auto files = files::real_file_system();
  const auto schemas = files::load_plan_schemas(*files, LIGULE_SOURCE_ASSETS).value();
  if (!files::write_plan_folder(*files, site.file("plans/new"), small_plan("NEW"), schemas))
    std::abort();
  std::filesystem::create_directories(site.file("media/STICK"));
}

std::vector<RecordId> ids_of(const flow::Act& act) {
  std::vector<RecordId> ids;
  ids.reserve(act.records.size());
  for (const Record& record : act.records) ids.push_back(record.id);
  return ids;
}

}  // namespace

// --- slow commits

work::AppendCall SlowCommits::call() {
  return [this](ledger::Ledger& ledger, std::vector<Record> records) -> Result<void> {
    bool fails = false;
    {
      std::unique_lock lock(mutex_);
      due_ms_ = now_ms_ + static_cast<std::int64_t>(random_() % (kSlowestMs + 1));
      const bool draw = random_() % kOneFailsIn == 0;
      waiting_ = true;
      moved_.wait(lock, [&] { return !slow_ || now_ms_ >= due_ms_; });
      waiting_ = false;
      fails = draw && slow_;
      if (fails) ++failed_;
    }
    if (fails)
      return fail(ErrorKind::kIo, "no space is left where the ledger lies", {}, "make room");
    auto kept = work::plain_append()(ledger, std::move(records));
    const std::lock_guard lock(mutex_);
    ++(kept ? kept_ : failed_);
    return kept;
  };
}

void SlowCommits::pass(std::int64_t ms) {
  {
    const std::lock_guard lock(mutex_);
    now_ms_ += ms;
  }
  moved_.notify_all();
}

void SlowCommits::be_slow(bool slow) {
  {
    const std::lock_guard lock(mutex_);
    slow_ = slow;
  }
  moved_.notify_all();
}

bool SlowCommits::waits() {
  const std::lock_guard lock(mutex_);
  return waiting_ && slow_ && now_ms_ < due_ms_;
}
std::uint64_t SlowCommits::kept() {
  const std::lock_guard lock(mutex_);
  return kept_;
}
std::uint64_t SlowCommits::failed() {
  const std::lock_guard lock(mutex_);
  return failed_;
}

// --- what is done

Monkey::Monkey(const Start& start, std::uint64_t seed)
    : seed_(seed),
      random_(seed),
      name_(start.name),
      media_("LIGULE_MEDIA", site_.file("media")),
      weighs_(start.scale),
      commits_(seed + 1) {
  put_plan_beside(site_);
  site_.enrol(small_plan("STAND"));
  if (weighs_) program_test::plug_in(site_, scale_.path());
  tablet_ = std::make_unique<program_test::LiveTablet>(site_, kGlass, kPpi, true, commits_.call());
  ledger_ = need(ledger::Ledger::open(site_.ledger(), ledger::Access::kReadOnly));
  start_fault_ = tablet_->play(start.lines);
  commits_.be_slow(true);
}

Monkey::~Monkey() {
  commits_.be_slow(false);
}

void Monkey::did(std::string what) {
  if (done_.size() == kRemembered) done_.pop_front();
  done_.push_back(std::move(what));
}

void Monkey::pass(std::int64_t ms) {
  tablet_->clock().pass(ms);
  commits_.pass(ms);
}

void Monkey::read() {
  pass(touch::kUnreadMs);
  settle();
}

void Monkey::settle() {
  while (true) {
    auto drew = tablet_->loop().turn();
    if (!drew) std::abort();
    if (*drew) continue;
    if (!tablet_->at_work()) return;
    if (commits_.waits()) break;
    tablet_->window().wait(1);
  }
  // What came back just before the writer began to wait.
  while (tablet_->loop().turn().value()) {
  }
}

bool Monkey::act() {
  let_go_ = false;
  const auto kind = random_() % 100;
  bool tapped = true;
  if (kind < 80) {
    tapped = tap();
  } else if (kind < 84) {
    tapped = tap() && tap();  // before a frame shows what the first did
  } else if (kind < 87) {
    tap_anywhere();
  } else if (kind < 92) {
    type();
    tapped = false;
  } else if (kind < 94) {
    scan();
    tapped = false;
  } else if (weighs_ || kind > 97) {
    weigh();
    tapped = false;
  } else {
    stroke();
    tapped = false;
  }
  // Sometimes it lies about for a while, so that it asks who has it.
  pass(random_() % 80 == 0 ? 2'400'000 : static_cast<std::int64_t>(random_() % 400));
  settle();
  return tapped;
}

bool Monkey::tap() {
  // A panel takes no tap before somebody could have read it; mostly it is read.
  const bool panel = std::ranges::any_of(
      tablet_->seen().widgets, [](const touch::Widget& widget) { return widget.layer > 0; });
  if (panel && random_() % 4 != 0) read();
  std::vector<const touch::Widget*> keys;
  const touch::Register& seen = tablet_->seen();
  keys.reserve(seen.widgets.size());
  for (const touch::Widget& widget : seen.widgets)
    if (touch::tappable(widget.kind) && widget.enabled && touch::visible(widget))
      keys.push_back(&widget);
  if (keys.empty()) return false;
  const touch::Widget& key = *keys[random_() % keys.size()];
  did("tap \"" + key.group + "/" + key.label + "\"");
  let_go_ = let_go_ || key.label == "Let them go";
  const Point at = touch::visible_part(key).centre();
  const platform::Size size = tablet_->window().size();
  Window::push_finger(FingerMove::kDown, at, size);
  Window::push_finger(FingerMove::kUp, at, size);
  return true;
}

void Monkey::tap_anywhere() {
  const platform::Size size = tablet_->window().size();
  const Point at{static_cast<float>(random_() % static_cast<unsigned>(size.width)),
                 static_cast<float>(random_() % static_cast<unsigned>(size.height))};
  did("tap at " + std::to_string(at.x) + "," + std::to_string(at.y));
  let_go_ = true;  // it may lie there
  Window::push_finger(FingerMove::kDown, at, size);
  Window::push_finger(FingerMove::kUp, at, size);
}

void Monkey::type() {
  constexpr std::string_view kLetters = "0123456789.0123456789ABab-/ ";
  std::string text;
  for (auto left = 1 + random_() % 4; left > 0; --left)
    text += kLetters[random_() % kLetters.size()];
  const auto key = static_cast<platform::HardKey>(random_() % 9);
  did("type \"" + text + "\" and key " + std::to_string(static_cast<int>(key)));
  Window::push_text(text);
  Window::push_key(random_() % 2 == 0 ? platform::HardKey::kEnter : key);
}

// A reader types the number of a stake and ends the line; some codes are of no plot.
void Monkey::scan() {
  const auto block = 1 + random_() % 3;
  const std::string code = "STAND/" + std::to_string(100 * block + 1 + random_() % 7);
  did("scan " + code);
  Window::push_text(random_() % 2 == 0 ? code : code.substr(6));
  Window::push_key(platform::HardKey::kEnter);
}

void Monkey::stroke() {
  const platform::Size size = tablet_->window().size();
  const auto somewhere = [&] {
    return Point{static_cast<float>(random_() % static_cast<unsigned>(size.width)),
                 static_cast<float>(random_() % static_cast<unsigned>(size.height))};
  };
  const Point from = somewhere();
  const Point to = somewhere();
  did("stroke");
  Window::push_finger(FingerMove::kDown, from, size);
  for (int step = 1; step <= 6; ++step) {
    const float part = static_cast<float>(step) / 6;
    Window::push_finger(FingerMove::kMove,
                        {from.x + part * (to.x - from.x), from.y + part * (to.y - from.y)}, size);
  }
  Window::push_finger(FingerMove::kUp, to, size);
}

void Monkey::weigh() {
  const std::string load =
      std::to_string(10 + random_() % 20) + "." + std::to_string(10 + random_() % 90);
  const std::vector<std::string> lines{"S G + " + load + " kg", "D G + " + load + " kg",
                                       "S G + 0.00 kg",         "S N + " + load + " kg",
                                       "what is this",          "S G - " + load + " kg"};
  const std::string& line = lines[random_() % lines.size()];
  did("scale says " + line);
  scale_.send(line + "\r\n");
  std::this_thread::sleep_for(std::chrono::milliseconds(2));
}

std::string Monkey::told(const std::string& fault) const {
  std::string text = name_ + ", seed " + std::to_string(seed_) + ": " + fault + "; the last done:";
  for (const std::string& each : done_) text.append("\n  ").append(each);
  return text;
}

std::string Monkey::play(int taps) {
  if (!start_fault_.empty()) return told(start_fault_);
  for (int tapped = 0; tapped < taps;) {
    tapped += act() ? 1 : 0;
    if (std::string fault = look(); !fault.empty()) return told(fault);
  }
  return {};
}

std::string Monkey::end() {
  commits_.be_slow(false);
  let_go_ = false;
  settle();
  for (int tries = 0; tries < 3 && tablet_->model().unsaved; ++tries) {
    read();
    const auto again = touch::find(tablet_->seen(), "Save again");
    if (again.size() != 1) return told("there is no key to save again");
    const Point at = touch::visible_part(*again.front()).centre();
    Window::push_finger(FingerMove::kDown, at, tablet_->window().size());
    Window::push_finger(FingerMove::kUp, at, tablet_->window().size());
    settle();
  }
  if (tablet_->model().unsaved) return told("what failed can't be saved again");
  if (std::string fault = look(); !fault.empty()) return told(fault);
  const auto faults = need(ledger_->check());
  return faults.empty() ? std::string() : told(one_line(faults.front()));
}

Monkey::Counts Monkey::counts() {
  counts_.kept = commits_.kept();
  counts_.failed = commits_.failed();
  return counts_;
}

// --- what must hold

std::string Monkey::look() {
  const flow::Model& model = tablet_->model();
  counts_.screens.insert(model.screen.index());
  counts_.most_pending = std::max(counts_.most_pending, model.pending.size());
  for (const auto check : {&Monkey::look_at_acts, &Monkey::look_at_book, &Monkey::look_at_screen})
    if (std::string fault = (this->*check)(); !fault.empty()) return fault;
  return {};
}

bool Monkey::in_ledger(RecordId id) {
  if (found_.contains(id)) return true;
  const bool there = need(ledger_->find(id)).has_value();
  if (there) found_.insert(id);
  return there;
}

// Every act is kept, on its way, said not to be saved, or was let go by a tap that says so.
std::string Monkey::look_at_acts() {
  const flow::Model& model = tablet_->model();
  std::map<flow::ActNumber, std::vector<RecordId>> under_way;
  std::map<flow::ActNumber, std::vector<RecordId>> unsaved;
  for (const flow::Act& act : model.pending) under_way[act.number] = ids_of(act);
  if (model.unsaved)
    for (const flow::Act& act : model.unsaved->acts)
      under_way[act.number] = unsaved[act.number] = ids_of(act);
  for (const auto& [number, ids] : under_way_) {
    if (under_way.contains(number)) continue;
    if (std::ranges::all_of(ids, [&](RecordId id) { return in_ledger(id); })) continue;
    if (!unsaved_.contains(number) || !let_go_)
      return "act " + std::to_string(number) + " is gone and is not in the ledger";
    ++counts_.let_go;
  }
  under_way_ = std::move(under_way);
  unsaved_ = std::move(unsaved);
  const std::uint64_t accounted = commits_.kept() + under_way_.size() + counts_.let_go;
  if (accounted == model.last_act) return {};
  return std::to_string(model.last_act) + " acts, of which " + std::to_string(commits_.kept()) +
         " are kept, " + std::to_string(under_way_.size()) + " under way and " +
         std::to_string(counts_.let_go) + " let go";
}

// What the open occasion takes for kept is in the ledger.
std::string Monkey::look_at_book() {
  const flow::Book* const book = flow::book_of(tablet_->model().screen);
  if (book == nullptr) return {};
  for (const auto& [slot, claim] : book->kept)
    if (!in_ledger(claim.record.id))
      return slot.measure + " counts as kept and is not in the ledger";
  return {};
}

// The same, of what the glass shows.
std::string Monkey::look_at_screen() {
  const flow::Model& model = tablet_->model();
  const touch::Register& seen = tablet_->seen();
  if (touch::shows(seen, "All kept") && !under_way_.empty())
    return "\"All kept\" is shown while " + std::to_string(under_way_.size()) + " acts are not";
  if (model.unsaved) {
    ++counts_.seen_unsaved;
    if (!touch::shows(seen, "NOT SAVED")) return "what failed is not said to be not saved";
  }
  const flow::Book* const book = flow::book_of(model.screen);
  if (book == nullptr) return {};
  std::set<Uuid> held;
  for (const ledger::Claim& claim :
       need(ledger_->claims(flow::trial_of(model, *book).plan.id(), book->id)))
    if (claim.record.subject) held.insert(*claim.record.subject);
  for (const touch::Widget& stake : seen.widgets) {
    if (stake.kind != touch::Kind::kStake || !touch::visible(stake)) continue;
    if (stake.value != "kept" && stake.value != "questioned" && stake.value != "on_hold") continue;
    const auto place = flow::place_of(*book, stake.label);
    if (!place || !held.contains(flow::plot_subject(model, *book, book->plots[*place])))
      return "plot " + stake.label + " is shown as " + stake.value +
             " and nothing of it is in the ledger";
  }
  return {};
}

}  // namespace ligule::faults
