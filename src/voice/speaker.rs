//! The guide's voice: reads prompts aloud through the system's speech service, or through a speaking program when
//! there is none, and stops at once.

use std::io::Write;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::sync::Arc;
use std::sync::atomic::AtomicU64;
use std::sync::atomic::Ordering;
use std::thread::JoinHandle;
use std::time::Duration;
use std::time::Instant;

use super::VoiceError;
use super::ssip::Dispatcher;

/// How often a running voice is asked whether it should stop.
const BEAT: Duration = Duration::from_millis(10);

/// Words a minute: in the middle of the 140 to 160 that the guide keeps to.
const PACE: u32 = 150;

/// One line to read, and the pause after it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The words.
    pub text: String,
    /// The silence after them.
    pub pause: Duration,
}

/// What speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Service {
    /// The system's speech service.
    Dispatcher,
    /// A speaking program, by its name.
    Program(&'static str),
}

/// The programs that are tried when there is no speech service, with the option that sets words a minute. The
/// words go to standard input, never into the list of running programs.
const PROGRAMS: &[(&str, &[&str])] = &[
    ("espeak-ng", &["--stdin", "-s"]),
    ("espeak", &["--stdin", "-s"]),
    #[cfg(target_os = "macos")]
    ("say", &["-f", "-", "-r"]),
];

/// A voice that reads in the background.
pub struct Speaker {
    service: Service,
    language: String,
    turn: Stopper,
    reading: Option<JoinHandle<Result<(), VoiceError>>>,
}

impl std::fmt::Debug for Speaker {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Speaker")
            .field("service", &self.service)
            .finish_non_exhaustive()
    }
}

impl Speaker {
    /// Finds what can speak: the speech service first, then the programs.
    ///
    /// # Errors
    /// `NoSpeaker` if there is neither.
    pub fn open(language: &str) -> Result<Self, VoiceError> {
        if Dispatcher::connect().is_ok() {
            return Self::through(Service::Dispatcher, language);
        }
        let program = PROGRAMS.iter().map(|(name, _)| *name).find(|name| there(name));
        Self::through(Service::Program(program.ok_or(VoiceError::NoSpeaker)?), language)
    }

    /// Speaks through this service and no other.
    ///
    /// # Errors
    /// `NoSpeaker` if it is not a known one.
    pub fn through(service: Service, language: &str) -> Result<Self, VoiceError> {
        if let Service::Program(name) = service
            && !PROGRAMS.iter().any(|(known, _)| *known == name)
        {
            return Err(VoiceError::NoSpeaker);
        }
        // A language is letters and hyphens; anything else could be read as an option.
        let plain = language.starts_with(|c: char| c.is_ascii_alphabetic())
            && language.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
        let language = if plain { language } else { "en" }.to_owned();
        Ok(Self {
            service,
            language,
            turn: Stopper::default(),
            reading: None,
        })
    }

    /// What speaks.
    #[must_use]
    pub fn service(&self) -> Service {
        self.service
    }

    /// Starts to read these lines, and returns at once. What was being read stops.
    pub fn say(&mut self, lines: Vec<Line>) {
        self.stop();
        let (service, language, turn) = (self.service, self.language.clone(), self.turn.now());
        self.reading = Some(std::thread::spawn(move || match service {
            Service::Dispatcher => read_by_dispatcher(&lines, &language, &turn),
            Service::Program(name) => read_by_program(name, &lines, &language, &turn),
        }));
    }

    /// Whether it is still reading.
    #[must_use]
    pub fn speaking(&self) -> bool {
        self.reading
            .as_ref()
            .is_some_and(|reading| !reading.is_finished())
    }

    /// Stops at once, in the middle of a word.
    pub fn stop(&mut self) {
        self.turn.stop();
        let _ = self.wait();
    }

    /// What stops the voice from elsewhere, such as where keys are read.
    #[must_use]
    pub fn stopper(&self) -> Stopper {
        self.turn.clone()
    }

    /// Waits until all is read.
    ///
    /// # Errors
    /// `NoSpeaker` if the voice went away; the text is on the screen all the same.
    pub fn wait(&mut self) -> Result<(), VoiceError> {
        self.reading.take().map_or(Ok(()), |reading| {
            reading.join().unwrap_or(Err(VoiceError::NoSpeaker))
        })
    }
}

/// Stops a voice from elsewhere, at once and without waiting for it.
#[derive(Clone, Debug, Default)]
pub struct Stopper(Arc<AtomicU64>);

impl Stopper {
    /// Ends what is being read now; what is read later is read.
    pub fn stop(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }

    fn now(&self) -> Turn {
        Turn {
            stopper: self.clone(),
            began: self.0.load(Ordering::Relaxed),
        }
    }
}

/// One reading, which is over once anybody stopped it.
struct Turn {
    stopper: Stopper,
    began: u64,
}

impl Turn {
    fn stopped(&self) -> bool {
        self.stopper.0.load(Ordering::Relaxed) != self.began
    }
}

impl Drop for Speaker {
    fn drop(&mut self) {
        self.stop();
    }
}

fn there(program: &str) -> bool {
    let mut command = Command::new(program);
    let status = quietly(command.arg("--version").stdin(Stdio::null())).status();
    status.is_ok_and(|status| status.success())
}

fn quietly(command: &mut Command) -> &mut Command {
    command.stdout(Stdio::null()).stderr(Stdio::null())
}

fn read_by_program(name: &str, lines: &[Line], language: &str, turn: &Turn) -> Result<(), VoiceError> {
    let options = PROGRAMS
        .iter()
        .find(|(known, _)| *known == name)
        .map_or(&[] as &[&str], |(_, options)| options);
    for line in lines {
        if turn.stopped() {
            break;
        }
        let mut command = Command::new(name);
        command.args(options).arg(PACE.to_string());
        if name.starts_with("espeak") {
            command.args(["-v", language]);
        }
        let child = quietly(command.stdin(Stdio::piped()))
            .spawn()
            .map_err(|_| VoiceError::NoSpeaker)?;
        let mut running = Running(child);
        if let Some(mut input) = running.0.stdin.take() {
            input
                .write_all(line.text.as_bytes())
                .map_err(|_| VoiceError::NoSpeaker)?;
        }
        while running.0.try_wait().map_err(|_| VoiceError::NoSpeaker)?.is_none() {
            if turn.stopped() {
                return Ok(());
            }
            std::thread::sleep(BEAT);
        }
        rest(line.pause, turn);
    }
    Ok(())
}

/// A program that is ended when nobody waits for it any more.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        // Either it ended by itself or it is ended now; both are what was wanted.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn read_by_dispatcher(lines: &[Line], language: &str, turn: &Turn) -> Result<(), VoiceError> {
    let mut service = Dispatcher::connect()?;
    service.prepare(language, PACE)?;
    for line in lines {
        if turn.stopped() {
            break;
        }
        service.speak(&line.text)?;
        let late = Instant::now() + longest(&line.text);
        while !service.ended()? && Instant::now() < late {
            if turn.stopped() {
                return service.cancel();
            }
        }
        rest(line.pause, turn);
    }
    Ok(())
}

/// How long a service may take to say that a message ended, before nobody waits for it any more: ten seconds, and half
/// a second for each letter, several times what it needs.
fn longest(text: &str) -> Duration {
    let letters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
    Duration::from_secs(10) + Duration::from_millis(500) * letters
}

fn rest(pause: Duration, turn: &Turn) {
    let end = Instant::now() + pause;
    while Instant::now() < end && !turn.stopped() {
        std::thread::sleep(BEAT.min(pause));
    }
}
