#include "store/seal.hpp"

#include <charconv>
#include <stdexcept>
#include <utility>

#include "digest/digest.hpp"
#include "store/deflate.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/rows.hpp"

namespace steelyard::store {
namespace {

constexpr std::string_view replaced_words = "revision ", hash_words = ", SHA-256 ";

void append_field(std::string& text, std::string_view name, std::string_view value) {
  ((text += name) += '=') += std::to_string(value.size());
  ((text += ':') += value) += '\n';
}

void write_copy(Connection& connection, std::string_view hash, std::string_view text) {
  if (connection.query("SELECT 1 FROM sealed_copy WHERE content_hash = ?").put(hash).next()) return;
  const std::string bytes = deflated(text);
  connection.query("INSERT INTO sealed_copy (content_hash, size, deflated) VALUES (?, ?, ?)")
      .put(hash)
      .put(std::ssize(text))
      .put_blob(bytes)
      .run();
}

void write_result(Connection& connection, std::string_view hash, std::string_view text) {
  if (hash.empty() || connection.query("SELECT 1 FROM issued_result WHERE result_hash = ?").put(hash).next()) return;
  const std::string bytes = deflated(text);
  connection.query("INSERT INTO issued_result (result_hash, size, deflated) VALUES (?, ?, ?)")
      .put(hash)
      .put(std::ssize(text))
      .put_blob(bytes)
      .run();
}

/// The row of `expected`'s id and revision that holds just that.
std::int64_t key_of_content(Connection& connection, const rig::Session& expected) {
  bool known = false;
  for (const RevisionKey& one : revisions_of(connection, expected.id)) {
    known = true;
    if (one.revision == expected.revision && read_session(connection, one.key) == expected) return one.key;
  }
  if (!known) return store::key_of(connection, expected.id);
  throw Conflict(about(connection.path(), "session " + expected.id +
                                              " was changed while it was being sealed; look at it and repeat"));
}

}  // namespace

std::string head_of(const Seal& seal) {
  std::string text = "steelyard-seal/1\n";
  const std::string number = std::to_string(seal.number), revision = std::to_string(seal.revision),
                    form = std::to_string(seal.form);
  for (const auto& [name, value] : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"origin", seal.origin},
           {"number", number},
           {"previous", seal.previous},
           {"session_id", seal.session_id},
           {"revision", revision},
           {"form", form},
           {"content_hash", seal.content_hash},
           {"identity_hash", seal.identity_hash},
           {"result_hash", seal.result_hash},
           {"engine", seal.engine},
           {"build", seal.build},
           {"sealed_by", seal.by},
           {"sealed_at", seal.at}})
    append_field(text, name, value);
  return digest::sha256_hex(text);
}

std::string origin_of(Connection& connection) {
  Query row = connection.query("SELECT origin FROM store");
  if (!row.next()) connection.damaged("the store's own name is missing");
  return std::string(row.text());
}

Chain own_chain(Connection& connection) {
  Chain chain;
  chain.origin = origin_of(connection);
  chain.own = true;
  // A copy of this store that was merged back may have gone on by itself: the longest branch is the one to add to.
  Query row = connection.query(
      "SELECT number, head FROM seal WHERE origin = ? AND number = (SELECT max(number) FROM seal WHERE origin = ?) "
      "ORDER BY head LIMIT 1");
  if (row.put(chain.origin).put(chain.origin).next()) {
    chain.seals = row.integer();
    chain.head = row.text();
  }
  return chain;
}

Seal seal_of_row(Query& row) {
  Seal seal;
  seal.head = row.text();
  seal.origin = row.text();
  seal.number = row.integer();
  seal.previous = row.text();
  seal.session_id = row.text();
  seal.revision = row.small_integer();
  seal.form = row.small_integer();
  for (std::string* const text : {&seal.content_hash, &seal.identity_hash, &seal.result_hash, &seal.engine,
                                  &seal.build, &seal.by, &seal.at})
    *text = row.text();
  return seal;
}

std::vector<Seal> seals_on(Connection& connection, std::int64_t session) {
  static const std::string sql =
      "SELECT " + std::string(seal_columns) + " FROM seal WHERE session = ? ORDER BY sealed_at, origin, number, head";
  std::vector<Seal> seals;
  Query row = connection.query(sql);
  row.put(session);
  while (row.next()) seals.push_back(seal_of_row(row));
  return seals;
}

void write_seal(Connection& connection, std::int64_t session, const Seal& seal) {
  connection
      .query(
          "INSERT INTO seal (head, origin, number, previous, session, session_id, revision, form, content_hash, "
          "identity_hash, result_hash, engine, build, sealed_by, sealed_at) "
          "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
      .put(seal.head)
      .put(seal.origin)
      .put(seal.number)
      .put(seal.previous)
      .put(session)
      .put(seal.session_id)
      .put(seal.revision)
      .put(seal.form)
      .put(seal.content_hash)
      .put(seal.identity_hash)
      .put(seal.result_hash)
      .put(seal.engine)
      .put(seal.build)
      .put(seal.by)
      .put(seal.at)
      .run();
}

std::string identity_hash(std::string_view salt, const Content& content) {
  return digest::sha256_hex(std::string(salt) + content.identity);
}

std::string replaced_text(int revision, std::string_view content_hash) {
  std::string text(replaced_words);
  ((text += std::to_string(revision)) += hash_words) += content_hash;
  return text;
}

std::optional<Replaced> parse_replaced(std::string_view text) {
  if (!text.starts_with(replaced_words)) return std::nullopt;
  text.remove_prefix(replaced_words.size());
  Replaced replaced;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), replaced.revision);
  if (end.ec != std::errc()) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end.ptr - text.data()));
  if (!text.starts_with(hash_words)) return std::nullopt;
  replaced.content_hash = text.substr(hash_words.size());
  if (!digest::is_sha256_hex(replaced.content_hash)) return std::nullopt;
  return replaced;
}

struct Store::Sealing::State {
  explicit State(Connection& to)
      : connection(to), transaction(to, Transaction::Kind::writing), chain(own_chain(to)) {}

  Connection& connection;
  Transaction transaction;
  Chain chain;
  bool broken = false, done = false;

  Seal set(std::int64_t key, std::string_view by, const Issued& issued);
  void seal_earlier(const rig::Session& session, std::string_view by, const Issued& issued);
};

Seal Store::Sealing::State::set(std::int64_t key, std::string_view by, const Issued& issued) {
  const Content content = content_of(connection, key);
  const std::string text = content_text(content), salt = digest::random_hex(16);
  Seal seal;
  {
    Query row = connection.query("SELECT id, revision FROM session WHERE session = ?");
    row.put(key).next();
    seal.session_id = row.text();
    seal.revision = row.small_integer();
  }
  seal.origin = chain.origin;
  seal.number = chain.seals + 1;
  seal.previous = chain.head;
  seal.form = newest_form;
  seal.content_hash = digest::sha256_hex(text);
  seal.identity_hash = identity_hash(salt, content);
  if (!issued.result.empty()) seal.result_hash = digest::sha256_hex(issued.result);
  seal.engine = issued.engine;
  seal.build = issued.build;
  seal.by = by;
  seal.at = utc_now();
  seal.head = head_of(seal);
  write_copy(connection, seal.content_hash, text);
  write_result(connection, seal.result_hash, issued.result);
  write_seal(connection, key, seal);
  connection.query("INSERT INTO identity_salt (head, salt) VALUES (?, ?)").put(seal.head).put(salt).run();
  const auto stored = seals_on(connection, key);
  if (stored.empty() || stored.back() != seal)
    connection.damaged("a seal reads back otherwise than written; nothing was sealed");
  chain.seals = seal.number;
  chain.head = seal.head;
  return seal;
}

void Store::Sealing::State::seal_earlier(const rig::Session& session, std::string_view by, const Issued& issued) {
  for (const RevisionKey& one : revisions_of(connection, session.id))
    if (one.revision < session.revision && !is_sealed(connection, one.key))
      set(one.key, by, {issued.engine, issued.build, {}});
}

Store::Sealing::Sealing(std::unique_ptr<State> state) : state_(std::move(state)) {}
Store::Sealing::Sealing(Sealing&&) noexcept = default;
Store::Sealing::~Sealing() = default;

Store::Sealing Store::begin_sealing() {
  return Sealing(std::make_unique<Sealing::State>(*impl_->connection));
}

Seal Store::Sealing::add(const rig::Session& expected, std::string_view by, const Issued& issued) {
  State& state = *state_;
  if (state.done) throw std::logic_error("store: a sealing goes on after its commit");
  Connection& connection = state.connection;
  if (by.find_first_not_of(' ') == std::string_view::npos)
    throw Refused(about(connection.path(), "a seal needs a name: say who seals session " + expected.id));
  const std::int64_t key = key_of_content(connection, expected);
  if (is_sealed(connection, key))
    throw Closed(about(connection.path(), "session " + name_of(connection, key) +
                                              " is sealed already; steelyard amend opens a new revision"));
  state.broken = true;  // until the whole seal is in
  state.seal_earlier(expected, by, issued);
  Seal seal = state.set(key, by, issued);
  state.broken = false;
  return seal;
}

void Store::Sealing::commit() {
  if (state_->done) throw std::logic_error("store: a sealing is committed twice");
  if (state_->broken)
    throw Refused(about(state_->connection.path(), "the sealing has failed already; nothing was sealed"));
  state_->transaction.commit();
  state_->done = true;
}

}  // namespace steelyard::store
