//! Broken scripts by the hundred: whole scripts with one careless edit each, in every way that the checker knows. The
//! fault is found at the line that was edited, in the file that was given, and nothing ever breaks.

use wayfold::dialogue::Fault;
use wayfold::dialogue::Library;
use wayfold::dialogue::proof;

use crate::dialogue::player::library;

/// A whole script of ten questions to break.
const TEN: &str = include_str!("../data/craft/ten-questions.toml");

/// That script, and shipped ones as single files.
fn sources() -> Vec<String> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue");
    let mut sources = vec![TEN.to_owned()];
    for name in ["first-map", "ground", "group", "pair", "plainer", "short"] {
        let read =
            |folder: &str| std::fs::read_to_string(root.join(folder).join(format!("{name}.toml"))).unwrap();
        let whole = format!("{}\n{}", read("flow"), read("en"));
        sources.push(whole.replacen(&format!("name = \"{name}\""), "name = \"mine\"", 1));
    }
    sources
}

fn check(text: &str) -> Vec<Fault> {
    proof(library(), ("mine.toml", text), None)
}

/// One broken script: its text, the line where a fault is expected, and what was done.
struct Broken {
    text: String,
    line: usize,
    how: &'static str,
}

/// Edits to a line: each gives what the line becomes, or nothing where it does not apply.
type Edit = (&'static str, fn(&str) -> Option<String>);

const EDITS: &[Edit] = &[
    ("a target misspelled", |line| {
        line.strip_prefix("go = \"").map(|rest| format!("go = \"x{rest}"))
    }),
    ("a way out misspelled", |line| {
        line.strip_prefix("done = \"")
            .map(|rest| format!("done = \"x{rest}"))
    }),
    ("a skip misspelled", |line| {
        line.strip_prefix("skip = \"")
            .map(|rest| format!("skip = \"x{rest}"))
    }),
    ("a line's name misspelled", |line| {
        line.strip_prefix("ask = \"")
            .map(|rest| format!("ask = \"x{rest}"))
    }),
    ("a said line's name misspelled", |line| {
        line.strip_prefix("say = [\"")
            .map(|rest| format!("say = [\"x{rest}"))
    }),
    ("a key misspelled", |line| {
        line.strip_prefix("ask = ").map(|rest| format!("aks = {rest}"))
    }),
    ("a quote left out", |line| {
        line.starts_with("ask = ")
            .then(|| line.trim_end_matches('"').to_owned())
    }),
    ("a bracket left out", |line| {
        line.starts_with("say = ")
            .then(|| line.trim_end_matches(']').to_owned())
    }),
    ("a field that is none", |line| {
        line.contains("{ field = \"")
            .then(|| line.replace("{ field = \"", "{ field = \"x"))
    }),
    ("a source that is none", |line| {
        line.contains("from = \"")
            .then(|| line.replace("{ from = \"", "{ from = \"x"))
    }),
    ("an effect that is none", |line| {
        line.contains("{ link =")
            .then(|| line.replace("{ link =", "{ knot ="))
    }),
    ("a link that is none", |line| {
        line.contains("{ link = \"")
            .then(|| line.replace("{ link = \"", "{ link = \"x"))
    }),
    ("a step without its act", |line| {
        line.contains("act = \"act\"")
            .then(|| line.replace("act = \"act\", ", ""))
    }),
    ("a guard that is none", |line| {
        line.contains("if = \"count.")
            .then(|| line.replace("if = \"count.", "if = \"cuont."))
    }),
    ("a sign that is none", |line| {
        line.contains(" < ").then(|| line.replace(" < ", " <> "))
    }),
    ("a script that is not there", |line| {
        line.starts_with("call = \"")
            .then(|| line.replace("call = \"", "call = \"x"))
    }),
    ("a number as text", |line| {
        line.starts_with("number = ")
            .then(|| line.replace("to = 10", "to = \"10\""))
    }),
    ("an empty range", |line| {
        line.starts_with("number = ")
            .then(|| line.replace("from = 0", "from = 10"))
    }),
    ("a press that is no yes", |line| {
        (line == "press = true").then(|| "press = \"yes\"".to_owned())
    }),
    ("a wait twice", |line| {
        (line == "press = true").then(|| "press = true\nwords = { into = \"x\" }".to_owned())
    }),
    ("a show that is none", |line| {
        line.starts_with("show = \"")
            .then(|| line.replace("show = \"", "show = \"x"))
    }),
    ("pressure", |line| said(line, "You should know. ")),
    ("praise", |line| said(line, "Excellent. ")),
    ("a diagnosis", |line| said(line, "This is your illness. ")),
    ("a word of the trade", |line| said(line, "This is defusion. ")),
    ("a loud line", |line| said(line, "STOP NOW. ")),
    ("an exclamation mark", |line| said(line, "Oh! ")),
    ("the word", |line| said(line, "It is just so. ")),
    ("a long sentence", |line| {
        said(
            line,
            "We go on and on and on and on and on and on and on and on and on and on and on and on and on. ",
        )
    }),
    ("hard words", |line| {
        said(
            line,
            "Considerable psychological difficulties necessitate appropriate professional intervention, individually. ",
        )
    }),
    ("a brace left open", |line| said(line, "It is {so. ")),
    ("a slot that is no name", |line| said(line, "It is {So} here. ")),
    ("a slot that nothing sets", |line| {
        said(line, "It is {nowhere|there}. ")
    }),
    ("an escape sequence", |line| said(line, "\\u001b[2J")),
    ("a sign that turns text round", |line| said(line, "\\u202e")),
];

/// A line of words with something put before it.
fn said(line: &str, what: &str) -> Option<String> {
    let (name, rest) = line.strip_prefix('"')?.split_once("\" = \"")?;
    (!rest.contains('|')).then(|| format!("\"{name}\" = \"{what}{rest}"))
}

fn broken() -> Vec<Broken> {
    let mut all = Vec::new();
    for source in sources() {
        let lines: Vec<&str> = source.lines().collect();
        for (how, edit) in EDITS {
            let fits = lines.iter().enumerate().filter_map(|(at, line)| {
                let edited = edit(line).filter(|edited| edited != line)?;
                Some((at, edited))
            });
            // The first and the last place where the edit applies.
            let fits: Vec<_> = fits.collect();
            let ends = fits
                .first()
                .into_iter()
                .chain(fits.last().filter(|_| fits.len() > 1));
            for (at, edited) in ends {
                let mut text = lines.clone();
                text[*at] = edited;
                let line = match *how {
                    // It stands below the one that was there.
                    "a wait twice" => at + 2,
                    // Which slots are set differs from node to node, so this is found where the line is said.
                    "a slot that nothing sets" => {
                        let name = edited.split('"').nth(1).unwrap();
                        let says =
                            |line: &str| line.contains(&format!("\"{name}\"")) && !line.starts_with('"');
                        lines.iter().position(|line| says(line)).unwrap() + 1
                    }
                    _ => at + 1,
                };
                all.push(Broken {
                    text: text.join("\n"),
                    line,
                    how,
                });
            }
        }
    }
    all
}

#[test]
fn every_source_is_whole_before_it_is_broken() {
    for source in sources() {
        let faults = check(&source);
        assert!(faults.is_empty(), "{faults:#?}");
    }
}

#[test]
fn three_hundred_broken_scripts_each_show_the_fault_at_its_line() {
    let broken = broken();
    assert!(broken.len() >= 300, "only {} were made", broken.len());
    let mut lines_off = Vec::new();
    for one in &broken {
        let faults = check(&one.text);
        assert!(
            !faults.is_empty(),
            "{} at line {} was not seen",
            one.how,
            one.line
        );
        assert!(faults.iter().all(|fault| fault.file == "mine.toml"));
        if !faults.iter().any(|fault| fault.line == one.line) {
            let found: Vec<_> = faults
                .iter()
                .map(|fault| (fault.line, &fault.what))
                .take(4)
                .collect();
            lines_off.push(format!("{} at line {}: {found:?}", one.how, one.line));
        }
    }
    println!(
        "{} broken scripts, {} with the fault at another line",
        broken.len(),
        lines_off.len()
    );
    assert!(lines_off.is_empty(), "{lines_off:#?}");
}

#[test]
fn every_edit_was_tried() {
    let broken = broken();
    for (how, _) in EDITS {
        assert!(broken.iter().any(|one| one.how == *how), "{how} never applied");
    }
}

/// Pieces that are torn out or put in at any place: nothing to expect but an answer.
#[test]
fn any_two_lines_swapped_or_taken_out_break_nothing() {
    let lines: Vec<&str> = TEN.lines().collect();
    let mut seen = 0;
    for at in 0..lines.len() {
        let mut without = lines.clone();
        without.remove(at);
        let mut swapped = lines.clone();
        swapped.swap(at, (at * 7 + 3) % lines.len());
        for text in [without.join("\n"), swapped.join("\n")] {
            seen += 1;
            for fault in check(&text) {
                assert!(text.get(fault.span.clone()).is_some(), "{fault:?}");
                assert!(fault.line <= text.lines().count() + 1, "{fault:?}");
            }
        }
    }
    assert!(seen > 100);
}

#[test]
fn a_question_that_comes_back_when_it_is_skipped_is_found() {
    let text = TEN.replace("name = \"why\"\n", "name = \"why\"\nskip = \"why\"\n");
    assert_ne!(text, TEN);
    let line = text.lines().position(|line| line == "skip = \"why\"").unwrap() + 1;
    let faults = check(&text);
    assert!(
        faults
            .iter()
            .any(|fault| fault.line == line && format!("{:?}", fault.what).starts_with("CannotBeSkipped")),
        "{faults:#?}"
    );
}

#[test]
fn a_wait_without_a_question_is_found() {
    let text = TEN.replace("ask = \"why.ask\"\n", "");
    assert_ne!(text, TEN);
    let faults = check(&text);
    let line = text.lines().position(|line| line == "name = \"why\"").unwrap() + 1;
    assert!(
        faults
            .iter()
            .any(|fault| fault.line == line && format!("{:?}", fault.what).starts_with("NoQuestion")),
        "{faults:#?}"
    );
}

#[test]
fn a_script_of_too_many_nodes_is_refused_and_soon() {
    let mut text = String::from("name = \"mine\"\nversion = 1\nstart = \"n0\"\n");
    for at in 0..8_000 {
        text += &format!("[[node]]\nname = \"n{at}\"\npress = true\ngo = \"n{}\"\n", at + 1);
    }
    let faults = check(&text);
    assert!(
        faults
            .iter()
            .any(|fault| format!("{:?}", fault.what).starts_with("TooManyNodes")),
        "{:#?}",
        faults.first()
    );
    assert!(Library::shipped("en").unwrap().with("mine.toml", &text).is_err());
}

#[test]
fn options_and_short_lines_are_read_like_any_other() {
    use wayfold::dialogue::FaultKind;
    // Each of these stands alone, without a sentence around it that a grade could be given to.
    let short = [
        "Hurry",
        "Make sure",
        "Bravo",
        "Your illness",
        "Depressed",
        "Homework",
        "Defusion",
        "STOP",
        "KEEP GOING",
        "You should",
        "Just so",
        "Perfect",
        "Yes!",
    ];
    let lines: Vec<&str> = TEN.lines().collect();
    let options: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].contains(" | ")).collect();
    let plain = lines
        .iter()
        .position(|line| line.starts_with("\"why.ask\""))
        .unwrap();
    assert!(options.len() >= 2, "the script has options");
    let is_wording = |what: &FaultKind| matches!(what, FaultKind::Manner { .. } | FaultKind::Wording { .. });
    let finds = |at: usize, becomes: String| {
        let mut text = lines.clone();
        text[at] = &becomes;
        let faults = check(&text.join("\n"));
        assert!(
            faults
                .iter()
                .any(|fault| fault.line == at + 1 && is_wording(&fault.what)),
            "{becomes} at line {}: {faults:#?}",
            at + 1
        );
    };
    for words in short {
        for at in &options {
            let (head, label) = lines[*at].split_once(" | ").unwrap();
            finds(*at, format!("{head} | {words}\""));
            // The word to type is on the screen as well.
            if words != "STOP" && !words.contains(['!', ' ']) {
                let name = head.split_once(" = ").unwrap().0;
                finds(*at, format!("{name} = \"{} | {label}", words.to_lowercase()));
            }
        }
        finds(plain, format!("\"why.ask\" = \"{words}\""));
    }
}
