// Holds the standard headers that the sanitized build compiles once; nothing else is in it.
