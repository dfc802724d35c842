// What a Store holds.
#pragma once

#include <memory>
#include <optional>

#include "store/naming.hpp"
#include "store/sqlite.hpp"
#include "store/store.hpp"

namespace steelyard::store {

struct Store::Impl {
  std::unique_ptr<Connection> connection;
};

/// A reading transaction of its own; within an import or a sealing, theirs serves.
class ReadingMoment {
 public:
  explicit ReadingMoment(Connection& connection) {
    if (!connection.in_transaction()) own_.emplace(connection, Transaction::Kind::reading);
  }

 private:
  std::optional<Transaction> own_;
};

}  // namespace steelyard::store
