//! What is wrong in a script, in words and with a drawn pointer. The words are in the shell's words file: a line
//! `fault.<name>` that says what is there, and `fault.<name>.do` that says what to do.

use annotate_snippets::AnnotationKind;
use annotate_snippets::Level;
use annotate_snippets::Renderer;
use annotate_snippets::Snippet;
use annotate_snippets::renderer::DecorStyle;
use serde::Serialize;

use crate::dialogue::Fault;
use crate::dialogue::FaultKind;
use crate::dialogue::Manner;
use crate::picture::terminal::Screen;
use crate::picture::terminal::shown;
use crate::shell::commands::script::Written;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;

/// The most faults that are drawn at once; a file with more was broken in one place near its top.
const MOST_DRAWN: usize = 60;

/// The longest line of a file that is drawn, in bytes.
const LONGEST_LINE: usize = 2_000;

/// The narrowest that a drawing is made, in columns.
const NARROWEST: usize = 40;

/// One fault, for an editor.
#[derive(Serialize)]
pub(crate) struct Row {
    file: String,
    line: usize,
    column: usize,
    start: usize,
    end: usize,
    fault: &'static str,
    says: String,
    todo: String,
}

/// A fault as a row.
pub(crate) fn row(fault: &Fault) -> Row {
    let (says, todo) = words(&fault.what);
    Row {
        file: fault.file.clone(),
        line: fault.line,
        column: fault.column,
        start: fault.span.start,
        end: fault.span.end,
        fault: named(&fault.what).0,
        says,
        todo,
    }
}

/// Shows faults one below the other, each with its place in the text that it is in.
pub(crate) fn show(terminal: &mut Terminal, faults: &[Fault], texts: &[&Written]) {
    let screen = terminal.screen();
    for fault in faults.iter().take(MOST_DRAWN) {
        let text = texts
            .iter()
            .find(|one| one.name == fault.file)
            .map_or("", |one| one.text.as_str());
        terminal.print(&drawn(fault, text, screen));
        terminal.gap();
    }
    if faults.len() > MOST_DRAWN {
        terminal.say(&counted("check.more", (faults.len() - MOST_DRAWN) as u64, &[]));
    }
}

/// What is wrong, and what to do.
fn words(what: &FaultKind) -> (String, String) {
    let (name, blanks) = named(what);
    let blanks: Vec<_> = blanks
        .iter()
        .map(|(blank, value)| (*blank, shown(value)))
        .collect();
    let blanks: Vec<_> = blanks
        .iter()
        .map(|(blank, value)| (*blank, value.as_str()))
        .collect();
    (
        filled(&format!("fault.{name}"), &blanks),
        filled(&format!("fault.{name}.do"), &blanks),
    )
}

/// A fault with the line it is in, a pointer, and what to do.
fn drawn(fault: &Fault, text: &str, screen: Screen) -> String {
    let (says, todo) = words(&fault.what);
    let level = Level::ERROR.with_name(phrase("fault.mend"));
    let help = Level::HELP.with_name(phrase("fault.help")).message(todo.clone());
    let line = text.split('\n').nth(fault.line.saturating_sub(1)).unwrap_or("");
    let path = shown(&fault.file);
    if line.len() > LONGEST_LINE {
        return format!(
            "{}: {says}\n  {path}:{}:{}\n  {todo}\n",
            phrase("fault.mend"),
            fault.line,
            fault.column
        );
    }
    let before: usize = text
        .split('\n')
        .take(fault.line.saturating_sub(1))
        .map(|line| line.len() + 1)
        .sum();
    let source = harmless(line);
    // A pointer to nothing is drawn at the place where something is missing.
    let clamp = |at: usize| {
        let mut at = at.saturating_sub(before).min(source.len());
        while !source.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let span = clamp(fault.span.start)..clamp(fault.span.end).max(clamp(fault.span.start));
    let snippet = Snippet::source(source.as_str())
        .line_start(fault.line)
        .path(path)
        .annotation(AnnotationKind::Primary.span(span));
    let report = [level.primary_title(says).element(snippet).element(help)];
    let renderer = if screen.colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let decor = if screen.unicode {
        DecorStyle::Unicode
    } else {
        DecorStyle::Ascii
    };
    renderer
        .decor_style(decor)
        .term_width(screen.columns.max(NARROWEST))
        .render(&report)
}

/// A line with as many bytes in which nothing is left that a terminal would obey.
fn harmless(line: &str) -> String {
    let plain = |c: char| match c {
        '\t' | '\r' => ' ',
        '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}'
        | '\u{200e}'
        | '\u{200f}'
        | '\u{2028}'
        | '\u{2029}' => '\u{fffd}',
        '\u{61c}' => '\u{bf}',
        c if c.is_control() && c.len_utf8() == 1 => '?',
        c if c.is_control() => '\u{bf}',
        c => c,
    };
    line.chars().map(plain).collect()
}

/// The name of a fault's words, and what fills their blanks.
fn named(what: &FaultKind) -> (&'static str, Vec<(&'static str, String)>) {
    let one = |blank, value: &str| vec![(blank, value.to_owned())];
    let in_line = |line: &str, blank, value: &str| vec![("line", line.to_owned()), (blank, value.to_owned())];
    match what {
        FaultKind::TooLarge { most } => ("too-large", one("most", &(most / 1024).to_string())),
        FaultKind::TooManyNodes { most } => ("too-many-nodes", one("most", &most.to_string())),
        FaultKind::NotText => ("not-text", Vec::new()),
        FaultKind::Syntax { said } => ("syntax", one("said", said)),
        FaultKind::Missing { key } => ("missing", one("key", key)),
        FaultKind::UnknownKey { key } => ("unknown-key", one("key", key)),
        FaultKind::WrongValue { key, expected } => (
            "wrong-value",
            vec![("key", key.clone()), ("expected", (*expected).to_owned())],
        ),
        FaultKind::Guard { part } => ("guard", one("part", part)),
        FaultKind::Placeholder { part } => ("placeholder", one("part", part)),
        FaultKind::UnknownEffect { effect } => ("unknown-effect", one("effect", effect)),
        FaultKind::NameTwice { name } => ("name-twice", one("name", name)),
        FaultKind::TwoWaits { wait } => ("two-waits", one("wait", wait)),
        FaultKind::NoWayOn { node } => ("no-way-on", one("node", node)),
        FaultKind::EndAndGo { node } => ("end-and-go", one("node", node)),
        FaultKind::NoSuchNode { name } => ("no-such-node", one("name", name)),
        FaultKind::Unreachable { node } => ("unreachable", one("node", node)),
        FaultKind::NoEnd { node } => ("no-end", one("node", node)),
        FaultKind::CycleWithoutWait { node } => ("cycle-without-wait", one("node", node)),
        FaultKind::CycleWithoutMost { node } => ("cycle-without-most", one("node", node)),
        FaultKind::NeverSet { slot } => ("never-set", one("slot", slot)),
        FaultKind::MayBeUnset { slot, line } => ("may-be-unset", in_line(line, "slot", slot)),
        FaultKind::NoOption => ("no-option", Vec::new()),
        FaultKind::SameWord { word } => ("same-word", one("word", word)),
        FaultKind::NoSuchLine { line } => ("no-such-line", one("line", line)),
        FaultKind::UnusedLine { line } => ("unused-line", one("line", line)),
        FaultKind::EmptyLine { line } => ("empty-line", one("line", line)),
        FaultKind::LongSentence { line, words } => {
            ("long-sentence", in_line(line, "words", &words.to_string()))
        }
        FaultKind::Wording { line, word } => ("wording", in_line(line, "word", word)),
        FaultKind::ControlCharacter { line } => ("control-character", one("line", line)),
        FaultKind::NoSuchScript { name } => ("no-such-script", one("name", name)),
        FaultKind::CallsInACircle { name } => ("calls-in-a-circle", one("name", name)),
        FaultKind::EmptyRange => ("empty-range", Vec::new()),
        FaultKind::CannotBeSkipped { node } => ("cannot-be-skipped", one("node", node)),
        FaultKind::NoQuestion { node } => ("no-question", one("node", node)),
        FaultKind::Hard { line, tenths } => (
            "hard",
            in_line(line, "grade", &format!("{}.{}", tenths / 10, tenths % 10)),
        ),
        FaultKind::Manner { line, word, manner } => (
            match manner {
                Manner::Pressure => "pressure",
                Manner::Praise => "praise",
                Manner::Diagnosis => "diagnosis",
                Manner::Method => "method",
                Manner::Loud => "loud",
            },
            in_line(line, "word", word),
        ),
        FaultKind::NotTranslated { line } => ("not-translated", one("line", line)),
        FaultKind::LostPlaceholder { line, part } => ("lost-placeholder", in_line(line, "part", part)),
        FaultKind::StrayPlaceholder { line, part } => ("stray-placeholder", in_line(line, "part", part)),
        FaultKind::LostWord { line } => ("lost-word", one("line", line)),
    }
}
