// A standing revision grows, and is corrected in a new one. All figures are inputs, looked for as they were given.
#include <boost/test/unit_test.hpp>
#include <functional>
#include <utility>

#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using rig::Position;
using store::Access;
using store::Conflict;
using store::Store;

namespace {

units::Length mm(double figure) {
  return {figure, units::LengthUnit::millimetre};
}
units::Load lb(double figure) {
  return {figure, units::LoadUnit::pound};
}

struct WithSession {
  Folder folder;
  std::filesystem::path path = make_store(folder, {full_session("a"), small_session("b")});
  Store store = Store::open(path, Access::read_write);

  void seal(const std::string& name) {
    auto sealing = store.begin_sealing();
    sealing.add(store.load(name), "R. Okoye", {"0.1.0", "a build", "{}"});
    sealing.commit();
  }
};

rig::Reading rear_axle(const std::string& id) {
  return reading(id, Position::whole_axle(rig::Vehicle::tow, 2), 1204.5);
}

/// Everything that can come later, come.
rig::Session grown() {
  rig::Session session = full_session("a");
  session.modifications.push_back({"second battery", lb(62), mm(1800), "M-8"});
  session.scales[0].check_weights.push_back({lb(44), lb(44.5), "2026-10-03T11:00:00+02:00"});
  session.scales[1].check_weights = {{lb(22), lb(22), ""}};
  session.scales[1].zero_after = lb(-1.5);
  rig::Scale fourth;
  fourth.id = "P4";
  fourth.check_weights = {{lb(10), lb(10.5), ""}};
  session.scales.push_back(fourth);
  session.rig.limits.push_back(session.rig.limits[0]);
  session.rig.limits.back().source = "towing handbook";
  session.states[0].ride_heights = {{"rear_left", mm(498)}};
  session.states[1].ride_heights.insert(session.states[1].ride_heights.begin() + 1, {"front_right", mm(515)});
  rig::Reading on_new_scale = rear_axle("k7m2q-9xd0f");
  on_new_scale.scales = {"P4", "P1"};
  session.states[0].readings.push_back(on_new_scale);
  session.states[2].coupling_height = rig::MeasuredLength{mm(441), mm(4)};
  session.states[2].slope = rig::MeasuredSlope{1.25, 0.5};
  rig::State again = session.states[2];
  again.name = "nose again";
  rig::Reading struck = reading("nose 2", Position::support_at_coupling(), 166);
  struck.struck = rig::Strike{"rocked", "R. Okoye", "2026-10-03T11:10:00+02:00"};
  again.readings = {struck, reading("nose 3", Position::support_at_coupling(), 168.5)};
  session.states.push_back(again);
  return session;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(extending)

BOOST_FIXTURE_TEST_CASE(all_that_can_come_later_comes, WithSession) {
  BOOST_TEST((store.extend("a", grown()) == grown()));
  BOOST_TEST((Store::open(path, Access::read_only).load("a") == grown()));
  BOOST_TEST((store.load("b") == small_session("b")));
  BOOST_TEST(store.revisions("a").size() == 1u);
  // What came later is marked so; what came with the sheet is not.
  const Raw raw(path);
  BOOST_TEST(raw.texts("SELECT id FROM reading WHERE recorded_at LIKE '20__-__-__T__:__:__Z' ORDER BY seq") ==
                 (std::vector<std::string>{"k7m2q-9xd0f", "nose 2", "nose 3"}),
             boost::test_tools::per_element());
  BOOST_TEST(raw.integer("SELECT count(*) FROM strike WHERE recorded_at IS NOT NULL") == 1);
  // The sheet from which it began is still known.
  auto import = store.begin_import();
  BOOST_TEST((import.add(full_session("a"), hash_of("a")) == Store::Added::already_there));
}

BOOST_FIXTURE_TEST_CASE(the_same_again_changes_nothing, WithSession) {
  store.extend("a", grown());
  const std::string before = content_of(path);
  BOOST_TEST((store.extend("a", grown()) == grown()));
  BOOST_TEST((store.extend("b", small_session("b")) == small_session("b")));
  seal("a");
  BOOST_TEST((store.extend("a", grown()) == grown()));  // even after the seal
  BOOST_TEST(Raw(path).integer("SELECT count(*) FROM reading") == 10);  // 5 and 2 of the samples, 3 added
  BOOST_TEST(holds(before, "k7m2q-9xd0f"));
}

BOOST_FIXTURE_TEST_CASE(it_grows_piece_by_piece, WithSession) {
  rig::Session session = full_session("a");
  const auto step = [&](const std::function<void(rig::Session&)>& add) {
    add(session);
    store.extend("a", session);
    BOOST_TEST((store.load("a") == session));
  };
  step([](rig::Session& s) { s.scales[1].zero_after = lb(0); });
  step([](rig::Session& s) { s.states[2].slope = rig::MeasuredSlope{0, std::nullopt}; });
  step([](rig::Session& s) { s.states[2].coupling_height = rig::MeasuredLength{mm(441), std::nullopt}; });
  step([](rig::Session& s) { s.scales[2].zero_after = lb(2); });
  step([](rig::Session& s) { s.states.push_back({.name = "bare", .support = {}, .coupling_height = {}, .slope = {},
                                                 .ride_heights = {}, .readings = {}}); });
  step([](rig::Session& s) { s.states[3].readings.push_back(rear_axle("first there")); });
  step([](rig::Session& s) { s.states[0].readings.push_back(rear_axle("after that")); });
  store.record("a", "bare", rear_axle("recorded"));
  session.states[3].readings.push_back(rear_axle("recorded"));
  step([](rig::Session& s) { s.states[3].readings.push_back(rear_axle("last")); });
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_FIXTURE_TEST_CASE(every_other_difference_is_refused_by_its_place, WithSession) {
  const std::string before = content_of(path);
  using Change = std::function<void(rig::Session&)>;
  const std::vector<std::pair<std::string, Change>> changes = {
      {"id is", [](auto& s) { s.id = "c"; }},
      {"revision is", [](auto& s) { s.revision = 4; }},
      {"replaces is", [](auto& s) { s.replaces += "!"; }},
      {"revised is", [](auto& s) { s.revised->why = "because"; }},
      {"units is", [](auto& s) { s.units.load = units::LoadUnit::kilogram; }},
      {"weighed.at is", [](auto& s) { s.weighed.at = "2026-10-03T08:41:00+02:00"; }},
      {"weighed.place is", [](auto& s) { s.weighed.place = "Depot 9"; }},
      {"weighed.technician is", [](auto& s) { s.weighed.technician = "M. Adeyemi"; }},
      {"weighed.purpose is", [](auto& s) { s.weighed.purpose.clear(); }},
      {"client.uid is", [](auto& s) { s.client.uid = "kr"; }},
      {"client.name is", [](auto& s) { s.client.name.clear(); }},
      {"client.reference is", [](auto& s) { s.client.reference += "A"; }},
      {"conditions is", [](auto& s) { s.conditions.wind = "strong"; }},
      {"carried is", [](auto& s) { s.carried.occupants = 1; }},
      {"placement_u is", [](auto& s) { s.placement_u.reset(); }},
      {"assumptions is", [](auto& s) { s.assumptions.raised_kg_per_mm = 11; }},
      {"rig.tow_vehicle is", [](auto& s) { s.rig.tow_vehicle.axles.pop_back(); }},
      {"rig.trailer is", [](auto& s) { s.rig.trailer.reset(); }},
      {"modifications[1] is missing", [](auto& s) { s.modifications.pop_back(); }},
      {"modifications[0] is not", [](auto& s) { std::swap(s.modifications[0], s.modifications[1]); }},
      {"rig.limits[6] is missing", [](auto& s) { s.rig.limits.pop_back(); }},
      {"rig.limits[1] is not", [](auto& s) { s.rig.limits[1].load = lb(551); }},
      {"rig.limits[0] is not", [](auto& s) { s.rig.limits.insert(s.rig.limits.begin(), s.rig.limits[3]); }},
      {"scales[2] is missing", [](auto& s) { s.scales.pop_back(); }},
      {"scales[1].id is", [](auto& s) { s.scales[1].id = "P9"; }},
      {"scales[1].uid is", [](auto& s) { s.scales[1].uid = "scale-0418"; }},
      {"scales[0].serial is", [](auto& s) { s.scales[0].serial = "0418"; }},
      {"scales[1].capacity is", [](auto& s) { s.scales[1].capacity = lb(3000); }},
      {"scales[0].division is", [](auto& s) { s.scales[0].division = lb(1); }},
      {"scales[1].repeatability is", [](auto& s) { s.scales[1].repeatability = lb(1); }},
      {"scales[1].zero_before is", [](auto& s) { s.scales[1].zero_before = lb(0); }},
      {"scales[0].zero_after is", [](auto& s) { s.scales[0].zero_after = lb(2); }},
      {"scales[0].zero_after is", [](auto& s) { s.scales[0].zero_after.reset(); }},
      {"scales[1].gain is", [](auto& s) { s.scales[1].gain = 0.001; }},
      {"scales[0].gain_u is", [](auto& s) { s.scales[0].gain_u = 0.001; }},
      {"scales[1].accuracy_class is", [](auto& s) { s.scales[1].accuracy_class = rig::AccuracyClass::III; }},
      {"scales[1].certificate is", [](auto& s) { s.scales[1].certificate = "K-1"; }},
      {"scales[0].calibrated is", [](auto& s) { s.scales[0].calibrated = "2026-02-12"; }},
      {"scales[1].due is", [](auto& s) { s.scales[1].due = "2027-02-11"; }},
      {"scales[0].check_weights[1] is missing", [](auto& s) { s.scales[0].check_weights.pop_back(); }},
      {"scales[0].check_weights[0] is not", [](auto& s) { s.scales[0].check_weights[0].load = lb(1103); }},
      {"states[2] is missing", [](auto& s) { s.states.pop_back(); }},
      {"states[0].name is", [](auto& s) { std::swap(s.states[0], s.states[1]); }},
      {"states[0].hitched is", [](auto& s) { s.states[0].hitched = true; }},
      {"states[1].weight_distribution is", [](auto& s) { s.states[1].weight_distribution = false; }},
      {"states[1].travels is", [](auto& s) { s.states[1].travels = false; }},
      {"states[0].support is", [](auto& s) { s.states[0].support = rig::Support::coupling; }},
      {"states[0].coupling_height is", [](auto& s) { s.states[0].coupling_height->value = mm(443); }},
      {"states[0].coupling_height is", [](auto& s) { s.states[0].coupling_height.reset(); }},
      {"states[1].coupling_height is", [](auto& s) { s.states[1].coupling_height->u = mm(5); }},  // had none
      {"states[0].slope is", [](auto& s) { s.states[0].slope->value = 1.5; }},
      {"states[1].slope is", [](auto& s) { s.states[1].slope->u = 1; }},
      {"states[1].ride_heights.rear_left is", [](auto& s) { s.states[1].ride_heights.pop_back(); }},
      {"states[1].ride_heights.front_left is", [](auto& s) { s.states[1].ride_heights[0].second = mm(513); }},
      {"states[0].readings[2] is missing", [](auto& s) { s.states[0].readings.pop_back(); }},
      {"states[0].readings[0].id is",
       [](auto& s) { s.states[0].readings.insert(s.states[0].readings.begin(), rear_axle("before")); }},
      {"states[0].readings[2].at is",
       [](auto& s) { s.states[0].readings[2].at = Position::whole_axle(rig::Vehicle::tow, 1); }},
      {"states[0].readings[1].load is", [](auto& s) { s.states[0].readings[1].load.figure = 1790; }},
      {"states[0].readings[1].scale is", [](auto& s) { std::swap(s.states[0].readings[1].scales[0],
                                                                 s.states[0].readings[1].scales[1]); }},
      {"states[0].readings[0].raised is", [](auto& s) { s.states[0].readings[0].raised.reset(); }},
      {"states[0].readings[0].taken_at is", [](auto& s) { s.states[0].readings[0].taken_at.clear(); }},
      {"states[0].readings[0].struck is",
       [](auto& s) { s.states[0].readings[0].struck = rig::Strike{"wrong", "", ""}; }},
      {"states[1].readings[0].struck is", [](auto& s) { s.states[1].readings[0].struck.reset(); }},
      {"x-sheet is", [](auto& s) { s.extras[0].json = "1"; }},
      {"states[0].readings[2].x-photo is", [](auto& s) { s.extras.pop_back(); }},
      {"rig.x-new is", [](auto& s) { s.extras.push_back({"rig", "x-new", "1"}); }},
      {"states[2].readings[1].id is missing", [](auto& s) { s.states[2].readings.push_back(rear_axle("")); }},
  };
  for (const auto& [place, change] : changes) {
    rig::Session changed = full_session("a");
    change(changed);
    std::string told;
    try {
      store.extend("a", changed);
    } catch (const Conflict& conflict) {
      told = conflict.what();
    }
    BOOST_TEST(holds(told, "only takes what is added to it: " + place), place << ": " << told);
  }
  BOOST_TEST(content_of(path) == before);
}

BOOST_FIXTURE_TEST_CASE(what_does_not_fit_leaves_nothing_behind, WithSession) {
  const std::string before = content_of(path);
  const auto refused = [&](const std::function<void(rig::Session&)>& spoil) {
    rig::Session session = grown();
    spoil(session);
    return refusal_of([&] { store.extend("a", session); });
  };
  BOOST_TEST(holds(refused([](auto& s) { s.states[3].readings[1].scales = {"N1"}; }), "no scale N1"));
  BOOST_TEST(holds(refused([](auto& s) { s.states[3].readings[1].id = "r1"; }), "reading.id"));
  BOOST_TEST(holds(refused([](auto& s) { s.states[3].name = "apart"; }), "state.name"));
  BOOST_TEST(holds(refused([](auto& s) { s.states[3].readings[1].load.figure = -1; }), "load_kg"));
  BOOST_TEST(holds(refusal_of([&] { store.extend("c", grown()); }), "no session c"));
  Store reader = Store::open(path, Access::read_only);
  BOOST_TEST(holds(refusal_of([&] { reader.extend("a", grown()); }), "cannot be written"));
  BOOST_TEST(content_of(path) == before);
  store.extend("a", grown());  // and the store is usable
}

BOOST_FIXTURE_TEST_CASE(what_is_filled_in_is_sealed_and_stays, WithSession) {
  store.extend("a", grown());
  seal("a");
  rig::Session more = grown();
  more.scales[2].zero_after = lb(1);
  BOOST_TEST(holds(refusal_of([&] { store.extend("a", more); }), "a@3 is sealed"));
  BOOST_TEST(store.verify({}, {}).sound());
  BOOST_TEST(store.issued("a")->result == "{}");
  store.backup(folder / "copy.db", false, {});
  const Store copy = Store::open(folder / "copy.db", Access::read_only);
  BOOST_TEST((copy.load("a") == grown()));
  BOOST_TEST(copy.verify(store.chain().head, {}).sound());
  store.redact_session("a", "asked for", "R. Okoye");
  BOOST_TEST(store.verify({}, {}).sound());
  BOOST_TEST(store.load("a").weighed.place.empty());
  BOOST_TEST((store.load("a").scales == grown().scales));
  BOOST_TEST((store.load("a").states == grown().states));
}

BOOST_FIXTURE_TEST_CASE(what_was_replaced_does_not_grow, WithSession) {
  rig::Session corrected = small_session("b");
  corrected.weighed.place = "Depot 9";
  store.revise(small_session("b"), corrected, "place left out", "R. Okoye");
  rig::Session more = small_session("b");
  more.scales.push_back({});
  more.scales[0].id = "P1";
  BOOST_TEST(holds(refusal_of([&] { store.extend("b@1", more); }), "was replaced by revision 2"));
}

BOOST_AUTO_TEST_SUITE_END()

BOOST_AUTO_TEST_SUITE(revising)

BOOST_FIXTURE_TEST_CASE(an_unsealed_session_is_corrected_beside_what_it_was, WithSession) {
  store.record("b", "alone", rear_axle("later"));
  store.strike("b", "r1", {"door open", "R. Okoye", ""});
  store::Attachment display;
  display.reading = "later";
  store.attach("b", display, "a picture");
  const rig::Session before = store.load("b");
  const std::string hash = store.record_of("b").content_hash;
  rig::Session corrected = before;
  corrected.id = "ignored";
  corrected.weighed.place = "Depot 9";
  corrected.rig.tow_vehicle.axles[1].at = mm(2910);
  corrected.states[0].readings[1].struck = rig::Strike{"wrong axle", "M. Adeyemi", ""};
  corrected.states[0].readings.insert(corrected.states[0].readings.begin(), rear_axle("taken on paper"));
  const rig::Session after = store.revise(before, corrected, "wheelbase misread", "M. Adeyemi");
  BOOST_TEST(after.id == "b");
  BOOST_TEST(after.revision == 2);
  BOOST_TEST(after.replaces == "revision 1, SHA-256 " + hash);
  BOOST_TEST(after.revised->why == "wheelbase misread");
  BOOST_TEST(after.revised->by == "M. Adeyemi");
  BOOST_TEST((after.states == corrected.states));
  BOOST_TEST((store.load("b") == after));
  BOOST_TEST((store.load("b@1") == before));
  BOOST_TEST(store.attachments("b").at(0).reading == "later");
  // When something was recorded stays with it; what came with the corrected sheet has no such time.
  BOOST_TEST(Raw(path).texts("SELECT id FROM reading WHERE recorded_at IS NOT NULL AND session = (SELECT max(session) "
                             "FROM session)") == (std::vector<std::string>{"later"}),
             boost::test_tools::per_element());
  BOOST_TEST(Raw(path).integer("SELECT count(*) FROM strike WHERE recorded_at IS NOT NULL") == 2);
  // The replaced content is found though it has no seal, and it is sealed with the new one.
  const auto found = store.verify({}, {});
  BOOST_TEST(found.sound());
  BOOST_TEST(found.remarks.empty());
  seal("b");
  BOOST_TEST(store.verify({}, {}).sealed == 2);
  BOOST_TEST(store.verify({}, {}).remarks.empty());
}

BOOST_FIXTURE_TEST_CASE(a_sealed_one_is_corrected_as_amend_does, WithSession) {
  seal("b");
  rig::Session corrected = small_session("b");
  corrected.weighed.place = "Depot 9";
  const rig::Session after = store.revise(small_session("b"), corrected, "place left out", "R. Okoye");
  BOOST_TEST(after.replaces == "revision 1, SHA-256 " + store.record_of("b@1").seal->content_hash);
  BOOST_TEST(store.verify({}, {}).remarks.empty());
  // And once more, now on what is not sealed.
  corrected.weighed.place = "Depot 8";
  BOOST_TEST(store.revise(after, corrected, "place misread", "R. Okoye").revision == 3);
  BOOST_TEST(store.load("b").weighed.place == "Depot 8");
}

BOOST_FIXTURE_TEST_CASE(only_what_was_looked_at_is_corrected, WithSession) {
  const rig::Session seen = store.load("b");
  rig::Session corrected = seen;
  corrected.weighed.place = "Depot 9";
  store.record("b", "alone", rear_axle("meanwhile"));
  const std::string before = content_of(path);
  BOOST_CHECK_THROW(store.revise(seen, corrected, "place left out", "R. Okoye"), Conflict);
  const rig::Session now = store.load("b");
  BOOST_TEST(holds(refusal_of([&] { store.revise(now, corrected, "place left out", "R. Okoye"); }),
                   "leaves out reading meanwhile"));
  rig::Session altered = now;
  altered.states[0].readings[0].load.figure += 1;
  BOOST_TEST(holds(refusal_of([&] { store.revise(now, altered, "misread", "R. Okoye"); }), "alters reading r1"));
  BOOST_TEST(holds(refusal_of([&] { store.revise(now, now, " ", "R. Okoye"); }), "needs a reason"));
  BOOST_TEST(holds(refusal_of([&] { store.revise(small_session("c"), now, "x", ""); }), "no session c"));
  BOOST_TEST(content_of(path) == before);
  corrected = now;
  corrected.weighed.place = "Depot 9";
  store.revise(now, corrected, "place left out", "R. Okoye");
  // The revision that was replaced is no longer what stands.
  BOOST_CHECK_THROW(store.revise(now, corrected, "place left out", "R. Okoye"), Conflict);
  BOOST_TEST(store.revisions("b").size() == 2u);
}

BOOST_AUTO_TEST_SUITE_END()
