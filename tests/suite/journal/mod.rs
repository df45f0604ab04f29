//! The journal: its lines, its damage, its order.

mod apart;
mod commands;
mod damage;
mod exact;
mod hazards;
mod imports;
mod lines;
mod neighbours;
mod order;
mod samples;
mod stored;
