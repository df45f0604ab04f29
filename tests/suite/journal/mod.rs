//! The journal: its lines, its damage, its order.

mod damage;
mod lines;
mod order;
