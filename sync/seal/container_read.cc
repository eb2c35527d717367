#include <algorithm>

#include "sync/seal/container.h"
#include "sync/seal/container_layout.h"

namespace ligule::seal {
namespace {

constexpr std::size_t kCentralHeaderBytes = 46;
constexpr std::string_view kZip64EndMark{"PK\x06\x06", 4}, kZip64LocatorMark{"PK\x06\x07", 4};
// Bits of the flags (APPNOTE.TXT 4.4.4 of the ZIP format).
constexpr std::uint32_t kEncrypted = 1U, kDescriptor = 8U, kStronglyEncrypted = 64U;

std::uint32_t number_at(std::string_view bytes, std::size_t at, std::size_t count) {
  std::uint32_t value = 0;
  for (std::size_t i = count; i > 0; --i) {
    value = (value << 8U) | static_cast<unsigned char>(bytes[at + i - 1]);
  }
  return value;
}

// A path that stays below the folder it is unpacked in, on every system.
bool is_plain_path(std::string_view name) {
  const bool plain = std::ranges::all_of(name, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '/' ||
           c == '_' || (c >= 'A' && c <= 'Z');
  });
  return plain && !name.starts_with('/') && name.find("..") == std::string_view::npos &&
         name.find("//") == std::string_view::npos && !name.ends_with('/');
}

// A name as it may be shown: what is not printable ASCII becomes '?'.
std::string shown(std::string_view name) {
  std::string text(name.substr(0, 80));
  std::ranges::replace_if(
      text, [](char c) { return c < ' ' || c > '~'; }, '?');
  return text;
}

// Walks the container from its first byte to its last.
class Walk {
 public:
  Walk(std::string_view bytes, const std::string& where) : bytes_(bytes), where_(where) {}

  Result<std::vector<Member>> run() {
    if (!bytes_.starts_with(kLocalMark)) {
      return fail(ErrorKind::kInvalid, "this is no season file", where_,
                  "season files are named season-....zip");
    }
    if (bytes_.size() > kMaxFileBytes) return bad("", "it is larger than 512 MiB");
    while (bytes_.substr(at_).starts_with(kLocalMark)) {
      if (members_.size() == kMaxMembers) return bad("", "it has too many members");
      if (const auto taken = take_member(); !taken) return std::unexpected(taken.error());
    }
    if (const auto listed = check_directory(); !listed) return std::unexpected(listed.error());
    return std::move(members_);
  }

 private:
  std::unexpected<Error> bad(std::string_view member, const std::string& what) const {
    return fail(ErrorKind::kDamaged, what, member.empty() ? where_ : where_ + ", " + shown(member),
                "take the file from the tablet again");
  }

  // The member whose header stands at at_.
  Result<void> take_member() {
    const std::string number = "member " + std::to_string(members_.size() + 1);
    if (bytes_.size() - at_ < kLocalHeaderBytes) return bad(number, "it is cut off");
    const std::string_view header = bytes_.substr(at_);
    const std::uint32_t flags = number_at(header, 6, 2);
    const std::uint32_t crc = number_at(header, 14, 4);
    const std::uint32_t size = number_at(header, 22, 4);
    const std::size_t name_bytes = number_at(header, 26, 2);
    if (name_bytes == 0 || name_bytes > kMaxNameBytes ||
        name_bytes > header.size() - kLocalHeaderBytes) {
      return bad(number, "its name cannot be read");
    }
    const std::string name(header.substr(kLocalHeaderBytes, name_bytes));
    if (!is_plain_path(name)) return bad(name, "a member may not have such a name");
    if (std::ranges::find(members_, name, &Member::name) != members_.end())
      return bad(name, "it is there twice");
    if ((flags & (kEncrypted | kStronglyEncrypted)) != 0) return bad(name, "it is encrypted");
    if ((flags & kDescriptor) != 0) return bad(name, "it has a data descriptor");
    if (number_at(header, 8, 2) != 0) return bad(name, "it is compressed");
    if (number_at(header, 28, 2) != 0) return bad(name, "it has extra fields");
    const std::size_t start = at_ + kLocalHeaderBytes + name_bytes;
    if (size > bytes_.size() - start) return bad(name, "it claims more bytes than the file has");
    const std::string_view content = bytes_.substr(start, size);
    const std::string expected = local_header(name, size, crc);
    if (!header.starts_with(expected)) return bad(name, "its header is not in its form");
    if (crc32(content) != crc) return bad(name, "its bytes are not those that were written");
    offsets_.push_back(static_cast<std::uint32_t>(at_));
    crcs_.push_back(crc);
    members_.push_back({name, content});
    at_ = start + size;
    return {};
  }

  // What stands after the last member: a line for each, and the end record.
  Result<void> check_directory() const {
    std::string_view rest = bytes_.substr(at_);
    for (std::size_t i = 0; i < members_.size(); ++i) {
      const std::string line =
          central_header(members_[i].name, static_cast<std::uint32_t>(members_[i].bytes.size()),
                         crcs_[i], offsets_[i]);
      if (std::string_view(line).starts_with(rest)) return bad("", "it is cut off at its end");
      if (!rest.starts_with(kCentralMark)) return no_directory(rest);
      if (!rest.starts_with(line)) return bad(members_[i].name, fault_of_line(rest, line));
      rest.remove_prefix(line.size());
    }
    const std::size_t directory_bytes = bytes_.size() - at_ - rest.size();
    const std::string end =
        end_record(static_cast<std::uint16_t>(members_.size()),
                   static_cast<std::uint32_t>(directory_bytes), static_cast<std::uint32_t>(at_));
    if (rest == end) return {};
    if (rest.starts_with(end)) {
      return bad("", std::to_string(rest.size() - end.size()) + " bytes stand after its end");
    }
    if (std::string_view(end).starts_with(rest)) return bad("", "it is cut off at its end");
    return bad("", fault_of_end(rest, end));
  }

  [[nodiscard]] std::unexpected<Error> no_directory(std::string_view rest) const {
    return bad("", "neither a member nor the directory of all stands at byte " +
                       std::to_string(bytes_.size() - rest.size()));
  }

  // In which way a line of the directory, which begins with its mark, is not the expected one.
  [[nodiscard]] static std::string fault_of_line(std::string_view line,
                                                 const std::string& expected) {
    if (line.size() < kCentralHeaderBytes) return "its line in the directory is cut off";
    const auto differs = [&](std::size_t at, std::size_t count) {
      return line.substr(at, count) != std::string_view(expected).substr(at, count);
    };
    if (differs(28, 2) || differs(kCentralHeaderBytes, expected.size() - kCentralHeaderBytes))
      return "the directory gives it another name";
    if (differs(42, 4)) return "the directory says that it stands elsewhere";
    if (differs(34, 2)) return "the directory says that it stands on another disk";
    if (differs(38, 4)) return attributes_fault(number_at(line, 38, 4));
    if (differs(30, 2)) return "it has extra fields in the directory";
    if (differs(32, 2)) return "it has a comment";
    return "its line in the directory is not that of its header";
  }

  // By the kind of file that the mode of a Unix system says (POSIX, sys/stat.h).
  [[nodiscard]] static std::string attributes_fault(std::uint32_t attributes) {
    switch ((attributes >> 16U) & 0170000U) {
      case 0120000U:
        return "it is a link";
      case 0040000U:
        return "it is a folder";
      case 0010000U:
      case 0020000U:
      case 0060000U:
      case 0140000U:
        return "it is a device or pipe";
      default:
        return "its attributes are not those of a plain file of mode 0644";
    }
  }

  [[nodiscard]] static std::string fault_of_end(std::string_view rest, const std::string& end) {
    if (rest.starts_with(kCentralMark)) return "its directory lists more than its members";
    if (rest.starts_with(kZip64EndMark) || rest.starts_with(kZip64LocatorMark))
      return "it has the records of a ZIP64 file";
    const auto same = [&](std::size_t at, std::size_t count) {
      return rest.substr(at, count) == std::string_view(end).substr(at, count);
    };
    if (!same(0, 4)) return "no end record stands after its directory";
    if (!same(4, 4)) return "it says that it is one of several disks";
    if (!same(8, 4)) return "its end record counts other members";
    if (!same(12, 8)) return "its end record says that the directory stands elsewhere";
    return "it has a comment";
  }

  std::string_view bytes_;
  const std::string& where_;
  std::size_t at_ = 0;
  std::vector<Member> members_;
  std::vector<std::uint32_t> offsets_, crcs_;
};

}  // namespace

Result<std::vector<Member>> read_container(std::string_view bytes, const std::string& where) {
  return Walk(bytes, where).run();
}

}  // namespace ligule::seal
