//! Every key of the floor, and what people do with keys when they are tired.

mod clocks;
mod counted;
mod ease;
mod hands_free;
mod keys;
mod logbook;
mod odds;
mod pain;
mod plates;
mod signs;
mod storm;
mod trouble;
