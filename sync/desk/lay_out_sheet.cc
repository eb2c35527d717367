#include "sync/desk/lay_out_sheet.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <utility>

#include "storage/files/csv.h"
#include "storage/trial/field_ground.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::desk {
namespace {

// "Front-Left" and "front_left" are "front left".
std::string spaced_small(std::string text) {
  for (char& c : text)
    c = c == '_' || c == '-' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

template <class T>
using Named = std::pair<std::string_view, T>;

constexpr std::array<Named<design::Corner>, 4> kCorners{
    {{"front left", design::Corner::kFrontLeft},
     {"front right", design::Corner::kFrontRight},
     {"back left", design::Corner::kBackLeft},
     {"back right", design::Corner::kBackRight}}};
constexpr std::array<Named<design::Along>, 2> kWays{
    {{"rows", design::Along::kRows}, {"columns", design::Along::kColumns}}};
constexpr std::array<Named<bool>, 2> kNumberings{{{"serpentine", true}, {"plain", false}}};

class WishReader {
 public:
  WishReader(const files::SiteSheet& sheet, const std::string& file) : sheet_(sheet), file_(file) {}

  // 0 where the line is not there.
  std::size_t count(const char* name, std::int64_t most) {
    const files::SheetLine* line = find(name);
    if (line == nullptr) return 0;
    const auto number = parse_integer(line->value);
    if (number && *number >= 1 && *number <= most) return static_cast<std::size_t>(*number);
    faults.push_back({ErrorKind::kInvalid, "'" + line->value + "' is no number of " + name,
                      line->place, "write a whole number from 1 to " + std::to_string(most)});
    return 0;
  }
  template <class T, std::size_t kCount>
  void named(const char* name, const std::array<Named<T>, kCount>& known, T& value) {
    const files::SheetLine* line = find(name);
    if (line == nullptr) return;
    const auto at = std::ranges::find(known, spaced_small(line->value), &Named<T>::first);
    if (at != known.end()) {
      value = at->second;
      return;
    }
    std::string names;
    for (const auto& [one, meant] : known) {
      names += names.empty() ? "" : ", ";
      names += one;
    }
    faults.push_back({ErrorKind::kInvalid, "'" + line->value + "' is no " + name, line->place,
                      "use one of: " + names});
  }
  [[nodiscard]] const files::SheetLine* find(const std::string& name) const {
    const auto at = sheet_.lines.find(name);
    return at == sheet_.lines.end() ? nullptr : &at->second;
  }
  void missing(const char* name, const char* mend) {
    if (find(name) == nullptr)
      faults.push_back(
          {ErrorKind::kInvalid, std::string("the line '") + name + "' is missing", file_, mend});
  }

  files::Faults faults;

 private:
  const files::SiteSheet& sheet_;
  const std::string& file_;
};

}  // namespace

files::Checked<design::LayOutWish> lay_out_wish(const files::SiteSheet& sheet,
                                                const std::string& file, std::vector<int> repeats) {
  constexpr std::int64_t kMostPlotsBeside = 9999;
  WishReader read(sheet, file);
  design::LayOutWish wish{sheet.plan.design, std::move(repeats), {}, 0};
  wish.ground.blocks = read.count("blocks", design::kMostBlocks);
  wish.ground.plots_per_row = read.count("plots_per_row", kMostPlotsBeside);
  wish.ground.blocks_beside =
      std::max<std::size_t>(1, read.count("blocks_side_by_side", design::kMostBlocks));
  wish.incomplete_block_size = read.count("incomplete_block_size", kMostPlotsBeside);
  read.named("start_corner", kCorners, wish.ground.start);
  read.named("direction", kWays, wish.ground.along);
  read.named("numbering", kNumberings, wish.ground.serpentine);
  if (wish.design == "latin" && read.find("blocks") == nullptr)
    wish.ground.blocks = wish.repeats.size();
  else
    read.missing("blocks", "say how many there are, as in blocks,4");
  if (wish.design == "alpha")
    read.missing("incomplete_block_size",
                 "say how many plots an incomplete block of design alpha has, as in "
                 "incomplete_block_size,6");
  if (!read.faults.empty()) return std::unexpected(std::move(read.faults));
  return wish;
}

files::Faults beyond_field(const files::SiteSheet& sheet, const Plan& plan) {
  files::Faults faults;
  const FieldGround ground = ground_of(plan);
  struct Side {
    const char* line;
    const char* way;
    Metres taken;
    const char* mend;
  };
  for (const Side& side :
       {Side{"field_width", " wide", ground.width,
             "make plots_per_row or blocks_side_by_side less, or choose another field"},
        Side{"field_depth", " deep", ground.depth,
             "make plots_per_row or blocks_side_by_side more, or choose another field"}}) {
    const auto at = sheet.lines.find(side.line);
    if (at == sheet.lines.end()) continue;
    const std::string& said = at->second.value;
    const std::size_t digits = std::min(said.find_first_not_of("0123456789."), said.size());
    const StatedLength there{said.substr(0, digits),
                             std::string(files::without_blanks(said.substr(digits)))};
    const auto metres = there.metres();
    if (!metres) {
      faults.push_back({ErrorKind::kInvalid, "'" + said + "' is no size of a field",
                        at->second.place, "write a number and its unit, as 200 ft"});
    } else if (side.taken.value() > metres->value() * (1 + 1e-9)) {
      const double unit = length_in(1, there.unit).value_or(Metres(1)).value();
      const double taken = side.taken.value() / unit;
      // Up to the thousandth, so that nothing is never lacking.
      const double lacking = std::ceil((taken - metres->value() / unit) * 1000 - 1e-6) / 1000;
      faults.push_back({ErrorKind::kInvalid,
                        "the trial is " + format_fixed(taken, 1) + " " + there.unit + side.way +
                            " with alleys and border, " + format_number(lacking) + " " +
                            there.unit + " more than the field (" + said + ")",
                        at->second.place, side.mend});
    }
  }
  return faults;
}

}  // namespace ligule::desk
