// Any bytes as a store: opening, listing, loading and verifying give an answer or Refused, and nothing is written.
//
// An input is a list of edits of a sound store (four bytes of place, one of content), so that the fuzzer is not busy
// with headers; one that begins as a database does is taken as it is.
#include <unistd.h>

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "store/store.hpp"

namespace {

namespace fs = std::filesystem;
using namespace steelyard;

rig::Session session() {
  rig::Session one;
  one.id = "fuzzed";
  one.rig.tow_vehicle.axles = {{{0, units::LengthUnit::millimetre}, rig::Group::front},
                               {{3000, units::LengthUnit::millimetre}, rig::Group::rear}};
  rig::State& state = one.states.emplace_back();
  state.name = "alone";
  rig::Reading& reading = state.readings.emplace_back();
  reading.id = "r1";
  reading.at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
  reading.load = {900, units::LoadUnit::kilogram};
  return one;
}

struct Place {
  fs::path folder = fs::temp_directory_path() / ("steelyard-fuzz-" + std::to_string(::getpid()));
  fs::path file = folder / "fuzzed.db";
  std::string sound;

  Place() {
    fs::create_directories(folder);
    store::Store store = store::Store::create(file);
    auto import = store.begin_import();
    import.add(session(), std::string(64, '0'));
    import.commit();
    auto sealing = store.begin_sealing();
    sealing.add(store.load("fuzzed"), "R. Okoye", {"0", "0", "{}"});
    sealing.commit();
    std::ifstream in(file, std::ios::binary);
    sound.assign(std::istreambuf_iterator<char>(in), {});
  }
  ~Place() {
    std::error_code ignored;
    fs::remove_all(folder, ignored);
  }
};

std::string edited(std::string bytes, const std::uint8_t* data, std::size_t size) {
  if (size > 16 && std::string_view(reinterpret_cast<const char*>(data), 6) == "SQLite")
    return {reinterpret_cast<const char*>(data), size};
  for (std::size_t i = 0; i + 5 <= size; i += 5) {
    const std::size_t at = static_cast<std::size_t>(data[i]) << 24 | static_cast<std::size_t>(data[i + 1]) << 16 |
                           static_cast<std::size_t>(data[i + 2]) << 8 | data[i + 3];
    bytes[at % bytes.size()] = static_cast<char>(data[i + 4]);
  }
  return bytes;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Place place;
  const std::string bytes = edited(place.sound, data, size);
  std::ofstream(place.file, std::ios::binary | std::ios::trunc) << bytes;
  try {
    const store::Store store = store::Store::open(place.file, store::Access::read_only);
    for (const std::string& id : store.ids()) (void)store.load(id);
    (void)store.list();
    (void)store.verify({}, {});
  } catch (const store::Refused&) {
    // An answer.
  }
  std::ifstream in(place.file, std::ios::binary);
  if (std::string(std::istreambuf_iterator<char>(in), {}) != bytes) std::abort();
  return 0;
}
