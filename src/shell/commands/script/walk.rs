//! `wayfold script play --walk`: many sittings by chance, to see what is ever met and how long a sitting takes.

use std::collections::BTreeSet;
use std::process::ExitCode;

use crate::dialogue::Chart;
use crate::dialogue::Input;
use crate::dialogue::Library;
use crate::dialogue::Output;
use crate::dialogue::Prompt;
use crate::dialogue::Rehearsal;
use crate::dialogue::Wait;
use crate::shell::containing;
use crate::shell::phrases::counted;
use crate::shell::phrases::filled;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;

/// Words a minute that are read: a slow, attentive pace (common practice, no source).
const READ_A_MINUTE: f64 = 150.0;

/// Words a minute that are typed (common practice, no source).
const TYPED_A_MINUTE: f64 = 40.0;

/// No checked script is this long; a walk that is stops here and says so.
const MOST_PROMPTS: usize = 5_000;

/// What answers are made of.
const WORDS: [&str; 16] = [
    "rope", "the", "garden", "slowly", "call", "Ines", "a", "worry", "about", "Tuesday", "paint", "gate",
    "tired", "with", "walk", "harbour",
];

/// Answers that bring up a safety message, since scripts lead elsewhere after one.
const DARK: [&str; 4] = [
    "i want to kill myself",
    "my partner hits me",
    "i make myself throw up after meals",
    "i get the shakes when i stop drinking",
];

/// Walks through the script many times and says what came of it. The exit code is 0 when every walk ended.
pub(crate) fn run(
    terminal: &mut Terminal,
    library: &Library,
    name: &str,
    count: u32,
    seed: u64,
) -> Result<ExitCode, Trouble> {
    let missing = || Trouble::Told("trouble.script", name.to_owned());
    let chart = Chart::of(library, name).ok_or_else(missing)?;
    let mut chance = Chance(seed);
    let mut met = Met::default();
    let mut walks = Vec::new();
    let mut ended = true;
    for _ in 0..count {
        let walk = walk(library, name, &mut chance, &mut met).ok_or_else(missing)?;
        ended &= walk.ended;
        walks.push(walk);
    }
    let all = if ended {
        "walk.all-ended"
    } else {
        "walk.not-all-ended"
    };
    terminal.say(&counted(all, u64::from(count), &[("seed", &seed.to_string())]));

    let nodes: Vec<&str> = chart.spots.iter().map(|spot| spot.name.as_str()).collect();
    let unmet: Vec<_> = nodes
        .iter()
        .filter(|node| !met.nodes.contains(**node))
        .copied()
        .collect();
    covered(terminal, "walk.nodes", nodes.len(), &unmet);
    let options: Vec<(String, usize, &str)> = chart
        .spots
        .iter()
        .flat_map(|spot| {
            spot.options
                .iter()
                .enumerate()
                .map(|(at, line)| (spot.name.clone(), at, line.as_str()))
        })
        .collect();
    let unmet: Vec<_> = options
        .iter()
        .filter(|(node, at, _)| !met.options.contains(&(node.clone(), *at)))
        .map(|(_, _, line)| *line)
        .collect();
    covered(terminal, "walk.choices", options.len(), &unmet);

    spread(
        terminal,
        "walk.words",
        walks.iter().map(|walk| walk.read as f64).collect(),
        0,
    );
    spread(
        terminal,
        "walk.typed",
        walks.iter().map(|walk| walk.typed as f64).collect(),
        0,
    );
    spread(
        terminal,
        "walk.minutes",
        walks.iter().map(Walk::minutes).collect(),
        1,
    );
    Ok(if ended {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

fn covered(terminal: &mut Terminal, phrase: &str, of: usize, unmet: &[&str]) {
    let met = (of - unmet.len()).to_string();
    terminal.say(&filled(phrase, &[("met", &met), ("of", &of.to_string())]));
    if !unmet.is_empty() {
        terminal.say(&filled("walk.not-met", &[("names", &unmet.join(", "))]));
    }
}

/// Least, quarter, half, three quarters and most, by nearest rank.
fn spread(terminal: &mut Terminal, phrase: &str, mut values: Vec<f64>, decimals: usize) {
    values.sort_by(f64::total_cmp);
    let top = values.len().saturating_sub(1);
    let at = |quarter: usize| {
        let value = values.get(top * quarter / 4).copied().unwrap_or(0.0);
        format!("{value:.decimals$}")
    };
    let (least, quarter, half, three, most) = (at(0), at(1), at(2), at(3), at(4));
    terminal.say(&filled(
        phrase,
        &[
            ("least", &least),
            ("quarter", &quarter),
            ("half", &half),
            ("three", &three),
            ("most", &most),
        ],
    ));
}

#[derive(Default)]
struct Met {
    nodes: BTreeSet<String>,
    options: BTreeSet<(String, usize)>,
}

struct Walk {
    read: usize,
    typed: usize,
    ended: bool,
}

impl Walk {
    fn minutes(&self) -> f64 {
        self.read as f64 / READ_A_MINUTE + self.typed as f64 / TYPED_A_MINUTE
    }
}

fn walk(library: &Library, name: &str, chance: &mut Chance, met: &mut Met) -> Option<Walk> {
    let (mut rehearsal, outputs) = Rehearsal::begin(library, name)?;
    let mut walk = Walk {
        read: words_said(&outputs),
        typed: 0,
        ended: false,
    };
    // Some people say little and some say much.
    let talkative = 20 + chance.below(70);
    let dark = chance.below(10) == 0;
    for _ in 0..MOST_PROMPTS {
        if rehearsal.prompt().wait == Wait::End {
            walk.ended = true;
            break;
        }
        walk.read += words_asked(rehearsal.prompt());
        let answer = if dark && chance.below(12) == 0 {
            Some(DARK[chance.below(DARK.len())].to_owned())
        } else {
            answer(&rehearsal.prompt().wait, talkative, chance)
        };
        let chosen = match (&rehearsal.prompt().wait, &answer) {
            (Wait::Choose { .. }, Some(answer)) => answer
                .parse::<usize>()
                .ok()
                .and_then(|number| number.checked_sub(1)),
            _ => None,
        };
        if let (Some(node), Some(option)) = (rehearsal.node(), chosen) {
            met.options.insert((node.to_owned(), option));
        }
        let typed = answer.as_deref().unwrap_or("/skip").split_whitespace().count();
        let input = answer.map_or(Input::Skip, |answer| Input::Answer(containing::screen(&answer)));
        let Ok(outputs) = rehearsal.give(input).or_else(|_| rehearsal.give(Input::Skip)) else {
            break;
        };
        walk.typed += typed;
        walk.read += words_said(&outputs);
    }
    met.nodes.extend(rehearsal.visited().map(str::to_owned));
    Some(walk)
}

/// An answer that fits; `None` leaves the question out.
fn answer(wait: &Wait, talkative: usize, chance: &mut Chance) -> Option<String> {
    if chance.below(20) == 0 {
        return None;
    }
    let talks = chance.below(100) < talkative;
    Some(match wait {
        Wait::Press | Wait::Confirm { .. } | Wait::Recorded | Wait::End => String::new(),
        Wait::Words | Wait::Entry { .. } => {
            if talks {
                chance.words()
            } else {
                String::new()
            }
        }
        Wait::Choose { options } => (chance.below(options.len().max(1)) + 1).to_string(),
        Wait::Pick {
            options,
            many,
            may_add,
            may_say,
        } => {
            if (may_add.is_some() || *may_say) && (options.is_empty() || chance.below(3) == 0) {
                chance.words()
            } else if !talks || options.is_empty() {
                String::new()
            } else {
                let count = if *many { 1 + chance.below(3) } else { 1 };
                let picked: Vec<_> = (0..count)
                    .map(|_| (chance.below(options.len()) + 1).to_string())
                    .collect();
                picked.join(" ")
            }
        }
        Wait::Number { from, to } => {
            (usize::from(*from) + chance.below(usize::from(to - from) + 1)).to_string()
        }
        Wait::Deliberate { word } => word.clone(),
    })
}

fn words_said(outputs: &[Output]) -> usize {
    let words = |output: &Output| match output {
        Output::Say(said) => said.text.split_whitespace().count(),
        _ => 0,
    };
    outputs.iter().map(words).sum()
}

fn words_asked(prompt: &Prompt) -> usize {
    let question = prompt
        .line
        .as_ref()
        .map_or(0, |line| line.text.split_whitespace().count());
    let options: usize = match &prompt.wait {
        Wait::Choose { options } | Wait::Pick { options, .. } => options
            .iter()
            .map(|option| option.label.split_whitespace().count())
            .sum(),
        _ => 0,
    };
    question + options
}

/// Chance that can be had again: the numbers of splitmix64 (Steele, Lea and Flood 2014), from memory.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 to one under the bound, which is small.
    fn below(&mut self, bound: usize) -> usize {
        let bound = u64::try_from(bound.max(1)).unwrap_or(1);
        usize::try_from(self.next() % bound).unwrap_or(0)
    }

    fn words(&mut self) -> String {
        let count = 2 + self.below(6);
        (0..count)
            .map(|_| WORDS[self.below(WORDS.len())])
            .collect::<Vec<_>>()
            .join(" ")
    }
}
