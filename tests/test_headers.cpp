// Holds the headers that every test program includes, compiled once; test_main.cpp must not see them first.
