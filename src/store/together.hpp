// Several changes of a store, each whole or not at all, kept by one commit: a disk is waited for once and not each time.
//
// While it lives, every change of the store is a part of one transaction: what one of them throws undoes that one alone.
// Nothing may be acknowledged before commit() has returned. Errors: Refused where the store cannot be written now, and
// by commit(), which then keeps none.
#pragma once

#include <memory>

#include "store/store.hpp"

namespace steelyard::store {

class Together {
 public:
  /// Waits for other programs that write, as a change does.
  explicit Together(Store& store);
  ~Together();  // undoes all of it unless commit() was called
  Together(const Together&) = delete;
  Together& operator=(const Together&) = delete;
  void commit();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace steelyard::store
