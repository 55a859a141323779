//! What leaves the store for someone else: only what was chosen, shown before it is written, and nothing beside it.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use expect_test::expect;
use expect_test::expect_file;
use rexpect::process::wait::WaitStatus;
use rexpect::session::PtySession;
use rexpect::session::spawn_command;

use crate::program::Person;
use crate::program::demo_answers;

/// The day on which every file of these tests is made.
const DAY: &str = "2031-05-17";

/// The choice of most tests: two people and a thing, one inner entry, one away move, one toward move, no dates, a PDF.
const CHOICE: [&str; 18] = [
    "2", "1 2 3 4", "1 3 6", "", "y", "", "", "", "", "1", "2", "", "", "", "n", "1", "yes", "",
];

fn lines(answers: &[&str]) -> String {
    answers.iter().flat_map(|answer| [*answer, "\n"]).collect()
}

fn demo() -> Person {
    let person = Person::new();
    person.says(&["begin"], &demo_answers());
    person
}

/// Runs `wayfold map` with more arguments and gives everything it said. The file is named by `file`.
fn map(person: &Person, arguments: &[&str], file: Option<&Path>, input: &str) -> String {
    let mut all = vec!["map", "--on", DAY];
    all.extend(arguments);
    if let Some(file) = file {
        all.extend(["--out", file.to_str().unwrap()]);
    }
    person.says(&all, input)
}

/// Shares with these answers and gives the file's path.
fn share(person: &Person, name: &str, answers: &[&str]) -> PathBuf {
    let file = person.folder().join(name);
    let said = map(person, &["--share"], Some(&file), &lines(answers));
    assert!(file.exists(), "{said}");
    file
}

/// What another program says about a file.
fn tool(program: &str, arguments: &[&str]) -> Vec<u8> {
    let done = Command::new(program).args(arguments).output();
    let done = done.unwrap_or_else(|error| panic!("{program}: {error}; ./scripts/test brings it"));
    // qpdf ends with 3 where it only warned.
    assert!(
        matches!(done.status.code(), Some(0 | 3)),
        "{program}: {}",
        String::from_utf8_lossy(&done.stderr)
    );
    done.stdout
}

fn text_of(file: &Path) -> String {
    let text = match file.extension().unwrap().to_str().unwrap() {
        "pdf" => String::from_utf8(tool("pdftotext", &["-raw", file.to_str().unwrap(), "-"])).unwrap(),
        _ => fs::read_to_string(file).unwrap().replace('\\', ""),
    };
    squeezed(&text)
}

/// The text with every stretch of space as one space, however its lines were broken.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The file with everything unpacked, in both ways in which a PDF writes text of its structure.
fn unpacked(file: &Path) -> String {
    let bytes = match file.extension().unwrap().to_str().unwrap() {
        "pdf" => tool(
            "qpdf",
            &["--qdf", "--object-streams=disable", file.to_str().unwrap(), "-"],
        ),
        _ => fs::read(file).unwrap(),
    };
    let wide: String = bytes
        .iter()
        .filter(|byte| **byte != 0)
        .map(|byte| char::from(*byte))
        .collect();
    format!("{}\n{wide}", String::from_utf8_lossy(&bytes))
}

/// Every text that the store holds.
fn everything(person: &Person) -> Vec<String> {
    let map = person.map();
    let mut texts = Vec::new();
    let mut add = |value: &serde_json::Value| texts.extend(value.as_str().map(str::to_owned));
    for entry in map["entries"].as_array().unwrap() {
        add(&entry["text"]);
    }
    for one in map["loops"].as_array().unwrap() {
        for part in ["relief", "cost", "matters"] {
            add(&one[part]);
        }
    }
    for step in map["steps"].as_array().unwrap() {
        add(&step["act"]);
        add(&step["when"]);
    }
    assert!(texts.len() >= 24, "{texts:?}");
    texts
}

/// The file holds these texts of the store and no other.
fn holds_only(person: &Person, file: &Path, chosen: &[&str]) {
    // What begins a line may have got a capital.
    let (text, raw) = (text_of(file).to_lowercase(), unpacked(file).to_lowercase());
    for known in everything(person) {
        let is_chosen = chosen.contains(&&*known);
        let known = known.to_lowercase();
        if is_chosen {
            assert!(text.contains(&known), "{known} is missing in {text}");
        } else {
            assert!(!text.contains(&known), "{known} is in {text}");
            assert!(!raw.contains(&known), "{known} is in the unpacked file");
        }
    }
}

const CHOSEN: [&str; 6] = [
    "my brother Jonas",
    "the choir",
    "restoring the old rowing boat",
    "everyone hears my wrong notes",
    "cancel choir practice with an excuse",
    "sand one plank of the boat",
];

#[test]
fn a_share_holds_what_was_chosen_and_nothing_else() {
    let person = demo();
    // The kind is not asked about where the file's name says it.
    let choice: Vec<_> = CHOICE
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != 15)
        .map(|(_, answer)| *answer)
        .collect();
    for name in ["some.pdf", "some.md"] {
        holds_only(&person, &share(&person, name, &choice), &CHOSEN);
    }
}

#[test]
fn a_loop_and_a_step_come_along_only_when_they_are_chosen() {
    let person = demo();
    let choice = [
        "2", "1 2 3 4", "1 3 6", "", "y", "", "", "", "", "1", "2", "y", "all", "3", "", "yes",
    ];
    let mut chosen = CHOSEN.to_vec();
    let map = person.map();
    let text = |value: &'_ serde_json::Value| value.as_str().unwrap().to_owned();
    let one = &map["loops"][0];
    let step = &map["steps"][0];
    let more = [
        text(&one["relief"]),
        text(&one["cost"]),
        text(&one["matters"]),
        text(&step["act"]),
        text(&step["when"]),
    ];
    chosen.extend(more.iter().map(String::as_str));
    for name in ["more.pdf", "more.md"] {
        let file = share(&person, name, &choice);
        holds_only(&person, &file, &chosen);
        assert!(text_of(&file).contains(DAY));
    }
}

#[test]
fn someone_close_gets_what_matters_and_toward_only() {
    let person = demo();
    let mut chosen = person.field("matters");
    chosen.extend(person.field("toward"));
    for name in ["close.pdf", "close.md"] {
        let file = share(&person, name, &["1", "all", "all", "", "", "yes"]);
        holds_only(
            &person,
            &file,
            &chosen.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let file = share(&person, name, &["1", "all", "all", "", "y", "yes"]);
        let text = text_of(&file);
        for name in ["Jonas", "Vera"] {
            assert!(!text.contains(name) && !unpacked(&file).contains(name), "{text}");
        }
        assert!(text.contains("my brother J."), "{text}");
    }
}

#[test]
fn what_the_preview_shows_is_what_the_file_holds() {
    let person = demo();
    let file = person.folder().join("seen.md");
    let said = map(
        &person,
        &["--share"],
        Some(&file),
        &lines(&["1", "1 2", "3", "2", "", "yes"]),
    );
    let words = |text: &str| {
        let kept = text
            .chars()
            .filter(|sign| sign.is_alphanumeric() || sign.is_whitespace())
            .collect::<String>();
        kept.split_whitespace().map(str::to_owned).collect::<Vec<_>>()
    };
    let seen = said
        .split("This is all that goes in:")
        .nth(1)
        .unwrap()
        .split("That is all.")
        .next()
        .unwrap();
    assert_eq!(words(seen), words(&fs::read_to_string(file).unwrap()));
}

#[test]
fn nothing_is_written_without_a_yes() {
    let person = demo();
    let file = person.folder().join("never.pdf");
    let all: Vec<_> = CHOICE
        .iter()
        .filter(|answer| **answer != "yes")
        .copied()
        .collect();
    let before = fs::read_dir(person.folder()).unwrap().count();
    for end in ["", "n", "no"] {
        let mut answers = CHOICE[..15].to_vec();
        answers.push(end);
        let said = map(&person, &["--share"], Some(&file), &lines(&answers));
        assert!(
            said.contains("This is all that goes in:") && said.ends_with("Nothing was written.\n"),
            "{said}"
        );
    }
    // However far it came, an input that ends, or /pause, writes nothing.
    for cut in 0..15 {
        for end in ["", "/pause\nyes\n"] {
            let input = lines(&all[..cut]) + end;
            let arguments = [
                "--no-passphrase",
                "map",
                "--on",
                DAY,
                "--share",
                "--out",
                file.to_str().unwrap(),
            ];
            let output = person.run(&arguments, &input);
            assert_eq!(output.status.code(), Some(130), "{cut}");
            assert!(
                String::from_utf8(output.stdout)
                    .unwrap()
                    .ends_with("Nothing was written.\n")
            );
        }
    }
    assert_eq!(fs::read_dir(person.folder()).unwrap().count(), before);
}

#[test]
fn nothing_chosen_is_nothing_written() {
    let person = demo();
    let file = person.folder().join("empty.pdf");
    for answers in [
        &["1", "", ""][..],
        &["2", "", ""],
        &["2", "1 3", "none", "none", ""],
    ] {
        let said = map(&person, &["--share"], Some(&file), &lines(answers));
        assert!(
            said.ends_with("Nothing is chosen, so nothing was written.\n"),
            "{said}"
        );
    }
    assert!(!file.exists());
}

#[test]
fn going_back_takes_a_choice_back() {
    let person = demo();
    let twice = [
        "/ground", "/pause", "1", "/back", "1", "all", "/back", "1", "2", "/back", "2", "/help", "sideways",
        "", "", "yes",
    ];
    let file = share(&person, "back.md", &twice);
    holds_only(
        &person,
        &file,
        &["my brother Jonas", "sand one plank of the boat"],
    );
}

#[test]
fn a_file_says_nothing_of_its_maker() {
    let person = demo();
    let file = share(&person, "quiet.pdf", &["1", "all", "all", "2", "", "yes"]);
    let path = file.to_str().unwrap();
    let tags = tool("exiftool", &["-a", "-G0", "-s", "-PDF:all", "-XMP:all", path]);
    let tags = String::from_utf8(tags).unwrap();
    // The identities are made from the content; two runs give the same.
    let tags: String = tags
        .lines()
        .filter(|line| !line.contains("InstanceID") && !line.contains("DocumentID"))
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ") + "\n")
        .collect();
    expect![[r#"
        [PDF] PDFVersion : 1.7
        [PDF] Linearized : No
        [PDF] PageCount : 1
        [PDF] Language : en
        [PDF] TaggedPDF : Yes
        [PDF] Title : My map
        [PDF] ModifyDate : 2031:05:17 00:00:00Z
        [PDF] CreateDate : 2031:05:17 00:00:00Z
        [XMP] XMPToolkit : xmp-writer
        [XMP] Title : My map
        [XMP] Language : en
        [XMP] ModifyDate : 2031:05:17 00:00:00Z
        [XMP] CreateDate : 2031:05:17 00:00:00Z
        [XMP] Part : 1
        [XMP] NPages : 1
        [XMP] Format : application/pdf
        [XMP] RenditionClass : proof
        [XMP] PDFVersion : 1.7
    "#]]
    .assert_eq(&tags);
    let info = String::from_utf8(tool("pdfinfo", &[path])).unwrap();
    let info: String = info
        .lines()
        .filter(|line| !line.starts_with("File size"))
        .map(|line| line.to_owned() + "\n")
        .collect();
    expect![[r#"
        Title:           My map
        CreationDate:    Sat May 17 00:00:00 2031 UTC
        ModDate:         Sat May 17 00:00:00 2031 UTC
        Custom Metadata: no
        Metadata Stream: yes
        Tagged:          yes
        UserProperties:  no
        Suspects:        no
        Form:            none
        JavaScript:      no
        Pages:           1
        Encrypted:       no
        Page size:       841.89 x 595.276 pts (A4)
        Page rot:        0
        Optimized:       no
        PDF version:     1.7
    "#]]
    .assert_eq(&info);
    let raw = unpacked(&file);
    let folder = person.folder().to_str().unwrap();
    let host = fs::read_to_string("/proc/sys/kernel/hostname").unwrap_or_default();
    for personal in [folder, "quiet", "Auckland", "+12", "+13", host.trim()] {
        assert!(personal.is_empty() || !raw.contains(personal), "{personal}");
    }
    let undated = share(&person, "undated.pdf", &["1", "all", "all", "", "", "yes"]);
    let info = String::from_utf8(tool("pdfinfo", &[undated.to_str().unwrap()])).unwrap();
    assert!(
        !info.contains("Date") && !unpacked(&undated).contains("2031"),
        "{info}"
    );
    let png = person.folder().join("map.png");
    map(&person, &["--as", "png"], Some(&png), "");
    let tags = tool(
        "exiftool",
        &["-a", "-G0", "-s", "-PNG:all", png.to_str().unwrap()],
    );
    let names: Vec<_> = String::from_utf8(tags)
        .unwrap()
        .lines()
        .map(|line| line.split_whitespace().nth(1).unwrap().to_owned())
        .collect();
    expect!["ImageWidth ImageHeight BitDepth ColorType Compression Filter Interlace"]
        .assert_eq(&names.join(" "));
}

#[test]
fn the_same_choice_on_the_same_day_gives_the_same_bytes() {
    let person = demo();
    let twice = |arguments: &[&str], name: &str, input: &str| {
        let made = ["first", "second"].map(|which| {
            let file = person.folder().join(format!("{which}-{name}"));
            map(&person, arguments, Some(&file), input);
            fs::read(file).unwrap()
        });
        assert!(!made[0].is_empty());
        assert!(made[0] == made[1], "{arguments:?} {name}");
    };
    let choice = lines(&["1", "all", "all", "3", "y", "yes"]);
    for name in ["share.pdf", "share.md"] {
        twice(&["--share"], name, &choice);
    }
    for name in ["a.pdf", "a.svg", "a.png", "a.txt", "a.md", "a.json"] {
        twice(&["--appointment"], name, "May we speak of Sundays?\n");
    }
    for name in ["map.pdf", "map.svg", "map.png", "map.txt", "map.md"] {
        twice(&[], name, "");
        twice(&["--blank"], name, "");
    }
}

#[cfg(unix)]
#[test]
fn a_file_is_put_in_place_whole_and_for_its_owner_only() {
    use std::os::unix::fs::MetadataExt;
    use std::os::unix::fs::PermissionsExt;

    let person = demo();
    let folder = person.folder().join("files");
    fs::create_dir(&folder).unwrap();
    let real = folder.join("real.pdf");
    fs::write(&real, "an older file").unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o644)).unwrap();
    let older = fs::metadata(&real).unwrap().ino();
    let link = folder.join("link.pdf");
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let said = map(
        &person,
        &["--share"],
        Some(&link),
        &lines(&["1", "all", "", "", "", "yes"]),
    );
    assert!(
        said.contains("It takes the place of the file that is there:"),
        "{said}"
    );
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    let now = fs::metadata(&real).unwrap();
    assert_eq!(now.permissions().mode() & 0o777, 0o600);
    assert_ne!(now.ino(), older, "it was written over in place");
    assert!(fs::read(&real).unwrap().starts_with(b"%PDF"));
    map(&person, &[], Some(&folder.join("map.svg")), "");
    assert_eq!(
        fs::metadata(folder.join("map.svg")).unwrap().permissions().mode() & 0o777,
        0o600
    );
    let mut names: Vec<_> = fs::read_dir(&folder)
        .unwrap()
        .map(|file| file.unwrap().file_name())
        .collect();
    names.sort();
    assert_eq!(names, ["link.pdf", "map.svg", "real.pdf"]);
    let nowhere = folder.join("missing/map.pdf");
    let output = person.run(
        &["--no-passphrase", "map", "--out", nowhere.to_str().unwrap()],
        "",
    );
    assert_eq!(output.status.code(), Some(1));
    let errors = squeezed(&String::from_utf8(output.stderr).unwrap());
    assert!(errors.contains("there is no such file"), "{errors}");
}

#[test]
fn a_sealed_file_opens_with_its_passphrase_only() {
    use std::io::Read;

    let person = demo();
    let open = share(&person, "open.pdf", &["1", "all", "", "", "", "yes"]);
    // A passphrase that is empty, or not the same twice, is asked for again.
    let sealed = [
        "1",
        "all",
        "",
        "",
        "",
        "yes",
        "",
        "otter and reed",
        "otter",
        "otter and reed",
        "otter and reed",
    ];
    let sealed = fs::read(share(&person, "closed.age", &sealed)).unwrap();
    let unseal = |passphrase: &str| {
        let identity = age::scrypt::Identity::new(age::secrecy::SecretString::from(passphrase.to_owned()));
        let decryptor = age::Decryptor::new(&sealed[..]).unwrap();
        let mut bytes = Vec::new();
        let mut reader = decryptor
            .decrypt(std::iter::once(&identity as &dyn age::Identity))
            .ok()?;
        reader.read_to_end(&mut bytes).ok()?;
        Some(bytes)
    };
    assert!(unseal("otter and reed").unwrap() == fs::read(open).unwrap());
    assert!(unseal("otter").is_none());
    assert!(!String::from_utf8_lossy(&sealed).contains("Jonas"));
}

#[test]
fn the_conversation_reads_like_one() {
    let person = demo();
    let answers = [
        "2",
        "1 2 4",
        "1 3",
        "everything",
        "",
        "",
        "y",
        "",
        "",
        "",
        "3",
        "1",
        "2",
        "y",
        "1",
        "yes",
    ];
    let file = person.folder().join("for-a-friend.pdf");
    let mut whole = String::new();
    let mut heard = 0;
    for count in 0..=answers.len() {
        let _ = fs::remove_file(&file);
        let arguments = [
            "--no-passphrase",
            "map",
            "--on",
            DAY,
            "--share",
            "--out",
            file.to_str().unwrap(),
        ];
        let said = String::from_utf8(person.run(&arguments, &lines(&answers[..count])).stdout).unwrap();
        let said = said.strip_suffix("Nothing was written.\n").unwrap_or(&said);
        whole.push_str(&said[heard..]);
        heard = said.len();
        if let Some(answer) = answers.get(count) {
            whole.extend(["> ", answer, "\n"]);
        }
    }
    let whole = whole.replace(file.to_str().unwrap(), "for-a-friend.pdf");
    expect_file!["data/share/conversation.txt"].assert_eq(&whole);
}

#[test]
fn an_empty_sheet_needs_no_store_and_holds_no_entry() {
    let (known, new) = (demo(), Person::new());
    for plainer in [&["--blank"][..], &["--blank", "--plainer"]] {
        for name in ["sheet.pdf", "sheet.svg", "sheet.png", "sheet.txt", "sheet.md"] {
            let made = [&known, &new].map(|person| {
                let file = person.folder().join(name);
                map(person, plainer, Some(&file), "");
                fs::read(file).unwrap()
            });
            assert!(made[0] == made[1], "{name} differs with a store");
        }
    }
    assert!(!new.store().exists());
    let holds = |name: &str, words: &str| {
        assert!(
            text_of(&new.folder().join(name)).contains(words),
            "{name}: {words}"
        )
    };
    // The last two written are in plainer words.
    holds("sheet.pdf", "What hard stuff turns up in your head or body?");
    holds("sheet.txt", "What hard stuff turns up in your head or body?");
    holds_only(&known, &known.folder().join("sheet.pdf"), &[]);
}

#[test]
fn a_page_for_an_appointment_carries_the_question() {
    let person = demo();
    for name in [
        "talk.pdf",
        "talk.svg",
        "talk.png",
        "talk.txt",
        "talk.md",
        "talk.json",
    ] {
        let file = person.folder().join(name);
        map(
            &person,
            &["--appointment"],
            Some(&file),
            "May we speak of Sundays?\n",
        );
        if !matches!(name, "talk.svg" | "talk.png") {
            let text = text_of(&file);
            assert!(
                text.contains("May we speak of Sundays?") && text.contains("the choir"),
                "{name}: {text}"
            );
        }
    }
    let open = person.folder().join("open.txt");
    for input in ["", "\n", "/skip\n"] {
        map(&person, &["--appointment"], Some(&open), input);
        assert!(
            fs::read_to_string(&open)
                .unwrap()
                .ends_with("What I would like to ask\n\n________________\n________________\n")
        );
    }
    // Where the page itself goes to standard output, the question is asked beside it.
    let output = person.run(
        &[
            "--no-passphrase",
            "map",
            "--appointment",
            "--as",
            "text",
            "--on",
            DAY,
        ],
        "\n",
    );
    assert!(output.stdout.starts_with(b"For our talk\n2031-05-17\n"));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .starts_with("Is there a question you want to bring?\n")
    );
}

#[test]
fn a_question_to_bring_is_looked_at_first() {
    let person = demo();
    let file = person.folder().join("talk.txt");
    let calm = map(
        &person,
        &["--appointment"],
        Some(&file),
        "May we speak of Sundays?\n",
    );
    assert!(!calm.contains("111"), "{calm}");
    let said = map(
        &person,
        &["--appointment"],
        Some(&file),
        "I want to kill myself\n",
    );
    assert!(said.contains("Emergency in New Zealand: 111"), "{said}");
    // It is the person's own page for the one who helps them, so the words stay on it.
    assert!(
        fs::read_to_string(&file)
            .unwrap()
            .contains("I want to kill myself")
    );
}

#[test]
fn plain_manner_draws_nothing() {
    let person = demo();
    let said = [
        map(&person, &["--plain"], None, ""),
        map(&person, &["--plain", "--blank"], None, ""),
        map(&person, &["--plain", "--appointment"], None, "\n"),
        map(
            &person,
            &["--plain", "--share"],
            None,
            &lines(&["1", "all", "all", "3", "y", "2", "no"]),
        ),
    ];
    for text in said {
        let drawn = |sign: &char| matches!(sign, '\u{1b}' | '\u{2500}'..='\u{25ff}' | '|' | '+' | '>');
        assert_eq!(text.chars().find(drawn), None, "{text}");
        assert!(text.contains("What matters"));
    }
}

#[test]
fn letters_come_from_the_system_or_are_said_to_be_missing() {
    let person = Person::new();
    person.says(
        &["begin"],
        &demo_answers().replace("the choir\n", "the choir, جوقة \u{f0000}\n"),
    );
    let file = person.folder().join("letters.pdf");
    let said = map(&person, &[], Some(&file), "");
    // A sign of plane 15 has a shape in no font that is not made for it.
    assert!(
        said.contains("I have no letters for:") && said.contains("some signs"),
        "{said}"
    );
    let fonts = String::from_utf8(tool("pdffonts", &[file.to_str().unwrap()])).unwrap();
    let borrowed = fonts.lines().skip(2).any(|line| !line.contains("Atkinson"));
    assert_eq!(borrowed, !said.contains("Arabic"), "{said}\n{fonts}");
    let text = map(&person, &["--as", "text"], None, "");
    assert!(text.contains("the choir, جوقة \u{f0000}"), "{text}");
    let demo = demo();
    assert!(!map(&demo, &[], Some(&file), "").contains("I have no letters"));
}

#[test]
fn what_can_not_be_made_is_said_before_anything_else() {
    let person = demo();
    for (arguments, says) in [
        (
            &["map", "--share", "--as", "png"][..],
            "A file for someone else can be a PDF or Markdown.",
        ),
        (
            &["map", "--out", "map.docx"],
            "I can not tell a form from the name map.docx.",
        ),
        (&["map", "--as", "pdf"], "That form is not for a screen."),
        (
            &["map", "--appointment", "--as", "png"],
            "That form is not for a screen.",
        ),
        (
            &["map", "--blank", "--as", "pdf"],
            "That form is not for a screen.",
        ),
        (
            &["map", "--share", "--on", "Sunday"],
            "Sunday is not a date that I can read.",
        ),
    ] {
        let mut all = vec!["--no-passphrase"];
        all.extend(arguments);
        let output = person.run(&all, "");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let errors = squeezed(&String::from_utf8(output.stderr).unwrap());
        assert!(errors.contains(says), "{arguments:?}: {errors}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
    }
}

/// The program at a terminal of a size. Only its rows and columns make it another one than the plain pseudo-terminal.
fn at_terminal(person: &Person, (rows, columns): (u16, u16), arguments: &[&str]) -> PtySession {
    let program = person.command(&[]);
    let mut command = Command::new("sh");
    let sized = format!("stty rows {rows} cols {columns}; exec \"$0\" \"$@\"");
    command
        .args(["-c", &sized])
        .arg(program.get_program())
        .arg("--no-passphrase")
        .args(arguments);
    command
        .env_clear()
        .env("PATH", "/usr/bin:/bin")
        .env("TERM", "xterm");
    command.envs(
        program
            .get_envs()
            .filter_map(|(name, value)| Some((name, value?))),
    );
    // Long enough for a loaded machine; nothing here measures time.
    spawn_command(command, Some(60_000)).unwrap()
}

/// What else the program shows until it ends, and its exit code.
fn ends(mut terminal: PtySession) -> (String, i32) {
    let rest = terminal.exp_eof().unwrap();
    match terminal.process.wait().unwrap() {
        WaitStatus::Exited(_, code) => (rest, code),
        other => panic!("{other:?}"),
    }
}

/// What shows the other screen, and what leaves it.
const OTHER_SCREEN: &str = "\u{1b}[?1049h";
const BACK_AGAIN: &str = "\u{1b}[?1049l";
/// The screen and what can be scrolled back to are cleared.
const CLEARED: &str = "\u{1b}[H\u{1b}[2J\u{1b}[3J";

#[test]
fn a_map_taller_than_the_screen_moves_under_keys() {
    let person = demo();
    let mut terminal = at_terminal(&person, (14, 80), &["map"]);
    let mut next = |key: &str| {
        let shown = terminal.exp_string("keys move.").unwrap();
        terminal.send(key).unwrap();
        terminal.flush().unwrap();
        shown
    };
    let first = next("j");
    assert!(
        first.contains(OTHER_SCREEN) && first.contains("1 to 13 of ") && !first.contains("hum one line"),
        "{first}"
    );
    let second = next("\u{1b}[6~");
    assert!(second.contains("2 to 14 of "), "{second}");
    let third = next("\u{1b}[F");
    assert!(third.contains("14 to 26 of "), "{third}");
    let last = next("q");
    assert!(last.contains("hum one line"), "{last}");
    let (rest, code) = ends(terminal);
    assert!(rest.contains(BACK_AGAIN) && !rest.contains("choir"), "{rest}");
    assert_eq!(code, 0);
}

#[test]
fn a_map_that_fits_and_a_plain_one_are_printed_once() {
    let person = demo();
    for (size, arguments) in [((200, 80), &["map"][..]), ((14, 80), &["--plain", "map"])] {
        let (shown, code) = ends(at_terminal(&person, size, arguments));
        assert!(
            shown.contains("hum one line") && !shown.contains(OTHER_SCREEN),
            "{shown}"
        );
        assert_eq!(code, 0);
    }
}

#[test]
fn the_hiding_chord_clears_the_view() {
    let person = demo();
    let mut terminal = at_terminal(&person, (14, 80), &["map"]);
    terminal.exp_string("keys move.").unwrap();
    terminal.send("\u{7}").unwrap();
    terminal.flush().unwrap();
    let (rest, code) = ends(terminal);
    assert!(rest.contains(BACK_AGAIN) && rest.ends_with(CLEARED), "{rest}");
    assert_eq!(code, 0);
}

#[test]
fn leaving_a_share_at_a_terminal_writes_nothing() {
    let person = demo();
    let file = person.folder().join("hidden.pdf");
    let arguments = ["map", "--share", "--out", file.to_str().unwrap()];
    for (key, code) in [('g', 0), ('c', 130), ('d', 130)] {
        let mut terminal = at_terminal(&person, (24, 80), &arguments);
        terminal.exp_string("from the list.").unwrap();
        terminal.exp_string("> ").unwrap();
        terminal.send_line("1").unwrap();
        terminal.exp_string("for none.").unwrap();
        terminal.exp_string("> ").unwrap();
        terminal.send_control(key).unwrap();
        let (rest, ended) = ends(terminal);
        assert_eq!(ended, code, "{rest}");
        if key == 'g' {
            assert!(rest.trim_end().ends_with(CLEARED), "{rest:?}");
        } else {
            assert!(rest.contains("Nothing was written."), "{rest}");
        }
    }
    assert!(!file.exists());
}
