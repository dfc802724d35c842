#include "store/settings.hpp"

#include <array>
#include <map>
#include <utility>

#include "digest/digest.hpp"
#include "store/impl.hpp"
#include "store/instant.hpp"
#include "store/refusal.hpp"
#include "store/verification.hpp"

namespace steelyard::store {
namespace {

constexpr std::size_t longest_setting = 65536;

std::string setting_hash(std::int64_t seq, const Setting& setting) {
  std::string text = "steelyard-setting/1\n";
  const std::string number = std::to_string(seq);
  for (const std::string_view item : {std::string_view(number), std::string_view(setting.name),
                                      std::string_view(setting.client), std::string_view(setting.value),
                                      std::string_view(setting.at), std::string_view(setting.by)})
    (((text += 't') += std::to_string(item.size()) += ':') += item) += ';';
  return digest::sha256_hex(text);
}

Setting setting_of_row(Query& row) {
  Setting setting;
  setting.name = row.text();
  setting.client = row.text();
  setting.value = row.text();
  setting.at = row.text();
  setting.by = row.text();
  return setting;
}

void write(Connection& connection, Setting setting) {
  const std::int64_t seq = connection.single_integer("SELECT coalesce(max(seq), 0) + 1 FROM setting");
  setting.at = utc_now();
  const std::string hash = setting_hash(seq, setting);
  connection.query("INSERT INTO setting (seq, name, client, value, set_at, set_by, row_hash) VALUES (?, ?, ?, ?, ?, ?, ?)")
      .put(seq)
      .put(setting.name)
      .put(setting.client)
      .put(setting.value)
      .put(setting.at)
      .put(setting.by)
      .put(hash)
      .run();
}

}  // namespace

void verify_settings(Connection& connection, Verification& found) {
  Query row = connection.query("SELECT seq, row_hash, name, client, value, set_at, set_by FROM setting");
  while (row.next()) {
    const std::int64_t seq = row.integer();
    const std::string hash(row.text());
    const Setting setting = setting_of_row(row);
    if (setting_hash(seq, setting) != hash)
      add_fault(found, "setting_changed", {}, "the setting " + setting.name + " was altered");
  }
}

void Store::choose(const std::vector<Setting>& settings) {
  Connection& connection = *impl_->connection;
  for (const Setting& setting : settings)
    if (setting.name.empty() || setting.value.size() > longest_setting)
      throw Refused(about(connection.path(), setting.name.empty() ? "a setting has a name"
                                                                  : "the setting " + setting.name +
                                                                        " is longer than 64 KiB; shorten it"));
  Transaction transaction(connection, Transaction::Kind::writing);
  for (const Setting& setting : settings) write(connection, setting);
  Verification found;
  verify_settings(connection, found);
  if (!found.sound()) connection.damaged("a setting reads back otherwise than written; nothing was set");
  transaction.commit();
}

std::vector<Setting> Store::settings() const {
  Connection& connection = *impl_->connection;
  const ReadingMoment moment(connection);
  std::map<std::pair<std::string, std::string>, Setting> latest;
  {
    Query row = connection.query("SELECT name, client, value, set_at, set_by FROM setting ORDER BY seq");
    while (row.next()) {
      Setting setting = setting_of_row(row);
      std::pair key{setting.name, setting.client};
      latest.insert_or_assign(std::move(key), std::move(setting));
    }
  }
  std::vector<Setting> all;
  for (auto& [key, setting] : latest)
    if (!setting.value.empty()) all.push_back(std::move(setting));
  return all;
}

}  // namespace steelyard::store
