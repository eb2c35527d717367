#include "tests/app/program/live_tablet.h"

#include "app/program/drive.h"
#include "app/work/preferences.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/files/words.h"

namespace ligule::program_test {
namespace {

std::unique_ptr<platform::Window> headless(platform::Size size, double ppi) {
  platform::WindowOptions options;
  options.headless = true;
  options.size = size;
  options.ppi = ppi;
  return need(platform::Window::open(options));
}

std::vector<scale::LineForm> line_forms(files::FileSystem& files) {
  const std::string file = std::string(LIGULE_SOURCE_ASSETS) + "/indicators.json";
  return need(scale::parse_line_forms(need(files.read(file, std::uint64_t{1} << 20U)), file));
}

}  // namespace

LiveTablet::LiveTablet(const InventedSite& site, platform::Size size, double ppi, bool still,
                       work::AppendCall append)
    : files_(files::real_file_system()),
      station_(
          need(program::open_station(*files_, {site.ledger(), parse_date(kDay).value(), still}))),
      window_(headless(size, ppi)) {
  languages_.emplace(
      "en",
      screens::Language(files::load_words(*files_, LIGULE_SOURCE_ASSETS, "en").value().texts));
  const auto now = program::stamps(*station_.clock, station_.zone);
  work::Settings settings;
  settings.definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  settings.now = now;
  settings.season_folder = site.file("season-files");
  settings.media = work::media_roots();
  settings.schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
  settings.plans = site.file("plans");
  settings.line_forms = line_forms(*files_);
  settings.wake = platform::Window::wake;
  settings.append = std::move(append);
  worker_ = need(work::Worker::start(std::move(station_.ledger), *files_, std::move(station_.ids),
                                     std::move(settings)));
  ui_ = std::make_unique<touch::Ui>(*window_, touch::Look{});
  flow::PreferencesRead preferences;
  if (auto chosen = work::load_preferences(*files_, work::preferences_path(site.ledger())))
    preferences.preferences = *std::move(chosen);
  preferences.display = {ppi, size.width, size.height};
  application_ =
      std::make_unique<program::Application>(program::Application::Parts{*window_,
                                                                         *ui_,
                                                                         *station_.clock,
                                                                         sound_,
                                                                         *worker_,
                                                                         languages_,
                                                                         now,
                                                                         std::move(preferences),
                                                                         {}});
  loop_ = std::make_unique<platform::Loop>(*window_, *application_, *station_.clock);
}

LiveTablet::~LiveTablet() = default;

std::string LiveTablet::play(std::string_view lines) {
  const auto actions = program::parse_drive(lines, "test");
  if (!actions) return one_line(actions.error());
  program::Driver driver(*window_, *loop_, *station_.clock,
                         [this]() -> const touch::Register& { return seen(); });
  const auto played = driver.play(*actions, "test");
  return played ? std::string() : one_line(played.error());
}

}  // namespace ligule::program_test
