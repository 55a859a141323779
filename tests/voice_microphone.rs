//! The microphone, through a private sound server that plays a reading into its own loopback. The part that listens
//! runs in a process of its own, since the sound libraries find their server by its environment.

use wayfold::voice::Microphone;
use wayfold::voice::VoiceError;

#[cfg(not(feature = "voice"))]
#[test]
fn without_the_speech_library_every_door_says_so() {
    use std::path::Path;
    use wayfold::voice;
    assert!(!voice::built());
    assert_eq!(Microphone::open().unwrap_err(), VoiceError::NotBuilt);
    assert_eq!(voice::devices().unwrap_err(), VoiceError::NotBuilt);
    let ear = voice::Ear::load(Path::new("a"), Path::new("b"));
    assert_eq!(ear.unwrap_err(), VoiceError::NotBuilt);
    let loading = voice::Ear::load_in_background("a".into(), "b".into());
    assert_eq!(loading.wait().unwrap_err(), VoiceError::NotBuilt);
}

#[cfg(feature = "voice")]
mod private_server {
    use std::io::BufRead;
    use std::io::BufReader;
    use std::path::Path;
    use std::process::Child;
    use std::process::Command;
    use std::process::Stdio;
    use std::sync::atomic::AtomicBool;
    use std::time::Duration;

    use wayfold::voice::During;
    use wayfold::voice::Ear;
    use wayfold::voice::Hints;
    use wayfold::voice::Listening;
    use wayfold::voice::model;

    use super::Microphone;
    use super::VoiceError;
    use crate::voice::data;
    use crate::voice::models;
    use crate::voice_server::Server;
    use crate::voice_server::surroundings;

    /// Set in the process that listens.
    const LISTENER: &str = "WAYFOLD_TEST_LISTENER";

    /// This test's own process again, as the one that listens.
    fn listener_of(server: &Server, test: &str) -> Child {
        listener(test, server.folder())
    }

    fn listener(test: &str, folder: &Path) -> Child {
        let mut command = Command::new(std::env::current_exe().unwrap());
        let name = format!("voice_microphone::private_server::{test}");
        command
            .args(["--exact", &name, "--nocapture", "--test-threads=1"])
            .env(LISTENER, "1");
        surroundings(&mut command, folder);
        command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap()
    }

    /// Listens, and tells on standard output when it began, and what came of it.
    #[expect(clippy::print_stdout, reason = "this is how the two processes talk")]
    fn listen() {
        let folder = models().unwrap();
        let found = model::find(&[folder], Some(Path::new("tiny.en"))).unwrap();
        let mut ear = Ear::load(&found.model, &found.activity).unwrap();
        let settings = Listening {
            pause: Duration::from_millis(1_500),
            ..Listening::default()
        };
        let mut began = false;
        let early = std::cell::RefCell::new(String::new());
        let mut loudest = 0.0_f32;
        let mut during = |what: During<'_>| match what {
            During::Words(heard) => early.borrow_mut().clone_from(&heard.text),
            During::Level(level) => {
                if !began {
                    println!("listening");
                }
                began = true;
                loudest = loudest.max(level.loudness);
            }
        };
        let heard = Microphone::open().and_then(|microphone| {
            let hints = Hints::default();
            let mut taken = ear.take_down(
                &microphone,
                &settings,
                &hints,
                &mut during,
                &AtomicBool::new(false),
            )?;
            let heard = taken.words(&mut ear, &hints)?;
            assert_eq!(
                *early.borrow(),
                *heard.text,
                "the words stood there before the pause was over"
            );
            Ok(format!("{:?}|{}", taken.ended, &*heard.text))
        });
        match heard {
            Ok(line) => println!("answer {line}|{loudest:.1}"),
            Err(error) => println!("answer {error:?}"),
        }
    }

    fn is_listener() -> bool {
        std::env::var_os(LISTENER).is_some()
    }

    /// Waits for the line that the listener writes once it listens.
    fn until_listening(lines: &mut impl Iterator<Item = std::io::Result<String>>) {
        assert!(
            lines.any(|line| line.unwrap().ends_with("listening")),
            "the listener never listened"
        );
    }

    fn answer(lines: &mut impl Iterator<Item = std::io::Result<String>>) -> String {
        let line = lines
            .map(Result::unwrap)
            .find(|line| line.contains("answer "))
            .expect("an answer");
        line.split_once("answer ").unwrap().1.to_owned()
    }

    fn wrote_to_standard_error(mut child: Child) -> String {
        let mut text = String::new();
        std::io::Read::read_to_string(&mut child.stderr.take().unwrap(), &mut text).unwrap();
        child.wait().unwrap();
        text
    }

    #[test]
    fn a_reading_comes_through_word_for_word_and_ends_at_the_pause() {
        if models().is_none() {
            return;
        }
        if is_listener() {
            return listen();
        }
        let server = Server::start();
        let mut child = listener_of(
            &server,
            "a_reading_comes_through_word_for_word_and_ends_at_the_pause",
        );
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        until_listening(&mut lines);
        server.play(&data("lv_0930.wav"));
        let answer = answer(&mut lines);
        let parts: Vec<&str> = answer.split('|').collect();
        assert_eq!(
            parts[..2],
            ["Pause", "He might even have been made amiable himself."]
        );
        assert!(parts[2].parse::<f32>().unwrap() > 0.4, "the level rose: {answer}");
        assert_eq!(wrote_to_standard_error(child), "", "sound libraries stay silent");
    }

    #[test]
    fn a_server_that_dies_in_mid_sentence_is_told_as_unplugged() {
        if models().is_none() {
            return;
        }
        if is_listener() {
            return listen();
        }
        let mut server = Server::start();
        let mut child = listener_of(&server, "a_server_that_dies_in_mid_sentence_is_told_as_unplugged");
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        until_listening(&mut lines);
        server.dies();
        assert_eq!(answer(&mut lines), format!("{:?}", VoiceError::Unplugged));
        assert_eq!(wrote_to_standard_error(child), "", "sound libraries stay silent");
    }

    #[test]
    fn where_there_is_no_sound_at_all_one_error_says_so_and_nothing_else() {
        if models().is_none() {
            return;
        }
        if is_listener() {
            return listen();
        }
        let folder = tempfile::tempdir().unwrap();
        // The system's own settings, and no server and no card.
        std::fs::write(folder.path().join("sound.conf"), "</usr/share/alsa/alsa.conf>\n").unwrap();
        let test = "where_there_is_no_sound_at_all_one_error_says_so_and_nothing_else";
        let mut child = listener(test, folder.path());
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        assert_eq!(answer(&mut lines), format!("{:?}", VoiceError::NoMicrophone));
        assert_eq!(wrote_to_standard_error(child), "", "sound libraries stay silent");
    }
}
