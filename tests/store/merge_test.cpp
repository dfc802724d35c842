// Merging stores: whatever the order, the same content. What is compared is what the Store answers, not its rows.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <numeric>
#include <random>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Merged;
using store::Opener;
using store::RegisterKind;
using store::Store;

namespace fs = std::filesystem;

namespace {

const rig::Position first_axle = rig::Position::whole_axle(rig::Vehicle::tow, 1);

void seal(Store& store, const std::string& name, const std::string& result = "{}") {
  auto sealing = store.begin_sealing();
  sealing.add(store.load(name), "R. Okoye", {"0.1.0", "a build", result});
  sealing.commit();
}

std::string texts(const store::RegisterEntry& one) {
  return one.uid + "|" + one.name + "|" + one.contact + "|" + one.label + "|" + one.registration + "|" + one.vin + "|" +
         one.serial + "|" + one.due + "|" + std::to_string(one.sessions) + "|" + one.first_at + "|" + one.last_at;
}

/// All that a store answers, but for its own name and chain: equal texts are equal contents.
std::string dump(const fs::path& path) {
  const Store store = Store::open(path, Access::read_only);
  std::string all;
  for (const std::string& id : store.ids()) {
    all += "stands " + store.record_of(id).name + "\n";
    for (const store::Record& record : store.revisions(id)) {
      const rig::Session session = store.load(record.name);
      all += record.name + " " + record.content_hash + " " + session.client.name + " " + session.weighed.place + " " +
             session.rig.tow_vehicle.registration + (record.redacted ? " redacted" : "") +
             (record.stands ? " stands" : "") + " rivals " + std::to_string(record.rivals.size());
      if (record.seal) all += " sealed " + record.seal->head + " " + store.issued(record.name)->result;
      all += "\n";
      for (const store::Attachment& one : store.attachments(record.name))
        all += "  " + one.sha256 + (one.there ? " there" : " erased") + "\n";
    }
  }
  for (const auto kind : {RegisterKind::client, RegisterKind::scale, RegisterKind::tow_vehicle, RegisterKind::trailer})
    for (const store::RegisterEntry& one : store.register_of(kind)) all += texts(one) + "\n";
  std::vector<std::string> chains;
  for (const store::Chain& chain : store.verify({}, {}).chains)
    if (!chain.own) chains.push_back(chain.origin + " " + std::to_string(chain.seals) + " " + chain.head);
  std::sort(chains.begin(), chains.end());
  for (const std::string& chain : chains) all += chain + "\n";
  return all;
}

fs::path store_with(const Folder& folder, const std::string& name, const std::vector<rig::Session>& sessions) {
  const fs::path path = folder / name;
  Store store = Store::create(path);
  import_all(store, sessions);
  return path;
}

Merged merge(const fs::path& into, const fs::path& from) {
  return Store::open(into, Access::read_write).merge(from);
}

rig::Session with_place(rig::Session session, const std::string& place) {
  session.weighed.place = place;
  return session;
}

/// Five stores that know the same sessions in different states.
std::vector<fs::path> five_vans(const Folder& folder) {
  std::vector<fs::path> vans;
  const auto van = [&](const std::string& name, const std::vector<rig::Session>& sessions, const auto& then) {
    vans.push_back(store_with(folder, name, sessions));
    Store store = Store::open(vans.back(), Access::read_write);
    then(store);
  };
  van("one.db", {full_session("a"), small_session("b"), small_session("shared")}, [](Store& store) {
    store.record("b", "alone", reading("", first_axle, 905));
    seal(store, "a");
    store.note({{RegisterKind::client, "tcwb", "contact", "stores@tcwb.example", "R. Okoye"}});
  });
  // A copy of the first one goes on by itself.
  fs::copy_file(vans[0], folder / "two.db");
  vans.push_back(folder / "two.db");
  {
    Store store = Store::open(vans.back(), Access::read_write);
    store.record("b", "alone", reading("", first_axle, 907));
    store.attach("shared", {.limit = {}, .reading = "", .what = "plate", .media_type = "", .sha256 = "", .by = "", .at = ""},
                 "picture 1");
    seal(store, "shared");
  }
  van("three.db", {with_place(small_session("b"), "elsewhere"), small_session("c")}, [](Store& store) {
    seal(store, "c");
    store.amend("c", "limit misread", "M. Adeyemi", {});
    seal(store, "c", "[2]");
  });
  van("four.db", {full_session("a"), small_session("c"), small_session("shared")}, [](Store& store) {
    store.redact_session("a", "asked for", "M. Adeyemi");
    store.strike("c", "r1", {"door open", "M. Adeyemi", "2026-10-03T09:00:00+02:00"});
    store.note({{RegisterKind::client, "gone", "name", "G. Orme", "M. Adeyemi"}});
    store.redact_client("gone", "asked for", "M. Adeyemi");
  });
  van("five.db", {small_session("shared"), small_session("d")}, [](Store& store) {
    seal(store, "shared", "[5]");
    store.record("d", "alone", reading("", first_axle, 900));
    store.note({{RegisterKind::scale, "scale-0417", "due", "2028-01-01", "M. Adeyemi"}});
  });
  return vans;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(merging)

BOOST_AUTO_TEST_CASE(five_stores_in_any_of_twenty_orders_give_the_same) {
  const Folder folder;
  const std::vector<fs::path> vans = five_vans(folder);
  std::vector<std::size_t> order(vans.size());
  std::iota(order.begin(), order.end(), 0u);
  std::mt19937 random(4);
  std::string first;
  for (int round = 0; round < 20; ++round) {
    const fs::path office = store_with(folder, "office " + std::to_string(round), {});
    for (const std::size_t van : order) merge(office, vans[van]);
    const std::string content = dump(office);
    if (round == 0) first = content;
    BOOST_TEST(content == first, "in another order the content is another");
    const auto found = Store::open(office, Access::read_only).verify({}, {});
    for (const store::Remark& remark : found.remarks)
      BOOST_TEST((remark.weight == store::Remark::Weight::notice), remark.kind << " " << remark.session << " " << remark.what);
    std::shuffle(order.begin(), order.end(), random);
  }
  // Not by any chance because nothing came in.
  BOOST_TEST(holds(first, "stands a@3"));
  BOOST_TEST(holds(first, "stands c@2"));
  BOOST_TEST(holds(first, "redacted"));
}

BOOST_AUTO_TEST_CASE(merging_again_and_merging_what_was_merged_changes_nothing) {
  const Folder folder;
  const std::vector<fs::path> vans = five_vans(folder);
  const fs::path office = store_with(folder, "office.db", {}), tree = store_with(folder, "tree.db", {}),
                 branch = store_with(folder, "branch.db", {});
  for (const fs::path& van : vans) merge(office, van);
  const std::string content = dump(office);
  for (const fs::path& van : vans) {
    const Merged again = merge(office, van);
    BOOST_TEST(again.added.empty());
    BOOST_TEST(again.extended.empty());
    BOOST_TEST(again.conflicts.empty());
    BOOST_TEST(again.seals + again.attachments + again.notes + again.redactions == 0);
  }
  BOOST_TEST(dump(office) == content);
  for (const std::size_t van : {3u, 1u}) merge(branch, vans[van]);
  for (const std::size_t van : {4u, 0u}) merge(tree, vans[van]);
  merge(tree, branch);
  merge(tree, vans[2]);
  BOOST_TEST(dump(tree) == content);
}

BOOST_AUTO_TEST_CASE(what_differs_stands_side_by_side_until_an_amendment) {
  const Folder folder;
  const fs::path one = store_with(folder, "one.db", {small_session("b")}),
                 two = store_with(folder, "two.db", {with_place(small_session("b"), "elsewhere")});
  {
    Store store = Store::open(two, Access::read_write);
    seal(store, "b");
  }
  const Merged merged = merge(one, two);
  BOOST_REQUIRE(merged.conflicts.size() == 1u);
  Store store = Store::open(one, Access::read_write);
  BOOST_TEST(store.list().size() == 1u);
  BOOST_TEST(store.list()[0].rivals == 1);
  BOOST_TEST(store.load("b").weighed.place == "elsewhere");  // the sealed one stands
  const store::Record record = store.record_of("b");
  BOOST_TEST(record.name == merged.conflicts[0]);
  BOOST_REQUIRE(record.rivals.size() == 1u);
  BOOST_TEST((store.load(record.rivals[0]) == small_session("b")));
  store.amend("b", "the second store had the right place", "R. Okoye", {});
  BOOST_TEST(store.list()[0].rivals == 0);
  BOOST_TEST(store.record_of("b").name == "b@2");
  BOOST_TEST(store.revisions("b").size() == 3u);
}

BOOST_AUTO_TEST_CASE(what_was_added_later_is_added_here) {
  const Folder folder;
  const fs::path van = store_with(folder, "van.db", {small_session("b")}), office = store_with(folder, "office.db", {});
  BOOST_TEST(merge(office, van).added == (std::vector<std::string>{"b@1"}), boost::test_tools::per_element());
  const std::string earlier = bytes_of(van);
  {
    Store store = Store::open(van, Access::read_write);
    store.record("b", "alone", reading("", first_axle, 905));
    store.strike("b", "r1", {"door open", "R. Okoye", ""});
  }
  BOOST_TEST(merge(office, van).extended == (std::vector<std::string>{"b@1"}), boost::test_tools::per_element());
  BOOST_TEST(dump(office) == dump(van));
  // An earlier state of the van brings nothing.
  write_bytes(folder / "earlier.db", earlier);
  BOOST_TEST(merge(office, folder / "earlier.db").already_there.size() == 1u);
  BOOST_TEST(dump(office) == dump(van));
}

/// small_session with a scale and a state in which everything is empty that can be filled in.
rig::Session empty_session() {
  rig::Session session = small_session("b");
  rig::Scale scale;
  scale.id = "P1";
  session.scales = {scale};
  return session;
}

rig::Session with_zero(rig::Session session, double figure) {
  session.scales[0].zero_after = units::Load{figure, units::LoadUnit::kilogram};
  return session;
}

rig::Session with_slope(rig::Session session, double value) {
  session.states[0].slope = rig::MeasuredSlope{value, 0.5};
  return session;
}

rig::Session with_height(rig::Session session, double figure) {
  session.states[0].coupling_height =
      rig::MeasuredLength{units::Length{figure, units::LengthUnit::millimetre}, std::nullopt};
  return session;
}

/// A store that has the empty session, grown to this.
fs::path grown_store(const Folder& folder, const std::string& name, const rig::Session& grown) {
  const fs::path path = store_with(folder, name, {empty_session()});
  Store::open(path, Access::read_write).extend("b", grown);
  return path;
}

BOOST_AUTO_TEST_CASE(what_was_filled_in_later_is_filled_in_here) {
  const Folder folder;
  rig::Session whole = with_height(with_slope(with_zero(empty_session(), 1), 1.5), 441);
  whole.states.push_back(whole.states[0]);
  whole.states[1].name = "again";
  whole.states[1].readings = {reading("r9", first_axle, 905)};
  const fs::path empty = store_with(folder, "empty.db", {empty_session()}),
                 half = grown_store(folder, "half.db", with_slope(empty_session(), 1.5)),
                 full = grown_store(folder, "full.db", whole);
  const std::vector<fs::path> vans{empty, half, full};
  std::vector<std::size_t> order{0, 1, 2};
  do {
    const fs::path office = folder / ("office " + std::to_string(order[0]) + std::to_string(order[1]) + ".db");
    Store::create(office);
    for (const std::size_t van : order) merge(office, vans[van]);
    BOOST_TEST(dump(office) == dump(full));
    BOOST_TEST((Store::open(office, Access::read_only).load("b") == whole));
    BOOST_TEST(Raw(office).integer("SELECT count(*) FROM session") == 1);
    BOOST_TEST(Raw(office).integer("SELECT count(*) FROM scale") == 1);
  } while (std::next_permutation(order.begin(), order.end()));
  BOOST_TEST(merge(empty, half).extended == (std::vector<std::string>{"b@1"}), boost::test_tools::per_element());
  BOOST_TEST(merge(empty, full).extended == (std::vector<std::string>{"b@1"}), boost::test_tools::per_element());
  BOOST_TEST(merge(full, half).already_there.size() == 1u);
  BOOST_TEST(dump(empty) == dump(full));
}

BOOST_AUTO_TEST_CASE(what_was_filled_in_otherwise_stands_side_by_side) {
  const Folder folder;
  const std::vector<fs::path> vans{
      store_with(folder, "empty.db", {empty_session()}),
      grown_store(folder, "one.db", with_zero(empty_session(), 1)),
      grown_store(folder, "two.db", with_zero(empty_session(), 2)),
      grown_store(folder, "slope.db", with_slope(empty_session(), 1.5)),      // another column: no part of the others
      grown_store(folder, "more.db", with_slope(with_zero(empty_session(), 1), 1.5))};  // holds one.db and slope.db
  std::vector<std::size_t> order{0, 1, 2, 3, 4};
  std::mt19937 random(5);
  std::string first;
  for (int round = 0; round < 20; ++round) {
    const fs::path office = folder / "office.db";
    fs::remove(office);
    Store::create(office);
    for (const std::size_t van : order) merge(office, vans[van]);
    const std::string content = dump(office);
    if (first.empty()) first = content;
    BOOST_TEST(content == first, "in another order the content is another");
    const Store store = Store::open(office, Access::read_only);
    BOOST_TEST(store.record_of("b").rivals.size() == 1u);
    BOOST_TEST(store.verify({}, {}).sound());
    std::shuffle(order.begin(), order.end(), random);
  }
}

BOOST_AUTO_TEST_CASE(a_sealed_fill_in_comes_with_its_seal) {
  const Folder folder;
  const rig::Session filled = with_height(with_zero(empty_session(), 1), 441);
  const fs::path van = grown_store(folder, "van.db", filled),
                 office = store_with(folder, "office.db", {empty_session()}),
                 late = grown_store(folder, "late.db", with_slope(filled, 1.5));
  {
    Store store = Store::open(van, Access::read_write);
    seal(store, "b");
  }
  BOOST_TEST(merge(office, van).extended.size() == 1u);
  BOOST_TEST(dump(office).find("sealed") != std::string::npos);
  BOOST_TEST((Store::open(office, Access::read_only).load("b") == filled));
  // What goes on from a sealed content is another one; nothing is written into what is sealed.
  BOOST_TEST(merge(office, late).conflicts.size() == 1u);
  const Store store = Store::open(office, Access::read_only);
  BOOST_TEST((store.load("b") == filled));
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_AUTO_TEST_CASE(an_older_store_is_merged_and_left_as_it_is) {
  const Folder folder;
  const fs::path office = store_with(folder, "office.db", {}), old = folder / "old.db";
  fs::copy_file(fs::path(STEELYARD_SOURCE_DIR) / "tests/store/released/format-1.db", old);
  const std::string before = bytes_of(old);
  BOOST_TEST(merge(office, old).added.size() == 4u);
  BOOST_TEST((bytes_of(old) == before));
  BOOST_TEST(folder.names().size() == 2u);
}

BOOST_AUTO_TEST_CASE(what_is_not_sound_is_not_merged) {
  const Folder folder;
  const fs::path office = store_with(folder, "office.db", {small_session("b")}), van = five_vans(folder)[0];
  const std::string before = bytes_of(office);
  BOOST_TEST(holds(refusal_of([&] { merge(office, office); }), "is the store itself"));
  BOOST_TEST(holds(refusal_of([&] { merge(office, folder / "none.db"); }), "there is no store here"));
  Raw(van).run("PRAGMA writable_schema = ON; PRAGMA foreign_keys = OFF;");
  {
    const Raw raw(van);
    const std::string trigger = raw.text("SELECT sql FROM sqlite_schema WHERE name = 'reading_is_never_changed'");
    raw.run("DROP TRIGGER reading_is_never_changed; UPDATE reading SET load_figure = 1, load_kg = 1 WHERE id = 'r1';" +
            trigger);
  }
  BOOST_TEST(holds(refusal_of([&] { merge(office, van); }), "does not verify"));
  BOOST_TEST((bytes_of(office) == before));
}

BOOST_AUTO_TEST_CASE(a_merge_that_fails_leaves_the_store_as_it_was) {
  const Folder folder;
  const fs::path office = store_with(folder, "office.db", {small_session("b")});
  std::vector<rig::Session> many;
  for (int i = 0; i < 200; ++i) many.push_back(full_session("many " + std::to_string(i)));
  const fs::path van = store_with(folder, "van.db", many);
  const std::string before = content_of(office);
  store::Settings full_disk;
  full_disk.most_pages = static_cast<int>(fs::file_size(office) / 4096) + 20;
  BOOST_TEST(holds(refusal_of([&] { Opener::open(office, Access::read_write, full_disk).merge(van); }), "disk is full"));
  BOOST_TEST(content_of(office) == before);
  BOOST_TEST(merge(office, van).added.size() == 200u);
}

BOOST_AUTO_TEST_SUITE_END()
