//! A private sound server whose loopback stands in for a microphone: what is played into it is what is recorded.

use std::path::Path;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::time::Duration;

struct Ends(Child);

impl Drop for Ends {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A sound server of a test's own; it ends with the test.
pub(crate) struct Server {
    daemon: Ends,
    folder: tempfile::TempDir,
}

impl Server {
    pub(crate) fn start() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let configuration = "pcm.!default { type pulse }\nctl.!default { type pulse }\n";
        std::fs::write(folder.path().join("sound.conf"), configuration).unwrap();
        let socket = folder.path().join("native");
        let mut command = Command::new("pulseaudio");
        command.args([
            "-n",
            "--daemonize=no",
            "--exit-idle-time=-1",
            "--use-pid-file=no",
            "--disable-shm=yes",
        ]);
        command.arg("--load=module-null-sink sink_name=room rate=48000 channels=2");
        let protocol = "module-native-protocol-unix auth-anonymous=1 socket=";
        command.arg(format!("--load={protocol}{}", socket.display()));
        surroundings(&mut command, folder.path());
        command.stdout(Stdio::null()).stderr(Stdio::null());
        let daemon = Ends(command.spawn().expect("pulseaudio is installed"));
        while !socket.exists() {
            std::thread::sleep(Duration::from_millis(20));
        }
        Self { daemon, folder }
    }

    /// The folder of its socket and settings.
    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Plays a file to its end.
    pub(crate) fn play(&self, file: &Path) {
        let mut command = Command::new("paplay");
        surroundings(&mut command, self.folder());
        let status = command.arg(file).status().expect("pulseaudio-utils is installed");
        assert!(status.success(), "{} was not played", file.display());
    }

    /// Ends it at once, as when a plug is pulled.
    pub(crate) fn dies(&mut self) {
        self.daemon.0.kill().unwrap();
    }
}

/// Makes a command find the sound server in this folder and no other.
pub(crate) fn surroundings(command: &mut Command, folder: &Path) {
    command
        .env("HOME", folder)
        .env("XDG_RUNTIME_DIR", folder)
        .env("PULSE_RUNTIME_PATH", folder);
    command.env(
        "PULSE_SERVER",
        format!("unix:{}", folder.join("native").display()),
    );
    command
        .env("PULSE_SOURCE", "room.monitor")
        .env("PULSE_SINK", "room");
    command.env("ALSA_CONFIG_PATH", folder.join("sound.conf"));
}
