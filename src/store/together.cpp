#include "store/together.hpp"

#include "store/opening.hpp"
#include "store/refusal.hpp"
#include "store/sqlite.hpp"

namespace steelyard::store {

struct Together::State {
  explicit State(Connection& to) : connection(to), transaction(to, Transaction::Kind::writing) {
    connection.set_together(true);
  }
  ~State() { connection.set_together(false); }
  State(const State&) = delete;
  State& operator=(const State&) = delete;

  Connection& connection;
  Transaction transaction;
};

Together::Together(Store& store) : state_(std::make_unique<State>(Opener::connection_of(store))) {}
Together::~Together() = default;

void Together::commit() {
  Connection& connection = state_->connection;
  if (!connection.in_transaction())
    throw Refused(about(connection.path(), "what was to be kept together was undone; try again"));
  state_->transaction.commit();
}

}  // namespace steelyard::store
