// The files of the page, built into the program: src/field/page/ as it was when it was built.
#pragma once

#include <string_view>

namespace steelyard::field {

struct PageFile {
  std::string_view path;   // "/app.js"
  std::string_view type;   // content type
  std::string_view bytes;
  std::string_view tag;    // ETag with its quotes, from the content
};

/// Null where there is no such file.
const PageFile* find_page_file(std::string_view path);

}  // namespace steelyard::field
