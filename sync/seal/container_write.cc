// The only file that sees libzip.
#include <zip.h>

#include <memory>

#include "sync/seal/container.h"
#include "sync/seal/container_layout.h"

namespace ligule::seal {
namespace {

constexpr zip_uint32_t kPlainFile = 0100644U << 16;       // mode 0644
constexpr std::uint64_t kHeadersPerMember = 30 + 46 + 2;  // and twice the name

struct FreeSource {
  void operator()(zip_source_t* source) const { zip_source_free(source); }
};
struct DiscardArchive {
  void operator()(zip_t* archive) const { zip_discard(archive); }
};
using SourcePtr = std::unique_ptr<zip_source_t, FreeSource>;
using ArchivePtr = std::unique_ptr<zip_t, DiscardArchive>;

std::unexpected<Error> zip_failed(zip_error_t* error) {
  auto failure = fail(ErrorKind::kIo, std::string("the season file could not be packed: ") +
                                          zip_error_strerror(error));
  zip_error_fini(error);
  return failure;
}

Result<void> add(zip_t* archive, const Member& member) {
  SourcePtr content(zip_source_buffer(archive, member.bytes.data(), member.bytes.size(), 0));
  if (!content) return zip_failed(zip_get_error(archive));
  zip_source_t* given = content.release();  // the archive owns it, unless it does not take it
  const zip_int64_t index = zip_file_add(archive, member.name.c_str(), given, ZIP_FL_ENC_UTF_8);
  if (index < 0) {
    content.reset(given);
    return zip_failed(zip_get_error(archive));
  }
  const auto at = static_cast<zip_uint64_t>(index);
  if (zip_set_file_compression(archive, at, ZIP_CM_STORE, 0) != 0 ||
      zip_file_set_dostime(archive, at, 0, kFirstDay, 0) != 0 ||
      zip_file_set_external_attributes(archive, at, 0, ZIP_OPSYS_UNIX, kPlainFile) != 0) {
    return zip_failed(zip_get_error(archive));
  }
  return {};
}

Result<std::string> content_of(zip_source_t* source) {
  const auto failed = [&] { return zip_failed(zip_source_error(source)); };
  if (zip_source_open(source) != 0) return failed();
  if (zip_source_seek(source, 0, SEEK_END) != 0) return failed();
  const zip_int64_t size = zip_source_tell(source);
  if (size < 0 || zip_source_seek(source, 0, SEEK_SET) != 0) return failed();
  std::string bytes(static_cast<std::size_t>(size), '\0');
  const zip_int64_t read = zip_source_read(source, bytes.data(), bytes.size());
  zip_source_close(source);
  if (read != size) return failed();
  return bytes;
}

}  // namespace

Result<std::string> container_bytes(std::span<const Member> members) {
  std::uint64_t total = 22;
  for (const Member& member : members) {
    total += kHeadersPerMember + 2 * member.name.size() + member.bytes.size();
  }
  if (total > kMaxFileBytes) {
    return fail(ErrorKind::kInvalid, "the season file would be larger than 512 MiB", "",
                "seal in parts: first the records up to some number, then from there on");
  }
  zip_error_t error;
  zip_error_init(&error);
  const SourcePtr target(zip_source_buffer_create(nullptr, 0, 0, &error));
  if (!target) return zip_failed(&error);
  zip_source_keep(target.get());  // one for the archive, one to read the result from
  ArchivePtr archive(zip_open_from_source(target.get(), ZIP_TRUNCATE, &error));
  if (!archive) {
    zip_source_free(target.get());
    return zip_failed(&error);
  }
  for (const Member& member : members) {
    if (const auto added = add(archive.get(), member); !added) {
      return std::unexpected(added.error());
    }
  }
  zip_t* closing = archive.release();  // gone once closed, unless closing fails
  if (zip_close(closing) != 0) {
    archive.reset(closing);
    return zip_failed(zip_get_error(closing));
  }
  return content_of(target.get());
}

}  // namespace ligule::seal
