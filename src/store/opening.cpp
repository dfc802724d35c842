#include "store/opening.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <map>
#include <mutex>
#include <system_error>
#include <utility>

#include "store/backup.hpp"
#include "store/placing.hpp"
#include "store/refusal.hpp"

namespace steelyard::store {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const fs::path& path, std::string_view what) {
  throw Refused(about(path, what));
}

void check_kind_of_file(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  switch (status.type()) {
    case fs::file_type::regular:
      break;
    case fs::file_type::not_found:
      refuse(path, "there is no store here; make one with steelyard init, or name another with --store");
    case fs::file_type::directory:
      refuse(path, "is a folder, not a store; name the file in it");
    case fs::file_type::none:
    case fs::file_type::unknown:
      refuse(path, "cannot be looked at (" + error.message() + "); allow reading its folder");
    default:
      refuse(path, "is a device, pipe or socket, not a store; name a file");
  }
  if (fs::file_size(path, error) == 0 && !error)
    refuse(path, "is empty, not a store; remove it and make a store with steelyard init");
}

void check_writable(const fs::path& path, const Connection& connection) {
  if (connection.cannot_write())
    refuse(path, "the file cannot be written; allow writing to it, or copy it to a folder of your own");
  // The rollback journal is made beside the file.
  if (::faccessat(AT_FDCWD, folder_of(path).c_str(), W_OK | X_OK, AT_EACCESS) != 0)
    refuse(
        path,
        "its folder cannot be written, which every change needs; allow writing there, or copy the store to "
        "a folder of your own");
}

// Offsets in the header: SQLite's file format, section 1.3.
constexpr std::string_view magic("SQLite format 3\0", 16);
constexpr int header_size = 100, write_version_at = 18, application_id_at = 68;

int big_endian(std::string_view bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = at; i < at + 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[i]);
  return static_cast<int>(value);
}

// The rollback journal: SQLite's file format, section 3.
constexpr std::string_view journal_magic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
constexpr std::size_t journal_header = 28, sector_size_at = 20, page_size_at = 24, most_looked_through = 1 << 20;

std::string beginning_of(const fs::path& path, std::size_t most) {
  std::ifstream in(path, std::ios::binary);
  std::string bytes(most, '\0');
  in.read(bytes.data(), static_cast<std::streamsize>(most));
  bytes.resize(static_cast<std::size_t>(in.gcount()));
  return bytes;
}

bool is_ours(std::string_view header) {
  return header.size() >= static_cast<std::size_t>(header_size) && header.starts_with(magic) &&
         big_endian(header, application_id_at) == application_id;
}

/// True where the journal holds a store's first page as it was. A loss of power can garble that page in the file
/// itself; only what the journal says is then left to know the file by.
bool journal_is_ours(const fs::path& journal) {
  const std::string bytes = beginning_of(journal, most_looked_through);
  if (!bytes.starts_with(journal_magic) || bytes.size() < journal_header) return false;
  const auto sector = static_cast<std::size_t>(big_endian(bytes, sector_size_at));
  const auto page = static_cast<std::size_t>(big_endian(bytes, page_size_at));
  if (sector < journal_header || sector > 65536 || page < 512 || page > 65536) return false;
  // Records: the page's number, the page as it was, a checksum.
  for (std::size_t at = sector; at + page + 8 <= bytes.size(); at += page + 8)
    if (big_endian(bytes, at) == 1) return is_ours(std::string_view(bytes).substr(at + 4, page));
  return false;
}

/// Looks at the raw bytes, because SQLite itself would already replay a foreign file's journal.
void check_header(const fs::path& path, const Connection& connection) {
  const std::string header = connection.raw_bytes(0, header_size);
  if (!header.starts_with(magic))
    refuse(path, "is not a Steelyard store but a file of another kind; name the right file");
  if (big_endian(header, application_id_at) != application_id)
    refuse(path, "is a database of another program, not a Steelyard store; name the right file");
  if (header[write_version_at] != 1 || header[write_version_at + 1] != 1)
    refuse(path,
           "another program has switched the store to a write-ahead log; switch it back with that program "
           "(journal_mode=DELETE) and repeat");
}

/// Building the expected schema takes longer than opening; it is the same for the life of the program. Known by what the
/// migrations say, never by where they lie: another list may come to lie there.
std::string expected_schema(std::span<const Migration> migrations) {
  static std::mutex guard;
  static std::map<std::string, std::string> known;
  std::string said;
  for (const Migration& one : migrations) (said += one.sql) += '\0';
  const std::lock_guard lock(guard);
  std::string& text = known[std::move(said)];
  if (text.empty()) text = expected_schema_text(migrations);
  return text;
}

/// Checks version and schema as they stand in one moment; gives the version.
int check_schema(Connection& connection, std::span<const Migration> migrations) {
  Transaction moment(connection, Transaction::Kind::reading);
  const int version = version_of(connection);
  const int newest = static_cast<int>(migrations.size());
  if (version > newest)
    refuse(connection.path(), "was written by a newer version of Steelyard (format " +
                                  std::to_string(version) + ", this program knows " + std::to_string(newest) +
                                  "); update steelyard and repeat");
  if (version < 1 ||
      schema_text(connection) != expected_schema(migrations.first(static_cast<std::size_t>(version))))
    refuse(connection.path(),
           "another program has changed how the store is laid out; restore a backup, or undo "
           "that change");
  return version;
}

bool may_write(const fs::path& path) {
  return ::faccessat(AT_FDCWD, path.c_str(), W_OK, AT_EACCESS) == 0;
}

/// A write that was cut off left its journal: only a connection that may write can undo it, and whoever only wants to
/// read should not have to know. Does nothing where a program is writing just now, where nothing can be written, and to
/// a file that is not ours.
void undo_interrupted_write(const fs::path& path, std::chrono::milliseconds patience) {
  std::error_code error;
  const fs::path journal = fs::path(path) += "-journal";
  if (!fs::exists(journal, error) || !may_write(path) || !may_write(folder_of(path))) return;
  // Through SQLite: opened and closed by other means the file would lose the locks of this program's connections.
  Connection connection(path, Connection::Mode::write, patience, path);
  if (!is_ours(connection.raw_bytes(0, header_size)) && !journal_is_ours(journal)) return;
  const Transaction moment(connection, Transaction::Kind::reading);
  version_of(connection);
}

void settle(Connection& connection, Access access, const Settings& settings) {
  // Pages are read and never mapped: a truncated file is then an error and not a crash.
  connection.single_integer("PRAGMA mmap_size = 0");
  if (access == Access::read_only) return;
  connection.run("PRAGMA synchronous = EXTRA");
  // What a redaction erases must not stay in free pages.
  connection.single_integer("PRAGMA secure_delete = ON");
  if (settings.most_pages)
    connection.single_integer("PRAGMA max_page_count = " + std::to_string(*settings.most_pages));
}

}  // namespace

std::unique_ptr<Connection> open_store(const fs::path& path, Access access, const Settings& settings) {
  check_kind_of_file(path);
  const bool writing = access == Access::read_write;
  undo_interrupted_write(path, settings.patience);
  auto connection = std::make_unique<Connection>(
      path, writing ? Connection::Mode::write : Connection::Mode::read, settings.patience, path);
  check_header(path, *connection);
  if (writing) check_writable(path, *connection);
  settle(*connection, access, settings);
  const int version = check_schema(*connection, settings.migrations);
  if (version == static_cast<int>(settings.migrations.size())) return connection;
  if (!writing && settings.older_too) return connection;
  if (!writing)
    refuse(path, "is of an older format (" + std::to_string(version) +
                     "), which any command that writes brings up to date; copy the file, then run one");
  copy_before_migration(*connection, version, settings.migrations);
  migrate(*connection, settings.migrations);
  check_schema(*connection, settings.migrations);
  return connection;
}

std::unique_ptr<Connection> create_store(const fs::path& path, const Settings& settings) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(path, error)))
    refuse(path, "is there already and was left as it is; name a file that does not exist yet");
  const Unfinished unfinished{unfinished_name(path)};
  make_empty_file(unfinished.path, path);
  {
    Connection connection(unfinished.path, Connection::Mode::write, settings.patience, path);
    settle(connection, Access::read_write, settings);
    migrate(connection, settings.migrations);
  }
  put_in_place(unfinished.path, path, false);
  return open_store(path, Access::read_write, settings);
}

}  // namespace steelyard::store
