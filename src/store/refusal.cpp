#include "store/refusal.hpp"

#include <sqlite3.h>

namespace steelyard::store {
namespace {

std::string constraint_text(std::string_view detail) {
  return "the content breaks a rule of the store (" + std::string(detail) +
         "); nothing of it was stored: correct the sheet or the reading and repeat";
}

std::string open_text(int extended_code) {
  switch (extended_code) {
    case SQLITE_READONLY_ROLLBACK:
    case SQLITE_READONLY_RECOVERY:
      return "an earlier write was interrupted and has to be undone first; open the store once for writing, "
             "for "
             "example with steelyard import or record, with the -journal file still beside it";
    case SQLITE_READONLY_DIRECTORY:
      return "its folder cannot be written, which every change needs; allow writing there or copy the store "
             "to "
             "a folder of your own";
    default:
      return "the file cannot be written; allow writing to it, or copy it to a folder of your own";
  }
}

}  // namespace

std::string about(const std::filesystem::path& path, std::string_view what) {
  return path.string() + ": " + std::string(what);
}

std::string refusal_text(const std::filesystem::path& path, int extended_code, std::string_view detail) {
  switch (extended_code & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return about(path,
                   "another program is using the store and did not finish in time; nothing was stored: wait "
                   "until it is done, or close it, and repeat");
    case SQLITE_FULL:
      return about(path, "the disk is full; nothing was stored: free some space and repeat");
    case SQLITE_NOTADB:
      return about(path,
                   "is not a Steelyard store, or its beginning is damaged; name the right file, or restore a "
                   "backup");
    case SQLITE_CORRUPT:
      return about(path, "the store is damaged (" + std::string(detail) + "); restore the last backup");
    case SQLITE_READONLY:
      return about(path, open_text(extended_code));
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
      return about(path, "cannot be opened (" + std::string(detail) +
                             "); allow reading and writing the file and its folder");
    case SQLITE_IOERR:
      return about(path, "the disk reports an error (" + std::string(detail) +
                             "); nothing was stored: check the disk, then repeat or restore a backup");
    case SQLITE_CONSTRAINT:
      return about(path, constraint_text(detail));
    case SQLITE_TOOBIG:
      return about(path, "a text is too long to be stored; nothing was stored: shorten it and repeat");
    case SQLITE_NOMEM:
      return about(path, "there is not enough memory; nothing was stored: close other programs and repeat");
    default:
      return {};
  }
}

}  // namespace steelyard::store
