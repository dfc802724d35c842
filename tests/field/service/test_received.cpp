// Who took the findings: kept once, as text, and covered by the seal.
#include <boost/test/unit_test.hpp>

#include "field/received.hpp"
#include "sheet/sheet.hpp"
#include "store/support.hpp"
#include "support.hpp"

using namespace steelyard;
using namespace steelyard::field;
using namespace steelyard::test;

namespace {

constexpr const char* at = "2026-10-03T11:00:00+02:00";

struct Stored {
  Folder folder;
  rig::Session session = session_of(small_sheet());
  std::filesystem::path path = folder / "store.db";
  store::Store store = made();

  store::Store made() {
    store::Store made = store::Store::create(path);
    auto import = made.begin_import();
    import.add(session, sheet::content_hash(session));
    import.commit();
    return made;
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(received)

BOOST_AUTO_TEST_CASE(the_same_receiver_is_kept_once) {
  Stored one;
  BOOST_TEST(!has_receipt(one.store, one.session.id, "J. Ferreira"));
  for (int i = 0; i < 3; ++i) attach_receipt(one.store, one.session, "J. Ferreira", "R. Okoye", at);
  BOOST_TEST(one.store.attachments(one.session.id).size() == 1u);
  BOOST_TEST(has_receipt(one.store, one.session.id, "J. Ferreira"));
  BOOST_TEST(!has_receipt(one.store, one.session.id, "J. Ferre"));
  attach_receipt(one.store, one.session, "J. Ferre", "R. Okoye", at);
  BOOST_TEST(one.store.attachments(one.session.id).size() == 2u);
}

BOOST_AUTO_TEST_CASE(it_is_plain_text_that_says_who_and_when) {
  Stored one;
  attach_receipt(one.store, one.session, "J. Ferreira", "R. Okoye", at);
  const auto list = one.store.attachments(one.session.id);
  BOOST_TEST(list.at(0).what == "receipt of the findings");
  BOOST_TEST(list.at(0).by == "R. Okoye");
  BOOST_TEST(one.store.attached_bytes(one.session.id, list.at(0).number) ==
             "Received the findings: J. Ferreira\nHanded over by: R. Okoye\nAt: 2026-10-03T11:00:00+02:00\n"
             "Session: small-0001, revision 1\n");
}

BOOST_AUTO_TEST_CASE(the_seal_covers_it) {
  Stored one;
  attach_receipt(one.store, one.session, "J. Ferreira", "R. Okoye", at);
  {
    auto sealing = one.store.begin_sealing();
    sealing.add(one.store.load(one.session.id), "R. Okoye", {});
    sealing.commit();
  }
  BOOST_CHECK_THROW(attach_receipt(one.store, one.session, "somebody else", "R. Okoye", at), store::Refused);
  attach_receipt(one.store, one.session, "J. Ferreira", "R. Okoye", at);  // it is there
  BOOST_TEST(one.store.verify("", {}).sound());
  // As a stranger would: another name under the seal, and the trigger as it was.
  const Raw raw(one.path);
  const std::string trigger = raw.text("SELECT sql FROM sqlite_schema WHERE name = 'attached_file_is_never_changed'");
  raw.run("BEGIN; DROP TRIGGER attached_file_is_never_changed; UPDATE attached_file SET bytes = "
          "CAST(replace(CAST(bytes AS TEXT), 'Ferreira', 'Ferreiro') AS BLOB); " +
          trigger + "; COMMIT");
  BOOST_TEST(!store::Store::open(one.path, store::Access::read_only).verify("", {}).sound());
}

BOOST_AUTO_TEST_SUITE_END()
