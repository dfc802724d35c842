#include <algorithm>
#include <set>

#include "store/verification.hpp"

namespace steelyard::store {
namespace {

/// The seals of one origin, in order of number.
using Links = std::vector<Seal>;

std::string name_of_seal(const Seal& seal) {
  return "seal " + std::to_string(seal.number) + " of chain " + seal.origin.substr(0, 8) + " (session " +
         seal.session_id + ", revision " + std::to_string(seal.revision) + ")";
}

std::string session_of(const Seal& seal) {
  return seal.session_id + "@" + std::to_string(seal.revision);
}

std::map<std::string, Links> all_links(Connection& connection) {
  static const std::string sql =
      "SELECT " + std::string(seal_columns) + " FROM seal ORDER BY origin, number, head";
  std::map<std::string, Links> links;
  Query row = connection.query(sql);
  while (row.next()) {
    Seal seal = seal_of_row(row);
    links[seal.origin].push_back(std::move(seal));
  }
  return links;
}

void check_heads(const Links& links, Verification& found) {
  for (const Seal& seal : links)
    if (head_of(seal) != seal.head)
      add_fault(found, "seal_changed", session_of(seal), name_of_seal(seal) + " was altered: its head does not follow "
                                                                              "from what it says");
}

/// Each seal follows one that is there and has the number before.
void check_order(const Links& links, Verification& found) {
  std::map<std::string_view, const Seal*> by_head;
  std::map<std::string_view, int> followers;
  for (const Seal& seal : links) by_head[seal.head] = &seal;
  for (const Seal& seal : links) {
    if (seal.number == 1 && seal.previous.empty()) {
      ++followers[{}];
      continue;
    }
    const auto before = by_head.find(seal.previous);
    if (before == by_head.end() || before->second->number != seal.number - 1) {
      add_fault(found, "chain_broken", session_of(seal),
                "before " + name_of_seal(seal) + " the chain is broken: seal " + std::to_string(seal.number - 1) +
                    " is missing, was altered or stands elsewhere");
      continue;
    }
    ++followers[seal.previous];
    if (seal.at < before->second->at)
      add_notice(found, "clock_set_back", session_of(seal),
                 name_of_seal(seal) + " is dated " + seal.at + ", before the one it follows (" + before->second->at +
                     "): a clock was wrong");
  }
  for (const auto& [head, times] : followers)
    if (times > 1)
      add_notice(found, "chain_forked", {},
                 "chain " + links.front().origin.substr(0, 8) + " goes on in " + std::to_string(times) +
                     " ways after " +
                     (head.empty() ? std::string("its beginning") : name_of_seal(*by_head[head])) +
                     ": a copy of its store went on by itself");
}

/// A session that a seal covers is there. (That it holds what was sealed is asked of the session.)
void check_sessions(Connection& connection, Verification& found) {
  static const std::string sql = "SELECT " + std::string(seal_columns) +
                                 " FROM seal AS s WHERE NOT EXISTS (SELECT 1 FROM session AS t WHERE t.session = "
                                 "s.session) ORDER BY origin, number, head";
  Query row = connection.query(sql);
  while (row.next()) {
    const Seal seal = seal_of_row(row);
    add_fault(found, "session_missing", session_of(seal), "the session that " + name_of_seal(seal) + " covers is missing");
  }
}

/// The ends of the branches.
std::vector<Chain> ends(const Links& links, bool own) {
  std::set<std::string_view> followed;
  for (const Seal& seal : links) followed.insert(seal.previous);
  std::vector<Chain> chains;
  for (const Seal& seal : links)
    if (!followed.contains(seal.head)) chains.push_back({seal.origin, seal.number, seal.head, own});
  return chains;
}

std::int64_t seals_after(const Links& links, const std::string& head) {
  std::set<std::string_view> after{head};
  std::int64_t count = 0;
  for (const Seal& seal : links)
    if (after.contains(seal.previous)) {
      after.insert(seal.head);
      ++count;
    }
  return count;
}

void look_for_head(const std::map<std::string, Links>& all, std::string_view head, Verification& found) {
  for (const auto& [origin, links] : all)
    for (const Seal& seal : links)
      if (seal.head == head && head_of(seal) == head) {
        found.head_found = true;
        found.after_head = seals_after(links, seal.head);
        return;
      }
  add_fault(found, "head_unknown", {},
            "no seal here has the head " + std::string(head) +
                ": this is an older copy of the store, its last seals were cut off, or its chain was written anew");
}

}  // namespace

void verify_chains(Connection& connection, std::string_view head, Verification& found) {
  const std::string own = origin_of(connection);
  const auto all = all_links(connection);
  for (const auto& [origin, links] : all) {
    check_heads(links, found);
    check_order(links, found);
    for (Chain& chain : ends(links, origin == own)) found.chains.push_back(std::move(chain));
  }
  check_sessions(connection, found);
  if (!all.contains(own)) found.chains.push_back({own, 0, {}, true});
  if (!head.empty()) look_for_head(all, head, found);
}

}  // namespace steelyard::store
