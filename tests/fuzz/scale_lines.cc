#include <cmath>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "app/scale/line_form.h"
#include "app/scale/line_splitter.h"
#include "app/scale/load_watch.h"
#include "storage/trial/number.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/sections.h"
#include "tests/fuzz/targets.h"

namespace ligule::fuzz {
namespace {

using namespace scale;

const std::vector<LineForm>& forms_of_assets() {
  static const std::vector<LineForm> forms = [] {
    std::ifstream file(LIGULE_SOURCE_ASSETS "/indicators.json");
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    return parse_line_forms(text, "indicators.json").value();
  }();
  return forms;
}

void judge_reading(const Reading& reading, std::string_view line) {
  const auto value = parse_number(reading.entered);
  require(value.has_value() && *value == reading.value, "a weight is the number that was sent");
  require(reading.raw == line, "a weight is kept with its line");
  const std::string digits = from_last_digits(in_last_digits(reading), reading.decimals);
  // Spelled as it was sent: -0.0, .5 without its zero, 5. with its point.
  std::string sent = reading.entered;
  if (sent.ends_with('.')) sent.pop_back();
  const std::size_t sign = sent.starts_with('-') ? 1 : 0;
  if (sent[sign] == '.') sent.insert(sign, 1, '0');
  require(digits == (reading.value == 0 ? sent.substr(sign) : sent),
          "counting a weight in its last digits loses none");
}

void judge_mean(const Averaged& mean) {
  const auto value = parse_number(mean.entered), low = parse_number(mean.lowest),
             high = parse_number(mean.highest);
  require(value && low && high, "a mean and its spread are numbers");
  require(*low <= *value && *value <= *high, "a mean lies between what it is of");
  require(mean.readings > 0 && !mean.unit.empty(), "a mean is of something");
}

// Plays bytes in pieces whose lengths and pauses the bytes themselves give.
void listen(const LineForm& form, std::string_view bytes) {
  LineSplitter splitter;
  LoadWatch watch;
  Averaging averaging(0, 5000, kLiftOff);
  std::int64_t now = 0;
  while (!bytes.empty()) {
    const auto turn = static_cast<unsigned char>(bytes.front());
    const std::string_view piece = bytes.substr(0, 1U + turn % 61U);
    bytes.remove_prefix(piece.size());
    now += turn % 7U == 0 ? 250 : 40;
    for (const SplitLine& line : splitter.take(piece, now)) {
      require(line.text.size() <= kMostLine, "no line is longer than a line can be");
      const Line read = line.whole ? read_line(form, line.text) : Garbled{line.text, "not whole"};
      if (const auto* reading = std::get_if<Reading>(&read)) judge_reading(*reading, line.text);
      watch.add(read, now);
      averaging.add(read);
      const LoadState state = watch.state(now);
      require(state != LoadState::kStill || watch.reading().has_value(),
              "what stands still is a weight");
      if (state == LoadState::kStill) watch.taken();
    }
    if (turn % 29U == 0) splitter.restart();
    if (turn % 31U == 0) splitter.expect_start();
  }
  if (const auto mean = averaging.result()) judge_mean(*mean);
}

}  // namespace

// Sections "forms" (the text of a file like indicators.json) and "bytes"; else a digit, which of
// the forms that come along, and the bytes.
void scale_lines(std::string_view input) {
  if (input.starts_with(kSectionMark)) {
    std::vector<LineForm> forms;
    for (const auto& [name, content] : sections(input)) {
      if (name != "forms") {
        for (const LineForm& form : forms) listen(form, content);
      } else if (auto read = parse_line_forms(content, "own.json")) {
        forms = *std::move(read);
      }
    }
    return;
  }
  if (input.empty()) return;
  const auto which = static_cast<unsigned char>(input.front());
  listen(forms_of_assets()[which % forms_of_assets().size()], input.substr(1));
}

}  // namespace ligule::fuzz
