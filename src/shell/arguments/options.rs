//! The options of the commands that have many, and the values that they take.

use std::path::PathBuf;

use clap::Args;
use clap::ValueEnum;

/// How to show or write the map.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own on the command line"
)]
#[derive(Clone, Debug, Args)]
pub(crate) struct MapArguments {
    /// The form.
    #[arg(long = "as", value_name = "FORM")]
    pub(crate) form: Option<Form>,
    /// Write it to this file.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// With --out: in place of the file that is there.
    #[arg(long, requires = "out")]
    pub(crate) replace: bool,
    /// The paper.
    #[arg(long, value_name = "PAPER", default_value = "a4")]
    pub(crate) paper: Paper,
    /// The map as it was on this date (YYYY-MM-DD).
    #[arg(long, value_name = "DATE")]
    pub(crate) on: Option<String>,
    /// What came, went and changed since this date (YYYY-MM-DD).
    #[arg(long, value_name = "DATE", conflicts_with = "on")]
    pub(crate) since: Option<String>,
    /// An empty sheet with guidance lines, for paper.
    #[arg(long, conflicts_with = "since")]
    pub(crate) blank: bool,
    /// With --blank: in plainer words.
    #[arg(long, requires = "blank")]
    pub(crate) plainer: bool,
    /// Choose, piece by piece, what to put in a file for someone else.
    #[arg(long, conflicts_with_all = ["blank", "since"])]
    pub(crate) share: bool,
    /// One page for an appointment.
    #[arg(long, conflicts_with_all = ["blank", "since", "share"])]
    pub(crate) appointment: bool,
}

/// The forms of a map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Form {
    /// Lines of text.
    Text,
    /// JSON, for another program.
    Json,
    /// Markdown.
    Markdown,
    /// SVG, a drawing.
    Svg,
    /// PDF, for printing.
    Pdf,
    /// PNG, a picture.
    Png,
}

/// Sizes of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 297 by 210 mm.
    A4,
    /// 11 by 8.5 inches.
    Letter,
}

/// What to do with steps.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own on the command line"
)]
#[derive(Clone, Debug, Args)]
pub(crate) struct StepsArguments {
    /// Add one.
    #[arg(long, group = "what")]
    pub(crate) add: bool,
    /// Say how one went.
    #[arg(long, group = "what")]
    pub(crate) mark: bool,
    /// Write the open steps to this calendar file.
    #[arg(long, value_name = "FILE.ics", group = "what")]
    pub(crate) calendar: Option<PathBuf>,
    /// With --calendar: in place of the file that is there.
    #[arg(long, requires = "calendar")]
    pub(crate) replace: bool,
    /// With --calendar: on this day (YYYY-MM-DD); tomorrow without it.
    #[arg(long, value_name = "DATE", requires = "calendar")]
    pub(crate) day: Option<String>,
    /// With --calendar: at this time (HH:MM); nine in the morning without it.
    #[arg(long, value_name = "TIME", requires = "calendar")]
    pub(crate) time: Option<String>,
    /// With --calendar: a reminder this many minutes before.
    #[arg(long, value_name = "MINUTES", requires = "calendar")]
    pub(crate) remind: Option<u32>,
    /// With --calendar: show the step's own words. Calendars are often seen by others.
    #[arg(long, requires = "calendar")]
    pub(crate) own_words: bool,
}

/// What to do with the person's own people.
#[derive(Clone, Debug, Args)]
pub(crate) struct PeopleArguments {
    /// Add one: it asks for name and number.
    #[arg(long, group = "whom")]
    pub(crate) add: bool,
    /// Take off the one with this number in the list.
    #[arg(long, value_name = "NUMBER", group = "whom")]
    pub(crate) drop: Option<usize>,
}

/// Other ways through the first sitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Variant {
    /// In plainer words, for a younger person.
    Plainer,
    /// About five minutes.
    Short,
    /// Two people, each at a map of their own.
    Pair,
    /// For who leads a group: what to say, and no entries.
    Group,
}

impl Variant {
    /// The script's name.
    pub(crate) fn script(self) -> &'static str {
        match self {
            Self::Plainer => "plainer",
            Self::Short => "short",
            Self::Pair => "pair",
            Self::Group => "group",
        }
    }
}
