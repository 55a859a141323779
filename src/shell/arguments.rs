//! Every command and option, in one table: parsing, help, completions and man pages are all made from it.

use std::path::PathBuf;

use clap::Args;
use clap::Parser;
use clap::Subcommand;
use clap::ValueEnum;

mod subcommands;

pub(crate) use subcommands::ChartForm;
pub(crate) use subcommands::FromBackup;
pub(crate) use subcommands::ModelCommand;
pub(crate) use subcommands::ScriptCommand;
pub(crate) use subcommands::StoreCommand;
pub(crate) use subcommands::TryCommand;
pub(crate) use subcommands::TryField;
pub(crate) use subcommands::VoiceCommand;

/// A private, offline companion for making, keeping and coming back to your own four-field map.
#[derive(Debug, Parser)]
#[command(
    name = "wayfold",
    version,
    after_help = "Nothing you write leaves this machine. If you may be in danger, `wayfold crisis` shows lines for \
                  your region; it needs no map and no passphrase.\nWayfold is self-help. It is not a medical device \
                  and no substitute for a licensed professional.",
    disable_help_subcommand = true
)]
pub(crate) struct Arguments {
    /// What to do; without it the companion opens.
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// Where and how the map is kept.
    #[command(flatten)]
    pub(crate) keeping: Keeping,
    /// How the companion speaks and listens.
    #[command(flatten)]
    pub(crate) manner: Manner,
}

impl Arguments {
    /// Whether the command comes to hold a person's words from the store, or a passphrase.
    pub(crate) fn opens_a_store(&self) -> bool {
        !matches!(
            self.command,
            Some(
                Command::Crisis { .. } | Command::Voice { .. } | Command::Script { .. } | Command::Try { .. }
            )
        )
    }
}

/// Where and how the map is kept.
#[derive(Clone, Debug, Args)]
pub(crate) struct Keeping {
    /// Keep the map in this folder.
    #[arg(
        long,
        global = true,
        value_name = "DIR",
        env = "WAYFOLD_STORE",
        help_heading = "Keeping"
    )]
    pub(crate) store: Option<PathBuf>,
    /// Read the passphrase from the first line of this file.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        help_heading = "Keeping",
        conflicts_with = "no_passphrase"
    )]
    pub(crate) passphrase_file: Option<PathBuf>,
    /// Keep the map without a passphrase: anyone who can read your files can read it.
    #[arg(long, global = true, help_heading = "Keeping")]
    pub(crate) no_passphrase: bool,
}

/// How the companion speaks and listens.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own on the command line"
)]
#[derive(Clone, Debug, Args)]
pub(crate) struct Manner {
    /// Plain lines: no colour, no drawing, each thing once. Good for screen readers and small screens.
    #[arg(long, global = true, env = "WAYFOLD_PLAIN", help_heading = "Manner")]
    pub(crate) plain: bool,
    /// Listen at every prompt.
    #[arg(long, global = true, help_heading = "Manner")]
    pub(crate) voice: bool,
    /// Read prompts aloud.
    #[arg(long, global = true, help_heading = "Manner")]
    pub(crate) aloud: bool,
    /// With --voice and --aloud: you wear headphones, so speaking stops the reading.
    #[arg(long, global = true, help_heading = "Manner")]
    pub(crate) headphones: bool,
    /// The silence after your words that ends listening, in seconds from 1.5 to 8; otherwise 2.5.
    #[arg(long, global = true, value_name = "SECONDS", value_parser = pause, help_heading = "Manner")]
    pub(crate) pause: Option<f32>,
    /// Keep what the microphone records in this WAV file; otherwise no recording is ever kept.
    #[arg(long, global = true, value_name = "FILE", help_heading = "Manner")]
    pub(crate) keep_audio: Option<PathBuf>,
    /// Use this speech model (a ggml Whisper file).
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "WAYFOLD_MODEL",
        help_heading = "Manner"
    )]
    pub(crate) model: Option<PathBuf>,
}

/// A pause in seconds, from 1.5 to 8.
pub(crate) fn pause(text: &str) -> Result<f32, String> {
    let seconds = text
        .trim()
        .parse()
        .ok()
        .filter(|seconds| (1.5..=8.0).contains(seconds));
    seconds.ok_or_else(|| "a pause is 1.5 to 8 seconds".to_owned())
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make your map, or carry on where you stopped.
    Begin {
        /// In another way: plainer, short, for two people beside each other, or for someone who leads a group.
        #[arg(long, value_name = "NAME")]
        variant: Option<Variant>,
    },
    /// A short way through when you feel stuck.
    Stuck,
    /// Note something you noticed.
    #[command(
        after_help = "Examples:\n  wayfold moment\n  wayfold moment \"toward: the meeting ran over, I stayed and asked my \
                      question\"\nA line may begin with toward:, away: or both:. Any other line is noted as not sure."
    )]
    Moment {
        /// The moment in one line.
        words: Option<String>,
    },
    /// Go over the map and bring it up to date.
    Review,
    /// Walk through a dialogue script of your own.
    Talk {
        /// The script.
        file: PathBuf,
    },
    /// A short practice: hold a thought more lightly, make room, look from the middle.
    Practice,
    /// Steady yourself: a few outward-looking things to do.
    Ground,
    /// Show, print or share the map.
    #[command(
        after_help = "Examples:\n  wayfold map\n  wayfold map --as pdf --out map.pdf\n  wayfold map --as json\n  \
                          wayfold map --blank --out sheet.pdf\n  wayfold map --appointment --out talk.pdf\n  wayfold map --share"
    )]
    Map(MapArguments),
    /// Follow an away move round, from what shows up to what it costs; see the loops on your map.
    Loops {
        /// Follow one loop now.
        #[arg(long)]
        trace: bool,
    },
    /// Small next steps: list, add, mark, put in a calendar.
    Steps(StepsArguments),
    /// What changed over time.
    Lookback {
        /// Compare the time since this date (YYYY-MM-DD) with the time before it.
        #[arg(long, value_name = "DATE")]
        since: Option<String>,
        /// As JSON, for another program.
        #[arg(long)]
        json: bool,
    },
    /// Crisis lines and emergency numbers; works with no map and no passphrase.
    Crisis {
        /// The region, as a two-letter code such as NZ.
        #[arg(long, value_name = "XX")]
        region: Option<String>,
        /// As JSON, for another program.
        #[arg(long)]
        json: bool,
    },
    /// Speech model, microphone, a try-out.
    Voice {
        /// What to do.
        #[command(subcommand)]
        what: VoiceCommand,
    },
    /// Passphrase, backup, restore, merge, verify, erase.
    Store {
        /// What to do.
        #[command(subcommand)]
        what: StoreCommand,
    },
    /// Check a dialogue script, draw it, play it.
    Script {
        /// What to do.
        #[command(subcommand)]
        what: ScriptCommand,
    },
    /// Run one part on lines from standard input, touching no map.
    Try {
        /// Which part.
        #[command(subcommand)]
        what: TryCommand,
    },
}

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
    #[arg(long)]
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
