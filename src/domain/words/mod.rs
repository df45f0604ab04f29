//! Words shared by every voice of the program: plurals, dates and spans as people say them.
