# Writes OUTPUT, a .cpp with every NNNN_name.sql of FOLDER in order, so that the program needs no file beside it.
# cmake -DFOLDER=… -DOUTPUT=… -P embed_migrations.cmake
file(GLOB files ${FOLDER}/[0-9][0-9][0-9][0-9]_*.sql)
list(SORT files)
set(entries "")
set(number 0)
foreach(path IN LISTS files)
  math(EXPR number "${number} + 1")
  get_filename_component(name ${path} NAME_WE)
  string(SUBSTRING ${name} 0 4 digits)
  if(NOT digits EQUAL number)
    message(FATAL_ERROR "${path}: migration ${number} is missing")
  endif()
  file(READ ${path} text)
  string(FIND "${text}" ")steelyard_sql\"" clash)
  if(NOT clash EQUAL -1)
    message(FATAL_ERROR "${path}: holds the mark that ends the embedded text")
  endif()
  string(APPEND entries "    Migration{${number}, \"${name}\", R\"steelyard_sql(${text})steelyard_sql\"},\n")
endforeach()
if(number EQUAL 0)
  message(FATAL_ERROR "${FOLDER}: no migrations")
endif()
file(WRITE ${OUTPUT} "#include \"store/migrations.hpp\"

namespace steelyard::store {

std::span<const Migration> released_migrations() {
  static constexpr Migration all[] = {
${entries}  };
  return all;
}

}  // namespace steelyard::store
")
