#include "store/store.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/opening.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {

namespace {

constexpr std::size_t shortest_prefix = 4, most_named = 10;

[[noreturn]] void refuse(const Connection& connection, std::string_view what) {
  throw Refused(about(connection.path(), what));
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (std::size_t i = 0; i < names.size() && i < most_named; ++i) all += (i ? ", " : "") + names[i];
  if (names.size() > most_named) all += " and " + std::to_string(names.size() - most_named) + " more";
  return all;
}

/// Ids that begin with `text`, each once, in order.
std::vector<std::string> ids_beginning(Connection& connection, std::string_view text) {
  std::vector<std::string> found;
  Query row = connection.query("SELECT DISTINCT id FROM session WHERE id >= ? ORDER BY id");
  row.put(text);
  while (row.next()) {
    const std::string_view id = row.text();
    if (!id.starts_with(text)) break;
    found.emplace_back(id);
  }
  return found;
}

std::string first_of(std::string_view first, std::string_view second) {
  return std::string(first.empty() ? second : first);
}

Summary summary_of_row(Query& row) {
  Summary summary;
  summary.id = row.text();
  summary.revision = row.small_integer();
  summary.sealed = row.flag();
  summary.weighed_at = row.text();
  summary.place = row.text();
  for (std::string* const name : {&summary.client, &summary.tow_vehicle, &summary.trailer}) {
    const std::string label(row.optional_text());
    *name = first_of(label, row.optional_text());
  }
  summary.states = row.small_integer();
  summary.readings = row.small_integer();
  summary.struck = row.small_integer();
  for (std::string* const text : {&summary.technician, &summary.purpose, &summary.client_uid}) *text = row.text();
  for (std::string* const text :
       {&summary.tow_uid, &summary.tow_registration, &summary.trailer_uid, &summary.trailer_registration})
    *text = row.optional_text();
  summary.has_trailer = row.flag();
  return summary;
}

/// Of rows that stand side by side the one that stands, with the number of the others.
std::vector<Summary> standing_only(Connection& connection, std::vector<std::pair<std::int64_t, Summary>> rows) {
  std::map<std::string, int, std::less<>> times;
  for (const auto& [key, summary] : rows) ++times[summary.id];
  std::vector<Summary> all;
  for (auto& [key, summary] : rows) {
    if (times[summary.id] > 1) {
      if (find_session(connection, summary.id) != key) continue;
      for (const RevisionKey& one : revisions_of(connection, summary.id))
        summary.rivals += one.revision == summary.revision && one.key != key ? 1 : 0;
    }
    all.push_back(std::move(summary));
  }
  return all;
}

}  // namespace

Store::Store(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Store Opener::open(const std::filesystem::path& path, Access access, const Settings& settings) {
  auto impl = std::make_unique<Store::Impl>();
  impl->connection = open_store(path, access, settings);
  return Store(std::move(impl));
}

Store Opener::create(const std::filesystem::path& path, const Settings& settings) {
  auto impl = std::make_unique<Store::Impl>();
  impl->connection = create_store(path, settings);
  return Store(std::move(impl));
}

Connection& Opener::connection_of(Store& store) {
  return *store.impl_->connection;
}

Store Store::create(const std::filesystem::path& path) {
  return Opener::create(path, {});
}
Store Store::open(const std::filesystem::path& path, Access access) {
  return Opener::open(path, access, {});
}

std::vector<Summary> Store::list() const {
  std::vector<std::pair<std::int64_t, Summary>> rows;
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  {
    Query row = connection.query(
        "SELECT s.session, s.id, s.revision, EXISTS (SELECT 1 FROM seal WHERE session = s.session), s.weighed_at, "
        "s.place, s.client_name, s.client_uid, v.label, v.registration, t.label, t.registration, "
        "(SELECT count(*) FROM state WHERE session = s.session), "
        "(SELECT count(*) FROM reading WHERE session = s.session), "
        "(SELECT count(*) FROM strike WHERE session = s.session), s.technician, s.purpose, s.client_uid, v.uid, "
        "v.registration, t.uid, t.registration, t.session IS NOT NULL "
        "FROM session AS s LEFT JOIN tow_vehicle AS v ON v.session = s.session "
        "LEFT JOIN trailer AS t ON t.session = s.session "
        "WHERE NOT EXISTS (SELECT 1 FROM session AS later WHERE later.id = s.id AND later.revision > "
        "s.revision) "
        "ORDER BY s.weighed_ms NULLS LAST, s.id");
    while (row.next()) {
      const std::int64_t key = row.integer();
      rows.emplace_back(key, summary_of_row(row));
    }
  }
  return standing_only(connection, std::move(rows));
}

std::vector<std::string> Store::ids() const {
  std::vector<std::string> all;
  for (const Summary& summary : list()) all.push_back(summary.id);
  return all;
}

std::string Store::resolve(std::string_view text) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  if (find_session(connection, text)) return std::string(text);
  const auto at = text.rfind('@');
  const std::string_view prefix = text.substr(0, at), suffix = at == text.npos ? "" : text.substr(at);
  if (prefix.size() < shortest_prefix)
    refuse(connection, "there is no session " + std::string(text) +
                           "; give the whole id or at least its first " + std::to_string(shortest_prefix) +
                           " characters");
  const std::vector<std::string> found = ids_beginning(connection, prefix);
  if (found.size() > 1)
    refuse(connection, "several sessions begin with " + std::string(prefix) + ": " + joined(found) +
                           "; give more of the id");
  std::string name = found.empty() ? std::string(text) : found.front() + std::string(suffix);
  key_of(connection, name);
  return name;
}

rig::Session Store::load(std::string_view id) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  return read_session(connection, key_of(connection, id));
}

std::int64_t Store::changes() const {
  return impl_->connection->single_integer("PRAGMA data_version");
}

}  // namespace steelyard::store
