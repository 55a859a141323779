//! A checked script as a graph: what each node waits for and does, and the ways between them, told apart.

mod dot;
mod mermaid;
mod svg;
mod words;

use crate::dialogue::Library;
use crate::dialogue::program::Choice;
use crate::dialogue::program::Node;
use crate::dialogue::program::Target;
use crate::dialogue::program::Waiting;

/// The most nodes that are laid out.
const MOST_DRAWN: usize = 200;

/// How far all ways that are laid out may reach together, in nodes as they are written.
const MOST_REACH: usize = 2_000;

/// The graph of one script.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chart {
    /// The script's name.
    pub name: String,
    /// The place of the first node.
    pub start: usize,
    /// The nodes, in the order in which they are written.
    pub spots: Vec<Spot>,
    /// The ways between them.
    pub ways: Vec<Way>,
}

/// One node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Its name.
    pub name: String,
    /// What it waits for.
    pub waits: Waits,
    /// More about the wait, such as the field of an entry; may be empty.
    pub about: String,
    /// The options of a choice, by the names of their lines.
    pub options: Vec<String>,
    /// What it does with the answer, each in a few words.
    pub effects: Vec<String>,
    /// Another script that it runs.
    pub calls: Option<String>,
    /// Whether the script ends here.
    pub ends: bool,
}

/// What a node waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Waits {
    /// Nothing: it is gone through.
    Nothing,
    /// Enter.
    Press,
    /// Words that are kept in a slot.
    Words,
    /// An entry for the map.
    Entry,
    /// One of several options.
    Choose,
    /// Things on the map.
    Pick,
    /// A whole number.
    Number,
    /// A word, typed in full.
    Deliberate,
}

/// One way from a node to another, by their places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// From here.
    pub from: usize,
    /// To here.
    pub to: usize,
    /// When it is taken.
    pub when: Taken,
    /// The option or the guard; empty for the others.
    pub label: String,
}

/// When a way is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Taken {
    /// After an answer.
    Onward,
    /// With one option of a choice.
    Choice,
    /// If a guard holds.
    Guard,
    /// When the question is left out.
    LeftOut,
}

impl Chart {
    /// The graph of a script, when there is such a script.
    #[must_use]
    pub fn of(library: &Library, script: &str) -> Option<Self> {
        let program = &library.script(script)?.program;
        let spots = program.nodes.iter().map(spot).collect();
        let ways = program
            .nodes
            .iter()
            .enumerate()
            .flat_map(|(from, node)| ways(from, node))
            .collect();
        Some(Self {
            name: program.name.clone(),
            start: program.start,
            spots,
            ways,
        })
    }

    /// The graph in the DOT language of Graphviz.
    #[must_use]
    pub fn dot(&self) -> String {
        dot::write(self)
    }

    /// The graph as a Mermaid flowchart.
    #[must_use]
    pub fn mermaid(&self) -> String {
        mermaid::write(self)
    }

    /// The graph laid out, as SVG; `None` if it is too large to lay out. Laying out takes time that grows with how far
    /// the ways reach.
    #[must_use]
    pub fn svg(&self) -> Option<String> {
        let reach: usize = self.ways.iter().map(|way| way.from.abs_diff(way.to)).sum();
        (self.spots.len() <= MOST_DRAWN && reach <= MOST_REACH).then(|| svg::write(self))
    }
}

impl Spot {
    /// What stands in the node, line by line: its name, its wait, a called script, its effects.
    fn lines(&self) -> Vec<String> {
        let wait = match (self.waits, self.about.as_str()) {
            (Waits::Nothing, _) => None,
            (waits, "") => Some(waits.word().to_owned()),
            (waits, about) => Some(format!("{}: {about}", waits.word())),
        };
        let calls = self.calls.iter().map(|script| format!("call: {script}"));
        let effects = self.effects.iter().map(|effect| format!("do: {effect}"));
        [self.name.clone()]
            .into_iter()
            .chain(wait)
            .chain(calls)
            .chain(effects)
            .collect()
    }
}

impl Waits {
    /// The word for it in scripts; empty for a node that waits for nothing.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Nothing => "",
            Self::Press => "press",
            Self::Words => "words",
            Self::Entry => "entry",
            Self::Choose => "choose",
            Self::Pick => "pick",
            Self::Number => "number",
            Self::Deliberate => "deliberate",
        }
    }
}

fn spot(node: &Node) -> Spot {
    let (waits, about) = words::wait(node.wait.as_ref());
    let options = match &node.wait {
        Some(Waiting::Choose(choices)) => choices.iter().map(|choice| choice.say.clone()).collect(),
        _ => Vec::new(),
    };
    Spot {
        name: node.name.clone(),
        waits,
        about,
        options,
        effects: node.effects.iter().map(words::effect).collect(),
        calls: node.call.as_ref().map(|call| call.script.clone()),
        ends: node.go == Target::End,
    }
}

fn ways(from: usize, node: &Node) -> Vec<Way> {
    let way = |to, when, label: &str| Way {
        from,
        to,
        when,
        label: label.to_owned(),
    };
    let place = |target: Target| match target {
        Target::Node(to) => Some(to),
        Target::Onward | Target::End => None,
    };
    let onward = place(node.go);
    let mut ways = Vec::new();
    if let Some(Waiting::Choose(choices)) = &node.wait {
        // An option without a way of its own goes the node's way.
        let chosen = |choice: &Choice| Some(way(choice.go.or(onward)?, Taken::Choice, &choice.say));
        ways.extend(choices.iter().filter_map(chosen));
    }
    for (guard, to) in &node.when {
        ways.push(way(*to, Taken::Guard, &words::guard(guard)));
    }
    ways.extend(onward.map(|to| way(to, Taken::Onward, "")));
    for to in [place(node.done), place(node.skip)].into_iter().flatten() {
        let left_out = way(to, Taken::LeftOut, "");
        if Some(to) != onward && !ways.contains(&left_out) {
            ways.push(left_out);
        }
    }
    ways
}
