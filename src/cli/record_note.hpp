// What a report prints of the record: a store's answer as the plain values that reports know. Errors: the store's.
#pragma once

#include <string>

#include "rig/record.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

rig::RecordNote record_note(const store::Store& store, const std::string& session);

}  // namespace steelyard::cli
