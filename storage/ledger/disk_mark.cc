#include "storage/ledger/disk_mark.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <vector>

namespace ligule::ledger {
namespace {

namespace fs = std::filesystem;

constexpr int kMostLayers = 8;  // encryption over volumes over ... a disk
constexpr std::size_t kLongestMark = 200;
// Where disks of each kind say it. A card's serial number is short and often repeated: its whole id
// comes first. The others: paravirtual, NVMe, SATA and USB.
constexpr std::array<const char*, 5> kMarks{"device/cid", "serial", "device/serial", "device/wwid",
                                            "wwid"};

std::string first_line(const fs::path& file) {
  std::ifstream in(file);
  std::string line;
  if (!std::getline(in, line) || line.size() > kLongestMark) return {};
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\0'; };
  std::erase_if(line, blank);
  return line;
}

std::string mark_at(const fs::path& device, int layers) {
  std::error_code none;
  // A partition lies within its disk.
  const fs::path disk = fs::exists(device / "partition", none) ? device.parent_path() : device;
  for (const char* name : kMarks)
    if (const std::string mark = first_line(disk / name); !mark.empty())
      return std::string(name) + ":" + mark;
  if (layers == 0) return {};
  std::vector<fs::path> below;
  for (fs::directory_iterator each(disk / "slaves", none), end; !none && each != end;
       each.increment(none))
    below.push_back(fs::canonical(each->path(), none));
  // Of several disks none is the one.
  return below.size() == 1 && !none ? mark_at(below.front(), layers - 1) : std::string();
}

}  // namespace

std::string disk_mark(const std::string& system, std::uint32_t major, std::uint32_t minor) {
  std::error_code none;
  const fs::path device = fs::canonical(
      fs::path(system) / "dev" / "block" / (std::to_string(major) + ":" + std::to_string(minor)),
      none);
  return none ? std::string() : mark_at(device, kMostLayers);
}

bool may_be_same_disk(const std::string& before, const std::string& now) {
  const auto place = [](const std::string& mark) { return mark.substr(0, mark.find(':')); };
  return before == now || place(before) != place(now);
}

std::string disk_mark_of(const std::string& path) {
  struct statx found {};
  if (statx(AT_FDCWD, path.c_str(), 0, STATX_TYPE, &found) != 0) return {};
  return disk_mark("/sys", found.stx_dev_major, found.stx_dev_minor);
}

}  // namespace ligule::ledger
