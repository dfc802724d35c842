// Backups, attachments, the register and redaction.
#include <boost/test/unit_test.hpp>

#include "digest/digest.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Attachment;
using store::RegisterKind;
using store::Store;

namespace fs = std::filesystem;

namespace {

struct WithStore {
  Folder folder;
  fs::path path = make_store(folder, {full_session("a"), small_session("b")});
  Store store = Store::open(path, Access::read_write);
};

Attachment of(std::optional<int> limit, const std::string& reading, const std::string& what) {
  Attachment one;
  one.limit = limit;
  one.reading = reading;
  one.what = what;
  return one;
}

void seal(Store& store, const std::string& name) {
  auto sealing = store.begin_sealing();
  sealing.add(store.load(name), "R. Okoye", {"0.1.0", "a build", "{}"});
  sealing.commit();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(keeping)

BOOST_FIXTURE_TEST_CASE(a_backup_is_the_store_as_it_stands, WithStore) {
  seal(store, "a");
  std::size_t seen = 0;
  const store::Chain chain = store.backup(folder / "copy.db", false, [&](std::size_t, std::size_t) { ++seen; });
  BOOST_TEST((chain == store.chain()));
  BOOST_TEST(content_of(folder / "copy.db") == content_of(path));
  BOOST_TEST(folder.names().size() == 2u);
  BOOST_TEST(Store::open(folder / "copy.db", Access::read_only).verify(chain.head, {}).sound());
  store.record("b", "alone", reading("", rig::Position::whole_axle(rig::Vehicle::tow, 1), 900));
  const std::string older = bytes_of(folder / "copy.db");
  BOOST_TEST(holds(refusal_of([&] { store.backup(folder / "copy.db", false, {}); }), "is there already"));
  BOOST_TEST((bytes_of(folder / "copy.db") == older));
  store.backup(folder / "copy.db", true, {});
  BOOST_TEST(content_of(folder / "copy.db") == content_of(path));
  fs::create_symlink(path, folder / "link.db");
  for (const fs::path& itself : {path, folder / "link.db"})
    BOOST_TEST(holds(refusal_of([&] { store.backup(itself, true, {}); }), "is the store itself"));
  BOOST_TEST(holds(refusal_of([&] { store.backup(folder / "none/copy.db", false, {}); }), "cannot be made"));
  BOOST_TEST(holds(refusal_of([&] { store.backup(folder.path(), true, {}); }), "no file that a backup"));
  BOOST_TEST(folder.names().size() == 3u);
}

// Signatures: JPEG (ISO/IEC 10918-1) begins FF D8 FF, PNG (ISO/IEC 15948) 89 50 4E 47 0D 0A 1A 0A.
BOOST_FIXTURE_TEST_CASE(attachments_are_kept_with_what_they_show, WithStore) {
  const std::string jpeg = std::string("\xff\xd8\xff\xe0") + "plate", png = std::string("\x89PNG\r\n\x1a\n") + "display";
  const std::string reading_id = store.load("a").states[0].readings[0].id;
  const Attachment plate = store.attach("a", of(2, "", "compliance plate"), jpeg);
  const Attachment display = store.attach("a", of({}, reading_id, "display"), png);
  BOOST_TEST(plate.number == 1);
  BOOST_TEST(plate.media_type == "image/jpeg");
  BOOST_TEST(plate.sha256 == digest::sha256_hex(jpeg));
  BOOST_TEST(plate.size == 9);
  BOOST_TEST(display.number == 2);
  BOOST_TEST(display.media_type == "image/png");
  BOOST_TEST((store.attachments("a") == std::vector<Attachment>{plate, display}));
  BOOST_TEST(store.attached_bytes("a", 2) == png);
  store.attach("b", of({}, "", "the same picture"), jpeg);
  BOOST_TEST(Raw(path).integer("SELECT count(*) FROM attached_file") == 2);
  const auto refused = [&](const Attachment& one, const std::string& bytes) {
    return refusal_of([&] { store.attach("a", one, bytes); });
  };
  BOOST_TEST(holds(refused(of(99, "", ""), jpeg), "no limit number 99"));
  BOOST_TEST(holds(refused(of({}, "r99", ""), jpeg), "no reading r99"));
  BOOST_TEST(holds(refused(of(1, "r1", ""), jpeg), "not to both"));
  BOOST_TEST(holds(refused(of({}, "", ""), ""), "empty file"));
  BOOST_TEST(holds(refused(of({}, "", ""), std::string((24u << 20) + 1, 'x')), "more than 24 MiB"));
  BOOST_TEST(holds(refusal_of([&] { store.attached_bytes("a", 3); }), "no attachment 3"));
  seal(store, "a");
  BOOST_TEST(holds(refused(of({}, "", ""), jpeg), "is sealed"));
  // An amendment takes them over.
  rig::Session corrected = store.load("a");
  corrected.rig.limits.insert(corrected.rig.limits.begin(), corrected.rig.limits.back());
  store.amend("a", "one limit more", "R. Okoye", corrected);
  const auto taken_over = store.attachments("a");
  BOOST_REQUIRE(taken_over.size() == 2u);
  BOOST_TEST(taken_over[0].limit.value() == 3);
  BOOST_TEST(taken_over[1].reading == reading_id);
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_FIXTURE_TEST_CASE(the_register_knows_the_latest, WithStore) {
  rig::Session later = full_session("later");
  later.weighed.at = "2026-11-03T08:40:00+02:00";
  later.client.name = "Tallow Creek Water Board, Works";
  later.scales[0].due = "2028-03-01";
  import_all(store, {later});
  const auto clients = store.register_of(RegisterKind::client);
  const auto client = [&]() {
    for (const auto& one : store.register_of(RegisterKind::client))
      if (one.uid == "tcwb") return one;
    return store::RegisterEntry{};
  };
  BOOST_TEST(client().name == "Tallow Creek Water Board, Works");
  BOOST_TEST(client().last_at == later.weighed.at);
  BOOST_TEST(store.register_of(RegisterKind::scale).at(0).due == "2028-03-01");
  store.note({{RegisterKind::client, "tcwb", "contact", "stores@tcwb.example", "R. Okoye"},
              {RegisterKind::scale, "scale-0500", "due", "2027-05-05", "R. Okoye"}});
  BOOST_TEST(client().contact == "stores@tcwb.example");
  BOOST_TEST(store.register_of(RegisterKind::scale).size() == 2u);
  store.note({{RegisterKind::client, "tcwb", "contact", "", "R. Okoye"}});
  BOOST_TEST(client().contact == "");
  BOOST_TEST(holds(refusal_of([&] { store.note({{RegisterKind::client, "tcwb", "vin", "1", ""}}); }), "keeps no vin"));
  BOOST_TEST(holds(refusal_of([&] { store.note({{RegisterKind::client, "", "name", "1", ""}}); }), "whose uid"));
  const auto history = store.history(RegisterKind::tow_vehicle, full_session("a").rig.tow_vehicle.uid);
  BOOST_REQUIRE(history.size() == 2u);
  BOOST_TEST(history[0].id == "a");
  BOOST_TEST(history[1].id == "later");
  BOOST_TEST(store.verify({}, {}).sound());
}

BOOST_FIXTURE_TEST_CASE(the_latest_choice_stands, WithStore) {
  const auto setting = [](std::string name, std::string client, std::string value) {
    return store::Setting{
        .name = std::move(name), .client = std::move(client), .value = std::move(value), .by = "R. Okoye", .at = {}};
  };
  BOOST_TEST(store.settings().empty());
  store.choose({setting("words", "", "uk"), setting("words", "tcwb", "au"), setting("provider.name", "", "M. Adeyemi")});
  store.choose({setting("words", "", "za"), setting("provider.name", "", "")});
  const auto standing = store.settings();
  BOOST_REQUIRE(standing.size() == 2u);
  BOOST_TEST(standing[0].client == "");
  BOOST_TEST(standing[0].value == "za");
  BOOST_TEST(standing[1].client == "tcwb");
  BOOST_TEST(standing[1].value == "au");
  BOOST_TEST(standing[1].at.ends_with("Z"));
  BOOST_TEST(holds(refusal_of([&] { store.choose({setting("x", "", std::string(65537, 'x'))}); }), "64 KiB"));
  BOOST_TEST(holds(refusal_of([&] { store.choose({setting("", "", "x")}); }), "has a name"));
  BOOST_TEST(store.verify({}, {}).sound());
  const Raw raw(path);
  raw.run("DROP TRIGGER setting_is_never_changed");
  raw.run("UPDATE setting SET value = 'us' WHERE seq = 2");
  const auto found = store.verify({}, {});
  BOOST_TEST(std::any_of(found.remarks.begin(), found.remarks.end(),
                         [](const auto& one) { return one.kind == "setting_changed" && holds(one.what, "words"); }));
}

BOOST_FIXTURE_TEST_CASE(what_is_redacted_is_in_no_byte_of_the_file, WithStore) {
  const rig::Session before = store.load("a");
  const std::vector<std::string> identity{before.client.name, before.client.reference, before.rig.tow_vehicle.vin,
                                          "stores@tcwb.example", "a picture of G. Orme"};
  store.note({{RegisterKind::client, "tcwb", "contact", "stores@tcwb.example", "R. Okoye"}});
  store.attach("a", of({}, "", "plate"), "a picture of G. Orme");
  seal(store, "a");
  for (const std::string& text : identity) BOOST_TEST(holds(bytes_of(path), text), text << " is there before");
  const std::string head = store.chain().head;
  BOOST_TEST(holds(refusal_of([&] { store.redact_client("nobody", "asked for", ""); }), "no client with the uid nobody"));
  BOOST_TEST(holds(refusal_of([&] { store.redact_client("tcwb", " ", ""); }), "needs a reason"));
  const store::Redacted done = store.redact_client("tcwb", "asked for", "R. Okoye");
  BOOST_TEST(holds(done.sessions.at(0), "a@3"));
  BOOST_TEST(done.notes == 1);
  BOOST_TEST(done.files == 1);
  for (const std::string& text : identity) BOOST_TEST(!holds(bytes_of(path), text), text << " is still there");
  BOOST_TEST(store.load("a").client.name == "");
  BOOST_TEST(store.load("a").client.uid == "tcwb");
  BOOST_TEST((store.load("a").states == before.states));
  BOOST_TEST(!store.attachments("a").at(0).there);
  BOOST_TEST(holds(refusal_of([&] { store.attached_bytes("a", 1); }), "was erased"));
  const store::Verification found = store.verify(head, {});
  for (const store::Remark& remark : found.remarks) BOOST_TEST(remark.what == "");
  BOOST_TEST(found.sound());
  BOOST_TEST(found.head_found);
  BOOST_TEST(store.record_of("a").redacted);
  const store::Redacted again = store.redact_client("tcwb", "asked for", "R. Okoye");
  BOOST_TEST(again.sessions.empty());
  BOOST_TEST(again.files + again.notes == 0);
}

BOOST_AUTO_TEST_SUITE_END()
