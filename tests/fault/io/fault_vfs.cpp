#include "fault_vfs.hpp"

#include <sqlite3.h>

#include <cstddef>
#include <cstring>
#include <fstream>
#include <new>
#include <random>
#include <sstream>

namespace steelyard::test {
namespace {

constexpr std::size_t sector = 512;

FaultVfs* active = nullptr;
sqlite3_vfs* usual = nullptr;

/// Ours, with the usual VFS's file behind it in the same memory.
struct File {
  sqlite3_file base;
  std::string* path;
};

sqlite3_file* behind(sqlite3_file* file) {
  return reinterpret_cast<sqlite3_file*>(reinterpret_cast<std::byte*>(file) + sizeof(File));
}

const std::string& path_of(sqlite3_file* file) {
  return *reinterpret_cast<File*>(file)->path;
}

std::optional<std::string> read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return std::nullopt;
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

int close_file(sqlite3_file* file) {
  const int code = behind(file)->pMethods->xClose(behind(file));
  delete reinterpret_cast<File*>(file)->path;
  return code;
}

int read(sqlite3_file* file, void* to, int count, sqlite3_int64 at) {
  if (const int code = active->answer(FaultVfs::Call::read)) return code;
  return behind(file)->pMethods->xRead(behind(file), to, count, at);
}

int write(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
  if (const int code = active->answer(FaultVfs::Call::write)) return code;
  return behind(file)->pMethods->xWrite(behind(file), from, count, at);
}

int truncate(sqlite3_file* file, sqlite3_int64 size) {
  if (const int code = active->answer(FaultVfs::Call::truncate)) return code;
  return behind(file)->pMethods->xTruncate(behind(file), size);
}

int sync(sqlite3_file* file, int flags) {
  if (const int code = active->answer(FaultVfs::Call::sync)) return code;
  const int code = behind(file)->pMethods->xSync(behind(file), flags);
  if (code == SQLITE_OK) active->was_synced(path_of(file));
  return code;
}

int file_size(sqlite3_file* file, sqlite3_int64* size) {
  if (const int code = active->answer(FaultVfs::Call::size)) return code;
  return behind(file)->pMethods->xFileSize(behind(file), size);
}

int lock(sqlite3_file* file, int kind) {
  if (const int code = active->answer(FaultVfs::Call::lock)) return code;
  return behind(file)->pMethods->xLock(behind(file), kind);
}

int unlock(sqlite3_file* file, int kind) {
  return behind(file)->pMethods->xUnlock(behind(file), kind);
}
int check_reserved(sqlite3_file* file, int* reserved) {
  return behind(file)->pMethods->xCheckReservedLock(behind(file), reserved);
}
int control(sqlite3_file* file, int what, void* argument) {
  return behind(file)->pMethods->xFileControl(behind(file), what, argument);
}
int sector_size(sqlite3_file* file) {
  return behind(file)->pMethods->xSectorSize(behind(file));
}
int characteristics(sqlite3_file* file) {
  return behind(file)->pMethods->xDeviceCharacteristics(behind(file));
}

const sqlite3_io_methods methods{1,           close_file, read,      write,          truncate, sync,        file_size,
                                 lock,        unlock,     check_reserved, control,   sector_size, characteristics,
                                 nullptr,     nullptr,    nullptr,   nullptr,        nullptr,  nullptr};

int open_file(sqlite3_vfs* /*self*/, const char* name, sqlite3_file* file, int flags, int* out_flags) {
  file->pMethods = nullptr;
  if (const int code = active->answer(FaultVfs::Call::open)) return code;
  const int code = usual->xOpen(usual, name, behind(file), flags, out_flags);
  if (code != SQLITE_OK) return code;
  reinterpret_cast<File*>(file)->path = new std::string(name ? name : "");
  file->pMethods = &methods;
  if (name) active->was_opened(name);
  return SQLITE_OK;
}

int remove_file(sqlite3_vfs* /*self*/, const char* name, int sync_folder) {
  if (const int code = active->answer(FaultVfs::Call::remove)) return code;
  const int code = usual->xDelete(usual, name, sync_folder);
  if (code == SQLITE_OK) active->was_removed(name, sync_folder != 0);
  return code;
}

sqlite3_vfs& ours() {
  static sqlite3_vfs vfs;
  return vfs;
}

/// One sector as a cut may leave it.
void settle_sector(std::string& bytes, std::size_t at, const std::string& old, std::mt19937_64& random) {
  const std::size_t count = std::min(sector, bytes.size() - at);
  switch (random() % 3) {
    case 0:
      break;  // written
    case 1:   // not written
      for (std::size_t i = at; i < at + count; ++i) bytes[i] = i < old.size() ? old[i] : '\0';
      break;
    default:
      for (std::size_t i = at; i < at + count; ++i) bytes[i] = static_cast<char>(random());
  }
}

std::string settled(const std::string& old, std::string bytes, std::mt19937_64& random) {
  if (bytes.size() < old.size() && random() % 2) bytes += old.substr(bytes.size());
  if (bytes.size() > old.size() && random() % 2) bytes.resize(old.size());
  for (std::size_t at = 0; at < bytes.size(); at += sector) {
    const std::size_t count = std::min(sector, bytes.size() - at);
    if (at + count > old.size() || bytes.compare(at, count, old, at, count) != 0) settle_sector(bytes, at, old, random);
  }
  return bytes;
}

}  // namespace

FaultVfs::FaultVfs() {
  usual = sqlite3_vfs_find(nullptr);
  active = this;
  sqlite3_vfs& vfs = ours();
  vfs = *usual;
  vfs.pNext = nullptr;
  vfs.zName = "steelyard-fault";
  vfs.szOsFile = static_cast<int>(sizeof(File)) + usual->szOsFile;
  vfs.xOpen = open_file;
  vfs.xDelete = remove_file;
  sqlite3_vfs_register(&vfs, 1);
}

FaultVfs::~FaultVfs() {
  sqlite3_vfs_unregister(&ours());
  sqlite3_vfs_register(usual, 1);
  active = nullptr;
}

void FaultVfs::arm(Fault fault, long at) {
  fault_ = fault;
  at_ = at;
  calls_ = 0;
  struck_ = false;
  durable_.clear();
  at_the_cut_.clear();
}

int FaultVfs::failure(Call call) const {
  if (fault_ == Fault::full_once || fault_ == Fault::full_for_ever) return SQLITE_FULL;
  switch (call) {
    case Call::read:
      return SQLITE_IOERR_READ;
    case Call::write:
      return SQLITE_IOERR_WRITE;
    case Call::truncate:
      return SQLITE_IOERR_TRUNCATE;
    case Call::sync:
      return SQLITE_IOERR_FSYNC;
    case Call::open:
      return SQLITE_CANTOPEN;
    case Call::remove:
      return SQLITE_IOERR_DELETE;
    case Call::lock:
      return SQLITE_IOERR_LOCK;
    case Call::size:
      return SQLITE_IOERR_FSTAT;
  }
  return SQLITE_IOERR;
}

int FaultVfs::answer(Call call) {
  const bool full = fault_ == Fault::full_once || fault_ == Fault::full_for_ever;
  if (fault_ == Fault::none || (full && call != Call::write)) return SQLITE_OK;
  ++calls_;
  const bool once = fault_ == Fault::io_once || fault_ == Fault::full_once;
  if (calls_ < at_ || (once && calls_ > at_)) return SQLITE_OK;
  if (!struck_ && fault_ == Fault::power)
    for (const auto& [path, durable] : durable_) at_the_cut_[path] = read_file(path);
  struck_ = true;
  return failure(call);
}

void FaultVfs::was_opened(const std::string& path) {
  if (fault_ != Fault::power || durable_.contains(path)) return;
  // A file that was there before is durable as it is; one that was just made is not there for certain.
  auto bytes = read_file(path);
  const bool made = !bytes || bytes->empty();
  durable_[path] = {!made, made ? std::string() : std::move(*bytes)};
}

void FaultVfs::was_synced(const std::string& path) {
  if (fault_ == Fault::power) durable_[path] = {true, read_file(path).value_or("")};
}

void FaultVfs::was_removed(const std::string& path, bool folder_synced) {
  if (fault_ == Fault::power && folder_synced) durable_[path] = {false, ""};
}

void FaultVfs::leave_what_a_cut_leaves(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  for (const auto& [path, written] : at_the_cut_) {
    const Durable& durable = durable_[path];
    const bool back = !written && durable.exists && random() % 2;
    const bool lost = written && !durable.exists && random() % 2;
    if (lost || (!written && !back)) {
      std::filesystem::remove(path);
      continue;
    }
    const std::string bytes = written ? settled(durable.bytes, *written, random) : durable.bytes;
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
  }
  fault_ = Fault::none;
}

}  // namespace steelyard::test
