#include "app/platform/picture.h"

#include <png.h>

#include <cerrno>
#include <cstring>
#include <system_error>

namespace ligule::platform {

Result<void> write_png(const std::filesystem::path& file, const Picture& picture) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(picture.size.width);
  image.height = static_cast<png_uint_32>(picture.size.height);
  image.format = PNG_FORMAT_RGB;
  image.flags = PNG_IMAGE_FLAG_FAST;  // a day takes hundreds; plain areas need no filters
  if (picture.rgb.empty())
    return fail(ErrorKind::kInvalid, "no picture was drawn yet", file.string());
  if (png_image_write_to_file(&image, file.c_str(), 0, picture.rgb.data(), 0, nullptr) == 0)
    return fail(ErrorKind::kIo, std::string("the picture can't be written: ") + image.message,
                file.string(), "check that the folder exists and has room");
  return {};
}

Result<Picture> read_png(const std::filesystem::path& file) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(file, error))
    return fail(ErrorKind::kIo, "no such picture", file.string());
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_file(&image, file.c_str()) == 0)
    return fail(ErrorKind::kDamaged, std::string("not a picture: ") + image.message, file.string());
  image.format = PNG_FORMAT_RGB;
  Picture picture{{static_cast<int>(image.width), static_cast<int>(image.height)}, {}};
  picture.rgb.resize(PNG_IMAGE_SIZE(image));
  if (png_image_finish_read(&image, nullptr, picture.rgb.data(), 0, nullptr) == 0)
    return fail(ErrorKind::kDamaged, std::string("the picture is cut off: ") + image.message,
                file.string());
  return picture;
}

}  // namespace ligule::platform
