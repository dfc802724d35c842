// What all connections of a server have in common, and the one door into its network thread.
#pragma once

#include <boost/asio/io_context.hpp>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "field/http/server.hpp"

namespace steelyard::field::http {

class Connection;

/// Outlives the server in the hands of replies that are still to come.
class Door {
 public:
  explicit Door(boost::asio::io_context& io) : io_(&io) {}

  /// Has `work` done on the network thread; false where the server is gone.
  bool post(std::function<void()> work);
  void close();

 private:
  std::mutex mutex_;
  boost::asio::io_context* io_;
};

/// Only the network thread touches what changes here.
struct Network {
  Options options;
  Handler handler;
  boost::asio::io_context io{1};
  std::shared_ptr<Door> door = std::make_shared<Door>(io);
  std::map<Connection*, std::shared_ptr<Connection>> connections = {};
  bool stopping = false;
  /// Called when a connection has gone.
  std::function<void()> gone = {};
};

}  // namespace steelyard::field::http
