//! The next load, and why.
