//! Published equations of strength.
