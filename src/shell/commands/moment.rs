//! `wayfold moment`: something noticed, as a short dialogue or in one line.
//!
//! A line says which way it went only when it begins with the person's own word for it, as in `toward: ...`. Anything
//! else is noted as "not sure": to tell a toward move from an away move is the person's judgement, never the program's,
//! and a question back would make a second's work of one line into a dialogue.

use std::process::ExitCode;

use crate::dialogue::Input;
use crate::map::MomentId;
use crate::map::Way;
use crate::map::What;
use crate::safety::Level;
use crate::shell::House;
use crate::shell::arguments::Arguments;
use crate::shell::commands::begin;
use crate::shell::containing;
use crate::shell::first_run;
use crate::shell::keeping;
use crate::shell::phrases::phrase;
use crate::shell::sitting;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// The most bytes that one line may have; the same as one answer in a dialogue.
const MOST_BYTES: usize = 16 * 1024;

/// Notes a moment.
pub(crate) fn run(arguments: &Arguments, words: Option<&str>) -> Result<ExitCode, Trouble> {
    let Some(line) = words.map(str::trim).filter(|line| !line.is_empty()) else {
        return begin::run(arguments, "moment");
    };
    if line.len() > MOST_BYTES {
        return Err(Trouble::Told("moment.too-long", String::new()));
    }
    let mut terminal = Terminal::new(arguments.manner.plain);
    let Some(kept) = first_run::open(&mut terminal, arguments)? else {
        return Ok(ExitCode::SUCCESS);
    };
    let mut house = House::new(terminal, kept, arguments.manner.clone());
    let screened = containing::screen(line);
    if screened.level() >= Level::Pause {
        // The safety message, and the questions after it; the words are noted only if the person keeps them.
        sitting::walk_once(
            &mut house,
            &begin::shipped()?,
            "one-line",
            Input::Answer(screened),
        )?;
        return Ok(ExitCode::SUCCESS);
    }
    if screened.level() == Level::Quiet {
        house.terminal.say(&phrase("quiet.line"));
    }
    let (way, rest) = judged(line);
    let moment = MomentId(house.kept.minting().identity());
    let words = Some(containing::screen(rest).into_words());
    house.kept.record(What::MomentNoted {
        moment,
        showed_up: Vec::new(),
        did: Vec::new(),
        way,
        serves: Vec::new(),
        words,
    })?;
    keeping::tell(&mut house.terminal, &house.kept.noticed());
    let told = match way {
        Way::Toward => "moment.noted-toward",
        Way::Away => "moment.noted-away",
        Way::Both => "moment.noted-both",
        Way::NotSure => "moment.noted-unsure",
    };
    house.terminal.say(&phrase(told));
    Ok(ExitCode::SUCCESS)
}

/// The way that a line names at its start, and what it says after that.
fn judged(line: &str) -> (Way, &str) {
    let Some((word, rest)) = line.split_once(':') else {
        return (Way::NotSure, line);
    };
    let rest = rest.trim();
    let way = match word.trim().to_lowercase().as_str() {
        "toward" | "towards" => Way::Toward,
        "away" => Way::Away,
        "both" => Way::Both,
        "not sure" => Way::NotSure,
        _ => return (Way::NotSure, line),
    };
    if rest.is_empty() {
        (Way::NotSure, line)
    } else {
        (way, rest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_word_at_the_start_says_which_way() {
        assert_eq!(judged("toward: rang Jonas"), (Way::Toward, "rang Jonas"));
        assert_eq!(
            judged("Away : sorted the drawer"),
            (Way::Away, "sorted the drawer")
        );
        assert_eq!(
            judged("both: sang, then left early"),
            (Way::Both, "sang, then left early")
        );
        assert_eq!(
            judged("walked toward: the lake"),
            (Way::NotSure, "walked toward: the lake")
        );
        assert_eq!(judged("rang Jonas"), (Way::NotSure, "rang Jonas"));
        assert_eq!(judged("away:"), (Way::NotSure, "away:"));
    }
}
