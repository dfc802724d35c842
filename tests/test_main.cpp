#define BOOST_TEST_MODULE steelyard
#include <boost/test/unit_test.hpp>
