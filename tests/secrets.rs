//! What a person wrote is nowhere in the clear: not in the store, not beside it, not in what the system tells about
//! the program, not in the terminal's title, not in a core file.

use std::fs;
use std::io::Read;
use std::io::Write;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::path::PathBuf;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;

use rexpect::session::spawn_command;

use crate::program::Person;
use crate::program::demo_answers;

const PASSPHRASE: &str = "seven brass buttons on the sill";

/// Every answer that is long enough to be known again, and the passphrase.
fn secrets() -> Vec<String> {
    let answers = demo_answers();
    let long = answers.lines().filter(|line| line.len() >= 10).map(str::to_owned);
    long.chain([PASSPHRASE.to_owned()]).collect()
}

/// The first secret that lies in these bytes, as UTF-8 or as UTF-16.
fn found(bytes: &[u8]) -> Option<String> {
    secrets().into_iter().find(|secret| {
        let wide: Vec<u8> = secret.encode_utf16().flat_map(u16::to_le_bytes).collect();
        [secret.as_bytes(), &wide]
            .iter()
            .any(|part| bytes.windows(part.len()).any(|here| here == *part))
    })
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(files(&path));
        }
        all.push(path);
    }
    all
}

/// The program's command with a passphrase, and with all its surroundings below one folder.
fn command(person: &Person, secret: &Path, arguments: &[&str]) -> Command {
    let temporary = person.folder().join("tmp");
    fs::create_dir_all(&temporary).unwrap();
    let mut command = person.command(arguments);
    command
        .arg("--passphrase-file")
        .arg(secret)
        .env("TMPDIR", &temporary)
        .current_dir(&temporary);
    command
}

/// A passphrase file outside the folder that is searched.
fn passphrase_file() -> tempfile::NamedTempFile {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    writeln!(file, "{PASSPHRASE}").unwrap();
    file
}

/// A sitting with all but the last answers given, standing at a prompt.
fn sitting(command: &mut Command) -> Child {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let answers = demo_answers();
    let most: Vec<_> = answers.lines().take(30).collect();
    let mut stdin = child.stdin.take().unwrap();
    writeln!(stdin, "{}", most.join("\n")).unwrap();
    // A command that is no answer marks where everything before it has been taken in.
    writeln!(stdin, "/nothing-of-the-kind").unwrap();
    let mut said = Vec::new();
    let mut byte = [0; 1];
    while !said.ends_with(b"nothing-of-the-kind") {
        assert_eq!(
            child.stdout.as_mut().unwrap().read(&mut byte).unwrap(),
            1,
            "it ended early"
        );
        said.push(byte[0]);
    }
    child.stdin = Some(stdin);
    child
}

#[test]
fn no_file_below_the_persons_folder_holds_what_they_wrote() {
    let person = Person::new();
    let secret = passphrase_file();
    let mut child = sitting(&mut command(&person, secret.path(), &["begin"]));
    let while_open: Vec<_> = files(person.folder());
    for path in while_open.iter().filter(|path| path.is_file()) {
        assert_eq!(found(&fs::read(path).unwrap()), None, "in {}", path.display());
    }
    drop(child.stdin.take());
    assert!(child.wait().unwrap().success());
    let backup = person.folder().join("b.age");
    let word = passphrase_file();
    let arguments = [
        "store",
        "backup",
        backup.to_str().unwrap(),
        "--backup-passphrase-file",
    ];
    let output = command(&person, secret.path(), &arguments[..3])
        .arg(arguments[3])
        .arg(word.path())
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let all = files(person.folder());
    assert!(all.len() >= 8, "{all:?}");
    for path in &all {
        assert_eq!(
            found(path.as_os_str().as_encoded_bytes()),
            None,
            "in the name {}",
            path.display()
        );
        if path.is_file() {
            assert_eq!(found(&fs::read(path).unwrap()), None, "in {}", path.display());
        }
    }
    // The search itself finds what is there, and the map does hold what was searched for.
    let map = command(&person, secret.path(), &["map", "--as", "json"])
        .output()
        .unwrap();
    assert!(
        found(&map.stdout).is_some(),
        "{}",
        String::from_utf8_lossy(&map.stderr)
    );
}

#[cfg(target_os = "linux")]
#[test]
fn what_the_system_tells_about_the_program_holds_nothing() {
    let person = Person::new();
    let secret = passphrase_file();
    let mut child = sitting(&mut command(&person, secret.path(), &["begin"]));
    let about = PathBuf::from(format!("/proc/{}", child.id()));
    for name in ["cmdline", "environ", "comm", "status"] {
        match fs::read(about.join(name)) {
            Ok(bytes) => assert_eq!(found(&bytes), None, "{name}"),
            // Not even the person's other programs may look; only root may.
            Err(error) => assert_eq!(error.kind(), std::io::ErrorKind::PermissionDenied, "{name}"),
        }
    }
    let open: Vec<_> = fs::read_dir(about.join("fd"))
        .map(Iterator::collect)
        .unwrap_or_default();
    for entry in open {
        let target = fs::read_link(entry.unwrap().path()).unwrap_or_default();
        assert!(
            !target.to_string_lossy().contains("(deleted)"),
            "a hidden temporary file: {}",
            target.display()
        );
    }
    drop(child.stdin.take());
    child.wait().unwrap();
}

/// Runs a command with core files allowed, as far as this account may allow them.
fn with_core_files(command: &Command) -> Command {
    let mut shell = Command::new("/bin/sh");
    shell
        .args(["-c", "ulimit -c unlimited; exec \"$@\"", "sh"])
        .arg(command.get_program())
        .args(command.get_args());
    shell.env_clear();
    for (name, value) in command.get_envs() {
        if let Some(value) = value {
            shell.env(name, value);
        }
    }
    if let Some(folder) = command.get_current_dir() {
        shell.current_dir(folder);
    }
    shell
}

fn abort(child: &Child) {
    let pid = rustix::process::Pid::from_child(child);
    rustix::process::kill_process(pid, rustix::process::Signal::ABORT).unwrap();
}

#[cfg(target_os = "linux")]
#[test]
fn a_crash_leaves_no_core_file() {
    let person = Person::new();
    let secret = passphrase_file();
    let begin = command(&person, secret.path(), &["begin"]);
    let mut child = sitting(&mut with_core_files(&begin));
    abort(&child);
    let status = child.wait().unwrap();
    assert_eq!(status.signal(), Some(rustix::process::Signal::ABORT.as_raw()));
    assert!(!status.core_dumped());
    let left: Vec<_> = fs::read_dir(person.folder().join("tmp")).unwrap().collect();
    assert!(left.is_empty(), "{left:?}");

    // The same crash of a program that does not guard itself does leave one.
    let mut other = Command::new("/bin/sleep");
    other.arg("60").current_dir(person.folder());
    let mut other = with_core_files(&other).spawn().unwrap();
    // The shell gives way to the program that it starts.
    let name = PathBuf::from(format!("/proc/{}/comm", other.id()));
    while fs::read_to_string(&name).unwrap().trim() != "sleep" {
        std::thread::yield_now();
    }
    abort(&other);
    assert!(
        other.wait().unwrap().core_dumped(),
        "this machine makes no core files, so nothing was shown here"
    );
}

#[test]
fn the_terminals_title_is_never_set_and_no_history_is_left() {
    let person = Person::new();
    let mut begin = person.command(&["begin", "--no-passphrase"]);
    begin.env("TERM", "xterm-256color").env("COLUMNS", "80");
    let mut terminal = spawn_command(begin, Some(120_000)).unwrap();
    let mut all = String::new();
    for line in demo_answers().lines().take(12) {
        all.push_str(&terminal.exp_string("> ").unwrap());
        terminal.send_line(line).unwrap();
    }
    all.push_str(&terminal.exp_string("> ").unwrap());
    terminal.send_control('d').unwrap();
    all.push_str(&terminal.exp_eof().unwrap());
    assert!(all.contains("my brother Jonas"), "what was typed is seen");
    // An operating system command, in its seven-bit or eight-bit form, is what sets a title.
    assert!(!all.contains("\u{1b}]") && !all.contains('\u{9d}'), "{all:?}");
    for path in files(person.folder()).iter().filter(|path| path.is_file()) {
        assert_eq!(found(&fs::read(path).unwrap()), None, "in {}", path.display());
    }
}
