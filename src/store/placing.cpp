#include "store/placing.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>

#include "store/refusal.hpp"
#include "store/store.hpp"

namespace steelyard::store {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse_last_error(const fs::path& path, std::string_view what, std::string_view remedy) {
  const std::string error = std::generic_category().message(errno);
  throw Refused(about(path, std::string(what) + " (" + error + "); " + std::string(remedy)));
}

int rename_without_replacing(const fs::path& from, const fs::path& to) {
  const int failed = ::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE);
  if (!failed || (errno != EINVAL && errno != ENOSYS)) return failed;
  // Some file systems (memory sticks) cannot rename without replacing.
  if (::access(to.c_str(), F_OK) == 0) {
    errno = EEXIST;
    return -1;
  }
  return ::rename(from.c_str(), to.c_str());
}

}  // namespace

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

fs::path unfinished_name(const fs::path& path) {
  fs::path name = path;
  name += ".unfinished-" + std::to_string(::getpid());
  return name;
}

void make_empty_file(const fs::path& path, const fs::path& asked) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file < 0) refuse_last_error(asked, "cannot be made", "name a folder that exists and can be written");
  ::close(file);
}

void sync_file(const fs::path& path, const fs::path& asked) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  const bool synced = file >= 0 && ::fsync(file) == 0;
  if (!synced) {
    const int error = errno;
    if (file >= 0) ::close(file);
    errno = error;
    refuse_last_error(asked, "could not be written to the disk", "check the disk and repeat");
  }
  ::close(file);
}

void put_in_place(const fs::path& unfinished, const fs::path& path, bool replace) {
  const int failed =
      replace ? ::rename(unfinished.c_str(), path.c_str()) : rename_without_replacing(unfinished, path);
  if (failed) refuse_last_error(path, "cannot be made", "name another file");
  const int folder = ::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder < 0) return;
  ::fsync(folder);  // where a folder cannot be synced, the name is as safe as that file system makes it
  ::close(folder);
}

Unfinished::~Unfinished() {
  std::error_code ignored;  // after the rename there is nothing to remove
  fs::remove(path, ignored);
  fs::remove(fs::path(path) += "-journal", ignored);
}

}  // namespace steelyard::store
