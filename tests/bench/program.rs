//! The program as a whole, each figure beside its peer in the same run: start to the first prompt against a bare line
//! editor, the time from an answer to the next prompt, a large map against a small one, memory and size.
//!
//! Called with `bare`, this program is the peer: a line editor and nothing else.

#![allow(clippy::unwrap_used, reason = "a measurement that cannot be made is to stop")]
#![allow(clippy::print_stdout, reason = "the figures are its output")]

use std::env;
use std::fs;
use std::io::BufRead;
use std::io::BufReader;
use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::process::Stdio;
use std::time::Duration;
use std::time::Instant;

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::What;
use wayfold::safety::screen;
use wayfold::store::Store;
use wayfold::store::Unlock;

const ROUNDS: usize = 15;

fn main() {
    if env::args().any(|argument| argument == "bare") {
        let mut editor = rustyline::DefaultEditor::new().unwrap();
        let _ = editor.readline("> ");
        return;
    }
    let program = Path::new(env!("CARGO_BIN_EXE_wayfold"));
    let folder = tempfile::tempdir().unwrap();
    start(program, folder.path());
    answers(program, folder.path());
    large_map(program, folder.path());
    memory_and_size(program, folder.path());
}

fn begun(program: &Path, store: &Path) {
    let mut child = command(program, store)
        .arg("begin")
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"NZ\n\n").unwrap();
    child.wait().unwrap();
}

fn command(program: &Path, store: &Path) -> Command {
    let mut command = Command::new(program);
    command
        .env_clear()
        .env("HOME", store)
        .env("TERM", "xterm")
        .env("LANG", "en_NZ.UTF-8");
    command.args(["--no-passphrase", "--store"]).arg(store);
    command
}

/// From starting the process to its prompt, and the whole run of a bare editor whose input has ended, in turn. Both read
/// from no terminal, since a pseudo-terminal's reader adds more than either takes.
fn start(program: &Path, folder: &Path) {
    let store = folder.join("start");
    begun(program, &store);
    let mut ours = Vec::new();
    let mut bare = Vec::new();
    for _ in 0..ROUNDS {
        let mut command = command(program, &store);
        command.arg("begin");
        ours.push(to_prompt(command, "you notice?"));
        let mut command = Command::new(env::current_exe().unwrap());
        command.env_clear().env("TERM", "xterm").arg("bare");
        let start = Instant::now();
        command
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .status()
            .unwrap();
        bare.push(start.elapsed());
    }
    let (ours, bare) = (median(&mut ours), median(&mut bare));
    println!(
        "start to first prompt: {:.1} ms; a bare line editor's whole run {:.1} ms; ratio {:.2}",
        ms(ours),
        ms(bare),
        ms(ours) / ms(bare)
    );
}

fn to_prompt(mut command: Command, prompt: &str) -> Duration {
    let start = Instant::now();
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut out = child.stdout.take().unwrap();
    let mut said = String::new();
    let mut bytes = [0; 4096];
    while !said.contains(prompt) {
        let read = out.read(&mut bytes).unwrap();
        assert!(read > 0, "no prompt in {said:?}");
        said.push_str(&String::from_utf8_lossy(&bytes[..read]));
    }
    let took = start.elapsed();
    drop(child.stdin.take());
    child.wait().unwrap();
    took
}

/// From an answer to the next prompt, flushed to the disk, over whole sittings of the demo person.
fn answers(program: &Path, folder: &Path) {
    let answers =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/first-map.answers"))
            .unwrap();
    let mut times = Vec::new();
    let mut plain = Vec::new();
    for round in 0..5 {
        let store = folder.join(format!("answers-{round}"));
        let mut child = command(program, &store)
            .args(["begin", "--plain"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        let mut out = child.stdout.take().unwrap();
        let (sender, said) = std::sync::mpsc::channel();
        std::thread::spawn(move || {
            let mut bytes = vec![0; 65_536];
            while let Ok(read @ 1..) = out.read(&mut bytes) {
                if sender.send((Instant::now(), read)).is_err() {
                    break;
                }
            }
        });
        let quiet = |until: Duration| {
            let mut last = None;
            while let Ok((at, _)) = said.recv_timeout(if last.is_none() {
                Duration::from_secs(20)
            } else {
                until
            }) {
                last = Some(at);
            }
            last
        };
        quiet(Duration::from_millis(300));
        for line in answers.lines() {
            let start = Instant::now();
            if writeln!(stdin, "{line}").is_err() {
                break;
            }
            if let Some(last) = quiet(Duration::from_millis(40)) {
                times.push(last.saturating_duration_since(start));
            }
            plain.push(synced(folder));
        }
        let _ = child.kill();
        let _ = child.wait();
    }
    times.sort_unstable();
    plain.sort_unstable();
    let at = |times: &[Duration], percent: usize| ms(times[(times.len() - 1) * percent / 100]);
    println!(
        "answer to next prompt, on the disk, {} answers: median {:.1} ms, p99 {:.1} ms; one bare write and fsync in the same run: median {:.1} ms, p99 {:.1} ms",
        times.len(),
        at(&times, 50),
        at(&times, 99),
        at(&plain, 50),
        at(&plain, 99)
    );
}

fn synced(folder: &Path) -> Duration {
    let start = Instant::now();
    let mut file = fs::OpenOptions::new()
        .create(true)
        .append(true)
        .open(folder.join("plain"))
        .unwrap();
    file.write_all(&[7; 512]).unwrap();
    file.sync_data().unwrap();
    start.elapsed()
}

fn large_map(program: &Path, folder: &Path) {
    let mut took = Vec::new();
    for entries in [100_u128, 10_000] {
        let store = folder.join(format!("entries-{entries}"));
        let mut open = Store::create(&store, &Unlock::KeyFile).unwrap();
        let events: Vec<_> = (0..entries).map(entry).collect();
        for batch in events.chunks(500) {
            open.append(batch).unwrap();
        }
        drop(open);
        let mut times: Vec<_> = (0..5)
            .map(|_| {
                let start = Instant::now();
                let output = command(program, &store).arg("map").output().unwrap();
                assert!(output.status.success());
                start.elapsed()
            })
            .collect();
        took.push(median(&mut times));
    }
    println!(
        "wayfold map: 100 entries {:.1} ms, 10,000 entries {:.1} ms; ratio {:.1}",
        ms(took[0]),
        ms(took[1]),
        ms(took[1]) / ms(took[0])
    );
}

fn entry(number: u128) -> Event {
    let id = Uuid::from_u128(0x0190_0000_0000_7000_8000_0000_0000_0000 + (number << 80));
    let field = Field::ALL[usize::try_from(number % 4).unwrap()];
    let words = screen(&format!("a thing of mine, number {number}")).into_words();
    let what = What::EntryAdded {
        entry: EntryId(id),
        field,
        kind: None,
        words,
    };
    Event {
        id: EventId(id),
        at: Timestamp::from_second(1_700_000_000).unwrap(),
        what,
    }
}

fn memory_and_size(program: &Path, folder: &Path) {
    let store = folder.join("memory");
    let answers =
        fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/first-map.answers")).unwrap();
    let mut child = command(program, &store)
        .arg("begin")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // The last answer is held back, so that the program waits while its memory is looked at.
    let held = answers[..answers.len() - 1]
        .iter()
        .rposition(|byte| *byte == b'\n')
        .unwrap();
    stdin.write_all(&answers[..=held]).unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap())
        .lines()
        .map_while(Result::ok);
    lines.find(|line| line.starts_with("Part 12")).unwrap();
    let status = fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap();
    let peak = status
        .lines()
        .find(|line| line.starts_with("VmHWM"))
        .unwrap()
        .to_owned();
    child.kill().unwrap();
    child.wait().unwrap();
    let size = fs::metadata(program).unwrap().len();
    println!(
        "a whole sitting, peak memory without voice: {}; the program's size: {:.1} MB",
        peak.replace('\t', " "),
        size as f64 / 1e6
    );
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1_000.0
}
