// What a Store holds, and the questions that several of its parts ask.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "store/sqlite.hpp"
#include "store/store.hpp"

namespace steelyard::store {

struct Store::Impl {
  std::unique_ptr<Connection> connection;
};

/// The key of the revision that stands of this id, where there is one.
std::optional<std::int64_t> find_session(Connection& connection, std::string_view id);

}  // namespace steelyard::store
