// Seals, amendments and what verify says of them. The canonical form and the chain are held against a second
// implementation in tests/fault/tampering.
#include <boost/test/unit_test.hpp>

#include "digest/digest.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Issued;
using store::Seal;
using store::Store;
using store::Verification;

namespace {

const Issued issued{"0.1.0", "a build", R"({"format":"steelyard-result/1"})"};

Seal seal(Store& store, const std::string& name) {
  auto sealing = store.begin_sealing();
  const Seal set = sealing.add(store.load(name), "R. Okoye", issued);
  sealing.commit();
  return set;
}

Verification verify(const std::filesystem::path& path, const std::string& head = {}) {
  return Store::open(path, Access::read_only).verify(head, {});
}

std::string remarks(const Verification& found) {
  std::string text;
  for (const store::Remark& remark : found.remarks)
    text += remark.kind + " [" + remark.session + "] " + remark.what + "\n";
  return text;
}

/// Changes a sealed store as a stranger can: the triggers taken away and put back as they were.
void tamper(const std::filesystem::path& path, const std::string& sql) {
  const Raw raw(path);
  std::string back;
  for (const std::string& trigger : raw.texts("SELECT sql FROM sqlite_schema WHERE type = 'trigger'"))
    back += trigger + ";\n";
  std::string all = "PRAGMA foreign_keys = OFF; BEGIN;";
  for (const std::string& name : raw.texts("SELECT name FROM sqlite_schema WHERE type = 'trigger'"))
    all += "DROP TRIGGER " + name + ";";
  raw.run(all + sql + ";" + back + "COMMIT;");
}

struct Sealed {
  Folder folder;
  std::filesystem::path path = make_store(folder, {full_session("a"), small_session("b"), small_session("c")});
  Seal a, b;
  Sealed() {
    Store store = Store::open(path, Access::read_write);
    a = seal(store, "a");
    b = seal(store, "b");
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(sealing)

// FIPS 180-4's examples (NIST, "SHA256.pdf", one block and two blocks).
BOOST_AUTO_TEST_CASE(the_hash_is_sha_256) {
  BOOST_TEST(digest::sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  BOOST_TEST(digest::sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
             "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  BOOST_TEST(digest::random_hex(16) != digest::random_hex(16));
}

BOOST_FIXTURE_TEST_CASE(seals_are_links_of_one_chain, Sealed) {
  BOOST_TEST(a.number == 1);
  BOOST_TEST(a.previous == "");
  BOOST_TEST(b.number == 2);
  BOOST_TEST(b.previous == a.head);
  BOOST_TEST(a.origin == b.origin);
  BOOST_TEST(head_of(a) == a.head);
  const Store store = Store::open(path, Access::read_only);
  BOOST_TEST((store.chain() == store::Chain{a.origin, 2, b.head, true}));
  BOOST_TEST((store.record_of("a").seal == a));
  BOOST_TEST((store.issued("b") == issued));
  BOOST_TEST(!store.record_of("c").seal.has_value());
  const Verification found = store.verify(b.head, {});
  BOOST_TEST(found.sound(), remarks(found));
  BOOST_TEST(remarks(found) == "");
  BOOST_TEST(found.revisions == 3);
  BOOST_TEST(found.sealed == 2);
  BOOST_TEST(found.unsealed == 1);
  BOOST_TEST(found.head_found);
  BOOST_TEST(found.after_head == 0);
  BOOST_TEST(store.verify(a.head, {}).after_head == 1);
}

BOOST_FIXTURE_TEST_CASE(a_sealed_session_takes_nothing_more, Sealed) {
  Store store = Store::open(path, Access::read_write);
  const auto at = rig::Position::whole_axle(rig::Vehicle::tow, 1);
  BOOST_TEST(holds(refusal_of([&] { store.record("b", "alone", reading("", at, 900)); }), "b@1 is sealed"));
  BOOST_TEST(holds(refusal_of([&] { store.strike("b", "r1", {"wrong", "", ""}); }), "steelyard amend"));
  BOOST_TEST(holds(refusal_of([&] { seal(store, "b"); }), "sealed already"));
  // And from a program of strangers.
  const Raw raw(path);
  for (const std::string sql :
       {"INSERT INTO strike SELECT session, 1, 'x', '', '', NULL FROM session WHERE id = 'b'",
        "INSERT OR REPLACE INTO reading SELECT session, seq, state, id, position, 1, 1, 'kg', NULL, NULL, NULL, '', NULL "
        "FROM reading WHERE session = (SELECT session FROM session WHERE id = 'b')",
        "INSERT OR REPLACE INTO session SELECT * FROM session WHERE id = 'b'"})
    BOOST_TEST(holds(raw.error_of(sql), "the session is sealed; amend it"), raw.error_of(sql));
  BOOST_TEST(holds(raw.error_of("INSERT OR REPLACE INTO seal SELECT * FROM seal LIMIT 1"), "never changed"));
  BOOST_TEST(verify(path, b.head).sound());
}

BOOST_FIXTURE_TEST_CASE(what_is_sealed_is_what_was_looked_at, Sealed) {
  Store store = Store::open(path, Access::read_write);
  const rig::Session seen = store.load("c");
  store.record("c", "alone", reading("", rig::Position::whole_axle(rig::Vehicle::tow, 1), 900));
  {
    auto sealing = store.begin_sealing();
    BOOST_TEST(holds(refusal_of([&] { sealing.add(seen, "R. Okoye", issued); }), "changed while it was being sealed"));
    BOOST_TEST(holds(refusal_of([&] { sealing.add(store.load("c"), " ", issued); }), "needs a name"));
    sealing.add(store.load("c"), "R. Okoye", {"0.1.0", "a build", ""});
    // no commit: nothing is sealed
  }
  BOOST_TEST(!store.record_of("c").seal.has_value());
  BOOST_TEST(verify(path).sealed == 2);
}

BOOST_FIXTURE_TEST_CASE(an_amendment_stands_beside_what_it_replaces, Sealed) {
  Store store = Store::open(path, Access::read_write);
  const auto amend = [&](const std::string& name, const std::string& why,
                         const std::optional<rig::Session>& corrected = {}) {
    return store.amend(name, why, "M. Adeyemi", corrected);
  };
  BOOST_TEST(holds(refusal_of([&] { amend("c", "typing error"); }), "is not sealed"));
  BOOST_TEST(holds(refusal_of([&] { amend("a", " "); }), "needs a reason"));
  const rig::Session before = store.load("a");
  const rig::Session after = amend("a", "limit misread");
  BOOST_TEST(after.revision == before.revision + 1);
  BOOST_TEST(after.replaces == "revision 3, SHA-256 " + a.content_hash);
  BOOST_TEST(after.revised->why == "limit misread");
  BOOST_TEST((store.load("a") == after));
  BOOST_TEST((store.load("a@3") == before));
  BOOST_TEST((store.load("a").states == before.states));
  const auto revisions = store.revisions("a");
  BOOST_REQUIRE(revisions.size() == 2u);
  BOOST_TEST(!revisions[0].stands);
  BOOST_TEST(revisions[1].stands);
  BOOST_TEST(revisions[1].name == "a@4");
  BOOST_TEST(revisions[1].by == "M. Adeyemi");
  BOOST_TEST(holds(refusal_of([&] { amend("a@3", "again"); }), "replaced by revision 4"));
  BOOST_TEST(holds(refusal_of([&] { store.strike("a@3", "r1", {"wrong", "", ""}); }), "sealed"));
  store.strike("a", after.states[0].readings[0].id, {"wrong", "", ""});
  seal(store, "a");
  const Verification found = verify(path, b.head);
  BOOST_TEST(found.sound(), remarks(found));
  BOOST_TEST(found.after_head == 1);
}

BOOST_FIXTURE_TEST_CASE(an_amended_sheet_keeps_what_was_read, Sealed) {
  Store store = Store::open(path, Access::read_write);
  rig::Session corrected = store.load("b");
  corrected.weighed.place = "Depot 9";
  corrected.states[0].readings[0].load.figure += 10;
  const auto amend = [&] { store.amend("b", "misread", "R. Okoye", corrected); };
  BOOST_TEST(holds(refusal_of(amend), "alters reading"));
  corrected.states[0].readings.erase(corrected.states[0].readings.begin());
  BOOST_TEST(holds(refusal_of(amend), "leaves out reading"));
  BOOST_TEST(store.revisions("b").size() == 1u);
  corrected.states[0].readings = store.load("b").states[0].readings;
  corrected.states[0].readings[0].struck = rig::Strike{"misread", "R. Okoye", ""};
  amend();
  BOOST_TEST(store.load("b").weighed.place == "Depot 9");
  BOOST_TEST(store.load("b").states[0].readings[0].struck.has_value());
}

BOOST_FIXTURE_TEST_CASE(tampering_is_found_and_named, Sealed) {
  const std::string sound = bytes_of(path);
  const std::string of_a = "session = (SELECT session FROM session WHERE id = 'a')";
  struct Case {
    std::string sql, kind, part;
  };
  for (const Case& one : {
           Case{"UPDATE reading SET load_figure = 777, load_kg = 777 WHERE id = 'r1' AND " + of_a, "content_changed [a@3]",
                "reading r1: load_figure is 777, sealed as"},
           Case{"DELETE FROM strike WHERE " + of_a, "content_changed [a@3]", "strike of reading number"},
           Case{"UPDATE session SET client_name = 'Somebody' WHERE id = 'a'", "identity_changed [a@3]", "client's name"},
           Case{"DELETE FROM seal WHERE number = 1", "chain_broken [b@1]", "seal 1 is missing"},
           Case{"DELETE FROM seal WHERE number = 2", "seal_missing [b@1]", "a seal was removed"},
           Case{"UPDATE seal SET sealed_by = 'Somebody' WHERE number = 2", "seal_changed [b@1]", "was altered"},
           Case{"UPDATE seal SET number = 3 - number", "seal_changed [a@3]", "seal 2"},
           Case{"UPDATE issued_result SET deflated = x'00'", "result_changed [a@3]", "issued"},
           Case{"UPDATE sealed_copy SET size = size + 1", "copy_changed [a@3]", "copy"},
           Case{"DELETE FROM identity_salt", "identity_changed [b@1]", "salt"},
           Case{"UPDATE position SET side = 'left' WHERE position = 'tow.1.right'", "words_changed []", "position"},
           Case{"DELETE FROM session WHERE id = 'a'", "reference []", "session"},
       }) {
    write_bytes(path, sound);
    tamper(path, one.sql);
    const Verification found = verify(path);
    BOOST_TEST(!found.sound(), one.sql);
    BOOST_TEST(holds(remarks(found), one.kind), one.sql << " gives\n" << remarks(found));
    BOOST_TEST(holds(remarks(found), one.part), one.sql << " gives\n" << remarks(found));
  }
}

BOOST_FIXTURE_TEST_CASE(an_old_copy_is_told_by_the_head, Sealed) {
  const std::string old = bytes_of(path);
  std::string head;
  {
    Store store = Store::open(path, Access::read_write);
    head = seal(store, "c").head;
  }
  BOOST_TEST(verify(path, head).sound());
  write_bytes(path, old);
  BOOST_TEST(verify(path).sound());  // nothing inside can tell
  const Verification found = verify(path, head);
  BOOST_TEST(!found.head_found);
  BOOST_TEST(holds(remarks(found), "head_unknown"));
}

BOOST_AUTO_TEST_SUITE_END()
