//! The two clocks, read together: one that counts suspend, one on the wall.

use crate::domain::units::{Boot, Civil, Now};

/// Both clocks, now.
pub fn now() -> Now {
    Now {
        boot: boot(),
        civil: Civil::new(chrono::Local::now().fixed_offset()),
    }
}

/// Milliseconds since the machine started, suspend included.
#[cfg(target_os = "linux")]
fn boot() -> Boot {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::Boottime);
    Boot(time.tv_sec * 1000 + time.tv_nsec / 1_000_000)
}

/// Elsewhere the wall clock has to do: it counts suspend, and a change of it moves a rest.
#[cfg(not(target_os = "linux"))]
fn boot() -> Boot {
    Boot(chrono::Utc::now().timestamp_millis())
}
