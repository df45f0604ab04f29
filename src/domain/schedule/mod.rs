//! Which session is today's, and how long it will take.
