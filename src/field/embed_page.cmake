# Writes OUTPUT, a .cpp with every file of FOLDER, so that the program needs no file beside it and no other site.
# cmake -DFOLDER=… -DOUTPUT=… -P embed_page.cmake
set(type_html "text/html; charset=utf-8")
set(type_css "text/css; charset=utf-8")
set(type_js "text/javascript; charset=utf-8")
set(type_svg "image/svg+xml")
file(GLOB files ${FOLDER}/*.html ${FOLDER}/*.css ${FOLDER}/*.js ${FOLDER}/*.svg)
list(SORT files)
if(NOT files)
  message(FATAL_ERROR "${FOLDER}: no files of the page")
endif()
set(entries "")
foreach(path IN LISTS files)
  get_filename_component(name ${path} NAME)
  get_filename_component(ending ${path} LAST_EXT)
  string(SUBSTRING ${ending} 1 -1 ending)
  file(SHA256 ${path} hash)
  string(SUBSTRING ${hash} 0 16 tag)
  # As bytes: a raw literal has a longest length by the standard, and the page's files are about as long.
  file(READ ${path} hex HEX)
  string(REGEX REPLACE "(..)" "\\\\x\\1" bytes "${hex}")
  # Pieces, so that no line of the source is endless.
  string(REGEX REPLACE "((\\\\x..){64})" "\\1\"\n     \"" bytes "${bytes}")
  file(SIZE ${path} size)
  string(APPEND entries "    PageFile{\"/${name}\", \"${type_${ending}}\", std::string_view(\n     \"${bytes}\", ${size}), \"\\\"${tag}\\\"\"},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"field/page_files.hpp\"

namespace steelyard::field {
namespace {

constexpr PageFile files[] = {
${entries}};

}  // namespace

const PageFile* find_page_file(std::string_view path) {
  for (const PageFile& file : files)
    if (file.path == path) return &file;
  return nullptr;
}

}  // namespace steelyard::field
")
