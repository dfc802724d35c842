#include <stdexcept>

#include "store/deflate.hpp"
#include "store/impl.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"
#include "store/seal.hpp"

namespace steelyard::store {
namespace {

void read_amendment(Connection& connection, std::int64_t key, Record& record) {
  Query row = connection.query(
      "SELECT id, revision, replaces, revision_reason, revised_by, revised_at, "
      "NOT EXISTS (SELECT 1 FROM session AS later WHERE later.id = s.id AND later.revision > s.revision), "
      "EXISTS (SELECT 1 FROM redaction AS r WHERE r.session = s.session) FROM session AS s WHERE session = ?");
  row.put(key).next();
  record.id = row.text();
  record.revision = row.small_integer();
  record.replaces = row.text();
  record.why = row.text();
  record.by = row.text();
  record.at = row.text();
  record.stands = row.flag();
  record.redacted = row.flag();
}

Record record_of_key(Connection& connection, std::int64_t key) {
  Record record;
  read_amendment(connection, key, record);
  record.name = name_of(connection, key);
  record.content_hash = content_hash(content_of(connection, key));
  if (auto seals = seals_on(connection, key); !seals.empty()) record.seal = std::move(seals.front());
  bool first = true;  // of its revision: the one that stands before its rivals
  for (const RevisionKey& one : revisions_of(connection, record.id)) {
    if (one.revision != record.revision) continue;
    if (one.key != key) record.rivals.push_back(name_of(connection, one.key));
    if (first && one.key != key) record.stands = false;
    first = false;
  }
  record.chain = own_chain(connection);
  return record;
}

std::string result_text(Connection& connection, std::string_view hash) {
  if (hash.empty()) return {};
  Query row = connection.query("SELECT size, deflated FROM issued_result WHERE result_hash = ?");
  if (!row.put(hash).next()) connection.damaged("an issued result is missing");
  const std::int64_t size = row.integer();
  auto text = inflated(row.blob(), size);
  if (!text) connection.damaged("an issued result cannot be read");
  return std::move(*text);
}

}  // namespace

Record Store::record_of(std::string_view session) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  return record_of_key(connection, key_of(connection, session));
}

std::vector<Record> Store::revisions(std::string_view id) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  std::vector<Record> all;
  for (const RevisionKey& one : revisions_of(connection, id)) all.push_back(record_of_key(connection, one.key));
  if (all.empty()) key_of(connection, id);
  return all;
}

Chain Store::chain() const {
  const ReadingMoment moment(*impl_->connection);
  return own_chain(*impl_->connection);
}

std::optional<Issued> Store::issued(std::string_view session) const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  const auto seals = seals_on(connection, key_of(connection, session));
  if (seals.empty()) return std::nullopt;
  const Seal& seal = seals.front();
  return Issued{seal.engine, seal.build, result_text(connection, seal.result_hash)};
}

void Store::each_issued(const std::function<void(const rig::Session&, const SealedResult&)>& use) const {
  Connection& connection = *impl_->connection;
  std::vector<std::int64_t> keys;
  {
    Query row = connection.query("SELECT DISTINCT session FROM seal ORDER BY session_id, revision, content_hash");
    while (row.next()) keys.push_back(row.integer());
  }
  const auto readable = [](auto&& read) -> decltype(std::optional(read())) {
    try {
      return read();
    } catch (const Refused&) {
      return std::nullopt;
    }
  };
  for (const std::int64_t key : keys) {
    std::optional<rig::Session> session;
    std::vector<SealedResult> results;
    {
      // One moment a session: whoever takes long to use it keeps no other program from writing.
      const ReadingMoment moment(connection);
      session = readable([&] { return read_session(connection, key); });
      if (!session) continue;
      for (const Seal& seal : seals_on(connection, key)) {
        if (seal.result_hash.empty()) continue;
        auto result = readable([&] { return result_text(connection, seal.result_hash); });
        if (result)
          results.push_back({name_of(connection, key), {seal.engine, seal.build, std::move(*result)}});
      }
    }
    for (const SealedResult& result : results) use(*session, result);
  }
}

}  // namespace steelyard::store
