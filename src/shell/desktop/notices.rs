//! Notices on the desktop, through the notification service of the session's bus.

use super::is_here;
use crate::app::effect::Told;
use notify_rust::{Hint, Notification, Urgency, get_capabilities};
use std::sync::mpsc::Receiver;

/// Shows what comes, one in place of the other. A service that is stuck holds this thread up alone.
pub fn show_all(inbox: &Receiver<Box<Told>>) {
    let mut shown = None;
    while let Ok(first) = inbox.recv() {
        // Of what came in the meantime only the newest matters.
        let told = inbox.try_iter().last().unwrap_or(first);
        if is_here("DBUS_SESSION_BUS_ADDRESS") {
            shown = show(&told, shown).or(shown);
        }
    }
}

/// Shows one in place of another; gives the number that it is then known by.
fn show(told: &Told, before: Option<u32>) -> Option<u32> {
    let reads_markup = get_capabilities()
        .ok()?
        .iter()
        .any(|can| can == "body-markup");
    let body = if reads_markup {
        escaped(&told.body)
    } else {
        told.body.clone()
    };
    let mut notice = Notification::new();
    notice.appname("rackside").summary(&told.title).body(&body);
    // The sounds are ours, and nobody wants to read it tomorrow.
    notice
        .hint(Hint::SuppressSound(true))
        .hint(Hint::Transient(true));
    notice.urgency(Urgency::Normal);
    if let Some(before) = before {
        notice.id(before);
    }
    notice.show().ok().map(|shown| shown.id())
}

/// Text where a service reads markup: the three characters that mean something there.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
