//! A sound through a sound server's socket on this machine: PulseAudio, or PipeWire in its place.
//! Only sockets in the file system are spoken to; a server elsewhere on the network never is.

use crate::domain::cue::Clip;
use pulseaudio::protocol::{
    self, AuthParams, AuthReply, ChannelMap, Command, CommandReply, CreatePlaybackStreamReply,
    MAX_VERSION, PlaybackStreamParams, Prop, Props, ProtocolError, SampleFormat, SampleSpec,
    SetClientNameReply, stream,
};
use std::ffi::OsString;
use std::io::{self, BufReader};
use std::os::unix::net::UnixStream;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How long a server may take to answer.
const PATIENCE: Duration = Duration::from_millis(500);
/// So many messages of other kinds may come before the one that says that a sound has begun.
const MESSAGES: usize = 20;
/// A cookie has so many bytes; servers of the same user take zeros in place of a missing one.
const COOKIE: usize = 256;

/// A sound on its way to the ear. Dropping it ends it.
pub struct Stream {
    talk: Talk,
    channel: u32,
    path: PathBuf,
}

impl Stream {
    /// Makes the way for a sound: then it takes one message to begin it.
    ///
    /// # Errors
    ///
    /// No server is to be found, or it refuses or does not answer; words say which.
    pub fn open(clip: &Clip) -> Result<Self, String> {
        let path = socket(|name| std::env::var_os(name))
            .ok_or("no sound server on this machine: none is named, and there is no session")?;
        let (talk, channel) = connect(&path, clip).map_err(|why| fails(&path, &why))?;
        Ok(Self {
            talk,
            channel,
            path,
        })
    }

    /// Begins the sound that it was opened for: all of its samples at once. Comes back when the
    /// server has begun to play them.
    ///
    /// # Errors
    ///
    /// The server has gone, or does not play it.
    pub fn begin(&mut self, clip: &Clip) -> Result<(), String> {
        self.send(clip).map_err(|why| fails(&self.path, &why))
    }

    fn send(&mut self, clip: &Clip) -> Result<(), ProtocolError> {
        let samples: Vec<u8> = clip.samples.iter().flat_map(|s| s.to_le_bytes()).collect();
        let socket = &mut self.talk.socket;
        protocol::write_memblock(socket.get_mut(), self.channel, &samples, 0)?;
        // A stuck server takes the samples too, and plays nothing.
        for _ in 0..MESSAGES {
            let (_, said) = protocol::read_command_message(socket, self.talk.version)?;
            if let Command::Started(_) = said {
                return Ok(());
            }
        }
        Err(ProtocolError::Timeout)
    }
}

fn fails(path: &Path, why: &ProtocolError) -> String {
    format!("the sound server at {} fails: {why}", path.display())
}

/// The conversation until there is a stream: who we are, and what it will play.
fn connect(path: &Path, clip: &Clip) -> Result<(Talk, u32), ProtocolError> {
    let socket = UnixStream::connect(path)?;
    socket.set_read_timeout(Some(PATIENCE))?;
    socket.set_write_timeout(Some(PATIENCE))?;
    vouch(&socket)?;
    let mut talk = Talk {
        socket: BufReader::new(socket),
        version: MAX_VERSION,
        asked: 0,
    };
    let auth: AuthReply = talk.ask(&Command::Auth(AuthParams {
        version: MAX_VERSION,
        supports_shm: false,
        supports_memfd: false,
        cookie: cookie(|name| std::env::var_os(name)),
    }))?;
    talk.version = auth.version.min(MAX_VERSION);
    let _: SetClientNameReply = talk.ask(&Command::SetClientName(named()))?;
    let stream: CreatePlaybackStreamReply =
        talk.ask(&Command::CreatePlaybackStream(params(clip)))?;
    Ok((talk, stream.channel))
}

/// Has the system say with all that is sent who sends it: a server that has only just taken the
/// call may not have asked for it yet, and would then want a cookie.
#[cfg(target_os = "linux")]
fn vouch(socket: &UnixStream) -> io::Result<()> {
    Ok(rustix::net::sockopt::set_socket_passcred(socket, true)?)
}

#[cfg(not(target_os = "linux"))]
fn vouch(_socket: &UnixStream) -> io::Result<()> {
    Ok(())
}

struct Talk {
    socket: BufReader<UnixStream>,
    version: u16,
    asked: u32,
}

impl Talk {
    /// Sends a command and reads its reply.
    fn ask<T: CommandReply>(&mut self, command: &Command) -> Result<T, ProtocolError> {
        self.asked += 1;
        let socket = self.socket.get_mut();
        protocol::write_command_message(socket, self.asked, command, self.version)?;
        let (_, reply) = protocol::read_reply_message(&mut self.socket, self.version)?;
        Ok(reply)
    }
}

/// What the server's own lists show.
fn named() -> Props {
    let mut props = Props::new();
    props.set(Prop::ApplicationName, c"rackside");
    props.set(Prop::MediaName, c"sign");
    props.set(Prop::MediaRole, c"event");
    props
}

fn params(clip: &Clip) -> PlaybackStreamParams {
    let bytes = 2 * clip.samples.len();
    PlaybackStreamParams {
        sample_spec: SampleSpec {
            format: SampleFormat::S16Le,
            channels: clip.channels,
            sample_rate: clip.rate,
        },
        channel_map: match clip.channels {
            1 => ChannelMap::mono(),
            _ => ChannelMap::stereo(),
        },
        buffer_attr: stream::BufferAttr {
            target_length: u32::try_from(bytes).unwrap_or(u32::MAX),
            // It starts with the first sample: 0 would mean by command alone.
            pre_buffering: 2,
            ..Default::default()
        },
        props: named(),
        ..PlaybackStreamParams::default()
    }
}

/// The server's socket: the first one in the file system that `PULSE_SERVER` names, and none where
/// it names only others; else the one of this session.
fn socket(environment: impl Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let given = |name: &str| environment(name).filter(|value| !value.is_empty());
    if let Some(servers) = given("PULSE_SERVER") {
        let servers = servers.into_string().ok()?;
        return servers.split_whitespace().find_map(local);
    }
    let folder = given("PULSE_RUNTIME_PATH").map(PathBuf::from);
    let session = || given("XDG_RUNTIME_DIR").map(|folder| PathBuf::from(folder).join("pulse"));
    let socket = folder.or_else(session)?.join("native");
    socket.is_absolute().then_some(socket)
}

/// The path that one server's name is, which may stand behind a machine's id in braces.
fn local(server: &str) -> Option<PathBuf> {
    let named = match server.strip_prefix('{') {
        Some(behind) => behind.split_once('}')?.1,
        None => server,
    };
    let path = named.strip_prefix("unix:").unwrap_or(named);
    path.starts_with('/').then(|| path.into())
}

/// What shows the server that we are the same person: the first file of those that there can be.
fn cookie(environment: impl Fn(&str) -> Option<OsString>) -> Vec<u8> {
    let below = |name: &str, path: &str| environment(name).map(|f| PathBuf::from(f).join(path));
    let places = [
        environment("PULSE_COOKIE").map(PathBuf::from),
        below("XDG_CONFIG_HOME", "pulse/cookie"),
        below("HOME", ".config/pulse/cookie"),
        below("HOME", ".pulse-cookie"),
    ];
    let read = |path: PathBuf| std::fs::read(path).ok().filter(|c| c.len() == COOKIE);
    let found = places.into_iter().flatten().find_map(read);
    found.unwrap_or_else(|| vec![0; COOKIE])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(variables: &[(&str, &str)]) -> Option<PathBuf> {
        socket(|name| {
            let found = variables.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| value.into())
        })
    }

    #[test]
    fn the_server_of_this_session_is_spoken_to_and_no_other_machine() {
        let session = ("XDG_RUNTIME_DIR", "/run/user/7");
        assert_eq!(found(&[session]), Some("/run/user/7/pulse/native".into()));
        let path = ("PULSE_RUNTIME_PATH", "/run/p");
        assert_eq!(found(&[session, path]), Some("/run/p/native".into()));
        for (server, socket) in [
            ("unix:/tmp/s", Some("/tmp/s")),
            ("/tmp/s", Some("/tmp/s")),
            ("{0123}unix:/tmp/s", Some("/tmp/s")),
            ("tcp:gym:4713 unix:/tmp/s", Some("/tmp/s")),
            ("tcp:gym:4713", None),
            ("gym", None),
            ("{0123", None),
            ("unix:s", None),
        ] {
            let named = ("PULSE_SERVER", server);
            assert_eq!(
                found(&[session, named]),
                socket.map(PathBuf::from),
                "{server}"
            );
        }
        assert_eq!(found(&[("PULSE_SERVER", ""), session]), found(&[session]));
        assert_eq!(found(&[("XDG_RUNTIME_DIR", "here")]), None);
        assert_eq!(found(&[]), None);
    }

    #[test]
    fn a_missing_cookie_is_as_long_as_a_real_one() {
        assert_eq!(cookie(|_| None), [0; 256]);
    }
}
