//! Every key of the floor, and what people do with keys when they are tired.

mod clocks;
mod keys;
mod odds;
mod plates;
mod storm;
mod trouble;
