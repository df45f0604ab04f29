//! Every key of the floor, and what people do with keys when they are tired.

mod clocks;
mod hands_free;
mod keys;
mod odds;
mod plates;
mod storm;
mod trouble;
