//! The system's speech service, spoken to in its own open protocol (SSIP, as described in speech-dispatcher's
//! manual) over a socket on this machine. The protocol is a few lines of text, so this is all of it that is needed.

use super::VoiceError;

#[cfg(unix)]
pub(super) use unix::Dispatcher;

#[cfg(not(unix))]
pub(super) use elsewhere::Dispatcher;

/// Words a minute as the service's rate from -100 to 100. The service's own default (0) is taken as about 170 words
/// a minute; common practice, no source: voices differ.
#[cfg(unix)]
fn rate(pace: u32) -> i64 {
    ((i64::from(pace) - 170) / 2).clamp(-100, 100)
}

/// A message as the service takes it: lines that begin with a full stop get a second one, and nothing in the text
/// can end the message early.
#[cfg(unix)]
fn dotted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for line in text.lines() {
        if line.starts_with('.') {
            out.push('.');
        }
        out.extend(line.chars().map(|c| if c.is_control() { ' ' } else { c }));
        out.push_str("\r\n");
    }
    out.push_str(".\r\n");
    out
}

#[cfg(unix)]
mod unix {
    use std::io::BufRead;
    use std::io::BufReader;
    use std::io::ErrorKind;
    use std::io::Write;
    use std::os::unix::net::UnixStream;
    use std::path::PathBuf;
    use std::time::Duration;

    use super::VoiceError;
    use super::dotted;
    use super::rate;

    /// The longest reply line that is read.
    const LONGEST_LINE: usize = 4096;

    /// A connection to the speech service.
    pub(in crate::voice) struct Dispatcher {
        stream: BufReader<UnixStream>,
        line: Vec<u8>,
        events: Vec<u16>,
    }

    impl Dispatcher {
        /// Connects to the socket that the service's manual names: `SPEECHD_ADDRESS` if it gives a path, else
        /// `speech-dispatcher/speechd.sock` in the session's folder.
        pub(in crate::voice) fn connect() -> Result<Self, VoiceError> {
            Self::connect_to(&address().ok_or(VoiceError::NoSpeaker)?)
        }

        pub(in crate::voice) fn connect_to(path: &std::path::Path) -> Result<Self, VoiceError> {
            let stream = UnixStream::connect(path).map_err(|_| VoiceError::NoSpeaker)?;
            let set = stream.set_write_timeout(Some(Duration::from_secs(2)));
            set.map_err(|_| VoiceError::NoSpeaker)?;
            let mut made = Self {
                stream: BufReader::new(stream),
                line: Vec::new(),
                events: Vec::new(),
            };
            made.ask("SET SELF CLIENT_NAME user:wayfold:guide")?;
            Ok(made)
        }

        /// Sets language, pace and the wish to be told when a message ends.
        pub(in crate::voice) fn prepare(&mut self, language: &str, pace: u32) -> Result<(), VoiceError> {
            self.ask("SET SELF NOTIFICATION ALL ON")?;
            // A voice that lacks the language or the rate speaks all the same, so a refusal is no error.
            let _ = self.ask(&format!("SET SELF LANGUAGE {language}"));
            let _ = self.ask(&format!("SET SELF RATE {}", rate(pace)));
            Ok(())
        }

        /// Hands over a message; the service reads it by itself.
        pub(in crate::voice) fn speak(&mut self, text: &str) -> Result<(), VoiceError> {
            self.events.clear();
            self.ask("SPEAK")?;
            self.ask(dotted(text).trim_end_matches("\r\n"))?;
            Ok(())
        }

        /// Whether the message has ended; waits a few hundredths of a second for news.
        pub(in crate::voice) fn ended(&mut self) -> Result<bool, VoiceError> {
            // 702 is the end of a message, 703 its cancelling.
            if self.events.iter().any(|code| matches!(code, 702 | 703)) {
                return Ok(true);
            }
            if let Some(code) = self.reply(Duration::from_millis(20))? {
                self.events.push(code);
            }
            Ok(false)
        }

        /// Stops at once, and forgets what was still to be read.
        pub(in crate::voice) fn cancel(&mut self) -> Result<(), VoiceError> {
            self.ask("CANCEL SELF")
        }

        fn ask(&mut self, command: &str) -> Result<(), VoiceError> {
            let sent = self
                .stream
                .get_mut()
                .write_all(format!("{command}\r\n").as_bytes());
            sent.map_err(|_| VoiceError::NoSpeaker)?;
            let start = std::time::Instant::now();
            while start.elapsed() < Duration::from_secs(3) {
                match self.reply(Duration::from_millis(100))? {
                    Some(code @ 700..=799) => self.events.push(code),
                    Some(200..=299) => return Ok(()),
                    Some(_) => return Err(VoiceError::NoSpeaker),
                    None => {}
                }
            }
            Err(VoiceError::NoSpeaker)
        }

        /// The code of the next whole reply, if one comes in time. A reply's last line has a space after its code.
        fn reply(&mut self, wait: Duration) -> Result<Option<u16>, VoiceError> {
            let set = self.stream.get_ref().set_read_timeout(Some(wait));
            set.map_err(|_| VoiceError::NoSpeaker)?;
            loop {
                match self.stream.read_until(b'\n', &mut self.line) {
                    Ok(0) => return Err(VoiceError::NoSpeaker),
                    Ok(_) if self.line.len() > LONGEST_LINE => return Err(VoiceError::NoSpeaker),
                    Ok(_) if !self.line.ends_with(b"\n") => return Err(VoiceError::NoSpeaker),
                    Ok(_) => {
                        let line = String::from_utf8_lossy(&self.line).into_owned();
                        self.line.clear();
                        let code = line.get(..3).and_then(|code| code.parse().ok());
                        let code = code.ok_or(VoiceError::NoSpeaker)?;
                        if line.as_bytes().get(3) == Some(&b' ') {
                            return Ok(Some(code));
                        }
                    }
                    Err(error) if matches!(error.kind(), ErrorKind::WouldBlock | ErrorKind::TimedOut) => {
                        return Ok(None);
                    }
                    Err(error) if error.kind() == ErrorKind::Interrupted => {}
                    Err(_) => return Err(VoiceError::NoSpeaker),
                }
            }
        }
    }

    fn address() -> Option<PathBuf> {
        if let Ok(named) = std::env::var("SPEECHD_ADDRESS") {
            return named.strip_prefix("unix_socket:").map(PathBuf::from);
        }
        let session = std::env::var_os("XDG_RUNTIME_DIR")?;
        Some(PathBuf::from(session).join("speech-dispatcher/speechd.sock"))
    }
}

#[cfg(not(unix))]
mod elsewhere {
    use super::VoiceError;

    /// There is no such service here.
    pub(in crate::voice) enum Dispatcher {}

    impl Dispatcher {
        pub(in crate::voice) fn connect() -> Result<Self, VoiceError> {
            Err(VoiceError::NoSpeaker)
        }

        pub(in crate::voice) fn prepare(&mut self, _language: &str, _pace: u32) -> Result<(), VoiceError> {
            match *self {}
        }

        pub(in crate::voice) fn speak(&mut self, _text: &str) -> Result<(), VoiceError> {
            match *self {}
        }

        pub(in crate::voice) fn ended(&mut self) -> Result<bool, VoiceError> {
            match *self {}
        }

        pub(in crate::voice) fn cancel(&mut self) -> Result<(), VoiceError> {
            match *self {}
        }
    }
}
