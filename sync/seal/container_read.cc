#include <algorithm>

#include "sync/seal/container.h"
#include "sync/seal/container_layout.h"

namespace ligule::seal {
namespace {

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
    const std::string directory = make_directory();
    const std::string_view rest = bytes_.substr(at_);
    if (rest == directory) return members_;
    if (rest.size() > directory.size() && rest.starts_with(directory)) {
      return bad("", std::to_string(rest.size() - directory.size()) + " bytes stand after its end");
    }
    if (std::string_view(directory).starts_with(rest)) return bad("", "it is cut off at its end");
    const auto differs = std::ranges::mismatch(rest, directory).in1 - rest.begin();
    return bad("", "its directory is not that of its members, from byte " +
                       std::to_string(at_ + static_cast<std::size_t>(differs)) + " on");
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
    if ((flags & 1U) != 0) return bad(name, "it is encrypted");
    if ((flags & 8U) != 0) return bad(name, "it has a data descriptor");
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

  [[nodiscard]] std::string make_directory() const {
    std::string directory;
    for (std::size_t i = 0; i < members_.size(); ++i) {
      directory +=
          central_header(members_[i].name, static_cast<std::uint32_t>(members_[i].bytes.size()),
                         crcs_[i], offsets_[i]);
    }
    return directory + end_record(static_cast<std::uint16_t>(members_.size()),
                                  static_cast<std::uint32_t>(directory.size()),
                                  static_cast<std::uint32_t>(at_));
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
