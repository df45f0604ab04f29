//! A screen that does not go dark: the session's screen saver, or else its portal, is asked, and
//! the login service. What they grant ends with the connection, so with the process, however that
//! ends.

use super::is_here;
use std::collections::HashMap;
use std::sync::mpsc::Receiver;
use std::time::Duration;
use zbus::connection::{Builder, Connection};
use zbus::{OwnedFd, OwnedObjectPath, Variant};

/// How long a service may take to answer.
const PATIENCE: Duration = Duration::from_secs(2);

const WHO: &str = "rackside";
const WHY: &str = "a training session is on";

/// What was granted. Dropping it gives it back.
struct Held {
    _session: Option<Connection>,
    _system: Option<OwnedFd>,
}

/// Keeps the screen awake while that is wanted.
pub fn follow(wanted: &Receiver<bool>) {
    let mut held = None;
    while let Ok(wanted) = wanted.recv() {
        held = wanted.then(|| Held {
            _session: zbus::block_on(of_session()).ok(),
            _system: zbus::block_on(of_login()).ok(),
        });
    }
    drop::<Option<Held>>(held);
}

async fn connected(builder: Builder<'_>, variable: &str) -> zbus::Result<Connection> {
    if !is_here(variable) {
        return Err(zbus::Error::Address("not on this machine".to_owned()));
    }
    builder.method_timeout(PATIENCE).build().await
}

/// The screen saver's interface, or the portal's where there is none.
async fn of_session() -> zbus::Result<Connection> {
    let bus = connected(Builder::session(), "DBUS_SESSION_BUS_ADDRESS").await?;
    let name = "org.freedesktop.ScreenSaver";
    let path = "/org/freedesktop/ScreenSaver";
    let asked = bus
        .call_method(Some(name), path, Some(name), "Inhibit", &(WHO, WHY))
        .await;
    if asked.is_err() {
        // 8: the session is not to go idle.
        let reason = HashMap::from([("reason", Variant::from(WHY))]);
        let name = "org.freedesktop.portal.Desktop";
        let path = "/org/freedesktop/portal/desktop";
        let interface = Some("org.freedesktop.portal.Inhibit");
        let asked = bus
            .call_method(Some(name), path, interface, "Inhibit", &("", 8_u32, reason))
            .await?;
        let _: OwnedObjectPath = asked.body().deserialize()?;
    }
    Ok(bus)
}

/// The login service's lock on idleness, held as long as its descriptor is open.
async fn of_login() -> zbus::Result<OwnedFd> {
    let bus = connected(Builder::system(), "DBUS_SYSTEM_BUS_ADDRESS").await?;
    let name = Some("org.freedesktop.login1");
    let interface = Some("org.freedesktop.login1.Manager");
    let body = ("idle", WHO, WHY, "block");
    let asked = bus
        .call_method(name, "/org/freedesktop/login1", interface, "Inhibit", &body)
        .await?;
    asked.body().deserialize()
}
