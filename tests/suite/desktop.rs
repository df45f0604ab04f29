//! What the desktop is asked for, seen from a bus of our own by a service of our own; and that
//! nothing waits for a bus or a service that is stuck.
#![cfg(target_os = "linux")]

use crate::rig::cli::Cli;
use crate::rig::patience;
use crate::rig::pty::Pty;
use std::collections::HashMap;
use std::future::poll_fn;
use std::io::{PipeReader, Read, pipe};
use std::os::fd::OwnedFd;
use std::pin::Pin;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;
use tempfile::TempDir;
use zbus::connection::{Builder, Connection};
use zbus::export::futures_core::Stream;
use zbus::{Message, MessageStream, OwnedVariant};

/// An exercise of somebody's own whose name means something where markup is read.
const EXERCISES: &str = r#"(format: 1, exercises: [(
    id: "own_push", name: "Press & hold <b>low</b>", role: Compound, pattern: PushAcross,
    prime: [Chest], assisting: [Triceps], joints: [Shoulder], loads_spine: false,
    loads_grip: false, technical: false, gives_way: PutDown, needs: [Floor],
    counts: Body(percent: 70), sides: Both, effort: Reps, setup_s: 10, stand_ins: [],
    set_up: "Hands on the floor.", movement: "Down and up.", faults: "Sagging hips.",
    stop: "Stop when a wrist hurts.",
)])"#;
/// One press of `b` brings its rest 15 s on: a second before the window opens, then to its close.
const PROGRAM: &str = r#"(
    format: 1,
    name: "Own",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "own_push", sets: 9, reps: "1-5", rest: "0:16-0:31"),
    ])])],
)"#;
const LIFTER: &str = "(format: 1, unit: Kg, place: \"home\", program: \"own\")";

fn home() -> Cli {
    let cli = Cli::new();
    cli.write("config/exercises.ron", EXERCISES);
    cli.write("config/programs/own.ron", PROGRAM);
    cli.write("config/lifter.ron", LIFTER);
    cli
}

/// A bus that nobody else is on.
struct Bus {
    daemon: Child,
    address: String,
    _folder: TempDir,
}

impl Bus {
    /// None, said aloud, where this machine has no bus; with CI set it must have one.
    fn start() -> Option<Self> {
        let folder = tempfile::tempdir().expect("a folder");
        let socket = folder.path().join("bus");
        let address = format!("unix:path={}", socket.display());
        let mut command = Command::new("dbus-daemon");
        command.args(["--session", "--nofork"]);
        command.arg(format!("--address={address}"));
        let Ok(daemon) = command.stderr(Stdio::null()).spawn() else {
            assert!(std::env::var_os("CI").is_none(), "there is no dbus-daemon");
            println!("skipped: this machine has no dbus-daemon");
            return None;
        };
        for _ in 0..2000 {
            if socket.exists() {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        Some(Self {
            daemon,
            address,
            _folder: folder,
        })
    }

    /// The program in a terminal, this its only bus, at its first set.
    fn floor(&self, cli: &Cli) -> Pty {
        let names = ["DBUS_SESSION_BUS_ADDRESS", "DBUS_SYSTEM_BUS_ADDRESS"];
        let variables = names.map(|name| (name, self.address.as_str()));
        let mut pty = Pty::start_with(cli.home(), &variables);
        pty.wait("Enter start");
        pty.keys("\r");
        pty.wait("set 1 of 9");
        pty
    }

    fn stop(&self) {
        let id = self.daemon.id().to_string();
        let kill = Command::new("kill").args(["-s", "STOP", &id]).status();
        assert!(kill.expect("kill runs").success());
    }
}

impl Drop for Bus {
    fn drop(&mut self) {
        let _ = self.daemon.kill();
        let _ = self.daemon.wait();
    }
}

/// What a service was asked.
#[derive(Debug)]
enum Call {
    Notify {
        replaces: u32,
        title: String,
        body: String,
        quiet: bool,
    },
    ScreenSaver,
    /// The lock, whose other end closes when the program lets go.
    Login(PipeReader),
}

/// A service that takes everything the program asks for and tells of it; `mute`: it never answers.
fn service(bus: &Bus, mute: bool) -> Receiver<Call> {
    let (tell, told) = channel();
    let (ready, is_ready) = channel();
    let address = bus.address.clone();
    std::thread::spawn(move || {
        zbus::block_on(async {
            let builder = Builder::address(address.as_str());
            let bus = builder.build().await.expect("the bus");
            let mut calls = MessageStream::from(&bus);
            for name in [
                "org.freedesktop.Notifications",
                "org.freedesktop.ScreenSaver",
                "org.freedesktop.login1",
            ] {
                bus.request_name(name).await.expect("a name");
            }
            ready.send(()).expect("awaited");
            while let Some(Ok(call)) = poll_fn(|cx| Pin::new(&mut calls).poll_next(cx)).await {
                if !mute {
                    // Its test may be over.
                    let _ = answer(&bus, &call, &tell).await;
                }
            }
        });
    });
    is_ready.recv().expect("ready");
    told
}

type Notify = (
    String,
    u32,
    String,
    String,
    String,
    Vec<String>,
    HashMap<String, OwnedVariant>,
    i32,
);

async fn answer(bus: &Connection, call: &Message, tell: &Sender<Call>) -> zbus::Result<()> {
    let header = call.header();
    let member = header.member().map(|name| name.as_str().to_owned());
    let interface = header.interface().map(|name| name.as_str().to_owned());
    let heard = match (member.as_deref(), interface.as_deref()) {
        (Some("GetCapabilities"), _) => {
            bus.reply(&header, &vec!["body", "body-markup"]).await?;
            return Ok(());
        }
        (Some("Notify"), _) => {
            let asked: Notify = call.body().deserialize()?;
            bus.reply(&header, &7_u32).await?;
            let (_, replaces, _, title, body, _, hints, _) = asked;
            Call::Notify {
                replaces,
                title,
                body,
                quiet: hints.contains_key("suppress-sound"),
            }
        }
        (Some("Inhibit"), Some("org.freedesktop.ScreenSaver")) => {
            bus.reply(&header, &3_u32).await?;
            Call::ScreenSaver
        }
        (Some("Inhibit"), Some("org.freedesktop.login1.Manager")) => {
            let (ours, theirs) = pipe()?;
            let lock = zbus::OwnedFd::from(OwnedFd::from(theirs));
            bus.reply(&header, &lock).await?;
            Call::Login(ours)
        }
        _ => return Ok(()),
    };
    let _ = tell.send(heard);
    Ok(())
}

#[track_caller]
fn next_notice(calls: &Receiver<Call>) -> (u32, String, String) {
    loop {
        match calls.recv_timeout(patience()).expect("a call") {
            Call::Notify {
                replaces,
                title,
                body,
                quiet,
            } => {
                assert!(quiet, "the sounds are ours");
                return (replaces, title, body);
            }
            Call::ScreenSaver | Call::Login(_) => {}
        }
    }
}

#[test]
fn the_ends_of_a_rest_are_told_to_who_looks_elsewhere_one_in_place_of_the_other() {
    let Some(bus) = Bus::start() else { return };
    let calls = service(&bus, false);
    let cli = home();
    let mut pty = bus.floor(&cli);
    // The terminal says that it is looked at: nothing is told.
    pty.keys("\u{1b}[I1\r");
    pty.wait("set 2 of 9");
    pty.keys("b");
    pty.wait("OPEN");
    pty.keys("\u{1b}[Ob");
    let (replaces, title, body) = next_notice(&calls);
    assert_eq!(
        (replaces, title.as_str()),
        (0, "The rest is longer than planned")
    );
    assert!(
        body.starts_with("Press &amp; hold &lt;b&gt;low&lt;/b&gt;, set 2 of 9: body × "),
        "{body}"
    );
    pty.keys("1\r");
    pty.wait("set 3 of 9");
    pty.keys("b");
    let (replaces, title, _) = next_notice(&calls);
    assert_eq!((replaces, title.as_str()), (7, "The rest is long enough"));
}

#[test]
fn notices_can_be_turned_off() {
    let Some(bus) = Bus::start() else { return };
    let calls = service(&bus, false);
    let cli = home();
    cli.run(["settings", "notices", "off"]).ok();
    cli.run(["settings", "awake", "off"]).ok();
    let mut pty = bus.floor(&cli);
    pty.keys("1\r");
    pty.wait("set 2 of 9");
    pty.keys("bb");
    pty.wait("LATE");
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    assert!(calls.try_recv().is_err(), "nothing was asked for");
}

#[test]
fn the_screen_is_kept_awake_from_the_first_set_to_the_end_even_by_a_kill() {
    let Some(bus) = Bus::start() else { return };
    let calls = service(&bus, false);
    let cli = home();
    let pty = bus.floor(&cli);
    let mut saver = false;
    let mut lock = loop {
        match calls.recv_timeout(patience()).expect("a call") {
            Call::ScreenSaver => saver = true,
            Call::Login(lock) => break lock,
            Call::Notify { .. } => {}
        }
    };
    assert!(saver, "the session's screen saver was asked first");
    pty.signal("KILL");
    let mut rest = Vec::new();
    lock.read_to_end(&mut rest).expect("let go");
}

#[test]
fn nothing_waits_for_a_service_or_a_bus_that_is_stuck() {
    for bus_too in [false, true] {
        let Some(bus) = Bus::start() else { return };
        let _calls = service(&bus, true);
        if bus_too {
            bus.stop();
        }
        let cli = home();
        let mut pty = bus.floor(&cli);
        for set in 2..5 {
            pty.keys("1\r");
            pty.wait(&format!("set {set} of 9"));
            pty.keys("b");
            pty.wait("OPEN");
            pty.keys("b");
            pty.wait("LATE");
        }
        pty.keys("q");
        assert_eq!(pty.exit(), 0);
    }
}

#[test]
fn a_bus_on_another_machine_is_not_spoken_to() {
    let listener = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = listener.local_addr().expect("a port").port();
    let address = format!("tcp:host=127.0.0.1,port={port}");
    let names = ["DBUS_SESSION_BUS_ADDRESS", "DBUS_SYSTEM_BUS_ADDRESS"];
    let variables = names.map(|name| (name, address.as_str()));
    let cli = home();
    let mut pty = Pty::start_with(cli.home(), &variables);
    pty.wait("Enter start");
    pty.keys("\r");
    pty.wait("set 1 of 9");
    pty.keys("1\r");
    pty.wait("set 2 of 9");
    pty.keys("bb");
    pty.wait("LATE");
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    listener.set_nonblocking(true).expect("asked");
    assert!(listener.accept().is_err(), "nobody called");
}
